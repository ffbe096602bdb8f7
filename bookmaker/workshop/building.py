"""Building: the editions asked for, as files by their path in the output folder."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from bookmaker.editions.book.edition import arrange
from bookmaker.editions.record import edition as record
from bookmaker.editions.team import edition as team
from bookmaker.editions.team.views_overview import TeamSite
from bookmaker.kitchen.explain import workings_of
from bookmaker.kitchen.figures import Figures
from bookmaker.model.book import Book
from bookmaker.press.assembly.book import Shop, assembled_pdf
from bookmaker.press.images import Photo, UnusablePhoto, prepare
from bookmaker.press.site import pages, render_team
from bookmaker.workshop.console import Progress, complain
from bookmaker.workshop.pool import spread
from bookmaker.workshop.shipped import themes_dir

THEME = "ledger"
OWN_THEME = "theme"
"""A book's folder of this name is laid over the theme, file by file."""


@dataclass(frozen=True, slots=True)
class Job:
    """Everything that an edition may be made from. The editions themselves take only what they declare."""

    folder: Path
    book: Book
    figures: Figures
    photos: Mapping[str, Photo]
    themes: tuple[Path, ...]
    site: TeamSite
    progress: Progress


Maker = Callable[[Job], Iterator[tuple[str, bytes]]]


def _team(job: Job) -> Iterator[tuple[str, bytes]]:
    total = sum(1 for _ in pages(job.site))
    for number, (path, content) in enumerate(render_team(job.site, job.themes, job.photos), 1):
        job.progress.say("team book: page", min(number, total), total)
        yield f"{team.FOLDER}/{path}", content


def _book(job: Job) -> Iterator[tuple[str, bytes]]:
    def tell(sentence: str) -> None:
        job.progress.clear()
        complain(sentence)

    shop = Shop(spread, job.progress.say, tell)
    yield "book.pdf", assembled_pdf(arrange(job.site, job.book.house), job.themes, job.photos, shop)


def _record(job: Job) -> Iterator[tuple[str, bytes]]:
    job.progress.say("book.json")
    yield record.FILE, record.project(job.book, job.figures)


MAKERS: Mapping[str, Maker] = {"team": _team, "book": _book, "record": _record}
"""The editions by name. A new one is a function here and a folder under editions/."""


def job_for(folder: Path, book: Book, figures: Figures, progress: Progress) -> Job:
    """Project the views that the editions share. Photos that cannot be read are left to reading to report."""
    progress.say("arranging")
    workings = {ref: workings_of(book, figures, ref) for ref in book.recipes}
    themes = tuple(path for path in (folder / OWN_THEME, themes_dir() / THEME) if path.is_dir())
    return Job(
        folder=folder,
        book=book,
        figures=figures,
        photos=_photos(folder, book),
        themes=themes,
        site=team.project(book, figures, workings),
        progress=progress,
    )


def make(job: Job, editions: Sequence[str]) -> Iterator[tuple[str, Mapping[str, bytes]]]:
    """Each edition asked for with its files, in the order of `MAKERS`."""
    for name, maker in MAKERS.items():
        if name in editions:
            yield name, dict(maker(job))


def _photos(folder: Path, book: Book) -> Mapping[str, Photo]:
    found: dict[str, Photo] = {}
    for source in dict.fromkeys(recipe.photo for recipe in book.recipes.values() if recipe.photo):
        try:
            found[source] = prepare((folder / source).read_bytes())
        except (OSError, UnusablePhoto):
            continue  # reading has reported a photo that is missing or no picture
    return found

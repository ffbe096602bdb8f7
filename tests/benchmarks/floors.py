"""What the libraries alone take for the same work: the floors that builds are measured against.

A floor is a process of its own that prints one line of JSON. Getting its data ready is not part of it; loading the
libraries is. The cycle collector is off, as in our builds.
"""

import gc
import json
import pickle
import resource
import sys
import time
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

from bookmaker.press.fonts import FACES, RANGES, Face
from bookmaker.workshop.pool import spread

Seconds = tuple[float, float]
"""On the wall, and of processors."""

READY = 4
"""Items below which no second process is begun."""


def reading(_: None) -> Callable[[tuple[str, str]], int]:
    """Compose a text's YAML with the C loader and parse its Markdown, whichever of both it has."""
    import yaml
    from markdown_it import MarkdownIt

    markdown = MarkdownIt("commonmark").enable("table")

    def work(halves: tuple[str, str]) -> int:
        front, body = halves
        yaml.compose(front, Loader=yaml.CBaseLoader)
        return len(markdown.parse(body))

    return work


def setting(theme: Path) -> Callable[[tuple[Any, Any]], bytes]:
    """Set a page whose view is ready with the theme's templates."""
    from bookmaker.press.site import SitePress

    presses: dict[str, Any] = {}

    def work(job: tuple[Any, Any]) -> bytes:
        frame, page = job
        press = presses.setdefault(frame.house, SitePress(frame, (theme,), {}))
        made: bytes = press.set(page)
        return made

    return work


def cutting(_: None) -> Callable[[Face], int]:
    """Cut one face down and pack it, as anybody would with the library."""
    from importlib.resources import files

    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    def work(face: Face) -> int:
        font = TTFont(BytesIO((files(face.package) / "files" / face.source).read_bytes()), recalcTimestamp=False)
        options = Options()
        options.hinting = False
        options.name_IDs = ["*"]
        cutter = Subsetter(options)
        cutter.populate(unicodes=[code for first, last in RANGES for code in range(first, last + 1)])
        cutter.subset(font)
        font.flavor = "woff2"
        packed = BytesIO()
        font.save(packed)
        return len(packed.getvalue())

    return work


def site(book: Path, views: Path, theme: Path, workers: int) -> dict[str, Seconds]:
    """Seconds for reading, for setting, and for cutting fonts."""
    texts = [(path.read_text("utf-8"), "") for path in sorted(book.rglob("*.yaml"))]
    texts += [_halves(path.read_text("utf-8")) for path in sorted(book.rglob("*.md"))]
    # each page stands in the file by itself, so that what is ready here is ready there, too
    jobs = pickle.loads(views.read_bytes())
    gc.collect()
    gc.freeze()
    return {
        "reading": _timed(lambda: [*spread(reading, None, texts, worth=READY, workers=workers)]),
        "setting": _timed(lambda: _set_ready(theme, jobs, workers)),
        "fonts": _timed(lambda: [*spread(cutting, None, FACES, worth=READY, workers=workers)]),
    }


def _halves(text: str) -> tuple[str, str]:
    if not text.startswith("---\n"):
        return "", text
    front, _, body = text.removeprefix("---\n").partition("\n---\n")
    return front, body


def _set_ready(theme: Path, jobs: list[tuple[Any, Any]], workers: int) -> None:
    """Pages are set where their views are ready already: a process takes its share over from this one as it stands."""
    _READY_JOBS[:] = jobs
    for _ in spread(_setting_shares, (theme, workers), range(workers), worth=2, workers=workers, method="fork"):
        pass


_READY_JOBS: list[tuple[Any, Any]] = []


def _setting_shares(setup: tuple[Path, int]) -> Callable[[int], int]:
    theme, workers = setup
    work = setting(theme)
    return lambda share: sum(len(work(job)) for job in _READY_JOBS[share::workers])


def _timed(work: Callable[[], object]) -> Seconds:
    began, used = time.perf_counter(), _used()
    work()
    return time.perf_counter() - began, _used() - used


def _used() -> float:
    """Seconds of processors so far, in this process and those that it has begun and ended."""
    of = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(each.ru_utime + each.ru_stime for each in of)


def printed(ready: Path, into: Path) -> None:
    """Lay out one document from HTML and styles that are ready."""
    from bookmaker.press.pdf import to_pdf

    html, styles = json.loads(ready.read_text("utf-8"))
    into.write_bytes(to_pdf(html, styles))


if __name__ == "__main__":
    gc.disable()
    named, *paths = sys.argv[1:]
    if named == "pdf":
        printed(Path(paths[0]), Path(paths[1]))
    if named == "site":
        sys.stdout.write(json.dumps(site(Path(paths[0]), Path(paths[1]), Path(paths[2]), int(paths[3]))))

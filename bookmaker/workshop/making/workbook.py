"""The workbook, `workbook/`, one for each class; its answers apart in a folder of their own within it."""

from collections.abc import Callable, Iterator
from functools import cached_property, partial
from typing import Any

from bookmaker.editions.workbook import edition
from bookmaker.editions.workbook.views import Answers, Workbook
from bookmaker.model.refs import RecipeRef
from bookmaker.press import pdf
from bookmaker.press.assembly.assembling import Shop, assemble
from bookmaker.press.site import page_path
from bookmaker.press.workbook import paper
from bookmaker.press.workbook.site import THEME, WorkbookPress, asset_files, pages
from bookmaker.workshop.building import Edition, Job, Made, nothing
from bookmaker.workshop.cache.kept import KeptBook
from bookmaker.workshop.cache.leaf import Leaf
from bookmaker.workshop.cache.notes import recipe_of
from bookmaker.workshop.cache.packing import digest, digest_of, pack, recalled
from bookmaker.workshop.cache.team import theme_digest
from bookmaker.workshop.paper import paper_is_ready
from bookmaker.workshop.pool import spread

WORKBOOK, ANSWERS = "workbook.pdf", "answers.pdf"

Plan = tuple[tuple[tuple[str, str], ...], tuple[tuple[str, str], ...]]
"""Of a workbook and of its answers: each page's path, and what stands for all that it shows."""


class _Group:
    """One class's workbook and answers: projected when somebody makes a page, or when nothing is known of them."""

    def __init__(self, group: str, kept: KeptBook) -> None:
        self._group, self._kept = group, kept

    @cached_property
    def plan(self) -> Plan:
        """What there is to publish. It is kept, so that a book which has not changed need not be looked at."""
        kept = self._kept
        words = digest(*(f"{name}\0{meaning}" for name, meaning in kept.cautions.items()))
        glossary = kept.library.digest("glossary.md")
        key = f"workbook:{digest(self._group, kept.all_figures, glossary, words)}"
        found: Plan | None = recalled(kept.store.get(key))
        if found is None:
            found = _rows(self.workbook), _rows(self.answers)
            kept.store.put(key, pack(found))
        return found

    @property
    def workbook(self) -> Workbook:
        """The workbook."""
        return self._projected[0]

    @property
    def answers(self) -> Answers:
        """Its answers."""
        return self._projected[1]

    @cached_property
    def _projected(self) -> tuple[Workbook, Answers]:
        kept = self._kept
        return edition.project_lessons(_lessons(kept), kept.contents, kept.book, kept.figures, self._group)


def _lessons(kept: KeptBook) -> tuple[RecipeRef, ...]:
    """The recipes that are taught, found without a look at any of them."""
    levels = {recipe_of(key): entry.taught for key, entry in kept.bound.entries.items() if entry.taught}
    return edition.taught(levels, kept.contents)


def _rows(book: Workbook | Answers) -> tuple[tuple[str, str], ...]:
    around = digest_of((book.frame, book.group))
    return tuple((page_path(view.route), digest(digest_of(view), around)) for view in pages(book))


class _Workbooks:
    """The edition's files as leaves."""

    def __init__(self, job: Job, tell: Callable[[str], None]) -> None:
        self._job, self._tell = job, tell
        self._page_theme = theme_digest(job.themes, THEME)
        self._paper_theme = digest(self._page_theme, theme_digest(job.themes, "print"), *pdf.system_libraries())
        self._assets = digest(self._page_theme, theme_digest(job.themes, "site"))

    def leaves(self) -> Iterator[Leaf]:
        """Every file; none for a book that teaches nothing."""
        if not _lessons(self._job.kept):
            return
        house = self._job.kept.house
        for name in edition.groups(house):
            group, folder = _Group(name, self._job.kept), edition.folder_of(name, house)
            answers = f"{folder}/{edition.ANSWERS}"
            yield from self._book(folder, WORKBOOK, group.plan[0], partial(_workbook, group))
            yield from self._book(answers, ANSWERS, group.plan[1], partial(_answers, group))
        if (classes := edition.classes_page(house)) is not None:
            press = WorkbookPress(classes.frame, "", self._job.themes, self._job.kept.store)
            yield from self._asset_leaves(edition.FOLDER)
            yield Leaf(
                f"{edition.FOLDER}/index.html",
                digest(digest_of(classes), self._page_theme),
                lambda: press.set_classes(classes),
            )

    def _book(
        self, folder: str, file: str, rows: tuple[tuple[str, str], ...], book: Callable[[], Workbook | Answers]
    ) -> Iterator[Leaf]:
        press = _Press(self._job, book)
        yield from self._asset_leaves(folder)
        for path, shown in rows:
            yield Leaf(f"{folder}/{path}", digest(shown, self._page_theme), partial(press.set, path))
        everything = digest(*(f"{path}\0{shown}" for path, shown in rows))
        yield Leaf(
            f"{folder}/{file}",
            digest(everything, self._paper_theme),
            partial(self._lay_out, book, file),
            spreads=True,
        )

    def _lay_out(self, book: Callable[[], Workbook | Answers], file: str) -> bytes:
        job, whole = self._job, book()
        shop = Shop(spread, job.progress.say, self._tell, job.kept.store)
        return assemble([*paper.pieces(whole, job.themes)], paper.setting(whole, job.themes, file), shop)

    def _asset_leaves(self, folder: str) -> Iterator[Leaf]:
        for name, make in asset_files(self._job.themes):
            yield Leaf(f"{folder}/{name}", digest(name, self._assets), make)


class _Press:
    """Sets the pages of one workbook, or of its answers, by their paths."""

    def __init__(self, job: Job, book: Callable[[], Workbook | Answers]) -> None:
        self._job, self._book = job, book

    def set(self, path: str) -> bytes:
        """A page's bytes."""
        return self._made.set(self._views[path])

    @cached_property
    def _views(self) -> dict[str, Any]:
        return {page_path(view.route): view for view in pages(self._book())}

    @cached_property
    def _made(self) -> WorkbookPress:
        book = self._book()
        return WorkbookPress(book.frame, book.group, self._job.themes, self._job.kept.store)


def _workbook(group: _Group) -> Workbook:
    return group.workbook


def _answers(group: _Group) -> Answers:
    return group.answers


def _make(job: Job) -> Made:
    job.progress.say("workbook: arranging")
    made = Made([], nothing, libraries=pdf.library_files())

    made.leaves = [*_Workbooks(job, made.teller(job.progress)).leaves()]
    return made


EDITION = Edition("workbook", _make, paper_is_ready)

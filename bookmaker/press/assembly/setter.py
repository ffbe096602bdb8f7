"""One piece laid out: the work of a process.

What is relied on beyond the page engine's documented interface, tests/press/test_assembly_engine.py holds: the box tree
of a page, the marked content noted on its stream, and the fonts of a document, which are put aside before the engine
would embed them.
"""

import gc
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import lru_cache
from multiprocessing import parent_process
from typing import Any

from bookmaker.press import pdf as engine
from bookmaker.press.assembly import boxes, places
from bookmaker.press.assembly.content import cut
from bookmaker.press.assembly.figures import Figures
from bookmaker.press.assembly.fragment import Bulk, Description, Fragment
from bookmaker.press.assembly.objects import DOCUMENT, FONTS, PAGES, Mover, number_of, parent_leaf
from bookmaker.press.assembly.sheet import Sheet, Unfit

WORTH_SPREADING = 6
"""Pieces. To start a process and load the page engine takes as long as to lay out two or three."""


class Setter:
    """Lays out pieces with one style sheet. Costly to make, then used for many."""

    def __init__(self, sheet: Sheet) -> None:
        self._sheet = sheet
        self._engine = engine.Engine(sheet.css)

    def set(self, html: str) -> Fragment:
        """Lay out one piece, a whole document of its own. Raises `Unfit`."""
        with _uncollected():
            return _Piece(self._engine.render(html), self._sheet).fragment()


def prepare(sheet: Sheet) -> Callable[[str], bytes]:
    """What a process does first: from a style sheet, the work on one piece, which comes to a fragment's bytes."""
    setter = _ready(sheet.css, tuple(sheet.sides.items()))
    is_apart = parent_process() is not None
    if is_apart:
        # What was there before stays, and is not looked through for what can go
        gc.freeze()

    def work(html: str) -> bytes:
        data = setter.set(html).to_bytes()
        if is_apart:
            # A piece's boxes hold each other in circles; with the collector off, they would all stay
            gc.collect(0)
        return data

    return work


@lru_cache(maxsize=2)
def _ready(css: str, sides: tuple[tuple[str, str], ...]) -> Setter:
    """A setter, kept for the next file of the same style: it takes as long to make as a page takes to set."""
    return Setter(Sheet(css, dict(sides)))


class _Piece:
    def __init__(self, document: Any, sheet: Sheet) -> None:
        self._document = document
        self._sheet = sheet
        self._drawn: list[tuple[list[boxes.Run], Any]] = []
        self._figures = Figures({})
        self._made: list[Fragment] = []

    def fragment(self) -> Fragment:
        pages = self._document.pages
        if boxes.has_blank_page(pages):
            raise Unfit("the theme's print style changes sides inside a recipe or a list")
        self._anchors = places.anchors(pages)
        # The engine drops links to anchors that it cannot see: let it see all
        for target in places.targets(pages):
            if target not in self._anchors:
                pages[0].anchors[target] = (0, 0, 0, 0)
        for page in pages:
            after_painting(page, self._painted)
        engine.write(self._document, self._finish)
        return self._made.pop()

    def _painted(self, page: Any, stream: Any) -> None:
        marked = {box: tag["mcid"] for box, tag in stream._tags.items()}  # noqa: SLF001
        self._drawn.append((boxes.runs(page, marked), stream))
        if page is self._document.pages[-1]:
            self._figures = Figures(self._document.fonts)
            # Without fonts, the engine has none to cut down and embed
            self._document.fonts.clear()

    def _finish(self, document: Any, pdf: Any) -> None:
        pages = [pdf.objects[number] for number in pdf.pages["Kids"][::3]]
        root = pdf.objects[number_of(pdf.catalog["StructTreeRoot"])]
        tags = pdf.objects[number_of(root["K"][0])]
        fonts = pdf.objects[number_of(pages[0]["Resources"])]["Font"]
        contents = [cut(stream.stream, runs, self._sheet.sides, self._figures) for runs, stream in self._drawn]
        mover = Mover(
            pdf,
            {number_of(fonts): FONTS, tags.number: DOCUMENT, pdf.pages.number: PAGES},
            {number_of(page["Contents"]) for page in pages},
        )
        for page in pages:
            mover.take(page.number)
        kids = [mover.take(number_of(kid)) for kid in tags["K"]]
        mover.follow()
        parents, keys = parent_leaf(pdf.objects[number_of(root["ParentTree"])]["Nums"], mover)
        used = self._figures.used()
        description = Description(
            start=boxes.start(document.pages[0]),
            sizes=[(page["MediaBox"][2], page["MediaBox"][3]) for page in pages],
            anchors=self._anchors,
            bookmarks=list(places.bookmarks(document.pages)),
            figures=self._figures.sets,
            strays=list(places.strays(used, (run for runs, _ in self._drawn for run in runs))),
            objects=mover.count,
            contents=[mover.take(number_of(page["Contents"])) for page in pages],
            kids=kids,
            parents=parents,
            keys=keys,
        )
        self._made.append(Fragment.of(description, used, Bulk(contents, mover.blocks(), mover.streams())))
        # Nothing is left for the engine to write
        pdf.objects.clear()


def after_painting(page: Any, then: Callable[[Any, Any], None]) -> None:
    """Call `then` with the page and its stream as soon as the engine has drawn it."""
    paint = page.paint

    def painted(stream: Any, scale: float = 1) -> None:
        paint(stream, scale)
        then(page, stream)

    page.paint = painted


@contextmanager
def _uncollected() -> Iterator[None]:
    """Spare the garbage collector the boxes being made, which it would look through again and again."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()

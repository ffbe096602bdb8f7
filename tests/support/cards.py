"""Bench cards for tests: the demo book's, fitted and laid out once, and an outside reader's look at a PDF's letters."""

import ctypes
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

import pypdfium2 as pdfium
import pytest

from bookmaker.editions.cards.code import code_of
from bookmaker.editions.cards.edition import CardFigures, card_view, has_card
from bookmaker.editions.cards.views import CardSheet, CardView
from bookmaker.editions.team.places import contents_of
from bookmaker.kitchen.compute import compute
from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef
from bookmaker.press.assembly.assembling import Shop, assemble
from bookmaker.press.cards.fitting import CardFitter, Fitted
from bookmaker.press.cards.papers import PAPERS, CardPaper
from bookmaker.press.cards.printing import CardPress, FittingSetup, prepare
from bookmaker.press.formats import Formats
from bookmaker.press.piece import Piece
from bookmaker.workshop.pool import spread
from tests.support.published import DEMO, LEDGER, ON, sound_book

AT = "https://book.quillhaven.example/"


def views_of(book: Book, on: date = ON) -> dict[RecipeRef, CardView]:
    """Every recipe's card, in the book's order."""
    figures = compute(book, on)
    contents = contents_of(book)
    places, flows = contents.places(), {ref: found.flow for ref, found in figures.recipes.items()}
    return {
        ref: card_view(ref, book, CardFigures.of(figures.recipes[ref]), flows, places)
        for ref in contents.in_order()
        if has_card(book.recipes[ref].status.value)
    }


def codes_of(book: Book, on: date = ON) -> dict[RecipeRef, str]:
    """The code of every recipe's card."""
    return {ref: code_of(view) for ref, view in views_of(book, on).items()}


def sheet_of(view: CardView, pattern: int = 0) -> CardSheet:
    """A card as it is printed."""
    code = code_of(view)
    return CardSheet(view, code, f"{AT}c/{code}.html", pattern)


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter and the box of its ink, in millimetres from the page's upper left corner; `size` in points."""

    text: str
    left: float
    top: float
    right: float
    bottom: float
    size: float


class Sides:
    """The pages of a PDF as PDFium, an outside reader, sees them."""

    def __init__(self, pdf: bytes) -> None:
        self._document = pdfium.PdfDocument(pdf)
        self._letters: dict[int, list[Letter]] = {}

    def __len__(self) -> int:
        return len(self._document)

    def letters(self, page: int) -> list[Letter]:
        """Everything that is printed in letters, spaces left out."""
        if page not in self._letters:
            self._letters[page] = self._read(page)
        return self._letters[page]

    def _read(self, page: int) -> list[Letter]:
        sheet = self._document[page]
        _, height = sheet.get_size()
        text = sheet.get_textpage()
        found: list[Letter] = []
        matrix = pdfium.raw.FS_MATRIX()
        before: tuple[float, ...] = ()
        for at in range(text.count_chars()):
            letter = text.get_text_range(at, 1)
            box = text.get_charbox(at)
            # A ligature is told as several letters in one box
            if letter.strip() and box != before:
                before = box
                left, bottom, right, top = (place * 25.4 / 72 for place in box)
                pdfium.raw.FPDFText_GetMatrix(text.raw, at, ctypes.byref(matrix))
                size = pdfium.raw.FPDFText_GetFontSize(text.raw, at) * math.hypot(matrix.b, matrix.d)
                high = height * 25.4 / 72
                found.append(Letter(letter, left, high - top, right, high - bottom, size))
        return found

    def words(self, page: int) -> str:
        """The page's text with single spaces."""
        return plain(self._document[page].get_textpage().get_text_range())

    def corner(self, page: int) -> "pdfium.PdfBitmap":
        """The upper right part of a page as pixels, three to the point: some 200 to the inch."""
        sheet = self._document[page]
        width, height = sheet.get_size()
        return sheet.render(scale=3, grayscale=True, crop=(width * 2 / 3, height / 2, 0, 0))

    def is_blank(self, page: int) -> bool:
        """Whether nothing is printed on a page in letters."""
        return not self.letters(page)


_HYPHEN = "\ufffe"
"""How PDFium tells a hyphen at the end of a line."""


def plain(text: str) -> str:
    """A text with single spaces, for looking things up in it."""
    return " ".join(re.sub(r"[\u00a0\u202f\r\n]", " ", text.replace(_HYPHEN, "-")).split())


def overlaps(letters: Sequence[Letter]) -> Iterator[tuple[Letter, Letter]]:
    """Pairs of letters that are printed over each other: more than a third of the smaller one's box is shared.

    Letters of one word may touch: kerning moves them by less than that.
    """
    cells: dict[tuple[int, int], list[Letter]] = {}
    for letter in letters:
        near: dict[int, Letter] = {}
        across = range(int(letter.left // _CELL), int(letter.right // _CELL) + 1)
        down = range(int(letter.top // _CELL), int(letter.bottom // _CELL) + 1)
        for cell in ((x, y) for x in across for y in down):
            near.update((id(other), other) for other in cells.setdefault(cell, []))
            cells[cell].append(letter)
        yield from ((letter, other) for other in near.values() if _shared(letter, other) > 1 / 3)


_CELL = 4.0


def _shared(one: Letter, other: Letter) -> float:
    wide = min(one.right, other.right) - max(one.left, other.left)
    high = min(one.bottom, other.bottom) - max(one.top, other.top)
    areas = [max((each.right - each.left) * (each.bottom - each.top), 1e-6) for each in (one, other)]
    return max(wide, 0) * max(high, 0) / min(areas)


class DemoCards:
    """The demo book's cards on one paper, all or some."""

    def __init__(self, sheets: Mapping[RecipeRef, CardSheet], fitted: Sequence[Fitted], paper: str) -> None:
        self.sheets, self.paper = sheets, PAPERS[paper]
        self.fitted = dict(zip(sheets, fitted, strict=True))
        self._paper = paper

    @cached_property
    def pdf(self) -> bytes:
        """All of them as one file."""
        press = CardPress([LEDGER], self._paper, "A4", "Quillhaven Kitchen", Formats())
        pieces = [Piece(ref.id, "", found.html) for ref, found in self.fitted.items()]
        return assemble(pieces, press.cards_file("all.pdf", "", ""), Shop(spread, lambda *_: None, pytest.fail))

    @cached_property
    def sides(self) -> Sides:
        """The file's pages."""
        return Sides(self.pdf)

    def pages(self) -> Iterator[tuple[RecipeRef, list[int]]]:
        """The pages of each card: it begins on a front, and a blank back is left out."""
        page = 0
        for ref, found in self.fitted.items():
            yield ref, list(range(page, page + found.sides))
            page += 2


def fitted_cards(views: Mapping[RecipeRef, CardView], paper: str) -> DemoCards:
    """Cards fitted on a paper, on several processes."""
    sheets = {ref: sheet_of(view) for ref, view in views.items()}
    setup = FittingSetup((LEDGER,), paper)
    return DemoCards(sheets, [*spread(prepare, setup, [*sheets.values()], worth=4)], paper)


@pytest.fixture(scope="session")
def demo_views() -> dict[RecipeRef, CardView]:
    """The views of the demo book's cards."""
    return views_of(sound_book(DEMO))


@pytest.fixture(scope="session")
def demo_cards(demo_views: dict[RecipeRef, CardView]) -> DemoCards:
    """All cards of the demo book on A4."""
    return fitted_cards(demo_views, "A4")


def one_fitter(paper: str = "A4") -> tuple[CardFitter, CardPaper]:
    """A fitter in this process, and its paper."""
    return CardFitter([LEDGER], paper), PAPERS[paper]

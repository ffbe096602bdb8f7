"""Product sheets of books for tests: projected and set as the tool does it, without the workshop."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

from bookmaker.editions.labels.edition import arrange, names
from bookmaker.editions.sheets import gate, project
from bookmaker.editions.sheets.given import HouseGiven
from bookmaker.editions.sheets.views import SheetView
from bookmaker.editions.team.places import contents_of
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.label import label_of
from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef
from bookmaker.press.labels import LabelPress
from bookmaker.press.sheets.paper import SheetPaper
from bookmaker.press.sheets.site import SheetPress, theme_files
from bookmaker.press.sheets.words import page_path
from tests.support.published import LEDGER, ON, ROOT

CLIENTS = ROOT / "tests" / "editions" / "clients"
"""A small book with products that clients see, and some that they must not."""


def sheets(book: Book, on: date = ON) -> dict[RecipeRef, SheetView]:
    """The sheets of all released products."""
    figures, contents = compute(book, on), contents_of(book)
    refs = gate.released(contents.recipes, contents.in_order())
    at, house = gate.addresses({ref: book.name(ref) for ref in refs}), gate.house_given(book.house)
    return {
        ref: project.sheet_view(
            gate.sheet_given(ref, book, figures.recipes[ref], label_of(ref, book, figures)), house, at[ref]
        )
        for ref in refs
    }


def house_of(book: Book) -> HouseGiven:
    """What sheets are given of a house."""
    return gate.house_given(book.house)


def pages(book: Book) -> Iterator[tuple[str, bytes]]:
    """Every page, style and icon, by its path; no PDFs, fonts or photos."""
    views, frame = sheets(book), project.frame(house_of(book))
    press = SheetPress(frame, (LEDGER,))
    for view in views.values():
        yield page_path(view.address), press.sheet(view)
    yield "index.html", press.index(project.index_view((book.name(ref), view.address) for ref, view in views.items()))
    yield from theme_files([LEDGER])


def written_for_paper(book: Book) -> Iterator[str]:
    """All that the PDFs are laid out from, and nothing else goes into them: sheets and labels."""
    views, frame = [*sheets(book).values()], project.frame(house_of(book))
    paper = SheetPaper(frame, (LEDGER,))
    yield paper.styles
    for view in views:
        piece = paper.piece(view)
        yield paper.document(piece.name, piece.html)
    for stickers in names(book.house.labels.stickers).values():
        sheet = arrange(views, frame, book.house.region, stickers)
        fitted = dict.fromkeys(sheet.labels, Decimal(8))
        yield LabelPress(frame, (LEDGER,)).written(sheet, fitted)


def publish(book: Book, folder: Path) -> Path:
    """Write the pages into a folder."""
    for path, content in pages(book):
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)
    return folder

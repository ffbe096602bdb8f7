"""A workbook of a few lessons, projected and set for tests, and its pages to ask questions of."""

from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path

from pypdf import PdfReader

from bookmaker.editions.workbook.edition import ANSWERS, project
from bookmaker.editions.workbook.views import Answers, Workbook
from bookmaker.kitchen.compute import compute
from bookmaker.model.recipe import Teaching
from bookmaker.press import pdf
from bookmaker.press.workbook import paper
from bookmaker.press.workbook.site import WorkbookPress, asset_files, pages
from tests.support.paper import Laid
from tests.support.published import DEMO, LEDGER, ON, sound_book

THEMES = (LEDGER,)
FEW = ("breads/harbour-sourdough", "moulded/apricot-pebble", "moulding/pebble-mould-casting")
"""A bread with a preferment, a product of many components, and what is no food."""

TWO = ("biscuits/almond-sable", "breads/harbour-sourdough")
"""What takes little paper."""


@cache
def workbook(lessons: tuple[str, ...] = FEW) -> tuple[Workbook, Answers]:
    """The demo book's workbook for a class, of some lessons."""
    book = sound_book(DEMO)
    recipes = {
        ref: recipe if ref.id in lessons else replace(recipe, teaching=Teaching())
        for ref, recipe in book.recipes.items()
    }
    return project(replace(book, recipes=recipes), compute(book, ON), "autumn intake")


def publish(folder: Path) -> Path:
    """Write workbook and answers into a folder, as the edition does."""
    own, answers = workbook()
    books: tuple[tuple[Workbook | Answers, Path], ...] = ((own, folder), (answers, folder / ANSWERS))
    for book, below in books:
        press = WorkbookPress(book.frame, book.group, THEMES)
        files = {f"{view.route.key}.html": press.set(view) for view in pages(book)}
        files |= {name: make() for name, make in asset_files(THEMES)}
        # the pages link to it; what is in it, other tests ask
        files["workbook.pdf" if isinstance(book, Workbook) else "answers.pdf"] = b"%PDF-1.7"
        for name, content in files.items():
            (below / name).parent.mkdir(parents=True, exist_ok=True)
            (below / name).write_bytes(content)
    return folder


class LaidWorkbook(Laid):
    """A workbook, or its answers, laid out as one document."""

    def __init__(self, of: Workbook | Answers) -> None:
        self.row = [*paper.pieces(of, THEMES)]
        html = paper.document(of, THEMES, "\n".join(piece.html for piece in self.row))
        self.document = pdf.Engine(paper.styles(of, THEMES)).render(html)
        self.bytes = self.document.write_pdf(pdf_variant=pdf.VARIANT, pdf_identifier=b"test")
        self.reader = PdfReader(BytesIO(self.bytes))

"""The printed book laid out for tests, and questions to ask of its pages."""

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from io import BytesIO
from typing import Any

from pypdf import PdfReader
from pypdf.generic import Destination

from bookmaker.editions.book.edition import arrange
from bookmaker.editions.book.views import PrintedBook
from bookmaker.editions.team.views_overview import TeamSite
from bookmaker.model.house import House
from bookmaker.press import pdf
from bookmaker.press.book import book_html, styles
from tests.support.published import LEDGER

FOLDERS = [LEDGER / "print"]


def some(site: TeamSite, house: House, titles: Collection[str]) -> PrintedBook:
    """The printed book of a few recipes, as short as it can be."""
    recipes = tuple(view for view in site.recipes if view.head.title in titles)
    allergens, costs = site.allergens, site.costs
    shorter = replace(
        site,
        recipes=recipes,
        allergens=replace(allergens, rows=tuple(row for row in allergens.rows if row.product.name in titles)),
        costs=replace(costs, rows=tuple(row for row in costs.rows if row.product.name in titles)),
    )
    return arrange(shorter, house)


@dataclass(frozen=True)
class Box:
    """A line of words where the engine set it, in CSS pixels from the page's upper left corner."""

    words: str
    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True)
class Leap:
    """A link within the book: the words set inside it, and the page (from 1) that it leads to, None if nowhere."""

    page: int
    words: str
    to: int | None
    annotation: Any


class Laid:
    """A book laid out: the engine's own pages for where things are, the PDF for what a reader gets."""

    def __init__(self, book: PrintedBook) -> None:
        self.book = book
        self.document = pdf.Engine(styles(book, FOLDERS)).render(book_html(book, FOLDERS, {}))
        self.bytes: bytes = self.document.write_pdf(pdf_variant=pdf.VARIANT, pdf_identifier=b"test")
        self.reader = PdfReader(BytesIO(self.bytes))

    @cached_property
    def text(self) -> list[str]:
        """Each page's words."""
        return [page.extract_text() for page in self.reader.pages]

    @cached_property
    def places(self) -> dict[str, tuple[int, float]]:
        """The page of every destination, from 1, and how far below the page's upper edge it is, in points."""
        return {name: (self._page(place), self._below(place)) for name, place in self._destinations.items()}

    @property
    def _destinations(self) -> dict[str, Destination]:
        return self.reader.named_destinations

    def _page(self, place: Destination) -> int:
        number = self.reader.get_destination_page_number(place)
        assert number is not None
        return number + 1

    def _below(self, place: Destination) -> float:
        return float(self.reader.pages[self._page(place) - 1].mediabox.height) - float(place.top or 0)

    def bookmarks(self) -> list[tuple[int, str, int]]:
        """Depth, title and page of each."""
        found: list[tuple[int, str, int]] = []

        def walk(entries: list[Any], depth: int) -> None:
            for entry in entries:
                if isinstance(entry, list):
                    walk(entry, depth + 1)
                else:
                    found.append((depth, str(entry.title), self._page(entry)))

        walk(self.reader.outline, 0)
        return found

    def leaps(self) -> Iterator[Leap]:
        """Every link within the book."""
        for number, page in enumerate(self.reader.pages, 1):
            words = [box for _, box in self.boxes(number)]
            height = float(page.mediabox.height)
            for note in page.get("/Annots", ()):
                annotation = note.get_object()
                if annotation["/Subtype"] != "/Link" or "/Dest" not in annotation:
                    continue
                x1, y1, x2, y2 = (float(value) / 0.75 for value in annotation["/Rect"])
                low, high = height / 0.75 - max(y1, y2), height / 0.75 - min(y1, y2)
                inside = (
                    box
                    for box in words
                    if x1 - 0.5 <= box.left and box.right <= x2 + 0.5 and low <= (box.top + box.bottom) / 2 <= high
                )
                said = " ".join(box.words for box in inside)
                place = self.places.get(str(annotation["/Dest"]))
                yield Leap(number, re.sub(r"\s+", " ", said).strip(), place and place[0], annotation)

    def boxes(self, number: int) -> Iterator[tuple[bool, Box]]:
        """Every line of words on a page, and whether it belongs to the page's margins."""
        page = self.document.pages[number - 1]._page_box
        yield from _boxes(page, in_margin=False)

    def type_area(self, number: int) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of the room that a page has for text, in CSS pixels."""
        box = self.document.pages[number - 1]._page_box
        left, top = box.content_box_x(), box.content_box_y()
        return left, top, left + box.width, top + box.height

    def blank(self, number: int) -> bool:
        """Whether nothing is printed on a page."""
        return not self.text[number - 1].strip()

    def elements(self) -> Iterator[tuple[str, Any]]:
        """The tags of the document in reading order: kind and structure element."""
        return elements(self.root["/StructTreeRoot"]["/K"])

    @property
    def root(self) -> Any:
        """The document's catalogue."""
        return self.reader.trailer["/Root"]

    @property
    def numbers(self) -> range:
        """The numbers of its pages."""
        return range(1, len(self.document.pages) + 1)


def _boxes(box: Any, *, in_margin: bool) -> Iterator[tuple[bool, Box]]:
    kind = type(box).__name__
    if kind == "AbsolutePlaceholder":
        box = box._box
    if kind == "TextBox":
        if box.text.strip():
            x, y = box.position_x, box.position_y
            yield in_margin, Box(box.text, x, y, x + box.width, y + box.height)
        return
    for child in getattr(box, "children", ()):
        yield from _boxes(child, in_margin=in_margin or type(child).__name__ == "MarginBox")


def elements(kids: Any) -> Iterator[tuple[str, Any]]:
    """Structure elements below `kids`, in reading order, each with its kind."""
    kids = kids.get_object() if hasattr(kids, "get_object") else kids
    for kid in kids if isinstance(kids, list) else [kids]:
        element = kid.get_object() if hasattr(kid, "get_object") else kid
        if isinstance(element, dict) and "/S" in element:
            yield str(element["/S"]).lstrip("/"), element
            if "/K" in element:
                yield from elements(element["/K"])

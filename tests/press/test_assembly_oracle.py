"""The book assembled from pieces, against the same book laid out in one go: page by page the same drawing, and the same
destinations, links, bookmarks and tags.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, partial
from io import BytesIO
from pathlib import Path
from random import Random
from typing import Any

import pikepdf
import pytest

from bookmaker.editions.book.edition import arrange
from bookmaker.editions.book.views import PrintedBook
from bookmaker.press.assembly.assembling import Setting, Shop, assemble, page_counts
from bookmaker.press.assembly.book import assembled_pdf
from bookmaker.press.book import book_pdf
from bookmaker.press.pdf import to_pdf
from bookmaker.press.piece import Piece
from bookmaker.workshop.pool import spread
from tests.benchmarks.books import write_book
from tests.support.paper import some
from tests.support.published import DEMO, LEDGER, sound_book, team_site

pytestmark = pytest.mark.pdf

TOLERANCE = 0.02
"""Points or pixels: the engine writes six decimals, and a folio's place is computed from rounded widths."""


@dataclass
class Shelf:
    """A store, and what was asked of it."""

    kept: dict[str, bytes] = field(default_factory=dict)
    put_last: list[str] = field(default_factory=list)

    def get(self, key: str) -> bytes | None:
        return self.kept.get(key)

    def put(self, key: str, content: bytes) -> None:
        self.kept[key] = content
        self.put_last.append(key)


def assembled(book: PrintedBook, shelf: Shelf | None = None, workers: int = 1) -> bytes:
    complaints: list[str] = []
    shop = Shop(partial(spread, workers=workers), lambda *_: None, complaints.append, shelf)
    made = assembled_pdf(book, [LEDGER], {}, shop)
    assert not complaints
    return made


class Opened:
    """A PDF file, and what a reader of it sees."""

    def __init__(self, content: bytes) -> None:
        self.pdf = pikepdf.open(BytesIO(content))
        self._numbers = {page.objgen: number for number, page in enumerate(self.pdf.pages, 1)}

    def page_of(self, page: Any) -> int:
        return self._numbers[page.objgen]

    @cached_property
    def destinations(self) -> dict[str, tuple[int, float, float]]:
        names: Any = self.pdf.Root.Names.Dests.Names if "/Names" in self.pdf.Root else []
        return {
            str(names[at]): (self.page_of(names[at + 1][0]), float(names[at + 1][2]), float(names[at + 1][3]))
            for at in range(0, len(names), 2)
        }

    @cached_property
    def links(self) -> list[tuple[int, str, list[float]]]:
        return [
            (number, str(link.Dest), [float(each) for each in link.Rect])
            for number, page in enumerate(self.pdf.pages, 1)
            for link in page.obj.get("/Annots", ())
        ]

    def bookmarks(self) -> list[Any]:
        def read(items: Sequence[pikepdf.OutlineItem]) -> list[Any]:
            found = []
            for item in items:
                assert isinstance(item.destination, pikepdf.Array)
                place = (self.page_of(item.destination[0]), round(float(item.destination[3]), 2))
                found.append((item.title, place, item.is_closed, read(item.children)))
            return found

        with self.pdf.open_outline() as outline:
            return read(outline.root)

    def tags(self) -> Any:
        return self._tag(self.pdf.Root.StructTreeRoot.K[0])

    def _tag(self, tag: Any) -> Any:
        if isinstance(tag, int):
            return tag
        if tag.get("/Type") == "/OBJR":
            assert self._parents[int(tag.Obj.StructParent)].objgen
            return "link", str(tag.Obj.Dest)
        kids = tag.get("/K", ())
        told: dict[str, Any] = {key: str(tag[key]) for key in ("/S", "/Alt") if key in tag}
        if "/A" in tag:
            told |= {key: str(tag.A[key]) for key in ("/O", "/ColSpan", "/RowSpan", "/BBox") if key in tag.A}
            told["headers"] = [self.headers[str(name)] for name in tag.A.get("/Headers", ())]
        page = self.page_of(tag.Pg) if "/Pg" in tag else 0
        return [told, page, [self._tag(kid) for kid in (kids if isinstance(kids, pikepdf.Array) else [kids])]]

    @cached_property
    def headers(self) -> dict[str, str]:
        """Header cells' names, each with where it is among all of them: the names themselves may differ."""
        found: dict[str, str] = {}
        for tag in self.all_tags():
            if "/ID" in tag:
                assert str(tag.ID) not in found, "two header cells of one name"
                found[str(tag.ID)] = f"header {len(found)}"
        return found

    def all_tags(self) -> Iterator[Any]:
        todo = [self.pdf.Root.StructTreeRoot.K[0]]
        while todo:
            tag = todo.pop()
            yield tag
            kids = tag.get("/K", ())
            todo += [kid for kid in kids if isinstance(kid, pikepdf.Dictionary) and "/S" in kid]

    @cached_property
    def _parents(self) -> dict[int, Any]:
        return dict(pikepdf.NumberTree(self.pdf.Root.StructTreeRoot.ParentTree))

    def parent_of(self, page: int, mcid: int) -> Any:
        return self._parents[int(self.pdf.pages[page - 1].obj.StructParents)][mcid]

    def drawing(self, page: int) -> list[tuple[str, Any]]:
        """The page's instructions: shown text as letters, fonts by name, tags and what brackets them left out."""
        found = self.pdf.pages[page - 1]
        fonts = {name: _Font(font) for name, font in found.resources.get("/Font", pikepdf.Dictionary()).items()}
        font = _Font(None)
        drawn: list[tuple[str, Any]] = []
        for operands, operator in _instructions(found):
            match str(operator):
                case "Tf":
                    font = fonts[str(operands[0])]
                    drawn.append(("Tf", [font.name, float(operands[1])]))
                case "TJ":
                    drawn.append(("TJ", "".join(font.letters(bytes(each)) for each in operands[0] if _is_text(each))))
                case "BDC" | "BMC" | "EMC" | "q" | "Q":
                    pass
                case "gs" | "Do" | "sh" | "scn" | "SCN" as name:
                    drawn.append((name, []))  # names of resources are the engine's own affair
                case name:
                    drawn.append((name, [_operand(each) for each in operands]))
        return drawn


def _instructions(page: pikepdf.Page) -> Iterator[tuple[Any, Any]]:
    for each in pikepdf.parse_content_stream(page) if "/Contents" in page.obj else ():
        assert isinstance(each, pikepdf.ContentStreamInstruction)
        yield each.operands, each.operator


class _Font:
    def __init__(self, font: Any) -> None:
        self.name = str(font.BaseFont) if font is not None else ""
        listed = font.ToUnicode.read_bytes().decode() if font is not None else ""
        self._letters = {
            int(glyph, 16): bytes.fromhex(code).decode("utf-16-be")
            for glyph, code in re.findall(r"<(\w{4})> <(\w+)>", listed.partition("endcodespacerange")[2])
        }

    def letters(self, shown: bytes) -> str:
        return "".join(self._letters[int.from_bytes(shown[at : at + 2], "big")] for at in range(0, len(shown), 2))


def _is_text(operand: Any) -> bool:
    return isinstance(operand, pikepdf.String)


def _operand(operand: Any) -> Any:
    try:
        return float(operand)
    except TypeError:
        return str(operand)


def near(one: Any, other: Any) -> bool:
    """Equal, numbers to the tolerance."""
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) < TOLERANCE
    if isinstance(one, list | tuple) and isinstance(other, list | tuple):
        return len(one) == len(other) and all(map(near, one, other))
    return bool(one == other)


def check_the_same(made: bytes, oracle: bytes) -> None:
    ours, theirs = Opened(made), Opened(oracle)
    assert not [problem for problem in ours.pdf.check_pdf_syntax() if problem]
    assert len(ours.pdf.pages) == len(theirs.pdf.pages)
    for number in range(1, len(ours.pdf.pages) + 1):
        _check_page(ours, theirs, number)
    assert ours.destinations.keys() == theirs.destinations.keys()
    assert near(*(sorted((name, *place) for name, place in each.destinations.items()) for each in (ours, theirs)))
    assert near(ours.links, theirs.links)
    assert {name for _page, name, _area in ours.links} <= ours.destinations.keys()
    assert ours.bookmarks() == theirs.bookmarks()
    assert ours.tags() == theirs.tags()
    _check_parents(ours)


def _check_page(ours: Opened, theirs: Opened, number: int) -> None:
    boxes = [[float(each) for each in opened.pdf.pages[number - 1].mediabox] for opened in (ours, theirs)]
    assert near(*boxes)
    drawn, expected = ours.drawing(number), theirs.drawing(number)
    if not any(operator == "TJ" for operator, _ in expected):
        assert not any(operator == "TJ" for operator, _ in drawn)
        return
    different = [pair for pair in zip(drawn, expected, strict=False) if not near(*pair)]
    assert not different, f"page {number}: {different[:4]}"
    assert len(drawn) == len(expected)


def _check_parents(opened: Opened) -> None:
    """Every piece of marked content leads back to the tag that holds it, which stands in the tree."""
    for tag in opened.all_tags():
        for mcid in tag.get("/K", ()):
            if isinstance(mcid, int):
                assert opened.parent_of(opened.page_of(tag.Pg), mcid).objgen == tag.objgen


def random_part(book_folder: Path, seed: int, recipes: int) -> PrintedBook:
    """A printed book of recipes drawn by lot."""
    book = sound_book(book_folder)
    site = team_site(book)
    titles = sorted({view.head.title for view in site.recipes})
    return some(site, book.house, Random(seed).sample(titles, recipes))


def test_a_random_part_of_the_demo_is_the_same_assembled() -> None:
    book = random_part(DEMO, 7, 6)
    shelf = Shelf()
    made = assembled(book, shelf)
    check_the_same(made, book_pdf(book, [LEDGER]))
    laid_out = len(shelf.put_last)
    assert assembled(book, shelf) == made
    assert len(shelf.put_last) == laid_out, "something was laid out again although nothing had changed"
    check_changes(book, shelf, made)


def check_changes(book: PrintedBook, shelf: Shelf, before: bytes) -> None:
    """One more page upstream lays out no recipe again, and a warm book is a cold one byte for byte."""
    # Far enough into the book that no page number comes to have one figure more
    middle = len(book.parts) // 2
    part = book.parts[middle]
    recipe = part.recipes[0]
    longer = replace(recipe, head=replace(recipe.head, aka=tuple(f"name {at}" for at in range(2000))))
    parts = (*book.parts[:middle], replace(part, recipes=(longer, *part.recipes[1:])), *book.parts[middle + 1 :])
    changed = replace(book, parts=parts)
    shelf.put_last.clear()
    warm = assembled(changed, shelf)
    assert len(Opened(warm).pdf.pages) > len(Opened(before).pdf.pages)
    assert len(shelf.put_last) == 1
    assert warm == assembled(changed)


@pytest.mark.slow
def test_the_demo_is_the_same_assembled() -> None:
    book = sound_book(DEMO)
    printed = arrange(team_site(book), book.house)
    check_the_same(assembled(printed, workers=2), book_pdf(printed, [LEDGER]))


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(1, 3))
def test_a_random_book_is_the_same_assembled(seed: int, tmp_path: Path) -> None:
    write_book(tmp_path, 40, seed)
    book = sound_book(tmp_path)
    printed = arrange(team_site(book), book.house)
    check_the_same(assembled(printed, workers=2), book_pdf(printed, [LEDGER]))


SHEET = """html { font-family: 'Ledger Serif' } @page { size: A5; @bottom-right { content: counter(page) } }
section { break-before: page }"""


def leaflet(*words: str) -> tuple[list[Piece], Setting]:
    """Pieces of an edition that is no book: no contents, no links, no headings."""
    head = '<!DOCTYPE html><html lang="en"><head><title>Leaflet</title></head><body>{}</body></html>'
    pages = [Piece(word, "", f"<section><p>{word}</p><p lang='fr'>gâteau</p></section>") for word in words]
    return pages, Setting("leaflet.pdf", "en", SHEET, head.format)


def test_any_edition_is_the_same_assembled() -> None:
    pages, setting = leaflet("One", "Two", "long " * 900)
    made = assemble(pages, setting, Shop(partial(spread, workers=1), lambda *_: None, lambda _: None))
    check_the_same(made, to_pdf(setting.document("".join(page.html for page in pages)), setting.styles))


def test_a_file_of_one_piece_is_assembled_from_what_is_kept_of_the_whole() -> None:
    pages, setting = leaflet("One", "Two", "long " * 900)
    shelf = Shelf()
    shop = Shop(partial(spread, workers=1), lambda *_: None, lambda _: None, shelf)
    assert page_counts(pages, setting, shop) == [1, 1, 3]
    shelf.put_last.clear()
    assemble(pages, setting, shop)
    single = assemble(pages[1:2], setting, shop)
    assert not shelf.put_last
    check_the_same(single, to_pdf(setting.document(pages[1].html), setting.styles))


def test_what_cannot_be_assembled_is_laid_out_in_one_go_and_said() -> None:
    pages, setting = leaflet("One", "Two")
    setting = replace(setting, styles=setting.styles.replace("counter(page)", "counter(pages)"))
    said: list[str] = []
    made = assemble(pages, setting, Shop(partial(spread, workers=1), lambda *_: None, said.append))
    assert len(Opened(made).pdf.pages) == 2
    assert [sentence.split(":")[1] for sentence in said] == [
        " leaflet.pdf is laid out in one go, which takes many times as long"
    ]

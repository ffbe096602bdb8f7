"""The workbook on paper: tags, headings and tables in order, page numbers that hold, room to write."""

import re
from collections.abc import Callable, Iterator, Sequence
from io import BytesIO
from itertools import pairwise

import pytest
from pypdf import PdfReader

from bookmaker.press.assembly.assembling import Setting, Shop, assemble
from bookmaker.press.assembly.sheet import Sheet
from bookmaker.press.workbook import paper
from tests.support.paper import elements
from tests.support.workbook import THEMES, TWO, LaidWorkbook, workbook

pytestmark = pytest.mark.pdf


@pytest.fixture(scope="module")
def laid() -> LaidWorkbook:
    return LaidWorkbook(workbook(TWO)[0])


@pytest.fixture(scope="module")
def answers() -> LaidWorkbook:
    return LaidWorkbook(workbook(TWO)[1])


@pytest.fixture(params=["laid", "answers"])
def either(request: pytest.FixtureRequest) -> LaidWorkbook:
    found: LaidWorkbook = request.getfixturevalue(request.param)
    return found


def test_the_document_is_tagged_and_says_what_it_is(either: LaidWorkbook) -> None:
    root, info = either.root, either.reader.metadata
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert info is not None
    assert info.title is not None
    assert info.title.startswith("Quillhaven Kitchen: ")
    assert info.title.endswith(", autumn intake")


def test_headings_come_in_order(either: LaidWorkbook) -> None:
    levels = [int(kind[1]) for kind, _ in either.elements() if re.fullmatch(r"H\d", kind)]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert levels.count(2) >= 2


def test_every_cell_of_every_table_has_its_headers(either: LaidWorkbook) -> None:
    tables = [element for kind, element in either.elements() if kind == "Table"]
    assert len(tables) > 8
    for table in tables:
        cells = [(kind, cell) for kind, cell in elements(table["/K"]) if kind in {"TH", "TD"}]
        headers = {str(cell["/ID"]) for kind, cell in cells if kind == "TH"}
        for kind, cell in cells:
            if kind == "TD":
                named = [str(name) for name in cell["/A"]["/Headers"]]
                assert named
                assert {*named} <= headers


def test_every_link_leads_somewhere_and_every_number_in_one_is_that_page(either: LaidWorkbook) -> None:
    leaps = [*either.leaps()]
    assert leaps
    assert all(leap.to for leap in leaps)
    numbered = [leap for leap in leaps if re.fullmatch(r"(?:.*p\.\s)?\d+", leap.words)]
    assert len(numbered) > 3
    for leap in numbered:
        assert int(re.findall(r"\d+", leap.words)[-1]) == leap.to, leap


def test_bookmarks_are_the_parts_and_their_lessons(laid: LaidWorkbook) -> None:
    book, _ = workbook(TWO)
    marks = laid.bookmarks()
    assert [title for depth, title, _ in marks if depth == 0] == [
        "Contents", "Glossary", "Topics of examination", "Safety",
        *(f"Level {level}" for level, _ in book.contents.levels), "Progress",
    ]  # fmt: skip
    assert [title for depth, title, _ in marks if depth == 1] == [lesson.title for lesson in book.lessons]


def test_glossary_and_contents_name_the_pages_of_lessons(laid: LaidWorkbook) -> None:
    book, _ = workbook(TWO)
    page = {lesson.title: laid.places[lesson.route.id][0] for lesson in book.lessons}
    contents = re.sub(r"\s+", " ", laid.text[laid.places["index"][0] - 1])
    for title, number in page.items():
        assert re.search(rf"{number}\s+\d+ {re.escape(title.split(' (')[0])}", contents), title
    assert book.glossary is not None
    start = laid.places["glossary"][0]
    glossary = re.sub(r"\s+", " ", " ".join(laid.text[start - 1 : laid.places["topics"][0] - 1]))
    used = next(term for term in book.glossary.terms if term.lessons)
    pages = ", ".join(str(page[link.name]) for link in used.lessons)
    assert f"used on pages {pages}" in glossary


def test_no_words_run_out_of_the_type_area(either: LaidWorkbook) -> None:
    for number in either.numbers:
        left, top, right, bottom = either.type_area(number)
        for in_margin, box in either.boxes(number):
            if not in_margin:
                assert box.left >= left - 1, (number, box)
                assert box.right <= right + 1, (number, box)
                assert top - 1 <= box.top, (number, box)
                assert box.bottom <= bottom + 1, (number, box)


def test_a_table_stays_with_its_caption(laid: LaidWorkbook) -> None:
    """No page ends in the caption of a table that begins on the next."""
    book, _ = workbook(TWO)
    last = [lines.strip().splitlines()[-2] for lines in laid.text if len(lines.strip().splitlines()) > 2]
    captions = {
        "Temperatures",
        "What there is",
        "What has to be done, and after what",
        "Losses on the way, in this order",
    }
    assert not captions & {*last}
    assert book.lessons


def test_pieces_come_to_the_same_pages_as_one_document(laid: LaidWorkbook) -> None:
    book, _ = workbook(TWO)

    def here(
        prepare: Callable[[Sheet], Callable[[str], bytes]], setup: Sheet, items: Sequence[str], *, worth: int
    ) -> Iterator[bytes]:
        assert worth
        return map(prepare(setup), items)

    told: list[str] = []
    setting: Setting = paper.setting(book, THEMES, "workbook.pdf")
    whole = assemble(laid.row, setting, Shop(here, lambda *_: None, told.append))
    assert told == []
    texts = [page.extract_text() for page in PdfReader(BytesIO(whole)).pages]
    assert len(texts) == len(laid.text)
    assert [re.sub(r"\s", "", text) for text in texts] == [re.sub(r"\s", "", text) for text in laid.text]

"""The printed book on its pages: numbers that hold, links that lead, tags that a screen reader follows."""

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from bookmaker.press.book import book_pdf, tied
from tests.support.paper import Laid, Leap, elements, some
from tests.support.published import DEMO, LEDGER, TINY, sound_book, team_site

pytestmark = pytest.mark.pdf

TITLES = {"Harbour levain", "Poolish", "Poolish baguette", "Almond sablé", "Rhubarb custard tart", "Apricot pebble"}
LISTS = ["Cautions", "Allergens of the products", "Costs of the products", "Glossary", "Index of ingredients",
         "Index of recipes"]  # fmt: skip


@pytest.fixture(scope="session")
def laid() -> Laid:
    """A few recipes of the demo: breads with a preferment, a component, a tart in two sizes, a moulded product."""
    demo = sound_book(DEMO)
    return Laid(some(team_site(demo), demo.house, TITLES))


@pytest.fixture(scope="session")
def letter() -> Laid:
    """The tiny book on Letter paper."""
    tiny = sound_book(TINY)
    book = some(team_site(tiny), tiny.house, {"Pebble", "Butter biscuit", "Pepper pebble"})
    return Laid(replace(book, paper="Letter"))


def recipes(laid: Laid) -> Iterator[tuple[str, str, int]]:
    """Part's heading, recipe's title as its page has it, and its first page."""
    for part in laid.book.parts:
        for view in part.recipes:
            title = tied(f">{view.head.title} {view.head.size}<").strip("> <")
            yield part.heading, title, laid.places[view.route.id][0]


def fonts_of(page: Any) -> Any:
    """A page's fonts by the names that it gives them."""
    return page["/Resources"].get("/Font", {})


def numbered(leaps: list[Leap]) -> Iterator[tuple[Leap, int]]:
    """Links that end in a page number, with that number."""
    for leap in leaps:
        if found := re.search(r"(?:^|p\.\s|page\s)(\d+)\)?$", leap.words):
            yield leap, int(found[1])


def test_the_page_engine_has_nothing_to_complain_of(caplog: pytest.LogCaptureFixture, laid: Laid) -> None:
    with caplog.at_level("WARNING", logger="weasyprint"):
        Laid(laid.book)
    assert not caplog.records


def test_contents_say_the_pages_where_things_are(laid: Laid) -> None:
    said = [leap.words for leap in laid.leaps() if leap.page == 3 and not leap.words.isdigit()]
    places = laid.places
    wanted = [f"{places['about'][0]} About the figures"]
    for part in laid.book.parts:
        wanted.append(f"{places[part.route.id][0]} {part.heading}")
        wanted += [f"{places[line.route.id][0]} {line.title}" for line in part.contents]
    assert set(wanted) <= set(said)
    assert [re.sub(r"^\d+ ", "", words) for words in said][-7:] == ["About the figures", *LISTS]


def test_every_link_leads_somewhere_and_every_number_in_one_is_that_page(laid: Laid) -> None:
    leaps = list(laid.leaps())
    assert len(leaps) > 100
    assert [leap.annotation["/Dest"] for leap in leaps if leap.to is None] == []
    assert len(list(numbered(leaps))) > 80
    assert [(leap.page, leap.words, leap.to) for leap, number in numbered(leaps) if number != leap.to] == []


def test_formula_lines_and_prose_name_the_page_of_what_they_use(laid: Laid) -> None:
    levain, poolish = laid.places["recipes-breads-harbour-levain"][0], laid.places["recipes-breads-poolish"][0]
    baguette = laid.places["recipes-breads-poolish-baguette"][0]
    pages = " ".join(" ".join(laid.text[baguette - 1 : baguette + 1]).split())
    assert f"Poolish p. {poolish}" in pages
    assert f"(see page {poolish})" in pages
    assert f"p. {levain}" not in pages


def test_what_is_not_printed_is_named_without_a_page(laid: Laid) -> None:
    pebble = laid.places["recipes-moulded-apricot-pebble"][0]
    words = " ".join(" ".join(laid.text[pebble - 1 : pebble + 2]).split())
    assert "Honey mousse" in words
    assert not re.search(r"Honey mousse\s+p\.", words)


def test_bookmarks_are_the_parts_and_their_recipes(laid: Laid) -> None:
    wanted = [(0, "Contents"), (0, "About the figures")]
    for part in laid.book.parts:
        wanted.append((0, part.heading))
        wanted += [(1, title) for heading, title, _ in recipes(laid) if heading == part.heading]
    wanted += [(0, name) for name in LISTS]
    marks = laid.bookmarks()
    assert [(depth, title) for depth, title, _ in marks] == wanted
    by_title = {title: page for _, title, page in marks}
    assert [by_title[title] for _, title, _ in recipes(laid)] == [page for _, _, page in recipes(laid)]


def test_each_recipe_starts_a_page_and_each_part_a_right_hand_one(laid: Laid) -> None:
    for part in laid.book.parts:
        for view in part.recipes:
            page = laid.places[view.route.id][0]
            above = [box.words for margin, box in laid.boxes(page) if not margin][:12]
            assert any(words.startswith(view.head.title) for words in above), above
    tops = {laid.places[view.route.id][1] for part in laid.book.parts for view in part.recipes}
    assert len({round(top) for top in tops}) == 1
    for part in laid.book.parts:
        assert laid.places[part.route.id][0] % 2 == 1


def test_left_pages_run_the_part_and_right_pages_the_recipe(laid: Laid) -> None:
    starts = [*recipes(laid), ("", "", laid.places["cautions"][0])]
    openers = {laid.places[part.route.id][0] for part in laid.book.parts}
    for (heading, title, first), (_, _, after) in pairwise(starts):
        for page in range(first, after):
            if page not in openers and not laid.blank(page):
                running = [box.words for margin, box in laid.boxes(page) if margin]
                assert running == ([heading, str(page)] if page % 2 == 0 else [title, str(page)])


def test_cover_and_blank_pages_bear_no_number(laid: Laid) -> None:
    assert not [box for margin, box in laid.boxes(1) if margin]
    blank = [number for number in laid.numbers if laid.blank(number)]
    assert 2 in blank
    assert not [box for number in blank for _, box in laid.boxes(number)]


def test_folios_stand_outside(laid: Laid) -> None:
    for number in laid.numbers[2:]:
        width = laid.document.pages[number - 1].width
        folios = [box for margin, box in laid.boxes(number) if margin and box.words == str(number)]
        assert len(folios) == (0 if laid.blank(number) else 1)
        for folio in folios:
            assert (folio.left > width / 2) == (number % 2 == 1)


@pytest.mark.parametrize("paper", ["laid", "letter"])
def test_the_type_area_is_alike_on_left_and_right_pages_and_holds_all_words(
    paper: str, request: pytest.FixtureRequest
) -> None:
    laid: Laid = request.getfixturevalue(paper)
    upright = [n for n, page in enumerate(laid.document.pages, 1) if page.width < page.height]
    areas = {tuple(round(side, 3) for side in laid.type_area(number)) for number in upright}
    assert len(areas) == 1
    left, _, right, _ = areas.pop()
    assert left == pytest.approx(laid.document.pages[0].width - right, abs=0.1)
    assert right - left == pytest.approx(170 * 96 / 25.4, abs=0.1)
    for number, page in enumerate(laid.document.pages, 1):
        left, top, right, bottom = laid.type_area(number)
        for margin, box in laid.boxes(number):
            if margin:
                assert box.left >= 0
                assert box.right <= page.width
                assert box.top >= 0
                assert box.bottom <= page.height
            else:
                assert left - 0.5 <= box.left, (number, box)
                assert box.right <= right + 8.5, (number, box)  # the ≈ of a coarse weight hangs in the margin
                assert top - 0.5 <= box.top, (number, box)
                assert box.bottom <= bottom + 0.5, (number, box)


def test_paper_is_the_houses(laid: Laid, letter: Laid) -> None:
    def sizes(book: Laid) -> set[tuple[int, int]]:
        boxes = (page.mediabox for page in book.reader.pages)
        return {(round(float(box.width)), round(float(box.height))) for box in boxes}

    assert sizes(laid) == {(595, 842), (842, 595)}
    assert sizes(letter) == {(612, 792), (792, 612)}


def test_every_font_is_embedded(laid: Laid) -> None:
    found = set()
    for page in laid.reader.pages:
        for font in fonts_of(page).values():
            for part in font.get_object()["/DescendantFonts"]:
                descriptor = part.get_object()["/FontDescriptor"].get_object()
                assert {"/FontFile2", "/FontFile3"} & descriptor.keys(), descriptor["/FontName"]
                found.add(str(descriptor["/FontName"]))
    # the house's five faces and nothing of the machine's: a letter that they lack would bring in another font
    assert len(found) == 5, found
    assert all("+Ledger-S" in name for name in found), found


def test_the_document_says_what_it_is(laid: Laid) -> None:
    root = laid.root
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    metadata = laid.reader.metadata
    assert metadata is not None
    assert (metadata.title, metadata.author) == ("Quillhaven Kitchen: recipe book", "Quillhaven Kitchen")
    assert metadata.creation_date is None
    newest = laid.book.cover.newest
    assert newest is not None
    assert str(metadata["/ModDate"]).startswith(f"D:{newest:%Y%m%d}")
    assert b'pdfuaid:part="1"' in root["/Metadata"].get_object().get_data()
    assert all("/StructParents" in page for page in laid.reader.pages if "/Contents" in page)


def test_headings_come_in_order(laid: Laid) -> None:
    levels = [int(kind[1]) for kind, _ in laid.elements() if re.fullmatch(r"H\d", kind)]
    assert levels[0] == 1
    assert levels.count(2) >= len(list(recipes(laid)))
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_every_cell_of_every_table_has_its_headers(laid: Laid) -> None:
    tables = [element for kind, element in laid.elements() if kind == "Table"]
    assert len(tables) > 30
    for table in tables:
        cells = [(kind, cell) for kind, cell in elements(table["/K"]) if kind in {"TH", "TD"}]
        headers = {str(cell["/ID"]) for kind, cell in cells if kind == "TH"}
        for kind, cell in cells:
            if kind == "TD":
                named = [str(name) for name in cell["/A"]["/Headers"]]
                assert named
                assert set(named) <= headers


def test_pictures_say_what_they_show(laid: Laid) -> None:
    figures = [element for kind, element in laid.elements() if kind == "Figure"]
    said = {str(figure["/Alt"]) for figure in figures}
    assert {"Time, to scale", "Caution", "Layers, bottom to top", "Cutting diagram", "Composition by weight"} <= said
    assert all(said)


def test_cautions_come_before_the_steps(laid: Laid) -> None:
    for part in laid.book.parts:
        for view in part.recipes:
            kinds = ("Cautions", "Formula", "Method")
            first = laid.places[view.route.id][0]
            words = "\n".join(laid.text[first - 1 : first + 2])
            at = [words.index(f"\n{kind}") for kind in kinds]
            assert not view.cautions or at == sorted(at)


def test_index_pages_are_in_order_and_named_once(laid: Laid) -> None:
    first = laid.places["by-ingredient"][0]
    lines = "\n".join(laid.text[first - 1 :]).splitlines()
    seen = 0
    for line in lines:
        numbers = [int(number) for number in re.findall(r"(?<=[ ,])\d+(?=,|$)", line)]
        assert numbers == sorted(set(numbers)), line
        seen += len(numbers) > 1
    assert seen >= 5


def test_the_same_book_gives_the_same_bytes() -> None:
    tiny = sound_book(TINY)

    def made() -> bytes:
        return book_pdf(some(team_site(tiny), tiny.house, {"Pebble", "Butter biscuit"}), [LEDGER])

    assert made() == made()


@pytest.mark.slow
def test_the_whole_demo_book() -> None:
    demo = sound_book(DEMO)
    site = team_site(demo)
    laid = Laid(some(site, demo.house, {view.head.title for view in site.recipes}))
    leaps = list(laid.leaps())
    assert [leap.annotation["/Dest"] for leap in leaps if leap.to is None] == []
    assert [(leap.page, leap.words, leap.to) for leap, number in numbered(leaps) if number != leap.to] == []
    assert laid.places["about"][0] - laid.places["contents"][0] <= 3
    for number in laid.numbers:
        left, _, right, bottom = laid.type_area(number)
        outside = [
            box
            for margin, box in laid.boxes(number)
            if not margin and (box.left < left - 0.5 or box.right > right + 8.5 or box.bottom > bottom + 0.5)
        ]
        assert not outside, (number, outside)
    starts = [page for _, _, page in recipes(laid)]
    assert len(starts) == sum(view.head.status != "retired" for view in site.recipes)
    # a recipe that fits on two facing pages, or with one leaf turned; a fourth page would be a blank one before a part
    assert all(after - first <= 4 for first, after in pairwise([*starts, laid.places["cautions"][0]]))

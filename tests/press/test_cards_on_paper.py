"""Bench cards as PDF pages, looked at by an outside reader: the whole demo on A4, the hard ones on A5 and Letter."""

from dataclasses import replace
from decimal import Decimal
from io import BytesIO

import pikepdf
import pytest
import zxingcpp
from pypdf import PdfReader

from bookmaker.editions.cards.views import CardAmount, CardFormula, CardLine, CardStage, CardView
from bookmaker.model.refs import RecipeRef
from bookmaker.press.cards.styles import card_styles
from bookmaker.press.formats import Formats
from bookmaker.press.pdf import to_pdf
from tests.support.cards import (
    DemoCards,
    Letter,
    Sides,
    demo_cards,
    demo_views,
    fitted_cards,
    one_fitter,
    overlaps,
    plain,
    sheet_of,
)
from tests.support.published import LEDGER

pytestmark = pytest.mark.pdf
__all__ = ["demo_cards", "demo_views"]

HARD = [
    "breads/harbour-sourdough", "doughs/egg-wash", "doughs/croissant", "moulded/apricot-pebble",
    "moulding/pebble-mould-casting", "tarts/rhubarb-custard-tart", "choux/coffee-choux-bun",
]  # fmt: skip
"""The longest and the shortest recipe, one in sizes, one of moulds, one that is just short enough for one side."""

FLOORS = {"A4": (14, 11, 9), "Letter": (14, 11, 9), "A5": (10, 8.4, 7.2)}
"""Points that weights, steps, and all other words are never below; but the word in a box for a reading."""


@pytest.fixture(scope="session", params=["A5", "Letter"])
def hard_cards(request: pytest.FixtureRequest, demo_views: dict[RecipeRef, CardView]) -> DemoCards:
    hard = HARD if request.param == "A5" else HARD[::2]
    return fitted_cards({ref: view for ref, view in demo_views.items() if ref.id in hard}, request.param)


def _check_sides(cards: DemoCards) -> None:
    assert {found.sides for found in cards.fitted.values()} == {1, 2}
    assert len(cards.sides) in {2 * len(cards.fitted), 2 * len(cards.fitted) - 1}
    for ref, pages in cards.pages():
        backs = [page for page in range(pages[0], min(pages[0] + 2, len(cards.sides))) if page not in pages]
        assert all(cards.sides.is_blank(page) for page in backs), ref
        assert not any(cards.sides.is_blank(page) for page in pages), ref
        assert cards.fitted[ref].too_long == ()


def _check_places(cards: DemoCards) -> None:
    """Nothing lies over anything else, nothing in the margins that printers and pouches take, nothing on the code."""
    paper = cards.paper
    for ref, pages in cards.pages():
        for page in pages:
            letters = cards.sides.letters(page)
            assert [(a.text, b.text, a.left, a.top) for a, b in overlaps(letters)] == [], (ref, page)
            for letter in letters:
                assert paper.edge <= letter.left < letter.right <= paper.width - paper.edge, (ref, letter)
                assert paper.edge <= letter.top < letter.bottom <= paper.height - paper.edge, (ref, letter)
                assert not _in_hole(letter, cards), (ref, letter)


def _in_hole(letter: Letter, cards: DemoCards) -> bool:
    """Whether a letter would be punched away: the hole is 6 mm wide, in the middle of the upper edge."""
    middle, down = cards.paper.width / 2, cards.paper.top + 4
    return middle - 3 < letter.right and letter.left < middle + 3 and abs((letter.top + letter.bottom) / 2 - down) < 3


def _check_words(cards: DemoCards) -> None:
    """Every word of the card is on its pages: nothing is cut off."""
    for ref, pages in cards.pages():
        view, sheet = cards.sheets[ref].view, cards.sheets[ref]
        said = plain(" ".join(cards.sides.words(page) for page in pages))
        wanted = [view.head.title, view.head.section, sheet.code]
        wanted += [line.ingredient for stage in view.formula.stages for line in stage.lines]
        wanted += [step.text for run in view.steps for step in run.steps]
        wanted += [step.limit.text for run in view.steps for step in run.steps if step.limit]
        wanted += [words for caution in view.cautions for words in (caution.do, *caution.more)]
        wanted += [*view.look_for, *(aid.words for aid in view.first_aid)]
        if view.allergens:
            wanted += [*view.allergens.contains, *view.allergens.may_contain, *view.allergens.undeclared]
        squeezed = said.replace(" ", "")
        assert [words for words in wanted if plain(words).replace(" ", "") not in squeezed] == [], ref


def _check_sizes(cards: DemoCards, name: str) -> None:
    weights, steps, least = FLOORS[name]
    formats = Formats()
    for ref, pages in cards.pages():
        type_ = cards.fitted[ref].type_
        assert min(type_.tested, type_.others) >= weights
        assert type_.steps >= steps
        letters = [cards.sides.letters(page) for page in pages]
        small = {size for page in letters for letter in page if (size := round(letter.size, 1)) < least}
        assert small <= {6.5}, (ref, small)  # the word in a box for a reading
        sizes = {round(type_.tested, 1), round(type_.others, 1)}
        figures = "".join(letter.text for letter in letters[0] if round(letter.size, 1) in sizes)
        for stage in cards.sheets[ref].view.formula.stages:
            for line in stage.lines:
                for amount in line.amounts:
                    assert amount is None or formats.number(amount.value).replace("\u00a0", "") in figures, (ref, line)


def _check_codes(cards: DemoCards) -> None:
    for ref, pages in cards.pages():
        read = zxingcpp.read_barcodes(cards.sides.corner(pages[0]).to_pil())
        assert [found.text for found in read] == [cards.sheets[ref].address], ref
        corners = read[0].position
        left, right, top, bottom = (
            place / 3 * 25.4 / 72
            for place in (corners.top_left.x, corners.top_right.x, corners.top_left.y, corners.bottom_left.y)
        )
        assert right - left >= 33 * cards.paper.module * 0.97, ref
        white = 4 * cards.paper.module - 0.3
        across = cards.paper.width * 2 / 3
        for letter in cards.sides.letters(pages[0]):
            is_beside = letter.right < across + left - white or letter.left > across + right + white
            assert is_beside or letter.bottom < top - white or letter.top > bottom + white, (ref, letter)
        assert cards.sheets[ref].code in cards.sides.words(pages[0])


def _check_tags(demo_cards: DemoCards) -> None:
    """The file is tagged, and says what it is."""
    reader = PdfReader(BytesIO(demo_cards.pdf))
    assert reader.metadata is not None
    assert reader.metadata.title == "Bench cards"
    with pikepdf.open(BytesIO(demo_cards.pdf)) as opened:
        assert opened.check_pdf_syntax() == []
        assert opened.Root.MarkInfo.Marked
        assert str(opened.Root.Lang) == "en"
        kinds = _tags(opened.Root.StructTreeRoot.K)
    assert {"H1", "Table", "TH", "TD", "L", "LI", "Figure"} <= kinds
    titles = [plain(str(item.title)) for item in reader.outline if not isinstance(item, list)]
    assert titles == [_title(sheet.view) for sheet in demo_cards.sheets.values()]


def _title(view: CardView) -> str:
    return f"{view.head.title} {view.head.size}".strip()


def _tags(node: "pikepdf.Object") -> set[str]:
    found: set[str] = set()
    todo = [node]
    while todo:
        each = todo.pop()
        if isinstance(each, pikepdf.Array):
            todo.extend(each)
        elif isinstance(each, pikepdf.Dictionary) and "/S" in each:
            found.add(str(each.S).lstrip("/"))
            if "/K" in each:
                todo.append(each.K)
    return found


def _check_colours(demo_cards: DemoCards) -> None:
    """What is drawn is black, white or grey: no operator of the pages sets anything else."""
    with pikepdf.open(BytesIO(demo_cards.pdf)) as opened:
        painted = [
            each
            for page in opened.pages[:8]
            for each in pikepdf.parse_content_stream(page)
            if str(each.operator) in {"rg", "RG"}
        ]
        assert painted
        for each in painted:
            assert len({Decimal(str(share)) for share in each.operands}) == 1, each.operands


def test_every_card_of_the_demo(demo_cards: DemoCards) -> None:
    """In one test, so that the cards are laid out once, on whatever process."""
    _check_sides(demo_cards)
    _check_places(demo_cards)
    _check_words(demo_cards)
    _check_sizes(demo_cards, "A4")
    _check_codes(demo_cards)
    _check_tags(demo_cards)
    _check_colours(demo_cards)


def test_the_hard_ones_on_other_papers(hard_cards: DemoCards) -> None:
    _check_sides(hard_cards)
    _check_places(hard_cards)
    _check_words(hard_cards)
    _check_sizes(hard_cards, "A5" if hard_cards.paper.width == 210 else "Letter")
    _check_codes(hard_cards)


def test_a_planted_overlap_and_a_word_off_the_card_are_found(demo_views: dict[RecipeRef, CardView]) -> None:
    """The checks above can fail: what they look for is found where it is put."""
    fitter, paper = one_fitter()
    sheet = sheet_of(next(view for ref, view in demo_views.items() if ref.id == "doughs/egg-wash"))
    html, styles = fitter.fit(sheet).html, card_styles([LEDGER], "A4")

    def letters(more: str) -> list[Letter]:
        return Sides(to_pdf(f"<html lang=en><title>x</title>{html}</html>", styles + more)).letters(0)

    assert not [*overlaps(letters(""))]
    assert [*overlaps(letters(".front-foot { margin-top: -100mm }"))]
    assert [*overlaps(letters(".column { line-height: .4 } .do { line-height: .4 }"))]
    assert any(letter.right > paper.width - paper.edge for letter in letters(".column { margin-left: 60mm }"))


def _broad(view: CardView, lines: int) -> CardView:
    """A card with a long title, six batches, six figures a weight, and words without an end."""
    batches = tuple(map(Decimal, ("0.5", "1", "2", "3", "4", "8")))

    def line(at: int) -> CardLine:
        amounts = tuple(CardAmount(Decimal(at * 123 + 7) * batch) for batch in batches)
        return CardLine(f"Haselnussnougatcremepulverzubereitung {at}", amounts, preparation="cold, from the chiller")

    stages = (CardStage("Base", "", tuple(map(line, range(1, lines)))), CardStage("Top", "", (line(lines),)))
    title = "Hazelnut and sea-salt caramel celebration slice with a name that goes on"
    return replace(
        view,
        head=replace(view.head, title=title, size="30 × 80 mm", status="trial"),
        formula=CardFormula(batches, stages, tuple(Decimal(99999) * batch for batch in batches)),
    )


@pytest.mark.parametrize(("paper", "lines", "sides"), [("A4", 16, 2), ("A5", 5, 2)])
def test_a_formula_too_broad_for_a_column_stands_over_both(
    demo_views: dict[RecipeRef, CardView], paper: str, lines: int, sides: int
) -> None:
    fitter, _ = one_fitter(paper)
    sheet = sheet_of(_broad(next(view for ref, view in demo_views.items() if ref.id == "doughs/croissant"), lines))
    fitted = fitter.fit(sheet)
    assert (fitted.sides, fitted.too_long) == (sides, ())
    pdf = to_pdf(f"<html lang=en><title>x</title>{fitted.html}</html>", card_styles([LEDGER], paper))
    laid = DemoCards({RecipeRef("x"): sheet}, [fitted], paper)
    laid.__dict__["sides"] = Sides(pdf)
    _check_places(laid)
    _check_words(laid)


def test_a_recipe_that_is_too_long_says_what_to_shorten(demo_views: dict[RecipeRef, CardView]) -> None:
    view = next(view for ref, view in demo_views.items() if ref.id == "doughs/croissant")
    run = view.steps[0]
    longer = tuple(replace(run.steps[0], number=at, text=run.steps[0].text * 6) for at in range(1, 30))
    fitter, _ = one_fitter()
    fitted = fitter.fit(sheet_of(replace(view, steps=(replace(run, steps=longer),))))
    assert fitted.too_long[0].startswith("step ")
    assert "formula" not in fitted.too_long
    assert "no card" in fitted.html
    assert run.steps[0].text not in fitted.html

"""Weights on the house's scales, what is flagged, and batch columns."""

from decimal import Decimal

import pytest

from bookmaker.kitchen.figures import MassFlow
from bookmaker.kitchen.flow import flow_of
from bookmaker.kitchen.weighing import LineWeight, columns, rounding_flag, weigh_lines
from bookmaker.measures.amounts import Amount
from bookmaker.measures.exact import exactly, published
from bookmaker.measures.scales import Scale, weigh
from bookmaker.measures.units import Dimension
from bookmaker.model.line import Cut, Grams, Line, Pieces, Unmeasured
from bookmaker.model.refs import RecipeRef
from bookmaker.model.shapes import Rectangle
from bookmaker.model.yields import SheetYield
from tests.support import make

SCALES = (Scale(Decimal(200), Decimal("0.1")), Scale(Decimal(6000), Decimal(1)), Scale(Decimal(30_000), Decimal(5)))
HOUSE = make.house(scales=SCALES)
SALT = make.item("salt", careful=True)


def weighed(*lines: Line, factor: str = "1") -> tuple[LineWeight, ...]:
    base = make.recipe(
        "base", [make.line(1000, "dough")], SheetYield(Decimal(1), Rectangle(Decimal(600), Decimal(400)))
    )
    heart = make.recipe("heart", [make.line(480, "fruit")], make.pieces(24))
    recipe = make.recipe("r", lines, 1, lose={"mix": 0})
    book = make.book(base, heart, recipe, stores=[SALT], own=HOUSE)
    flows: dict[RecipeRef, MassFlow] = {}
    with exactly():
        for each in (base, heart):
            flows[each.ref] = flow_of(each, book, flows)
        return weigh_lines(recipe, flow_of(recipe, book, flows), Decimal(factor), book)


def shown(weight: LineWeight) -> Decimal | None:
    return None if weight.weighed is None else weight.weighed.shown


def test_each_line_goes_to_the_finest_scale_that_takes_it() -> None:
    found = weighed(
        make.line("12.34", "a"), make.line("1234.5", "b"), make.line("12342.4", "c"), make.line(40_002, "d")
    )
    assert list(map(shown, found)) == [Decimal("12.3"), 1235, 12_340, 40_000]
    assert [each.weighed and each.weighed.scale for each in found] == [*SCALES, None]


def test_a_factor_multiplies_before_rounding() -> None:
    (found,) = weighed(make.line("0.25", "a"), factor="4")
    assert [found.grams, shown(found)] == [1, 1]


def test_pieces_and_cuts_are_counted_and_not_weighed() -> None:
    lines = [
        make.line(Pieces(Decimal(12)), make.ref("heart")),
        make.line(Cut(Decimal(12), Rectangle(Decimal(100), Decimal(100))), make.ref("base")),
        make.line(Unmeasured("to taste"), "salt"),
    ]
    found = weighed(*lines, factor="2")
    assert [each.weighed for each in found] == [None, None, None]
    assert [each.count for each in found] == [24, 24, None]
    assert [each.grams for each in found] == [480, 1000, None]


def test_leaves_are_counted_and_weighed() -> None:
    leaves = Grams(Decimal("12.5"), Amount(Decimal(5), "leaf", Dimension.COUNT), "measure")
    (found,) = weighed(make.line(leaves, "gelatine"), factor="0.5")
    assert [found.count, shown(found)] == [Decimal("2.5"), Decimal("6.3")]


@pytest.mark.parametrize(
    ("grams", "careful", "flagged"),
    [
        ("4.96", False, False),  # shown 5.0: 0.8 %
        ("4.96", True, True),
        ("4.95", False, True),  # shown 5.0: 1.01 %
        ("10.04", True, False),  # shown 10.0: 0.4 %
        ("250", False, False),
    ],
)
def test_one_percent_or_half_a_percent_may_go_to_rounding(grams: str, careful: bool, flagged: bool) -> None:
    with exactly():
        assert (rounding_flag(weigh(Decimal(grams), SCALES), careful=careful) is not None) is flagged


def test_a_flag_says_what_would_help() -> None:
    with exactly():
        flag = rounding_flag(weigh(Decimal("0.73"), SCALES), careful=True)
    assert flag is not None
    # shown as 0.7
    assert published(flag.error) == Decimal("0.0410958904110")
    assert flag.limit == Decimal("0.005")
    # half a step may be 0.00365 g at most: steps of 0.005 g
    assert flag.finer == Decimal("0.005")
    # or 0.1 ÷ 0.0073 times the batch
    assert flag.larger == Decimal("13.7")
    assert flag.dilute


def test_a_remedy_is_one() -> None:
    """On the finer scale, and in the larger batch, nothing is flagged any more."""
    with exactly():
        for tenths in range(1, 400):
            exact = Decimal(tenths) / 97
            flag = rounding_flag(weigh(exact, SCALES), careful=False)
            if flag is None:
                continue
            if flag.finer is not None:
                assert rounding_flag(weigh(exact, [Scale(Decimal(200), flag.finer)]), careful=False) is None
            assert rounding_flag(weigh(exact * flag.larger, SCALES), careful=False) is None


def test_only_careful_items_are_diluted_and_flagged_early() -> None:
    found = weighed(make.line("4.96", "salt"), make.line("4.96", "sugar"))
    assert found[0].flag is not None
    assert found[0].flag.dilute
    assert found[1].flag is None


def test_columns() -> None:
    recipe = make.recipe("r", [make.line(480, "flour"), make.line(5, "salt")], 1, lose={"mix": 0})
    book = make.book(recipe, stores=[SALT], own=HOUSE)
    with exactly():
        flow = flow_of(recipe, book, {})
    found = columns(recipe, flow, [Decimal("0.5"), Decimal(1), Decimal(4)], book)
    assert [column.factor for column in found] == [Decimal("0.5"), 1, 4]
    assert [[shown(line) for line in column.lines] for column in found] == [[240, Decimal("2.5")], [480, 5], [1920, 20]]

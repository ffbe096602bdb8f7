"""Scaling against standardised recipes with printed yields (tests/reference/scaling.yaml names each source)."""

from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.flow import flow_of
from bookmaker.kitchen.scaled import Scaled
from bookmaker.kitchen.scaling import scale
from bookmaker.kitchen.targets import parse_target
from bookmaker.kitchen.weighing import columns
from bookmaker.measures.amounts import skip_space, take_amount
from bookmaker.measures.exact import exactly
from bookmaker.measures.units import Spoons
from bookmaker.model.recipe import Base, BaseKind, Recipe
from bookmaker.model.refs import StoresRef
from bookmaker.model.yields import PieceYield
from tests.support import make
from tests.support.reference import cases

CASES = cases("scaling")
ON = date(2026, 11, 1)
OUNCE = Decimal("28.349523125")


def grams(text: str) -> Decimal:
    """Grams of `1 lb 13 oz`; what stands in brackets is a remark."""
    text = text.partition("(")[0].strip().replace("-", " ")
    at, found = 0, Decimal(0)
    with exactly():
        while at < len(text):
            taken = take_amount(text, at)
            assert taken is not None, text
            found += taken.amount.in_base(Spoons.US)
            at = skip_space(text, taken.end)
    return found


def printed(case: dict[str, Any], portions: str) -> dict[str, Decimal]:
    """The weighed ingredients of one column."""
    key = f"weight_{portions}"
    return {each["name"]: grams(each[key]) for each in case["given"]["ingredients"] if key in each}


def scaled(recipe: Recipe, target: str, *below: Recipe) -> Scaled:
    book = make.book(*below, recipe)
    return scale(book, compute(book, ON), recipe.ref, parse_target(target, book, recipe))


@pytest.mark.parametrize(
    ("name", "apart"),
    [
        ("usda-c10-oatmeal-cookies", set()),
        # apples go by the can: 6 lb 4 oz for 50, 11 lb 2 oz for 100
        ("usda-c02-apple-crisp", {"canned unsweetened sliced apples, solid pack, with juice"}),
        ("usda-b04-biscuits", set()),
        ("usda-icn-biscuits-25-50", set()),
        ("usda-corn-pudding-25-50", set()),
    ],
)
def test_the_smaller_column_scales_to_the_larger(name: str, apart: set[str]) -> None:
    case = CASES[name]
    small, large = case["given"].get("columns", ["25", "50"])
    before, after = printed(case, small), printed(case, large)
    recipe = make.recipe(
        name, [make.line(amount, item) for item, amount in before.items()], PieceYield(Decimal(small), "portions")
    )
    found = {line.line: line.bowl for line in scaled(recipe, f"{large} portions").own.lines}
    assert len(found) >= 4
    for item, amount in found.items():
        assert (amount == after[item]) is (item not in apart), item


@pytest.mark.parametrize(
    ("name", "without", "key", "within"),
    [
        (
            "usda-c10-oatmeal-cookies",
            {"raisins, plumped (optional)"},
            "weighed_sum_without_optional_raisins_oz_50",
            0.001,
        ),
        ("usda-corn-pudding-25-50", set(), "weighed_sum_oz_25", 0.001),
    ],
)
def test_what_goes_in_adds_up(name: str, without: set[str], key: str, within: float) -> None:
    case = CASES[name]
    lines = [make.line(amount, item) for item, amount in printed(case, key[-2:]).items() if item not in without]
    recipe = make.recipe(name, lines, PieceYield(Decimal(key[-2:]), "portions"))
    with exactly():
        flow = flow_of(recipe, make.book(recipe), {})
        assert float(flow.into / OUNCE) == pytest.approx(float(case["expect"][key]), abs=within)


@pytest.mark.parametrize(
    ("name", "key", "sum_key"),
    [
        ("afrs-spice-cake-batter", "oz_100", "weighed_sum_oz"),
        ("afrs-gingerbread-batter", "oz_100", "sum_oz"),
        ("afrs-no-bake-oatmeal-cookies", "oz_100", "total_oz"),
        ("usda-1988-carrot-cake-50", "oz_50", "sum_oz_with_nuts"),
        ("wheat-council-chocolate-chip-576", "g", "batch_g"),
    ],
)
def test_a_card_adds_up_and_divides_into_its_pieces(name: str, key: str, sum_key: str) -> None:
    case = CASES[name]
    amounts = [each[key] for each in case["given"]["ingredients"] if each[key] not in {"null", ""}]
    expect = case["expect"]
    count = Decimal(expect.get("cookies", expect.get("count", "1")))
    lines = [make.line(amount, f"item {at}") for at, amount in enumerate(amounts)]
    recipe = make.recipe(name, lines, PieceYield(count, "pieces"))
    with exactly():
        flow = flow_of(recipe, make.book(recipe), {})
    # sums are printed to the last place of their figures
    assert float(flow.into) == pytest.approx(float(expect[sum_key]), rel=5e-4)
    piece = expect.get("piece_oz", expect.get("piece_g"))
    if piece is not None:
        assert float(flow.yields.piece or 0) == pytest.approx(float(piece), rel=2e-3)


def test_army_pie_crust_per_double_crust() -> None:
    case = CASES["army-pie-crust-3-double"]
    lines = [make.line(each["g"], each["name"]) for each in case["given"]["ingredients"]]
    recipe = make.recipe("crust", lines, PieceYield(Decimal(case["given"]["columns"][0]), "pieces"))
    with exactly():
        flow = flow_of(recipe, make.book(recipe), {})
    assert float(flow.into) == pytest.approx(float(case["expect"]["total_g"]), rel=0.01)
    assert float(flow.yields.piece or 0) == pytest.approx(float(case["expect"]["g_per_double_9in_crust"]), rel=0.01)


def test_the_limiting_ingredient() -> None:
    case = CASES["scale-by-available-ingredient"]
    given, expect = case["given"], case["expect"]
    lines = [make.line(grams(f"{given['recipe_ingredient_lb']} lb"), "rice"), make.line(5000, "water")]
    recipe = make.recipe("pudding", lines, PieceYield(Decimal(given["old_yield_portions"]), "portions"))
    found = scaled(recipe, f"use up {given['available_lb']} lb rice")
    assert found.own.plan.factor == Decimal(expect["factor"])
    assert found.own.pieces == Decimal(expect["new_yield_portions"])


def test_scaling_weight_from_the_baked_weight() -> None:
    """The dough is solved back from the finished pieces through the bake loss."""
    case = CASES["scale-bake-loss"]
    given, expect = case["given"], case["expect"]
    with exactly():
        loss = Decimal(given["bake_loss_pct"]) / 100
        recipe = make.recipe(
            "loaf",
            [make.percent(100, "flour"), make.percent(65, "water")],
            make.pieces(given["pieces"], "loaf", finished=given["baked_weight_g"]),
            base=make.FLOUR,
            lose={"bake": loss},
        )
        flow = flow_of(recipe, make.book(recipe, stores=[make.item("flour", flour=True)]), {})
        assert float(flow.into) == pytest.approx(float(expect["dough_total_g"]), abs=0.5)
        assert float(flow.into / Decimal(given["pieces"])) == pytest.approx(float(expect["scaling_weight_g"]), abs=0.5)
    assert flow.yields.piece is not None
    assert float(flow.yields.piece) == pytest.approx(float(given["baked_weight_g"]))


def test_losses_in_the_bowl_and_in_the_oven() -> None:
    case = CASES["scale-dough-loss-2-and-11"]
    given, expect = case["given"], case["expect"]
    with exactly():
        recipe = make.recipe(
            "loaf",
            [make.percent(100, "flour"), make.percent(65, "water")],
            make.pieces(1, "loaf", finished=given["baked_weight_g"]),
            base=make.FLOUR,
            lose={
                "portion": Decimal(given["mixing_makeup_loss_pct"]) / 100,
                "bake": Decimal(given["proof_bake_cool_loss_pct"]) / 100,
            },
        )
        flow = flow_of(recipe, make.book(recipe, stores=[make.item("flour", flour=True)]), {})
    assert float(flow.into) == pytest.approx(float(expect["dough_mixed_g"]), abs=0.2)
    assert float(flow.yields.scaled or 0) == pytest.approx(float(expect["scaled_piece_g"]), abs=0.2)


def test_loaves_from_a_barrel_of_flour() -> None:
    """Printed: 300 loaves at 17 oz, 318 at 16 oz. By its weights the dough makes 315 of 17 oz; the rest is handling."""
    case = CASES["scale-bread-yield-196lb"]
    given, expect = case["given"], case["expect"]
    lines = [
        make.line(grams(f"{given[f'{item}_lb']} lb"), item) for item in ("flour", "yeast", "sugar", "lard", "salt")
    ]
    lines.append(make.line(grams(f"{Decimal(given['water_qt']) * Decimal('2.086')} lb"), "water"))
    found = {}
    for size in ("a", "b"):
        piece = grams(f"{given[f'scaled_oz_{size}']} oz")
        recipe = make.recipe(f"loaf {size}", lines, make.pieces(expect["loaves_printed_17"], "loaf", scaled=piece))
        with exactly():
            flow = flow_of(recipe, make.book(recipe), {})
            found[size] = flow.into / piece
            assert float(flow.into / grams("1 lb")) == pytest.approx(float(expect["dough_lb_approx"]), abs=0.05)
    assert float(found["a"]) == pytest.approx(float(expect["loaves_at_17_oz"]), abs=1)
    assert float(found["b"] / found["a"]) == pytest.approx(float(expect["ratio_exact"]), abs=1e-9)
    for size, printed_count in (("a", expect["loaves_printed_17"]), ("b", expect["loaves_printed_16"])):
        assert 0.94 < float(printed_count) / float(found[size]) < 1


def test_every_case_is_used() -> None:
    """A case that nobody checks is no check."""
    source = Path(__file__).read_text(encoding="utf-8")
    assert not [name for name in CASES if f'"{name}"' not in source]


# --- facts of the trade: common practice, no source ---


def test_moulding_silicone_takes_a_tenth_of_catalyst() -> None:
    """190 g of a two-part moulding silicone dosed at 10 % take 19 g of catalyst (common practice, no source)."""
    lines = [make.line(190, "silicone"), make.percent(10, "catalyst")]
    recipe = make.recipe("mould", lines, 209, base=Base(BaseKind.ITEM, StoresRef("silicone")))
    with exactly():
        flow = flow_of(recipe, make.book(recipe), {})
    assert flow.lines[1].bowl == 19


def test_an_equal_parts_nut_biscuit_is_a_quarter_each() -> None:
    """Butter, flour, sugar and ground nuts in equal parts: 25 % each of the total (common practice, no source)."""
    lines = [make.line(250, item) for item in ("butter", "flour", "sugar", "ground hazelnuts")]
    recipe = make.recipe("biscuit", lines, 1000)
    with exactly():
        flow = flow_of(recipe, make.book(recipe), {})
    assert [line.percent for line in flow.lines] == [25] * 4
    (column,) = columns(recipe, flow, [Decimal("0.5")], make.book(recipe))
    assert [line.weighed and line.weighed.shown for line in column.lines] == [125] * 4

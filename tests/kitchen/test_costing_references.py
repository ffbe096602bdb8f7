"""Costing against published cases; every source stands beside its case in tests/reference/costing.yaml."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import ChannelPrice, CostFigure
from bookmaker.measures.money import Money
from bookmaker.model.house import Channel
from bookmaker.model.line import Line
from bookmaker.model.recipe import Kind, ListPrice
from bookmaker.model.stores import Price, StoresItem
from tests.support import make
from tests.support.reference import cases

CASES = cases("costing")
POUND, OUNCE = Decimal("453.59237"), Decimal("28.349523125")


def costed(lines: list[Line], stores: list[StoresItem], price_list: list[Price], **more: Any) -> CostFigure:
    own = more.pop("own", None)
    yields = more.pop("yields", 1)
    recipe = make.recipe("case", lines, yields, lose={"portion": 0}, **more)
    book = make.book(recipe, stores=stores, prices=price_list, own=own)
    return compute(book, date(2026, 11, 1)).recipes[recipe.ref].cost


def bought(grams: Decimal, usable: str, pack: str, price: str) -> Decimal:
    """What so many prepared grams of one item cost."""
    item = make.item("item", usable=Decimal(usable) / 100)
    found = costed([make.line(grams, "item")], [item], [make.price("item", pack, price)])
    assert found.batch.value is not None
    return found.batch.value


def near(found: Decimal | None, expected: str, tolerance: str) -> bool:
    return found is not None and abs(found - Decimal(expected)) <= Decimal(tolerance)


def test_apples_of_which_three_quarters_are_usable() -> None:
    """5.60 for 10 lb as purchased: the printed 7.465 is what 10 lb edible cost, by a factor rounded to 1.333."""
    case = CASES["cost-apples-75-yield"]
    given = case["given"]
    found = bought(POUND * 10, given["yield_pct"], "10 lb", given["ap_price"])
    assert near(found, case["expect"]["ep_cost_for_10_lb"], case["tolerance_value"])


def test_a_few_ounces_of_peppers() -> None:
    case = CASES["cost-habanero-ep"]
    given = case["given"]
    found = bought(OUNCE * Decimal(given["ep_oz"]), given["yield_pct"], "1 lb", given["ap_price_per_lb"])
    assert near(found, case["expect"]["cost"], case["tolerance_value"])


@pytest.mark.parametrize("name", ["cost-compare-two-products", "cost-compare-two-products-2"])
def test_the_better_buy_of_two_products(name: str) -> None:
    case = CASES[name]
    given, expect = case["given"], case["expect"]
    by_option = {}
    for option in ("a", "b"):
        about = given[f"option_{option}"]
        by_option[option] = bought(POUND, about["yield_pct"], "1 lb", about["price_per_lb"])
        assert near(by_option[option], expect[f"ep_per_lb_{option}"], case["tolerance_value"])
    if "portion_cost_a" in expect:
        portion = bought(
            OUNCE * Decimal(given["portion_oz"]),
            given["option_a"]["yield_pct"],
            "1 lb",
            given["option_a"]["price_per_lb"],
        )
        assert near(portion, expect["portion_cost_a"], case["tolerance_value"])
    assert min(by_option, key=by_option.__getitem__) == expect["better"]


@pytest.mark.parametrize(
    ("name", "pack", "key", "expected"),
    [
        ("cost-flour-per-g", "1 kg", "price", "per_g"),
        ("cost-butter-per-g", "200 g", "price", "per_g"),
    ],
)
def test_price_per_gram(name: str, pack: str, key: str, expected: str) -> None:
    case = CASES[name]
    assert bought(Decimal(1), "100", pack, case["given"][key]) == Decimal(case["expect"][expected])


def test_a_pinch_out_of_a_pack() -> None:
    case = CASES["cost-cinnamon-10g"]
    given = case["given"]
    found = bought(Decimal(given["used_g"]), "100", f"{given['pack_g']} g", given["price"])
    assert found == Decimal(case["expect"]["cost"])


def test_eggs_by_the_dozen() -> None:
    case = CASES["cost-seven-eggs"]
    egg = make.item("egg", measures=(("piece", Decimal(50)),))
    found = costed(
        [make.line(7 * 50, "egg")], [egg], [make.price("egg", "12 pieces", case["given"]["price_per_dozen"])]
    )
    assert near(found.batch.value, case["expect"]["cost"], case["tolerance_value"])


def test_cream_by_the_half_gallon_needs_its_density() -> None:
    """64 fl oz at 8.95; any density gives the same money for 4 fl oz."""
    case = CASES["cost-cream-half-gallon"]
    cream = make.item("cream", density="0.994")
    grams = Decimal("29.5735295625") * 4 * Decimal("0.994")
    found = costed([make.line(grams, "cream")], [cream], [make.price("cream", "64 fl oz", case["given"]["price"])])
    assert near(found.batch.value, case["expect"]["cost_exact"], case["tolerance_value"])


def test_a_whole_recipe_of_rolls() -> None:
    """Sixteen dozen soft rolls: extensions, total, per dozen and per roll."""
    case = CASES["cost-soft-dinner-rolls"]
    grams = {
        "sugar": POUND, "shortening": POUND + OUNCE * 4, "dry milk": OUNCE * 8, "salt": OUNCE * 2,
        "whole eggs": Decimal(150), "yeast": OUNCE * 6, "water": POUND * 4, "bread flour": POUND * 7,
    }  # fmt: skip
    prices = []
    for line in case["given"]["lines"]:
        price, _, pack = line["price"].partition(" per ")
        prices.append(make.price(line["item"], {"": "1 kg", "dozen": "12 pieces"}.get(pack, pack), price))
    egg = make.item("whole eggs", measures=(("piece", Decimal(50)),))
    found = costed(
        [make.line(amount, item) for item, amount in grams.items()], [egg], prices, yields=make.pieces(16 * 12)
    )
    by_line = {line.line: line.cost.value for line in found.lines}
    ours = {"dry_milk": "dry milk", "eggs": "whole eggs", "bread_flour": "bread flour"}
    for name, printed in case["expect"]["extensions"].items():
        assert near(by_line[ours.get(name, name)], printed, case["tolerance_value"]), name
    assert near(found.batch.value, case["expect"]["total"], case["tolerance_value"])
    assert near(found.per_piece.value, case["expect"]["per_roll"], case["tolerance_value"])


# --- selling --------------------------------------------------------------------------------------------------------


def sold(cost: str, pieces: str, target: str = "1", tax: str = "0", price: str = "") -> ChannelPrice:
    """A product whose batch costs `cost`, in a channel with a food-cost target in percent."""
    channel = Channel("counter", Decimal(tax) / 100, Decimal(target) / 100)
    listed = (ListPrice("counter", Money(Decimal(price), "EUR"), True),) if price else ()
    found = costed(
        [make.line(1000, "stuff")],
        [],
        [make.price("stuff", "1 kg", cost)],
        yields=make.pieces(pieces),
        kind=Kind.PRODUCT,
        prices=listed,
        own=make.house(channels=(channel,)),
    )
    return found.channels[0]


def test_prices_from_cost_and_target() -> None:
    case = CASES["cost-price-from-food-cost"]
    found = sold(case["given"]["food_cost"], "1", case["given"]["food_cost_pct"])
    assert found.lowest_net.value == Decimal(case["expect"]["menu_price"])
    case = CASES["cost-cake-price-40pct"]
    found = sold(case["given"]["portion_cost"], "1", case["given"]["target_pct"])
    assert found.lowest_net.value == Decimal(case["expect"]["price"])
    case = CASES["cost-asparagus-200"]
    found = sold(case["given"]["total_cost"], case["given"]["portions"], case["given"]["food_cost_pct"])
    assert near(found.lowest_net.value, case["expect"]["selling_price"], "0.005")


def test_food_cost_percent_of_a_price() -> None:
    case = CASES["cost-stew-food-cost-pct"]
    found = sold(case["given"]["cost"], "1", price=case["given"]["price"])
    assert found.food_cost.value is not None
    assert near(found.food_cost.value * 100, case["expect"]["food_cost_pct"], case["tolerance_value"])


@pytest.mark.parametrize(("name", "pieces"), [("cost-50-pieces", "50"), ("cost-25-servings", "25")])
def test_cost_of_a_piece(name: str, pieces: str) -> None:
    case = CASES[name]
    found = sold(case["given"]["total"], pieces, "100")
    assert found.lowest_net.value == Decimal(case["expect"]["portion_cost"])


def test_a_menu_with_yields_overhead_and_tax() -> None:
    """A hotel's workbook: the price of each line is of a unit as purchased, here of a gram; 5 % on top, 20 % target,
    18 % tax.

    The workbook takes its food cost of the cost with overhead; ours counts ingredients alone, so the printed price is
    met by a line for the 5 %.
    """
    case = CASES["cost-menu-with-overhead-and-tax"]
    given, expect = case["given"], case["expect"]
    tax = Decimal(given["vat_pct"]) + Decimal(given["levy_pct"])
    channel = Channel("room", tax / 100, Decimal(given["target_food_cost_pct"]) / 100)
    own = make.house(channels=(channel,), overhead=Decimal(given["overhead_pct"]) / 100)
    stores = [make.item(line["item"], usable=Decimal(line["yield_pct"]) / 100) for line in given["lines"]]
    prices = [make.price(line["item"], "1 g", line["purchase_price"]) for line in given["lines"]]
    found = costed(
        [make.line(line["qty"], line["item"]) for line in given["lines"]],
        stores,
        prices,
        yields=make.pieces(1),
        kind=Kind.PRODUCT,
        own=own,
    )
    for line in found.lines:
        assert near(line.cost.value, expect["line_costs"][line.line], "0.02"), line.line
    assert near(found.batch.value, expect["cost_with_overhead"], "0.02")
    room = found.channels[0]
    assert room.lowest_net.value is not None
    assert near(room.lowest_net.value * (1 + own.overhead), expect["net_menu_price_at_20pct"], "0.05")

"""What a batch costs: lines, components, co-products, labour, energy, packaging, overhead, and what is missing."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import CostFigure, Lack, LackKind
from bookmaker.measures.amounts import Amount
from bookmaker.measures.durations import Span
from bookmaker.measures.units import Dimension
from bookmaker.model.book import Book
from bookmaker.model.house import Equipment, OverheadBase
from bookmaker.model.line import Cut, Grams, Rest, Unmeasured
from bookmaker.model.method import Each, Load
from bookmaker.model.recipe import PackagingLine
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.shapes import Rectangle
from bookmaker.model.stores import StoresKind
from bookmaker.model.yields import CoProduct, SheetYield
from tests.support import make

ON = date(2026, 11, 1)

# 1 g of flour costs 0.001, of butter 0.01, of sugar 0.002
PRICES = (make.price("flour", "1 kg", 1), make.price("butter", "1 kg", 10), make.price("sugar", "1 kg", 2))


def costs(book: Book) -> dict[str, CostFigure]:
    return {ref.id: figures.cost for ref, figures in compute(book, ON).recipes.items()}


def cost(*recipes: Any, **more: Any) -> CostFigure:
    """The cost of the last recipe."""
    more.setdefault("prices", PRICES)
    return costs(make.book(*recipes, **more))[recipes[-1].ref.id]


def test_a_batch_costs_its_lines_and_a_gram_bears_the_losses() -> None:
    found = cost(
        make.recipe("shortbread", [make.line(600, "flour"), make.line(400, "butter")], 920, lose={"bake": "0.08"})
    )
    assert found.batch.value == Decimal("4.6")
    assert found.per_gram.value == Decimal("0.005")


def test_what_is_bought_is_what_is_charged_over_what_is_usable() -> None:
    apple = make.item("apple", usable="0.8")
    found = cost(
        make.recipe("compote", [make.line(400, "apple")], 400), stores=[apple], prices=[make.price("apple", "1 kg", 4)]
    )
    assert found.lines[0].bought == 500
    assert found.batch.value == 2


def test_a_line_as_bought_is_paid_for_as_it_is_written() -> None:
    apple = make.item("apple", usable="0.8")
    line = make.line(1000, "apple", as_bought=True)
    found = cost(make.recipe("compote", [line], 800), stores=[apple], prices=[make.price("apple", "1 kg", 4)])
    assert found.batch.value == 4


def test_usable_is_not_applied_to_counted_pieces() -> None:
    pod = make.item("vanilla pod", usable="0.5", measures=(("piece", Decimal(3)),))
    two = Grams(Decimal(6), Amount(Decimal(2), "", Dimension.COUNT), "piece")
    by_weight = cost(
        make.recipe("cream", [make.line(two, "vanilla pod")], 6),
        stores=[pod],
        prices=[make.price("vanilla pod", "1 kg", 500)],
    )
    assert by_weight.batch.value == 3
    by_count = cost(
        make.recipe("cream", [make.line(6, "vanilla pod")], 6),
        stores=[pod],
        prices=[make.price("vanilla pod", "10 pieces", 15)],
    )
    assert by_count.batch.value == 3


def test_what_goes_back_costs_nothing_and_what_is_wasted_or_evaporates_does() -> None:
    def of(rest: Rest) -> Decimal | None:
        frying = make.line(1000, "butter", stays="0.1", rest=rest)
        return cost(make.recipe("doughnut", [make.line(1000, "flour"), frying], 1100)).batch.value

    assert of(Rest.BACK) == 1 + 1
    assert of(Rest.WASTE) == of(Rest.AIR) == 1 + 10


def test_seed_costs_nothing_and_the_batch_bears_feeding_and_discard() -> None:
    """1000 g of feeding at 1.00, of which 200 g are kept and 300 g discarded: 500 g bear all of it."""
    levain = make.recipe(
        "levain",
        [make.line(200, make.ref("levain")), make.line(1000, "flour")],
        500,
        keep_back=200,
        lose={"transfer": "0.25"},
        gives=(CoProduct("discard", grams=Decimal(200)),),
    )
    found = cost(levain)
    assert found.batch.value == 1
    assert found.lines[0].cost.value == 0
    assert found.per_gram.value == Decimal(1) / 500


# --- components -----------------------------------------------------------------------------------------------------


def test_a_component_costs_its_share_of_every_kind() -> None:
    base = make.recipe(
        "base",
        [make.line(1000, "flour")],
        1000,
        method=make.method(make.step(1, work=Decimal(30))),
        packaging=(PackagingLine(StoresRef("bag"), Decimal(2)),),
    )
    tart = make.recipe("tart", [make.line(500, make.ref("base")), make.line(100, "butter")], 600)
    found = cost(
        base,
        tart,
        stores=[make.item("bag", kind=StoresKind.PACKAGING)],
        prices=[*PRICES, make.price("bag", "100 pieces", 50)],
        own=make.house(labour=(("cook", Decimal(20)),), labour_role="cook"),
    )
    parts = found.parts
    assert (parts.ingredients, parts.labour, parts.packaging) == (Decimal("1.5"), Decimal(5), Decimal("0.5"))
    assert found.by_item == {StoresRef("butter"): 1, StoresRef("flour"): Decimal("0.5")}


def test_overhead_is_never_taken_of_overhead() -> None:
    recipes = [make.recipe("one", [make.line(1000, "butter")], 1000)]
    for name, below in (("two", "one"), ("three", "two")):
        recipes.append(make.recipe(name, [make.line(1000, make.ref(below))], 1000))
    found = cost(*recipes, own=make.house(overhead=Decimal("0.1")))
    assert found.parts.overhead == 1
    assert found.batch.value == 11
    assert found.lines[0].cost.value == 11


def test_overhead_follows_the_houses_base() -> None:
    method = make.method(make.step(1, work=Decimal(60)))

    def of(base: OverheadBase) -> Decimal:
        own = make.house(
            overhead=Decimal("0.1"), overhead_base=base, labour=(("cook", Decimal(20)),), labour_role="cook"
        )
        return cost(make.recipe("one", [make.line(1000, "butter")], 1000, method=method), own=own).parts.overhead

    assert of(OverheadBase.INGREDIENTS) == 1
    assert of(OverheadBase.LABOUR) == 2
    assert of(OverheadBase.BOTH) == 3


# --- co-products ----------------------------------------------------------------------------------------------------


def croissant(worth: str) -> list[Any]:
    """800 g of product and 200 g of trim from 1000 g of butter at 10.00."""
    dough = make.recipe(
        "dough",
        [make.line(1000, "butter")],
        800,
        gives=(CoProduct("trim", grams=Decimal(200), worth=Decimal(worth)),),
        lose={"mix": 0},
    )
    return [dough, make.recipe("bread pudding", [make.line(200, make.rest("dough", "trim"))], 200)]


def test_a_worthless_co_product_is_free_and_leaves_all_cost_with_its_parent() -> None:
    found = costs(make.book(*croissant("0"), prices=PRICES))
    assert found["dough"].batch.value == 10
    assert found["bread pudding"].batch.value == 0


def test_a_co_product_is_paid_for_by_its_worth_and_credited_to_its_parent() -> None:
    """A gram costs 10 ÷ (800 + 200 × 0.5) = 1/90; the trim 200 × 0.5 ÷ 90 = 1.11, the dough the other 8.89."""
    found = costs(make.book(*croissant("0.5"), prices=PRICES))
    assert found["dough"].parts.credit == found["bread pudding"].batch.value
    assert round(found["dough"].parts.credit, 4) == Decimal("1.1111")
    assert round((found["dough"].batch.value or 0) + (found["bread pudding"].batch.value or 0), 20) == 10
    assert found["dough"].by_item[StoresRef("butter")] == found["dough"].batch.value


def test_the_rest_of_cut_sheets_is_worth_a_share_of_the_sheets_not_of_what_was_put_on_them() -> None:
    """A 600 × 400 sheet of 1000 g at 1.00 gives 8 squares of 150; 25 % is rest: 250 g at half of 0.001 a gram."""
    sheet = make.recipe(
        "sheet", [make.line(1000, "flour")], SheetYield(Decimal(1), Rectangle(Decimal(600), Decimal(400)))
    )
    topped = make.recipe(
        "topped",
        [
            make.line(Cut(Decimal(8), Rectangle(Decimal(150), Decimal(150))), make.ref("sheet")),
            make.line(750, "butter"),
        ],
        make.pieces(8),
        gives=(CoProduct("rest", worth=Decimal("0.5")),),
    )
    crumbs = make.recipe("crumbs", [make.line(250, make.rest("topped", "rest"))], 250)
    found = costs(make.book(sheet, topped, crumbs, prices=PRICES))
    assert found["topped"].parts.credit == Decimal("0.125")
    assert found["topped"].batch.value == Decimal("8.375")
    assert found["topped"].by_item == {StoresRef("butter"): Decimal("7.5"), StoresRef("flour"): Decimal("0.875")}
    assert found["crumbs"].batch.value == Decimal("0.125")


# --- labour, energy, packaging --------------------------------------------------------------------------------------


def test_labour_is_work_once_and_each_by_the_piece_and_waiting_is_free() -> None:
    method = make.method(
        make.step(1, work=Decimal(10), wait=Span(Decimal(600), None)),
        make.step(2, each=Each(Decimal("0.5"), "pieces"), takes=Span(Decimal(20), Decimal(20))),
    )
    bun = make.recipe("bun", [make.line(1000, "flour")], make.pieces(20), method=method)
    found = cost(bun, own=make.house(labour=(("cook", Decimal(30)),), labour_role="cook"))
    assert found.labour.minutes == 20
    assert found.parts.labour == 10


def test_a_recipe_may_name_its_own_role() -> None:
    own = make.house(labour=(("cook", Decimal(30)), ("baker", Decimal(24))), labour_role="cook")
    method = make.method(make.step(1, work=Decimal(10)))
    bun = make.recipe("bun", [make.line(1000, "flour")], 1000, method=method, labour_role="baker")
    assert cost(bun, own=own).parts.labour == 4


def test_a_role_without_a_rate_makes_the_cost_incomplete() -> None:
    own = make.house(labour=(("cook", Decimal(30)),))
    method = make.method(make.step(1, work=Decimal(10)))
    found = cost(make.recipe("bun", [make.line(1000, "flour")], 1000, method=method, labour_role="baker"), own=own)
    assert found.batch.value == 1
    assert found.lacks == (Lack(LackKind.LABOUR, "baker"),)
    assert found.ingredients_per_gram.complete


def test_a_house_without_rates_does_not_cost_labour() -> None:
    found = cost(
        make.recipe("bun", [make.line(1000, "flour")], 1000, method=make.method(make.step(1, work=Decimal(9))))
    )
    assert found.batch.complete
    assert found.labour.cost.value is None


def test_a_step_without_times_makes_labour_incomplete() -> None:
    own = make.house(labour=(("cook", Decimal(30)),), labour_role="cook")
    method = make.method(make.step(1, work=Decimal(10)), make.step(2))
    found = cost(make.recipe("bun", [make.line(1000, "flour")], 1000, method=method), own=own)
    assert found.batch.value == 6
    assert found.lacks == (Lack(LackKind.TIME, "step 2 of bun"),)


def test_a_components_untimed_step_is_named_beside_ones_own() -> None:
    own = make.house(labour=(("cook", Decimal(30)),), labour_role="cook")
    timeless = make.method(make.step(1))
    base = make.recipe("base", [make.line(1000, "flour")], 1000, method=timeless)
    found = cost(base, make.recipe("bun", [make.line(10, base.ref)], 10, method=timeless), own=own)
    assert found.labour.cost.lacks == (Lack(LackKind.TIME, "step 1 of bun"),)
    assert found.lacks == (
        Lack(LackKind.TIME, "step 1 of base", (RecipeRef("base"),)),
        Lack(LackKind.TIME, "step 1 of bun"),
    )


@pytest.mark.parametrize("ovens", [1, 2])
def test_energy_is_power_times_hours_times_loads(ovens: int) -> None:
    """Four trays, two at once: two loads of 30 min at 12 kW are 12 kWh, at 0.25 they cost 3.00; in two ovens at once
    they are as much.
    """
    own = make.house(
        energy=Decimal("0.25"), equipment=(Equipment("deck oven", "oven", count=ovens, power=Decimal(12)),)
    )
    step = make.step(1, takes=Span(Decimal(20), Decimal(30)), on="deck oven", load=Load(Decimal(2), "trays"))
    bun = make.recipe("bun", [make.line(1000, "flour")], make.pieces(40), tray=10, method=make.method(step))
    found = cost(bun, own=own)
    assert found.energy_kwh.value == 12
    assert found.parts.energy == 3


@pytest.mark.parametrize(
    ("kind", "minutes"),
    [
        ("mixer", 15),
        ("hob", 75),
        ("other", 15),
        ("sheeter", 15),
        ("oven", 60),
        ("proofer", 0),
        ("cold", 0),
        ("bench", 0),
    ],
)
def test_a_machine_runs_while_it_is_worked_or_heats(kind: str, minutes: int) -> None:
    """Thirty person-minutes by two, then a wait of an hour or more, on a machine of 4 kW."""
    own = make.house(energy=Decimal("0.25"), equipment=(Equipment("machine", kind, power=Decimal(4)),))
    steps = (
        make.step(1, work=Decimal(30), needs=2, on="machine"),
        make.step(2, wait=Span(Decimal(60), Decimal(600)), on="machine"),
    )
    found = cost(make.recipe("bun", [make.line(1000, "flour")], 1000, method=make.method(*steps)), own=own)
    assert (found.energy_kwh.value or 0) * 60 == 4 * minutes


def test_a_prover_only_keeps_warm() -> None:
    own = make.house(energy=Decimal("0.25"), equipment=(Equipment("prover", "proofer", power=Decimal(2)),))
    step = make.step(1, takes=Span(Decimal(60), Decimal(90)), on="prover")
    found = cost(make.recipe("bun", [make.line(1000, "flour")], 1000, method=make.method(step)), own=own)
    assert not found.energy_kwh.value


def test_energy_that_nobody_states_is_left_out() -> None:
    step = make.step(1, takes=Span(Decimal(20), Decimal(30)), on="deck oven")
    found = cost(make.recipe("bun", [make.line(1000, "flour")], 1000, method=make.method(step)))
    assert found.energy_kwh.value is None
    assert found.batch.complete


def test_packaging_counts_by_the_batch_or_by_the_piece() -> None:
    packed = (
        PackagingLine(StoresRef("bag"), Decimal(3)),
        PackagingLine(StoresRef("box"), Decimal(1), per=Decimal(6)),
    )
    bun = make.recipe("bun", [make.line(1000, "flour")], make.pieces(24), packaging=packed)
    stores = [make.item("bag", kind=StoresKind.PACKAGING), make.item("box", kind=StoresKind.PACKAGING)]
    prices = [*PRICES, make.price("bag", "100 pieces", 10), make.price("box", "10 pieces", 5)]
    found = cost(bun, stores=stores, prices=prices)
    assert [pack.count for pack in found.packaging] == [3, 4]
    assert found.parts.packaging == Decimal("2.3")
    assert found.parts.ingredients == 1


# --- what is missing ------------------------------------------------------------------------------------------------


def test_a_missing_price_makes_everything_above_it_at_least() -> None:
    base = make.recipe("base", [make.line(500, "flour"), make.line(500, "saffron")], 1000)
    tart = make.recipe("tart", [make.line(500, make.ref("base")), make.line(100, "butter")], make.pieces(2))
    found = cost(base, tart)
    lacks = (Lack(LackKind.PRICE, "saffron", (RecipeRef("base"),)),)
    assert found.batch.value == Decimal("1.25")
    for figure in (found.batch, found.per_gram, found.per_piece, found.ingredients_per_piece, found.lines[0].cost):
        assert figure.lacks == lacks


def test_nothing_is_known_where_no_line_has_a_price() -> None:
    found = cost(make.recipe("base", [make.line(500, "saffron")], 500))
    assert found.batch.value is None
    assert found.lacks == (Lack(LackKind.PRICE, "saffron"),)


def test_what_is_to_taste_is_not_costed_and_said_so() -> None:
    found = cost(make.recipe("base", [make.line(1000, "flour"), make.line(Unmeasured("to taste"), "salt")], 1000))
    assert found.batch.value == 1
    assert found.lacks == (Lack(LackKind.AMOUNT, "salt"),)


def test_a_packaging_price_that_is_missing_does_not_touch_the_ingredients() -> None:
    packed = (PackagingLine(StoresRef("bag"), Decimal(3)),)
    found = cost(make.recipe("bun", [make.line(1000, "flour")], make.pieces(24), packaging=packed))
    assert found.batch.lacks == (Lack(LackKind.PRICE, "bag"),)
    assert found.ingredients_per_piece.complete


def test_one_cause_is_named_once_by_the_shortest_way() -> None:
    base = make.recipe("base", [make.line(500, "saffron"), make.line(500, "flour")], 1000)
    found = cost(base, make.recipe("tart", [make.line(500, make.ref("base")), make.line(5, "saffron")], 505))
    assert found.lacks == (Lack(LackKind.PRICE, "saffron"),)

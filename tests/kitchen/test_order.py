"""What an order costs: what is really made is paid, left-overs stand apart."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from hypothesis import assume, given
from hypothesis import strategies as st

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.order import LeftOver, OrderCost, order_cost
from bookmaker.kitchen.scaling import scale
from bookmaker.kitchen.targets import BatchTarget, MassTarget, PieceTarget, ScaleTarget
from bookmaker.measures.durations import Span
from bookmaker.measures.exact import exactly
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.book import Book
from bookmaker.model.house import Equipment, Holds, OverheadBase
from bookmaker.model.keeping import Keeping
from bookmaker.model.method import Each, Load
from bookmaker.model.recipe import PackagingLine
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.stores import StoresKind
from bookmaker.model.yields import Making
from tests.support import make
from tests.support.strategies import ITEMS, books

ON = date(2026, 11, 1)
CLOSE = Decimal("1e-20")


def cost(book: Book, path: str, target: ScaleTarget) -> OrderCost:
    figures = compute(book, ON)
    return order_cost(book, figures, scale(book, figures, RecipeRef(path), target))


def kitchen(keeps: tuple[Keeping, ...] = ()) -> Book:
    """A cream made by at least 2 kg, filled into puffs of 50 g: 40 g shell dough bought ready, 10 g cream."""
    cream = make.recipe(
        "cream",
        [make.line("800", "milk"), make.line("200", "sugar")],
        "1000",
        make=Making(least=Decimal(2000)),
        keeps=keeps,
        method=make.method(make.step(1, work=Decimal(30))),
    )
    puff = make.recipe(
        "puff",
        [make.line("400", "shells"), make.line("100", make.ref("cream"))],
        make.pieces("10", "puffs"),
        packaging=(PackagingLine(StoresRef("box"), Decimal(1), Decimal(6)),),
        method=make.method(make.step(1, work=Decimal(6), each=Each(Decimal("0.5"), "puff"))),
    )
    return make.book(
        cream,
        puff,
        stores=[make.item("box", kind=StoresKind.PACKAGING, measures=(("piece", Decimal(20)),))],
        prices=[
            make.price("milk", "1 kg", "1"),
            make.price("sugar", "1 kg", "2"),
            make.price("shells", "1 kg", "5"),
            make.price("box", "1 pieces", "0.30"),
        ],
        own=make.house(
            labour=(("cook", Decimal(20)),),
            labour_role="cook",
            overhead=Decimal("0.1"),
            overhead_base=OverheadBase.INGREDIENTS,
        ),
    )


def test_energy_of_an_order_counts_batches_loads_and_hands() -> None:
    """Three batches of 10 buns. Mixer of 2 kW: 3 × 12 min; oven of 10 kW: 30 buns at 20 a load are two loads of 30 min,
    after a wait of 6 min for each batch: 1.2 + 10 + 3 kWh.
    """
    machines = (
        Equipment("mixer", "mixer", holds=(Holds(Decimal(1000)),), power=Decimal(2)),
        Equipment("oven", "oven", count=2, power=Decimal(10)),
    )
    bun = make.recipe(
        "bun",
        [make.line(1000, "flour")],
        make.pieces(10, "buns"),
        method=make.method(
            make.step(1, work=Decimal(24), needs=2, on="mixer"),
            make.step(2, wait=Span(Decimal(6), Decimal(60)), on="oven"),
            make.step(3, takes=Span(Decimal(20), Decimal(30)), on="oven", load=Load(Decimal(20), "buns")),
        ),
    )
    book = make.book(bun, own=make.house(energy=Decimal(1), equipment=machines))
    assert cost(book, "bun", PieceTarget(Decimal(30))).paid.energy == Decimal("14.2")


def test_an_order_by_hand() -> None:
    """25 puffs. Cream: 250 g needed, at least 2 kg made.

    Cream, 2 kg: milk 1600 g at 1 = 1.60, sugar 400 g at 2 = 0.80: 2.40. Labour one batch 30 min at 20 an hour = 10.00.
    Puffs: shells 1000 g at 5 = 5.00; labour 6 + 25 × 0.5 = 18.5 min = 6.1666...; boxes 25 ÷ 6 = 5 whole ones, 1.50.
    Ingredients 7.40, overhead a tenth of it 0.74. Paid: 7.40 + 16.1666... + 1.50 + 0.74 = 25.8066...
    Left over 1750 g of cream, seven eighths of it: (2.40 + 10.00 + 0.24) × 0.875 = 11.06.
    """
    found = cost(kitchen(), "puff", PieceTarget(Decimal(25)))
    with exactly():
        assert found.paid.ingredients == Decimal("7.40")
        assert abs(found.paid.labour - Decimal(485) / 30) <= CLOSE
        assert found.paid.packaging == Decimal("1.50")
        assert found.paid.overhead == Decimal("0.740")
        assert found.hands_on == Decimal("48.5")
        assert found.left_overs == (LeftOver(RecipeRef("cream"), Decimal(1750), Decimal("11.06"), to_stock=False),)
        # nothing says that the cream keeps: the order bears it
        assert found.to_order == Decimal("11.06")
        assert found.charged == found.paid.total
        assert found.per_piece == found.charged / 25


def test_what_keeps_goes_to_stock() -> None:
    keeps = (Keeping("made", Decimal(2 * 1440), Temperature(Decimal(4))),)
    found = cost(kitchen(keeps), "puff", PieceTarget(Decimal(25)))
    assert found.to_stock == Decimal("11.06")
    assert found.charged == found.paid.total - Decimal("11.06")


def test_what_keeps_less_than_a_day_does_not() -> None:
    keeps = (Keeping("made", Decimal(1439), Temperature(Decimal(4))),)
    assert cost(kitchen(keeps), "puff", PieceTarget(Decimal(25))).to_stock == 0


def test_a_missing_price_makes_the_order_at_least() -> None:
    book = kitchen()
    found = cost(replace(book, prices={**book.prices, "milk": ()}), "puff", PieceTarget(Decimal(25)))
    assert {lack.of for lack in found.lacks} == {"milk"}


PRICES = [make.price(item, "1 kg", str(number + 1)) for number, item in enumerate(ITEMS)]


@given(books(), st.integers(1, 40))
def test_paid_is_what_the_order_uses_and_what_is_left_over(book: Book, batches: int) -> None:
    """Ingredients alone, whole batches of the recipe: less its left-overs, an order is the standard cost multiplied.

    The standard cost shares a component's cost by the gram; so does the order, however much of it is made.
    """
    priced = replace(book, prices={price.item: (price,) for price in PRICES})
    figures = compute(priced, ON)
    assume(all(each.flow.usable for each in figures.recipes.values()))
    assume(not any(each.flow.lacks or each.cost.lacks for each in figures.recipes.values()))
    ref = list(priced.recipes)[-1]
    # a co-product used is paid for where it falls: here only books without them compare
    assume(not any(recipe.gives for recipe in priced.recipes.values()))
    with exactly():
        found = order_cost(priced, figures, scale(priced, figures, ref, BatchTarget(Decimal(batches))))
        standard = figures.recipes[ref].cost.parts.ingredients * batches
        left = sum((each.cost for each in found.left_overs), Decimal(0))
        assert abs(found.paid.ingredients - standard - left) <= CLOSE * found.paid.ingredients


@given(st.integers(1, 400))
def test_more_pieces_never_cost_less(count: int) -> None:
    book = kitchen()
    fewer = cost(book, "puff", PieceTarget(Decimal(count))).charged
    assert cost(book, "puff", PieceTarget(Decimal(count + 1))).charged >= fewer


def test_a_mass_has_no_piece() -> None:
    found = cost(kitchen(), "cream", MassTarget(Decimal(3000)))
    assert found.pieces is None
    assert found.per_piece is None

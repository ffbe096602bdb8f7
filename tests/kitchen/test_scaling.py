"""Scaling: demand, left-overs, returns, co-products, what to draw, and what to mind."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import Lack, LackKind
from bookmaker.kitchen.scale_cautions import WORDS, ScaleCaution
from bookmaker.kitchen.scaled import DrawLine, Scaled, ScaledRecipe
from bookmaker.kitchen.scaling import Unscalable, scale
from bookmaker.kitchen.targets import PieceTarget, parse_target
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.house import Equipment, Mould
from bookmaker.model.line import Cut, Pieces, Rest, Unmeasured
from bookmaker.model.method import Reading
from bookmaker.model.recipe import Kind, PackagingLine, Recipe
from bookmaker.model.refs import StoresRef
from bookmaker.model.shapes import Rectangle
from bookmaker.model.yields import CoProduct, Making, MouldYield, SheetYield
from tests.support import make

SHEET = SheetYield(Decimal(1), Rectangle(Decimal(600), Decimal(400)))
HOUSE = make.house(
    moulds=(Mould("pebble", 24, Decimal(62), food_contact=True),),
    equipment=(
        Equipment("mixer", "mixer"),
        Equipment("deck oven", "oven"),
        Equipment("hob", "hob"),
        Equipment("prover", "proofer"),
    ),
)


def scaled(target: str, *recipes: Recipe, **more: Any) -> Scaled:
    """The last recipe, scaled."""
    book = make.book(*recipes, own=HOUSE, **more)
    ref = recipes[-1].ref
    return scale(book, compute(book, date(2026, 11, 1)), ref, parse_target(target, book, recipes[-1]))


def of(found: Scaled, path: str) -> ScaledRecipe:
    return next(each for each in found.recipes if each.ref.id == path)


def drawn(found: Scaled, name: str) -> DrawLine:
    return next(each for each in found.draw if each.item.id == name)


CREAM = make.recipe("cream", [make.line(900, "milk"), make.line(100, "sugar")], 1000, make=Making(least=Decimal(2000)))


def test_a_component_is_made_once_for_all_that_use_it() -> None:
    bun = make.recipe("bun", [make.line(300, CREAM.ref), make.line(500, "dough")], make.pieces(10))
    cake = make.recipe("cake", [make.line(100, CREAM.ref), make.line(Pieces(Decimal(5)), bun.ref)], make.pieces(1))
    found = scaled("10 pieces", CREAM, bun, cake)
    assert [each.ref.id for each in found.recipes] == ["cream", "bun", "cake"]
    cream = of(found, "cream")
    # 10 × 100 for the cakes, 50 buns of which ten take 300
    assert cream.users == {cake.ref: 1000, bun.ref: 1500}
    assert [cream.needed, cream.usable, cream.left_over] == [2500, 2500, 0]
    assert [of(found, "bun").needed, of(found, "bun").pieces] == [4000, 50]


def test_a_least_batch_leaves_something_over() -> None:
    cake = make.recipe("cake", [make.line(100, CREAM.ref)], make.pieces(1))
    cream = of(scaled("3 pieces", CREAM, cake), "cream")
    assert [cream.needed, cream.usable, cream.left_over, cream.plan.sized] == [300, 2000, 1700, "at least"]


def test_pieces_are_rounded_up_to_whole_moulds_and_the_rest_is_left_over() -> None:
    pebble = make.recipe("pebble", [make.line(24 * 60, "mousse")], MouldYield(Decimal(1), "pebble"))
    own = scaled("130 pieces", pebble).own
    assert [own.plan.factor, own.pieces, own.left_over_pieces, own.left_over] == [6, 144, 14, 840]


def test_a_cut_asks_for_whole_sheets() -> None:
    base = make.recipe("base", [make.line(1000, "dough")], SHEET)
    cake = make.recipe(
        "cake", [make.line(Cut(Decimal(24), Rectangle(Decimal(100), Decimal(90))), base.ref)], make.pieces(24)
    )
    found = of(scaled("60 pieces", base, cake), "base")
    # 24 a sheet: two and a half are used, three are made
    assert [found.needed, found.usable, found.left_over] == [2500, 3000, 500]


def test_what_goes_back_is_drawn_and_returned() -> None:
    glaze = make.recipe("glaze", [make.line(1000, "cocoa")], 1000)
    cake = make.recipe(
        "cake",
        [
            make.line(500, glaze.ref, stays="0.4", rest=Rest.BACK),
            make.line(40, "couverture", working=2000),
            make.line(800, "sponge"),
        ],
        make.pieces(10),
    )
    found = scaled("20 pieces", glaze, cake)
    assert of(found, "glaze").needed == 1000
    line = found.own.lines[0]
    assert [line.bowl, line.drawn, line.returns] == [1000, 1000, 600]
    assert found.own.back == 600
    couverture = drawn(found, "couverture")
    assert [couverture.bowl, couverture.bought, couverture.returns] == [80, 2000, 1920]


@pytest.mark.parametrize(
    ("target", "bowl", "bought"), [("1 piece", 288, 2000), ("6 pieces", 1728, 2000), ("10 pieces", 2880, 2880)]
)
def test_the_working_mass_is_never_scaled_below(target: str, bowl: int, bought: int) -> None:
    shell = make.recipe("shell", [make.line(288, "couverture", working=2000)], make.pieces(1))
    line = drawn(scaled(target, shell), "couverture")
    assert [line.bowl, line.bought] == [bowl, bought]


def test_a_component_may_be_worked_with_too() -> None:
    ganache = make.recipe("ganache", [make.line(1000, "cream")], 1000)
    bonbon = make.recipe("bonbon", [make.line(100, ganache.ref, working=800)], make.pieces(10))
    found = scaled("10 pieces", ganache, bonbon)
    assert of(found, "ganache").needed == 800
    assert found.own.lines[0].returns == 700


def test_stock_is_drawn_as_bought_at_the_high_end() -> None:
    recipe = make.recipe(
        "choux",
        [
            make.line(500, "egg", low=460, high=550),
            make.line(1000, "rhubarb", as_bought=True),
            make.line(430, "rhubarb", id="cleaned"),
            make.line(Unmeasured("to taste"), "salt"),
        ],
        1,
        lose={"mix": 0},
    )
    found = scaled("2 batches", recipe, stores=[make.item("rhubarb", usable="0.86")])
    assert [drawn(found, "egg").bowl, drawn(found, "egg").bought] == [1000, 1100]
    assert [drawn(found, "rhubarb").bowl, drawn(found, "rhubarb").bought] == [2 * (860 + 430), 3000]
    assert drawn(found, "salt") == DrawLine(
        StoresRef("salt"), Decimal(0), Decimal(0), Decimal(0), None, unmeasured=True
    )


def test_packaging_in_whole_pieces() -> None:
    wraps = (
        PackagingLine(StoresRef("label"), Decimal(1)),
        PackagingLine(StoresRef("box"), Decimal(1), Decimal(6)),
        PackagingLine(StoresRef("card"), Decimal(1), Decimal(1)),
    )
    bun = make.recipe("bun", [make.line(1000, "dough")], make.pieces(20), packaging=wraps)
    found = scaled("50 pieces", bun)
    assert [(each.item.id, each.pieces) for each in found.packaging] == [
        ("label", Decimal(3)),
        ("box", Decimal(9)),
        ("card", Decimal(50)),
    ]


def test_packaging_per_piece_of_what_is_made_by_weight_counts_nothing() -> None:
    wraps = (PackagingLine(StoresRef("box"), Decimal(1), Decimal(6)),)
    assert scaled("2 kg", make.recipe("jam", [make.line(1000, "fruit")], 1000, packaging=wraps)).packaging == ()


def test_co_products_are_used_where_they_fall_and_never_made_for_it() -> None:
    bars = make.recipe(
        "bars", [make.line(1000, "dough")], 1, lose={"mix": 0}, gives=(CoProduct("crumbs", grams=Decimal(100)),)
    )
    truffle = make.recipe("truffle", [make.line(250, make.rest("bars", "crumbs")), make.line(750, "ganache")], 1000)
    found = scaled("2 kg", bars, truffle)
    assert [each.ref.id for each in found.recipes] == ["truffle"]
    (crumbs,) = found.co_products
    assert [crumbs.produced, crumbs.used, crumbs.short, crumbs.left_over] == [0, 500, 500, 0]
    assert scaled("use up 1 kg crumbs", bars, truffle).own.plan.factor == 4
    plate = make.recipe("plate", [make.line(900, bars.ref), make.line(200, truffle.ref)], make.pieces(1))
    (crumbs,) = scaled("10 pieces", bars, truffle, plate).co_products
    assert [crumbs.produced, crumbs.used, crumbs.short, crumbs.left_over] == [1000, 500, 0, 500]


def test_a_seed_is_neither_drawn_nor_asked_for() -> None:
    lines = [make.line(200, make.ref("levain")), make.line(600, "flour"), make.line(600, "water")]
    found = scaled("3.6 kg", make.recipe("levain", lines, 1, lose={"mix": 0}, kind=Kind.PREFERMENT))
    assert [each.item.id for each in found.draw] == ["flour", "water"]
    assert [found.own.plan.factor, found.own.kept_back, found.own.into] == [3, 600, 4200]
    assert found.own.lines[0].seed


def test_using_up_what_is_limited_by_the_first_to_run_out() -> None:
    base = make.recipe("base", [make.line(500, "flour"), make.line(250, "butter")], 750)
    cake = make.recipe(
        "cake", [make.line(300, base.ref), make.line(50, "butter"), make.line(100, "apple")], make.pieces(1)
    )
    stores = [make.item("apple", usable="0.8")]
    # a cake takes 100 of butter by way of the base and 50 itself, and 125 of apple as bought
    found = scaled("use up 3 kg butter, 2 kg apple", base, cake, stores=stores)
    assert found.limiting == StoresRef("apple")
    assert found.own.plan.factor == 16
    found = scaled("use up 1.5 kg butter, 2 kg apple", base, cake, stores=stores)
    assert [found.limiting, found.own.plan.factor] == [StoresRef("butter"), 10]
    assert drawn(found, "butter").bought == 1500
    found = scaled("use up 600 g base", base, cake)
    assert [found.limiting, found.own.plan.factor] == [base.ref, 2]


def test_using_up_never_asks_for_more_than_there_is() -> None:
    pebble = make.recipe("pebble", [make.line(1000, "mousse")], MouldYield(Decimal(1), "pebble"))
    found = scaled("use up 2.9 kg mousse", pebble)
    assert [found.own.plan.factor, found.own.left_over, found.own.needed] == [2, 0, 2000]


def test_what_yields_nothing_cannot_be_scaled() -> None:
    empty = make.recipe("empty", [make.line(Unmeasured("to taste"), "salt")], 1000)
    with pytest.raises(Unscalable):
        scaled("2 kg", empty)
    with pytest.raises(Unscalable):
        scaled("use up 2 kg salt", empty)


def test_a_component_that_yields_nothing_is_a_lack() -> None:
    empty = make.recipe("empty", [make.line(Unmeasured("to taste"), "salt")], 1000)
    cake = make.recipe(
        "cake",
        [make.line(100, empty.ref), make.line(Pieces(Decimal(2)), CREAM.ref), make.line(900, "dough")],
        make.pieces(10),
    )
    found = scaled("20 pieces", CREAM, empty, cake)
    assert [each.ref.id for each in found.recipes] == ["cake"]
    assert found.lacks == (Lack(LackKind.AMOUNT, "cream"), Lack(LackKind.YIELD, "empty"))


def test_one_size_is_scaled_by_its_own_formula() -> None:
    large = make.recipe(make.ref("tart", "24 cm"), [make.line(1000, "dough")], make.pieces(1))
    small = make.recipe(make.ref("tart", "8 cm"), [make.line(120, "dough")], make.pieces(1))
    book = make.book(large, small)
    figures = compute(book, date(2026, 11, 1))
    assert scale(book, figures, make.ref("tart", "8 cm"), PieceTarget(Decimal(10))).own.into == 1200
    assert scale(book, figures, make.ref("tart"), PieceTarget(Decimal(10))).own.into == 10_000


# --- what to mind ---


def batch(target: str, *steps: Any, **more: Any) -> tuple[ScaleCaution, ...]:
    lines = more.pop("lines", [make.line(1000, "milk")])
    return scaled(
        target, make.recipe("r", lines, 1, lose=more.pop("lose", {"mix": 0}), method=make.method(*steps), **more)
    ).own.cautions


@pytest.mark.parametrize(
    ("target", "steps", "more", "expected"),
    [
        ("4 kg", [make.step(1, on="mixer")], {}, ()),
        ("250 g", [make.step(1, on="mixer")], {}, ()),
        ("4.1 kg", [make.step(1, on="mixer")], {}, (ScaleCaution.MIXING,)),
        ("200 g", [make.step(1, on="mixer")], {}, (ScaleCaution.MIXING,)),
        ("9 kg", [make.step(1, on="deck oven")], {}, (ScaleCaution.BAKING,)),
        ("9 kg", [make.step(1, on="prover")], {}, (ScaleCaution.LEAVENING,)),
        ("9 kg", [], {"kind": Kind.PREFERMENT}, (ScaleCaution.LEAVENING,)),
        ("9 kg", [], {"lose": {"reduce": "0.1"}}, (ScaleCaution.MOISTURE,)),
        ("9 kg", [make.step(1, on="hob")], {}, (ScaleCaution.COOLING,)),
        ("9 kg", [make.step(1, to=Reading("82 °C", (Temperature(Decimal(82)),)))], {}, (ScaleCaution.COOLING,)),
        # less cools sooner
        ("200 g", [make.step(1, on="hob")], {}, ()),
        ("9 kg", [], {}, ()),
    ],
)
def test_cautions_beyond_a_quarter_and_four_times(
    target: str, steps: list[Any], more: dict[str, Any], expected: tuple[ScaleCaution, ...]
) -> None:
    assert batch(target, *steps, **more) == expected


def test_the_batch_counts_and_not_the_order() -> None:
    """Twelve kilos in four batches of three are no large batch."""
    making = Making(most=Decimal(3000))
    assert batch("12 kg", make.step(1, on="mixer"), make=making) == ()


def test_every_caution_has_its_words_and_cooling_says_what_to_do() -> None:
    assert set(WORDS) == set(ScaleCaution)
    assert "divide it shallow" in WORDS[ScaleCaution.COOLING]
    assert "local rules" in WORDS[ScaleCaution.COOLING]

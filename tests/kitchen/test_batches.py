"""How a needed amount is made: sizes, whole vessels, equal batches, oven loads."""

from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.batches import LoadPlan, MakingPlan, Rounding, loads_of, plan_making, step_masses
from bookmaker.kitchen.flow import flow_of
from bookmaker.measures.exact import exactly
from bookmaker.model.house import Equipment, Holds, House, Mould
from bookmaker.model.method import Load
from bookmaker.model.recipe import Recipe
from bookmaker.model.shapes import Rectangle
from bookmaker.model.yields import FrameYield, Making, MouldYield, SheetYield, TinYield, TrayYield
from tests.support import make

SHEET = Rectangle(Decimal(600), Decimal(400))
HOUSE = make.house(
    equipment=(
        Equipment("mixer", "mixer", holds=(Holds(Decimal(8000)),)),
        Equipment("oven", "oven", holds=(Holds(Decimal(6), "trays"), Holds(Decimal(1000)))),
        Equipment("rack", "other", holds=(Holds(Decimal(20), "trays"),)),
    ),
    moulds=(Mould("pebble", 24, Decimal(62)),),
)


def recipe(**more: Any) -> Recipe:
    """A kilo of product from a kilo in the bowl, unless told otherwise."""
    yields = more.pop("yields", 1000)
    lines = more.pop("lines", [make.line(1000, "all")])
    return make.recipe("r", lines, yields, **more)


def plan(one: Recipe, exact: str, house: House = HOUSE, rounding: Rounding = Rounding.UP) -> MakingPlan:
    with exactly():
        return plan_making(one, flow_of(one, make.book(one, own=house), {}), Decimal(exact), house, rounding)


def made(found: MakingPlan) -> list[Decimal | int | str]:
    return [found.batches, found.each, found.sized, found.held]


def making(**sizes: int | bool) -> Making:
    return Making(**{key: size if isinstance(size, bool) else Decimal(size) for key, size in sizes.items()})  # type: ignore[arg-type]


def test_without_a_rule_it_is_made_exactly() -> None:
    assert made(plan(recipe(), "1.2345")) == [1, Decimal("1.2345"), "", ""]


@pytest.mark.parametrize(
    ("exact", "expected"),
    [
        ("0.4", [1, Decimal(2), "at least", ""]),
        ("2", [1, Decimal(2), "", ""]),
        ("2.1", [1, Decimal("2.5"), "in steps", ""]),
        ("8", [1, Decimal(8), "", ""]),
        # two of 4.25 are none that steps of 500 g from 2 kg allow: two of 4.5
        ("8.5", [2, Decimal("4.5"), "in steps", "make"]),
        ("20", [3, Decimal(7), "in steps", "make"]),
    ],
)
def test_least_step_and_most(exact: str, expected: list[Any]) -> None:
    assert made(plan(recipe(make=making(least=2000, step=500, most=8000)), exact)) == expected


def test_a_step_alone_makes_at_least_one() -> None:
    assert made(plan(recipe(make=making(step=500)), "0.1")) == [1, Decimal("0.5"), "in steps", ""]


def test_a_size_rounded_up_beyond_the_machine_takes_one_batch_more() -> None:
    # 7.9 in steps of 3 would be 9 kg; two batches of 3.95 go to 6 kg each
    found = plan(recipe(make=making(step=3000), method=make.method(make.step(1, on="mixer"))), "7.9")
    assert made(found) == [2, Decimal(6), "in steps", ""]


def test_a_least_batch_beyond_the_machine_is_made_all_the_same() -> None:
    """The recipe's own word counts: somebody made it so."""
    one = recipe(make=making(least=9000), method=make.method(make.step(1, on="mixer")))
    assert made(plan(one, "10")) == [2, Decimal(9), "at least", "mixer"]


def test_what_yields_nothing_is_made_as_asked() -> None:
    one = recipe(make=making(least=2000), keep_back=1000, lose={"mix": 0})
    assert made(plan(one, "3")) == [1, Decimal(3), "", ""]


@pytest.mark.parametrize(
    ("exact", "expected"), [("0.3", [1, 1]), ("3.2", [1, 4]), ("10", [2, 5]), ("7.5", [1, 8]), ("11", [11, 1])]
)
def test_whole_batches_only(exact: str, expected: list[int]) -> None:
    found = plan(recipe(make=making(whole=True), method=make.method(make.step(1, on="mixer"))), exact)
    # the mixer takes eight at once; turns are equal, so eleven are made one by one
    assert [found.batches, found.each] == expected


@pytest.mark.parametrize(
    ("yields", "exact", "factor", "sized"),
    [
        (MouldYield(Decimal(1), "pebble"), "5.4167", "6", "whole moulds"),
        (MouldYield(Decimal(2), "pebble"), "2.2", "2.5", "whole moulds"),
        (TinYield(Decimal(2), "loaf"), "1.1", "1.5", "whole tins"),
        (SheetYield(Decimal(1), SHEET), "0.19", "1", "whole sheets"),
        (TrayYield(Decimal(3)), "1", "1", ""),
        (FrameYield(Decimal(1), "bar frame"), "1.2", "2", "whole frames"),
        # the end of the digits is no sheet
        (SheetYield(Decimal(1), SHEET), "2.000000000000000000000000001", "2", "whole sheets"),
        (make.pieces(24), "1.3", "1.3", ""),
    ],
)
def test_whole_moulds_tins_sheets_trays(yields: Any, exact: str, factor: str, sized: str) -> None:
    found = plan(recipe(yields=yields), exact)
    assert [found.factor, found.sized] == [Decimal(factor), sized]


def test_what_is_used_up_is_rounded_down() -> None:
    moulds = recipe(yields=MouldYield(Decimal(1), "pebble"))
    assert plan(moulds, "5.9", rounding=Rounding.DOWN).factor == 5
    # less than one mould is better than nothing
    assert plan(moulds, "0.9", rounding=Rounding.DOWN).factor == Decimal("0.9")
    sized = recipe(make=making(least=2000, step=500))
    assert plan(sized, "3.4", rounding=Rounding.DOWN).factor == 3
    assert plan(sized, "1.2", rounding=Rounding.DOWN).factor == Decimal("1.2")
    stepped = recipe(make=making(step=500))
    assert plan(stepped, "0.4", rounding=Rounding.DOWN).factor == Decimal("0.4")


def test_a_number_of_batches_is_taken_as_said() -> None:
    found = plan(recipe(make=making(least=2000, step=500, most=4000)), "5", rounding=Rounding.NONE)
    assert made(found) == [2, Decimal("2.5"), "", "make"]


def test_more_than_the_mixer_holds_is_split_equally() -> None:
    found = plan(recipe(method=make.method(make.step(1, on="mixer"), make.step(2, on="oven"))), "20")
    # the oven's kilos ask for loads, not for smaller batches
    assert [found.batches, found.each * 3, found.held] == [3, Decimal(20), "mixer"]


def test_what_joins_later_is_not_in_the_mixer_yet() -> None:
    lines = [make.line(800, "flour"), make.line(200, "butter"), make.stage("Top", make.line(1000, "cream"))]
    steps = [make.step(1, on="mixer"), make.step(2, on="mixer", uses=("butter",)), make.step(3, uses=("Top",))]
    one = recipe(lines=lines, yields=2000, method=make.method(*steps))
    with exactly():
        assert list(step_masses(one, flow_of(one, make.book(one), {}))) == [800, 1000, 2000]
    assert plan(one, "8").batches == 1
    assert plan(one, "8.1").batches == 2


def test_a_step_with_a_load_goes_in_turns() -> None:
    grinder = make.house(equipment=(Equipment("grinder", "other", holds=(Holds(Decimal(4000)),)),))
    one = recipe(method=make.method(make.step(1, on="grinder", load=Load(Decimal(3000)))))
    assert plan(one, "10", grinder).batches == 1
    with exactly():
        assert loads_of(one, flow_of(one, make.book(one), {}), Decimal(10), grinder) == (
            LoadPlan(1, "grinder", "", Decimal(10_000), Decimal(3000), 4, 1, 4),
        )


@pytest.mark.parametrize(("ovens", "turns"), [(1, 5), (2, 3), (3, 2), (5, 1), (8, 1)])
def test_loads_spread_over_the_machines_of_the_house(ovens: int, turns: int) -> None:
    """Sixty loaves at twelve an oven are five loads, whatever they wait for."""
    own = make.house(equipment=(Equipment("oven", "oven", count=ovens),))
    one = recipe(yields=make.pieces(24), method=make.method(make.step(1, on="oven", load=Load(Decimal(12), "pieces"))))
    with exactly():
        (found,) = loads_of(one, flow_of(one, make.book(one), {}), Decimal("2.5"), own)
    assert (found.loads, found.machines, found.turns) == (5, ovens, turns)


@pytest.mark.parametrize(
    ("more", "load", "factor", "units", "loads"),
    [
        ({"yields": make.pieces(24), "tray": 12}, Load(Decimal(6), "trays"), "8", "16", 3),
        ({"yields": make.pieces(24)}, Load(Decimal(12), "pieces"), "2", "48", 4),
        ({"yields": SheetYield(Decimal(2), SHEET)}, Load(Decimal(4), "sheets"), "2", "4", 1),
        ({"yields": MouldYield(Decimal(1), "pebble")}, Load(Decimal(8), "moulds"), "9", "9", 2),
        ({"yields": TinYield(Decimal(4), "loaf")}, Load(Decimal(18), "tins"), "1", "4", 1),
    ],
)
def test_oven_loads_are_counted_apart_from_batches(
    more: dict[str, Any], load: Load, factor: str, units: str, loads: int
) -> None:
    one = recipe(**more, method=make.method(make.step(1), make.step(2, on="oven", load=load)))
    book = make.book(one, own=HOUSE)
    with exactly():
        (found,) = loads_of(one, flow_of(one, book, {}), Decimal(factor), HOUSE)
    assert [found.step, found.on, found.units, found.loads] == [2, "oven", Decimal(units), loads]


def test_a_load_of_something_the_recipe_is_not_made_in_plans_nothing() -> None:
    one = recipe(method=make.method(make.step(1, on="oven", load=Load(Decimal(6), "trays"))))
    with exactly():
        assert loads_of(one, flow_of(one, make.book(one), {}), Decimal(3), HOUSE) == ()

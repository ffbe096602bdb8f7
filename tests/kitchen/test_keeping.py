"""How long things keep, and which part sets the limit."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import KeepingFigure
from bookmaker.kitchen.keeping import Cold, cold_of
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.keeping import Keeping
from bookmaker.model.line import Cut
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.shapes import Rectangle
from bookmaker.model.stores import StoresItem, StoresKeeping
from bookmaker.model.yields import CoProduct, SheetYield
from tests.support import make
from tests.support.reference import cases

DAY = Decimal(1440)
CHILLED, FROZEN, ROOM = Decimal(4), Decimal(-18), Decimal(18)


def keeps(state: str, days: int, celsius: Decimal, **more: Any) -> Keeping:
    if "within" in more:
        more["within"] = Decimal(more["within"])
    return Keeping(state, days * DAY, Temperature(celsius), **more)


def stored(name: str, *states: tuple[str, int, Decimal]) -> StoresItem:
    return make.item(name, keeps=tuple(StoresKeeping(state, days * DAY, Temperature(at)) for state, days, at in states))


def keeping(*recipes: Recipe, stores: tuple[StoresItem, ...] = ()) -> dict[str, KeepingFigure]:
    """The states of the last recipe."""
    figures = compute(make.book(*recipes, stores=stores), date(2026, 11, 1))
    return {state.state: state for state in figures.recipes[recipes[-1].ref].keeping}


MOUSSE = make.recipe(
    "mousse",
    [make.line(500, "cream")],
    500,
    keeps=(keeps("made", 1, CHILLED), keeps("frozen", 30, FROZEN, from_state="made", within=120)),
)


def dome(*states: Keeping, **more: Any) -> Recipe:
    lines = [make.line(100, MOUSSE.ref), make.line(100, "biscuit")]
    return make.recipe("dome", lines, make.pieces(4), keeps=states, **more)


def test_a_life_says_how_old_its_tightest_part_may_be() -> None:
    """Cream 3 days, mousse 5, biscuit of the stores 1: a dome of 2 days takes a cream of at most a day, and the bought
    biscuit, whose age is on its pack, does not count.
    """
    cream = make.recipe("cream", [make.line(100, "milk")], 100, keeps=(keeps("made", 3, CHILLED),))
    mousse = make.recipe("mousse", [make.line(100, "milk")], 100, keeps=(keeps("made", 5, CHILLED),))
    lines = [make.line(50, cream.ref), make.line(50, mousse.ref), make.line(10, "biscuit")]
    own = make.recipe("dome", lines, 110, keeps=(keeps("made", 2, CHILLED),))
    found = keeping(cream, mousse, own, stores=(stored("biscuit", ("closed", 30, CHILLED)),))["made"]
    assert (found.part, found.part_age) == (cream.ref, DAY)


def test_a_life_that_is_cut_to_a_part_counts_from_its_making() -> None:
    """Pastry cream of two days in a praline cream of two days in a slice of three: each counts from the one before."""
    pastry = make.recipe("pastry", [make.line(100, "milk")], 100, keeps=(keeps("made", 2, CHILLED),))
    praline = make.recipe("praline", [make.line(100, pastry.ref)], 100, keeps=(keeps("made", 2, CHILLED),))
    own = make.recipe("slice", [make.line(100, praline.ref)], 100, keeps=(keeps("made", 3, CHILLED),))
    assert (keeping(pastry, praline)["made"].part, keeping(pastry, praline)["made"].part_age) == (
        pastry.ref,
        Decimal(0),
    )
    found = keeping(pastry, praline, own)["made"]
    assert (found.minutes, found.part, found.part_age) == (2 * DAY, praline.ref, Decimal(0))


def test_without_components_nothing_is_said_of_their_age() -> None:
    own = make.recipe("cream", [make.line(100, "milk")], 100, keeps=(keeps("made", 3, CHILLED),))
    assert keeping(own, stores=(stored("milk", ("opened", 2, CHILLED)),))["made"].part is None


@pytest.mark.parametrize(
    ("celsius", "cold"),
    [
        (-18, Cold.FROZEN),
        (-15, Cold.FROZEN),
        (-14, Cold.CHILLED),
        (4, Cold.CHILLED),
        (8, Cold.CHILLED),
        (9, Cold.AMBIENT),
    ],
)
def test_classes_of_temperature(celsius: int, cold: Cold) -> None:
    assert cold_of(Temperature(Decimal(celsius))) is cold


def test_published_storage_temperatures_fall_into_their_class() -> None:
    """A freezer at -18 °C (Directive 89/108/EEC), cold holding up to 8 °C (UK) or 41 °F (US)."""
    found = cases("food-safety")
    assert cold_of(Temperature(Decimal(found["freezer"]["expect"]["C_max"]))) is Cold.FROZEN
    assert cold_of(Temperature(Decimal(found["uk-hot-cold-holding"]["expect"]["cold_max_C"]))) is Cold.CHILLED
    assert cold_of(Temperature.from_fahrenheit(Decimal(found["cold-hold-us"]["expect"]["F_max"]))) is Cold.CHILLED


def test_without_a_temperature_a_thing_stands_in_the_room() -> None:
    assert cold_of(None) is Cold.AMBIENT


def test_a_product_never_outlives_its_shortest_lived_part() -> None:
    found = keeping(MOUSSE, dome(keeps("made", 3, CHILLED)))["made"]
    assert (found.stated, found.minutes) == (3 * DAY, DAY)
    assert found.limited_by == RecipeRef("mousse")
    assert "chilled" in found.because


def test_a_life_within_its_parts_stays_as_stated() -> None:
    found = keeping(MOUSSE, dome(keeps("frozen", 20, FROZEN)))["frozen"]
    assert found.minutes == 20 * DAY
    assert (found.limited_by, found.because) == (None, "")


def test_frozen_parts_limit_frozen_products() -> None:
    found = keeping(MOUSSE, dome(keeps("frozen", 60, FROZEN)))["frozen"]
    assert (found.minutes, found.limited_by) == (30 * DAY, RecipeRef("mousse"))


def test_lives_are_compared_within_a_class_only() -> None:
    found = keeping(MOUSSE, dome(keeps("baked", 10, ROOM)))["baked"]
    assert found.minutes == 10 * DAY


def test_a_limit_goes_up_through_components() -> None:
    inner = make.recipe("inner", [make.line(1, MOUSSE.ref)], 1, keeps=(keeps("made", 5, CHILLED),))
    outer = make.recipe("outer", [make.line(1, inner.ref)], 1, keeps=(keeps("made", 4, CHILLED),))
    assert keeping(MOUSSE, inner, outer)["made"].minutes == DAY


def test_an_item_counts_as_opened_once_it_is_weighed() -> None:
    cream = stored("cream", ("closed", 20, CHILLED), ("opened", 3, CHILLED))
    custard = make.recipe("custard", [make.line(5, "cream")], 5, keeps=(keeps("made", 5, CHILLED),))
    found = keeping(custard, stores=(cream,))["made"]
    assert (found.minutes, found.limited_by) == (3 * DAY, StoresRef("cream"))


def test_an_item_that_states_one_life_is_limited_by_it() -> None:
    cream = stored("cream", ("closed", 4, CHILLED))
    custard = make.recipe("custard", [make.line(5, "cream")], 5, keeps=(keeps("made", 5, CHILLED),))
    assert keeping(custard, stores=(cream,))["made"].minutes == 4 * DAY


# --- kill steps -----------------------------------------------------------------------------------------------------

CREAM = stored("cream", ("opened", 1, CHILLED))


def custard(*states: Keeping, kill_at: int, cream_at: int = 1) -> Recipe:
    steps = [
        make.step(number, kill=number == kill_at, uses=("cream",) if number == cream_at else ()) for number in (1, 2, 3)
    ]
    return make.recipe(
        "custard", [make.line(5, "sugar"), make.line(5, "cream")], 10, keeps=states, method=make.method(*steps)
    )


@pytest.mark.parametrize(
    ("kill_at", "cream_at", "days"),
    [(2, 1, 4), (2, 2, 4), (2, 3, 1), (0, 1, 1)],
    ids=["after", "in the same step", "too early", "none"],
)
def test_a_kill_step_at_or_after_a_part_goes_in_resets_it(kill_at: int, cream_at: int, days: int) -> None:
    made = custard(keeps("made", 4, CHILLED), kill_at=kill_at, cream_at=cream_at)
    assert keeping(made, stores=(CREAM,))["made"].minutes == days * DAY


def test_a_raw_state_comes_before_any_kill_step() -> None:
    states = (keeps("raw", 3, CHILLED), keeps("baked", 3, CHILLED))
    found = keeping(custard(*states, kill_at=2), stores=(CREAM,))
    assert (found["raw"].minutes, found["baked"].minutes) == (DAY, 3 * DAY)


def test_what_is_frozen_raw_is_still_raw() -> None:
    ice = stored("cream", ("opened", 30, FROZEN))
    states = (keeps("raw", 3, CHILLED), keeps("frozen", 60, FROZEN, from_state="raw", within=60))
    assert keeping(custard(*states, kill_at=2), stores=(ice,))["frozen"].minutes == 30 * DAY


def test_a_component_is_used_in_its_latest_state() -> None:
    """A raw dough keeps a day, baked it keeps a week: a chilled tart is limited by the baked case."""
    case = make.recipe("case", [make.line(5, "flour")], 5, keeps=(keeps("raw", 1, CHILLED), keeps("baked", 7, CHILLED)))
    tart = make.recipe("tart", [make.line(5, case.ref)], 5, keeps=(keeps("made", 9, CHILLED),))
    assert keeping(case, tart)["made"].minutes == 7 * DAY


def test_seed_sets_no_limit() -> None:
    levain = make.recipe(
        "levain", [make.line(2, make.ref("levain")), make.line(5, "flour")], 5, keeps=(keeps("raw", 2, CHILLED),)
    )
    assert keeping(levain)["raw"].minutes == 2 * DAY


def test_the_rest_of_cut_sheets_keeps_like_the_sheets() -> None:
    sheet = make.recipe(
        "sheet",
        [make.line(100, "flour")],
        SheetYield(Decimal(1), Rectangle(Decimal(600), Decimal(400))),
        keeps=(keeps("baked", 10, ROOM),),
    )
    bar = make.recipe(
        "bar",
        [make.line(Cut(Decimal(6), Rectangle(Decimal(150), Decimal(150))), sheet.ref)],
        make.pieces(6),
        gives=(CoProduct("rest"),),
        keeps=(keeps("made", 1, ROOM),),
    )
    crumbs = make.recipe("crumbs", [make.line(5, make.rest("bar", "rest"))], 5, keeps=(keeps("made", 30, ROOM),))
    assert keeping(sheet, bar, crumbs)["made"].minutes == 10 * DAY


# --- freezing -------------------------------------------------------------------------------------------------------


def test_freezing_pauses_the_clock_and_does_not_set_it_back() -> None:
    """Made keeps 24 h; up to 2 h ran before freezing; thawed, 22 h are left, whatever was hoped for."""
    states = (
        keeps("made", 1, CHILLED),
        keeps("frozen", 30, FROZEN, from_state="made", within=120),
        keeps("thawed", 2, CHILLED, from_state="frozen", within=43200),
    )
    found = keeping(make.recipe("mousse", [make.line(5, "sugar")], 5, keeps=states))["thawed"]
    assert found.minutes == 22 * 60
    assert found.limited_by is None
    assert "freezing" in found.because


def test_a_parts_clock_that_ran_before_freezing_is_missing_after_thawing() -> None:
    """The mousse keeps 24 h and may stand 2 h before it is frozen: in the thawed dome it has 22 h left."""
    states = (keeps("frozen", 30, FROZEN), keeps("thawed", 2, CHILLED, from_state="frozen", within=43200))
    found = keeping(MOUSSE, dome(*states))["thawed"]
    assert (found.minutes, found.limited_by) == (Decimal(22 * 60), RecipeRef("mousse"))
    assert keeping(MOUSSE, dome(keeps("made", 2, CHILLED)))["made"].minutes == 24 * 60


def test_thawed_means_from_frozen() -> None:
    states = (
        keeps("made", 3, CHILLED),
        keeps("frozen", 30, FROZEN, from_state="made", within=1440),
        keeps("thawed", 3, CHILLED),
    )
    assert keeping(make.recipe("mousse", [make.line(5, "sugar")], 5, keeps=states))["thawed"].minutes == 2 * DAY


def test_a_clock_at_another_temperature_says_nothing() -> None:
    states = (
        keeps("raw", 1, CHILLED),
        keeps("frozen", 30, FROZEN, from_state="raw", within=60),
        keeps("thawed", 3, ROOM),
    )
    assert keeping(make.recipe("dough", [make.line(5, "sugar")], 5, keeps=states))["thawed"].minutes == 3 * DAY

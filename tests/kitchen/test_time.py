"""Times of steps, of a recipe, and of everything from scratch."""

from datetime import date
from decimal import Decimal
from typing import Any

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import Lack, LackKind, TimeFigure
from bookmaker.kitchen.step_times import ChainLink, StepTime, Stretch, TimeKind
from bookmaker.measures.durations import Span
from bookmaker.model.book import Book
from bookmaker.model.house import Equipment
from bookmaker.model.method import Each, Load, Step
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef
from bookmaker.model.shapes import Rectangle
from bookmaker.model.yields import CoProduct, MouldYield, SheetYield, TinYield
from tests.support import make
from tests.support.reference import cases


def times(book: Book) -> dict[str, TimeFigure]:
    return {ref.id: figures.time for ref, figures in compute(book, date(2026, 11, 1)).recipes.items()}


def bun(*steps: Step, **more: Any) -> Recipe:
    """1000 g, by default 20 buns."""
    more.setdefault("yields", make.pieces(20, "buns"))
    return make.recipe("bun", [make.line(1000, "flour")], method=make.method(*steps), **more)


def of(*steps: Step, **more: Any) -> TimeFigure:
    return times(make.book(bun(*steps, **more)))["bun"]


def only(found: TimeFigure) -> StepTime:
    (step,) = found.steps
    return step


def span(least: int, most: int | None) -> Span:
    return Span(Decimal(least), None if most is None else Decimal(most))


# --- one step -------------------------------------------------------------------------------------------------------


def test_work_is_per_making_and_each_per_piece() -> None:
    step = only(of(make.step(1, work=Decimal(5), each=Each(Decimal("0.5"), "piece"))))
    assert step.hands_on == 15
    assert step.elapsed == 15


def test_more_people_are_quicker_and_cost_the_same_minutes() -> None:
    step = only(of(make.step(1, work=Decimal(30), needs=2)))
    assert step.hands_on == 30
    assert step.elapsed == 15


def test_takes_is_planned_at_its_long_end_and_wait_at_its_short_one() -> None:
    step = only(of(make.step(1, work=Decimal(2), takes=span(18, 22), wait=span(240, 960))))
    assert step.elapsed == 2 + 22 + 240
    assert step.shortest == 2 + 18 + 240
    assert step.longest == 2 + 22 + 960


def test_an_open_wait_has_no_end() -> None:
    assert only(of(make.step(1, wait=span(240, None)))).longest is None


def test_loads_repeat_what_the_oven_takes_and_nothing_else() -> None:
    """Twenty buns at eight a load go in three times."""
    step = only(of(make.step(1, work=Decimal(2), takes=span(20, 20), wait=span(5, 5), load=Load(Decimal(8), "buns"))))
    assert step.loads == 3
    assert step.elapsed == 2 + 3 * 20 + 5


@pytest.mark.parametrize(("ovens", "turns"), [(1, 3), (2, 2), (3, 1), (4, 1)])
def test_loads_go_side_by_side_into_the_ovens_of_the_house(ovens: int, turns: int) -> None:
    own = make.house(equipment=(Equipment("deck oven", "oven", count=ovens),))
    baked = bun(make.step(1, on="deck oven", takes=span(20, 20), load=Load(Decimal(8), "buns")))
    step = only(times(make.book(baked, own=own))["bun"])
    assert (step.loads, step.turns, step.elapsed) == (3, turns, Decimal(turns * 20))


def test_a_load_in_grams_is_of_what_is_in_the_bowl_by_then() -> None:
    """Only the 400 g of nuts are roasted, in one load; the kilo that follows is not."""
    praline = make.recipe(
        "praline",
        [make.line(400, "nuts"), make.line(600, "caster sugar")],
        1000,
        method=make.method(
            make.step(1, takes=span(18, 18), load=Load(Decimal(500)), uses=("nuts",)),
            make.step(2, takes=span(10, 10), uses=("caster sugar",)),
        ),
    )
    assert [step.loads for step in times(make.book(praline))["praline"].steps] == [1, 1]


def test_a_full_load_is_one_load() -> None:
    assert only(of(make.step(1, takes=span(20, 20), load=Load(Decimal(20), "buns")))).loads == 1


def test_repeat_does_the_whole_step_again() -> None:
    """Three times 8 min of folding and an hour of rest."""
    found = of(make.step(1, work=Decimal(8), wait=span(60, 240), repeat=3))
    assert only(found).hands_on == 24
    assert only(found).elapsed == 3 * 68
    assert only(found).longest == 24 + 3 * 240
    assert [(each.kind, each.start, each.end) for each in found.stretches[:3]] == [
        (TimeKind.WORK, Decimal(0), Decimal(8)),
        (TimeKind.WAIT, Decimal(8), Decimal(68)),
        (TimeKind.WORK, Decimal(68), Decimal(76)),
    ]
    assert len(found.stretches) == 6


@pytest.mark.parametrize(
    ("load", "more", "loads"),
    [
        (Load(Decimal(2), "trays"), {"tray": 6}, 2),
        (Load(Decimal(400)), {}, 3),
        (Load(Decimal(2), "tins"), {"yields": TinYield(Decimal(5), "loaf tin")}, 3),
        (Load(Decimal(2), "moulds"), {"yields": MouldYield(Decimal(4), "bun mould")}, 2),
        (Load(Decimal(4), "sheets"), {"yields": SheetYield(Decimal(5), Rectangle(Decimal(600), Decimal(400)))}, 2),
    ],
    ids=["trays", "grams", "tins", "moulds", "sheets"],
)
def test_loads_are_counted_in_what_goes_in(load: Load, more: dict[str, Any], loads: int) -> None:
    found = of(make.step(1, takes=span(20, 20), load=load), **more)
    assert only(found).loads == loads
    assert found.lacks == ()


def test_what_cannot_be_counted_is_a_lack() -> None:
    found = of(make.step(1, takes=span(20, 20), load=Load(Decimal(2), "trays")))
    assert only(found).elapsed == 20
    assert found.lacks == (Lack(LackKind.TIME, "step 1 of bun: how many trays"),)
    each = of(make.step(1, each=Each(Decimal(1), "tray")))
    assert each.lacks == (Lack(LackKind.TIME, "step 1 of bun: how many tray"),)


def test_a_step_without_times_is_a_lack() -> None:
    found = of(make.step(1, work=Decimal(5)), make.step(2))
    assert (found.total, found.lacks) == (Decimal(5), (Lack(LackKind.TIME, "step 2 of bun"),))


def test_a_recipe_without_steps_lacks_its_method() -> None:
    assert of().lacks == (Lack(LackKind.TIME, "method of bun"),)


# --- one recipe -----------------------------------------------------------------------------------------------------


def test_steps_follow_each_other() -> None:
    found = of(make.step(1, work=Decimal(10)), make.step(2, takes=span(30, 40)), make.step(3, wait=span(60, 90)))
    assert [step.start for step in found.steps] == [0, 10, 50]
    assert found.total == 110
    assert found.hands_on == 10
    assert found.waiting == 100
    assert found.stretches[-1] == Stretch(3, TimeKind.WAIT, Decimal(50), Decimal(110))


def test_a_step_may_wait_for_others_than_the_one_before() -> None:
    """Syrup (2) boils while the dough (1) rests; both are needed at 3."""
    found = of(
        make.step(1, takes=span(60, 60)),
        make.step(2, takes=span(15, 15), after=(1,)),
        make.step(3, takes=span(40, 40), after=(1,)),
        make.step(4, work=Decimal(5), after=(2, 3)),
    )
    assert [step.start for step in found.steps] == [0, 60, 60, 100]
    assert [step.slack for step in found.steps] == [0, 25, 0, 0]
    assert [link.step for link in found.chain] == [1, 3, 4]


def test_a_published_bread_ferments_four_and_a_half_hours() -> None:
    case = cases("scheduling")["sched-milk-bread-fermentation"]
    hours = [Decimal(value) * 60 for value in case["given"]["steps_h"].values()]
    found = of(*(make.step(number, takes=Span(minutes, minutes)) for number, minutes in enumerate(hours, 1)))
    assert found.total == Decimal(case["expect"]["total_h"]) * 60


def test_a_nut_biscuit_takes_four_hours_or_a_night() -> None:
    """Rests 4 h or overnight, bakes around 20 minutes (common practice, no source): a window, not a number."""
    found = of(make.step(1, work=Decimal(10)), make.step(2, wait=span(240, 960)), make.step(3, takes=span(18, 22)))
    assert found.total == 10 + 240 + 22
    assert found.steps[1].longest == 960


def test_a_two_part_rubber_cures_in_six_hours() -> None:
    """A moulding silicone with 10 % of catalyst cures in about six hours (common practice, no source)."""
    found = of(make.step(1, work=Decimal(15)), make.step(2, takes=span(360, 360)))
    assert (found.total, found.waiting) == (Decimal(375), Decimal(360))


# --- from scratch ---------------------------------------------------------------------------------------------------

DOUGH = make.recipe(
    "dough", [make.line(500, "flour")], 500, method=make.method(make.step(1, work=Decimal(10), wait=span(300, 900)))
)
CREAM = make.recipe(
    "cream",
    [make.line(500, "milk")],
    500,
    method=make.method(make.step(1, work=Decimal(20)), make.step(2, takes=span(40, 60))),
)


def tart(*steps: Step) -> Recipe:
    return make.recipe(
        "tart",
        [
            make.stage("Case", make.line(100, DOUGH.ref)),
            make.stage("Filling", make.line(100, CREAM.ref, name="vanilla cream")),
        ],
        make.pieces(4),
        method=make.method(*steps),
    )


LINE_AND_BAKE = make.step(1, work=Decimal(12), takes=span(30, 30), uses=("Case",))


def test_components_are_ready_before_the_step_that_uses_them() -> None:
    found = times(make.book(DOUGH, CREAM, tart(LINE_AND_BAKE, make.step(2, work=Decimal(8), uses=("Filling",)))))[
        "tart"
    ]
    assert found.total == 50
    assert found.whole_total == 310 + 42 + 8
    assert found.whole_hands_on == 10 + 20 + 20
    assert found.chain == (
        ChainLink(RecipeRef("dough"), 1, Decimal(0), Decimal(310)),
        ChainLink(RecipeRef("tart"), 1, Decimal(310), Decimal(352)),
        ChainLink(RecipeRef("tart"), 2, Decimal(352), Decimal(360)),
    )


@pytest.mark.parametrize("words", ["filling", "Vanilla Cream", "cream"])
def test_a_step_says_what_it_uses_by_stage_line_or_title(words: str) -> None:
    slow = make.recipe("cream", [make.line(5, "milk")], 500, method=make.method(make.step(1, takes=span(600, 600))))
    found = times(make.book(DOUGH, slow, tart(LINE_AND_BAKE, make.step(2, work=Decimal(8), uses=(words,)))))["tart"]
    assert found.whole_total == 608
    assert [(link.recipe.id, link.step) for link in found.chain] == [("cream", 1), ("tart", 2)]


def test_what_no_step_names_is_needed_from_the_start() -> None:
    found = times(make.book(DOUGH, CREAM, tart(make.step(1, work=Decimal(12)))))["tart"]
    assert found.whole_total == 310 + 12


def test_a_shared_component_is_made_once() -> None:
    both = make.recipe("both", [make.line(5, DOUGH.ref)], 5, method=make.method(make.step(1, work=Decimal(1))))
    top = make.recipe(
        "top", [make.line(5, DOUGH.ref), make.line(5, both.ref)], 10, method=make.method(make.step(1, work=Decimal(2)))
    )
    assert times(make.book(DOUGH, both, top))["top"].whole_hands_on == 13


def test_a_components_lack_is_known_above() -> None:
    hasty = make.recipe("cream", [make.line(500, "milk")], 500, method=make.method(make.step(1)))
    found = times(make.book(DOUGH, hasty, tart(LINE_AND_BAKE)))["tart"]
    assert found.lacks == (Lack(LackKind.TIME, "step 1 of cream", (RecipeRef("cream"),)),)


def test_nobody_waits_for_seed_or_left_overs() -> None:
    trimmed = make.recipe(
        "dough",
        [make.line(500, "flour")],
        400,
        method=make.method(make.step(1, takes=span(600, 600))),
        gives=(CoProduct("trim", grams=Decimal(100)),),
    )
    crackers = make.recipe(
        "crackers",
        [make.line(100, make.rest("dough", "trim")), make.line(10, make.ref("crackers"))],
        100,
        method=make.method(make.step(1, work=Decimal(5))),
    )
    found = times(make.book(trimmed, crackers))["crackers"]
    assert found.whole_total == 5
    assert found.whole_hands_on == 5


@st.composite
def shelves(draw: st.DrawFn) -> Book:
    """Recipes of one to three steps; each component goes into a step that is named or not."""
    recipes: list[Recipe] = []
    for number in range(draw(st.integers(1, 6))):
        below = draw(st.lists(st.sampled_from(recipes), unique_by=lambda each: each.ref, max_size=3)) if recipes else []
        count = draw(st.integers(1, 3))
        used = {each.ref.id: draw(st.integers(0, count)) for each in below}
        steps = [
            make.step(
                index,
                takes=Span(Decimal(1), Decimal(draw(st.integers(1, 50)))),
                uses=tuple(name for name, at in used.items() if at == index),
                after=tuple(sorted(draw(st.sets(st.integers(1, index - 1)))) if index > 1 else ()),
            )
            for index in range(1, count + 1)
        ]
        lines = [make.line(10, each.ref) for each in below] or [make.line(10, "flour")]
        recipes.append(make.recipe(f"r{number}", lines, 10, method=make.method(*steps)))
    return make.book(*recipes)


@given(shelves())
def test_from_scratch_is_networkx_longest_path_over_all_recipes(book: Book) -> None:
    graph: Any = nx.DiGraph()
    ends = {}
    for ref, recipe in book.recipes.items():
        steps = recipe.method.steps
        ends[ref] = (ref, "end")
        for step in steps:
            here = (ref, step.number)
            assert step.takes is not None
            minutes = step.takes.long_end
            graph.add_edge(here, ends[ref], weight=minutes)
            for later in steps:
                before = later.after or (later.number - 1,)
                if step.number in before:
                    graph.add_edge(here, (ref, later.number), weight=minutes)
        for line in recipe.lines:
            if isinstance(line.target, RecipeRef):
                user = next((step.number for step in steps if line.name in step.uses), 1)
                graph.add_edge(ends[line.target], (ref, user), weight=Decimal(0))
    found = times(book)
    for ref in book.recipes:
        above = graph.subgraph({*nx.ancestors(graph, ends[ref]), ends[ref]})
        time = found[ref.id]
        assert time.whole_total == nx.dag_longest_path_length(above)
        assert time.chain[0].start == 0
        assert time.chain[-1].end == time.whole_total
        assert all(one.end == two.start for one, two in zip(time.chain, time.chain[1:], strict=False))

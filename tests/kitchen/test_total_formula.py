"""The total formula: preferments and soakers unfolded, as components and as stages."""

from decimal import Decimal
from typing import Any

from bookmaker.kitchen.figures import Lack, LackKind, TotalFormula
from bookmaker.kitchen.flow import flow_of
from bookmaker.kitchen.total_formula import total_formula_of
from bookmaker.measures.exact import exactly
from bookmaker.model.line import StageKind
from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.refs import StoresRef
from tests.support import make

STORES = [
    make.item("flour", flour=True),
    make.item("rye", flour=True),
    make.item("water", water=1),
    make.item("salt", salt="99.8", fat=0, sugars=0),
    make.item("milk", water="0.875", fat="3.6", sugars="4.8", salt="0.1"),
    make.item("butter", water="0.16", fat="81", sugars="0.5", salt="0.03"),
]


def total(*recipes: Recipe) -> TotalFormula | None:
    book = make.book(*recipes, stores=STORES)
    flows: dict[Any, Any] = {}
    with exactly():
        for recipe in recipes:
            flows[recipe.ref] = flow_of(recipe, book, flows)
        return total_formula_of(recipes[-1], flows[recipes[-1].ref], book, flows)


def poolish() -> Recipe:
    return make.recipe(
        "poolish",
        [make.line(500, "flour"), make.line(500, "water")],
        1,
        kind=Kind.PREFERMENT,
        lose={"transfer": "0.02"},
    )


def dough(*lines: Any, **more: Any) -> Recipe:
    return make.recipe("dough", lines, 1, base=make.FLOUR, lose={"mix": 0}, **more)


def test_a_dough_without_preferments_has_none() -> None:
    assert total(dough(make.line(1000, "flour"), make.line(600, "water"))) is None


def test_a_preferment_unfolds_to_what_of_it_is_in_the_bowl() -> None:
    one = poolish()
    found = total(
        one, dough(make.line(800, "flour"), make.line(400, one.ref), make.line(450, "water"), make.line(20, "salt"))
    )
    assert found is not None
    assert found.flour == 1000
    assert found.prefermented_flour == 20
    assert {line.item: [line.own, line.inside, line.percent] for line in found.lines} == {
        StoresRef("flour"): [800, 200, 100],
        StoresRef("water"): [450, 200, 65],
        StoresRef("salt"): [20, 0, 2],
    }
    assert found.hydration == 65
    assert found.salt.value == 2


def test_preferments_in_preferments_unfold_too() -> None:
    one = poolish()
    second = make.recipe(
        "sponge", [make.line(200, one.ref), make.line(300, "flour")], 1, kind=Kind.PREFERMENT, lose={"mix": 0}
    )
    found = total(one, second, dough(make.line(600, "flour"), make.line(500, second.ref)))
    assert found is not None
    # 500 of sponge hold 300 + 100 flour and 100 water
    assert [found.flour, found.prefermented_flour, found.hydration] == [1000, 40, 10]


def test_a_soaker_is_unfolded_and_not_fermented() -> None:
    soaker = make.recipe(
        "soaker", [make.line(200, "rye"), make.line(300, "water")], 1, kind=Kind.SOAKER, lose={"mix": 0}
    )
    found = total(soaker, dough(make.line(800, "flour"), make.line(500, soaker.ref)))
    assert found is not None
    assert [found.flour, found.prefermented_flour, found.hydration] == [1000, 0, 30]


def test_a_stage_may_be_the_preferment() -> None:
    sponge = make.stage("Sponge", make.line(300, "flour"), make.line(200, "water"), kind=StageKind.PREFERMENT)
    found = total(dough(sponge, make.stage("Dough", make.line(700, "flour"), make.line(400, "water"))))
    assert found is not None
    assert [found.prefermented_flour, found.hydration] == [30, 60]
    assert {line.item: [line.own, line.inside] for line in found.lines}[StoresRef("water")] == [400, 200]


def test_a_levain_counts_the_flour_of_its_seed() -> None:
    lines = [make.line(200, make.ref("levain")), make.line(600, "flour"), make.line(600, "water")]
    found = total(make.recipe("levain", lines, 1, kind=Kind.PREFERMENT, base=make.FLOUR, lose={"mix": 0}))
    assert found is not None
    assert [found.flour, found.hydration] == [700, 100]


def test_water_in_milk_and_butter_is_effective_and_flours_own_is_not() -> None:
    one = poolish()
    found = total(
        one, dough(make.line(800, "flour"), make.line(400, one.ref), make.line(200, "milk"), make.line(100, "butter"))
    )
    assert found is not None
    # water 200; milk 200 × 87.5 % = 175; butter 100 × 16 % = 16
    assert found.hydration == 20
    assert found.effective_hydration.value == Decimal("39.1")
    assert found.effective_hydration.complete
    # fat 200 × 3.6 % + 100 × 81 %; sugar 200 × 4.8 % + 100 × 0.5 %
    assert found.fat.value == Decimal("8.82")
    assert found.sugar.value == Decimal("1.01")


def test_what_nobody_knows_of_an_item_is_a_lack() -> None:
    one = poolish()
    found = total(one, dough(make.line(800, "flour"), make.line(400, one.ref), make.line(50, "malt")))
    assert found is not None
    lack = (Lack(LackKind.COMPOSITION, "malt"),)
    assert [found.fat.lacks, found.sugar.lacks, found.salt.lacks, found.effective_hydration.lacks] == [lack] * 4


def test_other_components_stay_one_line_and_dusting_is_left_out() -> None:
    one = poolish()
    custard = make.recipe("custard", [make.line(90, "milk"), make.line(10, "flour")], 1, lose={"mix": 0})
    found = total(
        one,
        custard,
        dough(
            make.line(800, "flour"),
            make.line(400, one.ref),
            make.line(100, custard.ref),
            make.line(90, "rye", as_needed=True),
        ),
    )
    assert found is not None
    assert found.flour == 1000
    by_item = {line.item: line.percent for line in found.lines}
    assert by_item[custard.ref] == 10
    assert StoresRef("rye") not in by_item
    # 90 × 3.6 %; the custard's flour is none of the dough's
    assert found.fat.value == Decimal("0.324")

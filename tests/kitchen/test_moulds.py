"""What fills moulds, held against what they hold."""

from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.figures import MassFlow
from bookmaker.kitchen.flow import flow_of
from bookmaker.kitchen.moulds import mould_findings
from bookmaker.measures.exact import exactly
from bookmaker.model.house import Mould
from bookmaker.model.line import Cut
from bookmaker.model.recipe import Kind, Layer, Recipe
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.shapes import Disc, Rectangle
from bookmaker.model.yields import MouldYield, SheetYield
from tests.support import make

D = Decimal
# 10 × 100 ml × 90 %: 900 ml
HOUSE = make.house(moulds=(Mould("dome", 10, D(100), D("0.9"), food_contact=True),))
STORES = [make.item("cream", water=1), make.item("oil", density="0.9"), make.item("glaze", sugars=100)]
SHEET = make.recipe("sheet", [make.line(5000, "cream")], SheetYield(D(1), Rectangle(D(600), D(400))))


def found(*lines: Any, moulds: int = 1, **more: Any) -> list[str]:
    recipe: Recipe = make.recipe("r", lines, MouldYield(D(moulds), "dome"), **more)
    book = make.book(SHEET, recipe, own=HOUSE, stores=STORES)
    flows: dict[RecipeRef, MassFlow] = {}
    with exactly():
        for each in book.recipes.values():
            flows[each.ref] = flow_of(each, book, flows)
        return [each.code for each in mould_findings(recipe, flows[recipe.ref], book, flows)]


@pytest.mark.parametrize(
    ("grams", "codes"),
    [(1000, ["mould-overfull"]), (980, []), (500, []), (190, []), (170, ["mould-underfull"])],
)
def test_without_a_density_only_what_cannot_be_is_said(grams: int, codes: list[str]) -> None:
    """900 ml hold 896 g of something like water, and never less than a foam of 0.2 g/ml: 180 g."""
    assert found(make.line(grams, "cream")) == codes


@pytest.mark.parametrize(
    ("grams", "codes"), [(490, []), (500, ["mould-contradicts"]), (410, []), (400, ["mould-contradicts"])]
)
def test_a_stated_density_holds_to_a_tenth(grams: int, codes: list[str]) -> None:
    """900 ml at 0.5 g/ml are 450 g."""
    assert found(make.line(grams, "cream"), density=D("0.5")) == codes


def test_the_density_of_the_one_thing_that_fills_it_counts() -> None:
    assert found(make.line(810, "oil")) == []
    assert found(make.line(700, "oil")) == ["mould-contradicts"]


def test_losses_count() -> None:
    assert found(make.line(1200, "cream")) == ["mould-overfull"]
    assert found(make.line(1200, "cream"), lose={"transfer": "0.2"}) == []
    assert found(make.line(1200, "cream"), lose={"boil": "0.2"}) == []


def test_coatings_go_round_it() -> None:
    glaze = make.stage("Glaze", make.line(2000, "glaze"))
    lines = [make.line(800, "cream"), glaze]
    assert found(*lines) == ["mould-overfull"]
    assert found(*lines, layers=(Layer("Glaze", None, coats=True),)) == []
    assert found(*lines, layers=(Layer("glaze", StoresRef("glaze"), coats=True),)) == []


def test_what_is_cut_may_stand_outside() -> None:
    disc = make.line(Cut(D(20), Disc(D(100))), SHEET.ref)
    assert found(make.line(800, "cream"), disc) == []


def test_more_moulds_hold_more() -> None:
    assert found(make.line(1800, "cream"), moulds=2) == []


def test_what_is_no_food_is_cast_by_other_rules() -> None:
    assert found(make.line(3000, "cream"), kind=Kind.MOULDING) == []

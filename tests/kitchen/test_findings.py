"""What a recipe's figures contradict: each problem with its message, and that a sound recipe has none."""

from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.figures import MassFlow
from bookmaker.kitchen.findings import findings_of
from bookmaker.kitchen.flow import flow_of
from bookmaker.measures.exact import exactly
from bookmaker.model.book import Book
from bookmaker.model.house import Equipment, Mould
from bookmaker.model.line import Batches, Cut, Pieces, Sheets
from bookmaker.model.recipe import Base, BaseKind, Kind, Recipe
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.shapes import Disc, Rectangle
from bookmaker.model.yields import BoilTo, CoProduct, CutSpec, MouldYield, SheetYield
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem
from tests.support import make

SHEET = SheetYield(Decimal(1), Rectangle(Decimal(600), Decimal(400)))
CREAM = make.recipe("cream", [make.line(1000, "milk")], 1000)
BASE = make.recipe("base", [make.line(1000, "dough")], SHEET)
HOUSE = make.house(
    equipment=(Equipment("deck oven", "oven"),),
    moulds=(Mould("pebble", 24, Decimal(62), food_contact=True), Mould("master", 24, Decimal(62))),
)
STORES = [make.item("flour", flour=True), make.item("sugar", solids=1)]


def problems(recipe: Recipe) -> list[Problem]:
    book: Book = make.book(CREAM, BASE, recipe, own=HOUSE, stores=STORES)
    flows: dict[RecipeRef, MassFlow] = {}
    with exactly():
        for each in book.recipes.values():
            flows[each.ref] = flow_of(each, book, flows)
        return list(findings_of(recipe, flows[recipe.ref], book, flows))


def recipe(*lines: Any, yields: Any = 1000, **more: Any) -> Recipe:
    return make.recipe("r", lines or [make.line(1000, "dough")], yields, anchor=Anchor("r.md"), **more)


BAKED = make.method(make.step(1, on="deck oven"))


@pytest.mark.parametrize(
    "sound",
    [
        recipe(),
        # implied losses contradict nothing, and two percent are weighing and judgement
        recipe(yields=850),
        recipe(yields=1020),
        recipe(yields=900, lose={"bake": "0.11"}),
        recipe(yields=make.pieces(10, scaled=95), lose={"portion": "0.04", "bake": "0.1"}, method=BAKED),
        recipe(make.percent(100, "flour"), make.percent(60, "water"), base=make.FLOUR),
        recipe(make.line(100, "dough"), make.line(Cut(Decimal(3), Disc(Decimal(40))), BASE.ref), yields=make.pieces(3)),
        recipe(yields=SHEET, lose={"bake": "0.1"}, cut=CutSpec(Rectangle(Decimal(30), Decimal(80)))),
        recipe(yields=MouldYield(Decimal(1), "pebble")),
        recipe(yields=MouldYield(Decimal(1), "master"), kind=Kind.MOULDING),
        recipe(make.line(1000, "sugar"), make.line(1000, "water"), yields=1250, boil_to=BoilTo(grams=Decimal(1250))),
    ],
)
def test_a_sound_recipe_has_no_findings(sound: Recipe) -> None:
    assert problems(sound) == []


@pytest.mark.parametrize(
    ("wrong", "code", "path", "message"),
    [
        (
            recipe(yields=950, lose={"bake": "0.1"}),
            "contradictory-yield",
            ("yields",),
            "the yield says 950 g, but lines and losses come to 900 g: 5.6 % apart",
        ),
        (
            recipe(yields=make.pieces(10, scaled=104), lose={"portion": "0.02", "bake": "0.1"}),
            "contradictory-yield",
            ("yields",),
            "the yield says 1.04 kg, but lines and losses come to 980 g: 6.1 % apart",
        ),
        (
            recipe(yields=1200),
            "more-out-than-in",
            ("yields",),
            "the yield says 1.2 kg, but only 1 kg can come of the lines: 20 % apart",
        ),
        (
            recipe(lose={"mix": 0}, keep_back=1000),
            "nothing-left",
            ("yields",),
            "the batch comes to 1 kg, of which 1 kg are kept back and the rest is given to co-products",
        ),
        (
            recipe(yields=make.pieces(10, scaled=95), method=BAKED),
            "no-baking-loss",
            ("yields",),
            "pieces are scaled raw and baked, and no loss says what the oven takes: they count as if it took nothing",
        ),
        (
            recipe(yields=SHEET, lose={"trim": "0.05"}, cut=CutSpec(Rectangle(Decimal(100), Decimal(90)))),
            "trim-beside-cut",
            (),
            "trim takes 5 %, but the cut leaves 10 % of the sheet by its geometry: only the cut is counted",
        ),
        (
            recipe(yields=SHEET, cut=CutSpec(Disc(Decimal(500)))),
            "cut-too-large",
            ("cut",),
            "not one such piece fits on a sheet of r",
        ),
        (
            recipe(make.line(Cut(Decimal(3), Disc(Decimal(500))), BASE.ref), make.line(10, "jam"), lose={"mix": 0}),
            "cut-too-large",
            (),
            "not one such piece fits on a sheet of base",
        ),
        (
            recipe(make.line(1000, "sugar"), boil_to=BoilTo(brix=Decimal("0.7"))),
            "past-end-point",
            ("to",),
            "the lines are thicker from the start than the end point says: nothing is boiled off",
        ),
        (
            recipe(batch=1200),
            "batch-contradicts",
            ("batch",),
            "batch says 1.2 kg, but the lines weigh 1 kg",
        ),
        (
            recipe(make.percent(100, "starch"), base=make.FLOUR, batch=1000),
            "base-not-in-formula",
            ("base",),
            "the formula is in percent of flour, but no line is flour",
        ),
        (
            recipe(make.percent(100, "starch"), base=Base(BaseKind.ITEM, StoresRef("silicone")), batch=1000),
            "base-not-in-formula",
            ("base",),
            "the formula is in percent of silicone, but no line is silicone",
        ),
        (
            recipe(make.percent(100, "flour"), make.line(100, "flour", id="more"), base=make.FLOUR),
            "base-over-full",
            ("formula",),
            "the lines that are 100 % add up to 100 % already, and others of them have a weight",
        ),
        (
            recipe(make.percent(90, "flour"), make.percent(60, "water"), base=make.FLOUR),
            "base-not-hundred",
            ("formula",),
            "the lines that are 100 % add up to 90 %",
        ),
        (
            recipe(make.percent(100, "flour"), make.percent(60, "water"), base=make.FLOUR, yields=SHEET),
            "percent-without-weight",
            ("formula",),
            "the formula is in percent, and nothing says how much is made",
        ),
        (
            recipe(make.line(Pieces(Decimal(3)), CREAM.ref), make.line(1000, "dough"), lose={"mix": 0}),
            "not-in-pieces",
            (),
            "cream is not yielded in pieces, so nobody knows what one weighs",
        ),
        (
            recipe(make.line(Sheets(Decimal(3)), CREAM.ref), make.line(1000, "dough"), lose={"mix": 0}),
            "not-in-sheets",
            (),
            "cream is not yielded in sheets, frames or trays of a known size",
        ),
        (
            recipe(make.line(Cut(Decimal(3), Disc(Decimal(50))), CREAM.ref), make.line(1000, "dough"), lose={"mix": 0}),
            "not-in-sheets",
            (),
            "cream is not yielded in sheets, frames or trays of a known size",
        ),
        (
            recipe(make.line(Pieces(Decimal(3)), "bay leaf"), make.line(1000, "dough"), lose={"mix": 0}),
            "piece-without-weight",
            (),
            "bay leaf is counted, but the stores do not say what a piece weighs",
        ),
        (
            recipe(make.line(Batches(Decimal("0.1")), make.ref("r")), make.line(1000, "dough"), lose={"mix": 0}),
            "seed-not-weighed",
            (),
            "r holds its own seed, which must be weighed or in percent",
        ),
        (
            recipe(make.line(300, "crumbs", at_most="0.25"), make.line(700, "dough")),
            "over-cap",
            (),
            "crumbs is 30 % of what goes in, and 25 % is the most that this line allows",
        ),
        (
            recipe(yields=MouldYield(Decimal(1), "master")),
            "mould-not-for-food",
            ("yields",),
            "the material of 'master' is not declared for contact with food",
        ),
    ],
)
def test_a_contradiction_is_said_once_where_it_would_be_changed(
    wrong: Recipe, code: str, path: tuple[str, ...], message: str
) -> None:
    (found,) = problems(wrong)
    assert (found.code, found.anchor.path, found.message) == (code, path, message)


def test_co_products_that_leave_nothing() -> None:
    (found,) = problems(recipe(lose={"mix": 0}, gives=(CoProduct("whey", grams=Decimal(1000)),)))
    assert found.code == "nothing-left"


def test_a_cause_is_not_said_again_at_the_users() -> None:
    """Pieces of something whose own pieces weigh nothing are that recipe's problem."""
    empty = make.recipe("empty", [make.line(Pieces(Decimal(3)), CREAM.ref)], make.pieces(4))
    user = recipe(make.line(Pieces(Decimal(3)), empty.ref), make.line(1000, "dough"), lose={"mix": 0})
    book = make.book(CREAM, empty, user)
    flows: dict[RecipeRef, MassFlow] = {}
    with exactly():
        for each in book.recipes.values():
            flows[each.ref] = flow_of(each, book, flows)
        assert [found.code for found in findings_of(empty, flows[empty.ref], book, flows)] == ["not-in-pieces"]
        assert findings_of(user, flows[user.ref], book, flows) == ()

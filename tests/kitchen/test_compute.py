"""A whole book's figures: order, users, findings, and that no caller's arithmetic creeps in."""

from dataclasses import fields
from datetime import date
from decimal import Context, Decimal, localcontext

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import RecipeFigures
from bookmaker.model.line import Line
from bookmaker.model.recipe import PackagingLine
from bookmaker.model.refs import StoresRef
from bookmaker.model.yields import CoProduct
from tests.support import make

ON = date(2026, 11, 1)

CREAM = make.recipe(
    "cream", [make.line(700, "milk"), make.line(300, "sugar")], 970, gives=(CoProduct("skin", grams=Decimal(30)),)
)
BUN = make.recipe(
    "bun",
    [make.line(600, "flour", alternatives=(StoresRef("spelt"),)), make.line(100, CREAM.ref)],
    make.pieces(7),
    packaging=(PackagingLine(StoresRef("bag"), Decimal(1)),),
)
PUDDING = make.recipe(
    "pudding", [make.line(1, BUN.ref), make.line(1, make.rest("cream", "skin")), make.line(1, "milk")], 3
)


def test_recipes_know_what_they_are_made_of_and_who_uses_them() -> None:
    figures = compute(make.book(CREAM, BUN, PUDDING), ON)
    assert list(figures.recipes) == [CREAM.ref, BUN.ref, PUDDING.ref]
    assert figures.recipes[PUDDING.ref].components == (BUN.ref, CREAM.ref)
    assert figures.recipes[CREAM.ref].used_in == (BUN.ref, PUDDING.ref)
    assert figures.recipes[PUDDING.ref].used_in == ()
    assert figures.on == ON


def test_items_know_where_they_are_used() -> None:
    used = compute(make.book(CREAM, BUN, PUDDING), ON).used_in
    assert used[StoresRef("milk")] == (CREAM.ref, PUDDING.ref)
    # an alternative and packaging count as well
    assert used[StoresRef("spelt")] == used[StoresRef("bag")] == (BUN.ref,)


def test_findings_are_gathered_from_prices_and_recipes() -> None:
    wrong = make.recipe("wrong", [make.line(100, "milk")], 500)
    codes = {found.code for found in compute(make.book(wrong), ON).findings}
    assert {"more-out-than-in", "no-price"} <= codes


def test_the_callers_arithmetic_does_not_matter() -> None:
    book = make.book(
        CREAM, BUN, PUDDING, prices=[make.price("milk", "10 l", "9.70"), make.price("flour", "25 kg", "18.10")]
    )
    expected = compute(book, ON)
    with localcontext(Context(prec=3)):
        coarse = compute(book, ON)
    for ref, figures in expected.recipes.items():
        for field in fields(RecipeFigures):
            assert getattr(coarse.recipes[ref], field.name) == getattr(figures, field.name), (ref, field.name)


def test_a_seed_is_no_component_and_no_user() -> None:
    own: list[Line] = [make.line(100, make.ref("levain")), make.line(900, "flour")]
    figures = compute(make.book(make.recipe("levain", own, 900)), ON).recipes[make.ref("levain")]
    assert (figures.components, figures.used_in) == ((), ())

"""Workings of labels: their terms add up to what the label says, one level at a time."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.explain import derivation, explain, figures_of, workings_of
from bookmaker.kitchen.figures import LackKind
from bookmaker.kitchen.label import label_of
from bookmaker.kitchen.working import FigureSource, LineSource, Working
from bookmaker.measures.exact import total
from bookmaker.model.book import Book
from bookmaker.model.house import Region
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef
from bookmaker.model.stores import MadeOf
from tests.kitchen.labelling.labels import ON, house, product
from tests.support import make
from tests.support.strategies import books

NEARLY = Decimal("1e-18")
STORES = [
    make.item("flour", label="wheat flour", contains=frozenset({"wheat"}), fat="1", sugars="1", protein="10", salt="0"),
    make.item("oil", fat="100", protein="0", salt="0", sugars="0", diet=frozenset({"vegan"})),
    make.item("water", water="1"),
]
BASE = make.recipe("base", [make.line(70, "flour"), make.line(30, "water")], 90, title="Base", lose={"bake": "0.1"})
CAKE = product([make.line(80, BASE.ref), make.line(20, "oil")], 100, named=("oil", "base"), title="Cake")


def shelf(region: Region = Region.EU) -> Book:
    return make.book(BASE, CAKE, stores=STORES, own=house(region))


def of(what: str, region: Region = Region.EU) -> Working:
    book = shelf(region)
    return explain(book, compute(book, ON), CAKE.ref, what)


def summed(working: Working) -> Decimal:
    return total(term.value or Decimal(0) for term in working.terms)


@pytest.mark.parametrize("what", ["nutrition fat", "fat", "Fat"])
def test_a_nutrient_is_the_sum_of_its_lines(what: str) -> None:
    """80 g of base with 70/90 of flour of 1 % fat, and 20 g of oil."""
    working = of(what)
    assert working.what == "nutrition fat"
    assert working.result is not None
    assert abs(working.result - (20 + Decimal(80 * 70) / 9000)) < NEARLY
    assert abs(summed(working) - working.result) < NEARLY
    assert working.terms[0].source == FigureSource(BASE.ref, "nutrition fat")


def test_energy_is_the_sum_of_its_factors() -> None:
    for region, unit in ((Region.EU, "kJ"), (Region.US, "kcal")):
        working = of("nutrition energy", region)
        assert working.unit == unit
        assert working.result is not None
        assert abs(summed(working) - working.result) < NEARLY


def test_what_is_missing_is_in_the_working_too() -> None:
    assert [(lack.kind, lack.of) for lack in of("nutrition saturates").lacks] == [
        (LackKind.NUTRITION, "flour"),
        (LackKind.NUTRITION, "oil"),
    ]


def test_the_ingredient_list_leads_to_its_entries_and_they_to_the_lines() -> None:
    book = shelf()
    derived = derivation(book, compute(book, ON), CAKE.ref, "ingredient list")
    assert derived.working.verdict == "complete"
    assert [term.label for term in derived.working.terms] == ["base", "oil"]
    assert [below.working.what for below in derived.below] == ["declared base", "declared oil"]
    oil = derived.below[1].working
    assert oil.terms[0].source == LineSource(CAKE.ref, "oil")
    assert oil.result == 20


def test_water_is_what_the_others_leave() -> None:
    book = shelf()
    working = explain(book, compute(book, ON), BASE.ref, "declared water")
    assert working.terms[0].value == 100
    assert working.result is not None
    assert abs(2 * Decimal(100) - summed(working) - working.result) < NEARLY  # the others are written as taken off


def test_two_ingredients_of_one_name_are_told_apart() -> None:
    """Two chocolates with lists of their own are two entries, and two workings."""
    stores = [
        make.item("ours", label="chocolate", made_of=(MadeOf("cocoa"), MadeOf("sugar"))),
        make.item("theirs", label="chocolate", made_of=(MadeOf("sugar"), MadeOf("cocoa"))),
    ]
    cake = product([make.line(60, "ours"), make.line(40, "theirs")], 100)
    book = make.book(cake, stores=stores, own=house())
    figures = compute(book, ON)
    results = [
        explain(book, figures, cake.ref, name).result for name in ("declared chocolate", "declared chocolate (#2)")
    ]
    assert results == [60, 40]


@pytest.mark.parametrize("word", ["kcal", "kJ", "calories", "food energy"])
def test_energy_has_everyday_names(word: str) -> None:
    assert of(word).what == "nutrition energy"


def test_a_quantity_and_a_diet_say_where_they_come_from() -> None:
    assert of("quantity of oil").result == 20
    assert of("diet vegan").verdict == "unknown"
    assert [term.label for term in of("diet vegan").terms] == ["flour ← Base"]


def test_pages_show_no_workings_of_labels_and_moulds_have_none() -> None:
    book = shelf()
    figures = compute(book, ON)
    shown = {working.what for working in workings_of(book, figures, CAKE.ref)}
    assert shown == {name for name in figures_of(book, figures, CAKE.ref) if not name.startswith(OURS)}
    rubber = make.book(make.recipe("rubber", [make.line(1, "x")], 1, kind=Kind.MOULDING))
    names = figures_of(rubber, compute(rubber, ON), RecipeRef("rubber"))
    assert not [name for name in names if name.startswith(OURS)]


OURS = ("nutrition ", "declar", "quantity of ", "diet ")


@settings(max_examples=12, deadline=None)
@given(books())
def test_terms_add_up_whatever_the_book(book: Book) -> None:
    book = replace(
        book, stores={name: make.item(name, fat="3", sugars="2", protein="1", salt="1") for name in book.stores}
    )
    figures = compute(book, ON)
    ref = list(book.recipes)[-1]
    label = label_of(ref, book, figures)
    exact = {row.key: row.exact_per_100.value for row in label.nutrition.rows}
    names = figures_of(book, figures, ref)
    for key in ("fat", "protein", "salt"):
        working = explain(book, figures, ref, f"nutrition {key}")
        assert working.result == exact[key]
        assert abs(summed(working) - (working.result or 0)) < NEARLY
    for name in (each for each in names if each.startswith("declared ")):
        working = explain(book, figures, ref, name)
        assert abs(summed(working) - (working.result or 0)) < NEARLY, name

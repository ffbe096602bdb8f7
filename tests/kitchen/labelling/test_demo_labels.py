"""The labels of the demo book: one worked by hand, and what holds for all of them by every law."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import Figures
from bookmaker.kitchen.label import label_of
from bookmaker.kitchen.label_figures import every
from bookmaker.kitchen.labelling.wording import emphasised
from bookmaker.kitchen.law import LAWS
from bookmaker.model.book import Book
from bookmaker.model.house import Additives, Compounds, House, Packed, Region
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef
from bookmaker.reading.book import read_book
from tests.contract.modules import ROOT

ON = date(2026, 11, 30)


@pytest.fixture(scope="module")
def demo() -> Book:
    book = read_book(ROOT / "recipes").book
    assert book is not None
    return book


@pytest.fixture(scope="module")
def figures(demo: Book) -> Figures:
    return compute(demo, ON)


def houses(own: House) -> list[House]:
    """The demo house under each law, and with each choice that it may make."""
    usual = replace(own, labels=replace(own.labels, compounds=Compounds.MERGED))
    nested = replace(own.labels, compounds=Compounds.NESTED, additives=Additives.NUMBERS, packed=Packed.ON_PREMISES)
    return [*(replace(usual, region=region) for region in Region), replace(own, labels=nested)]


def test_every_food_has_a_label_by_every_law(demo: Book) -> None:
    for house in houses(demo.house):
        book = replace(demo, house=house)
        figures = compute(book, ON)
        for ref, recipe in book.recipes.items():
            if recipe.kind is Kind.MOULDING:
                continue
            label = label_of(ref, book, figures)
            shown = {phrase.text.casefold() for phrase in label.declaration.text if phrase.allergen}
            listed = LAWS[house.region].names
            contained = [name for name in label.allergens.contains if name in listed]
            missing = [name for name in contained if not any(_says(text, name) for text in shown)]
            assert missing == [], (ref, house.region)
            assert all(part.name for part in every(label.declaration.ingredients))
            assert label.declaration.ingredients, ref


def _says(text: str, allergen: str) -> bool:
    return bool(emphasised(text, [allergen])[1])


def test_no_moulding_material_is_in_any_list(demo: Book, figures: Figures) -> None:
    names = {item.label for item in demo.stores.values() if item.kind.value != "food"}
    for ref, recipe in demo.recipes.items():
        if recipe.kind is not Kind.MOULDING:
            listed = every(label_of(ref, demo, figures).declaration.ingredients)
            assert names.isdisjoint("".join(phrase.text for phrase in one.name) for one in listed)


def test_honey_mousse_by_hand(demo: Book, figures: Figures) -> None:
    """The fat of 100 g, worked out with pencil and paper.

    Anglaise: 500 milk × 3.25 % + 500 cream × 36.08 % + 200 yolk × 26.54 % = 249.73 g, and 0.11 g of the vanilla's
    seeds, in 1322.8 g less 4 % = 1269.9 g: 19.67 %. Mousse: 380 of it = 74.76 g, 500 cream = 180.4 g, gelatine 0.01 g:
    255.17 g in 380 + 115 + 12.5 + 62 + 500 = 1069.5 g.
    """
    label = label_of(RecipeRef("creams/honey-mousse"), demo, figures)
    fat = next(row.exact_per_100.value for row in label.nutrition.rows if row.key == "fat")
    assert fat is not None
    assert abs(fat - Decimal("23.86")) < Decimal("0.01")
    # 62 g of water were added and the anglaise boiled 4 % of 395.8 g off: 46.2 g are left, 4.3 %, and left out
    names = ["".join(phrase.text for phrase in one.name) for one in label.declaration.ingredients]
    assert names[:5] == ["cream (milk)", "whole milk", "honey", "egg yolk", "sugar"]
    assert "water" not in names

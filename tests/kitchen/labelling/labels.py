"""Labels of small books: the label of a book's last recipe, and its entries as plain pairs."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.label import label_of
from bookmaker.kitchen.label_figures import Ingredient, LabelFigure, NutritionRow
from bookmaker.model.book import Book
from bookmaker.model.house import Additives, Compounds, House, LabelRules, Packed, Region
from bookmaker.model.recipe import ClientText, Recipe
from bookmaker.model.stores import StoresItem
from tests.support import make

ON = date(2026, 11, 1)
FLOUR = make.item("flour", label="wheat flour", contains=frozenset({"wheat"}))
BUTTER = make.item("butter", contains=frozenset({"milk"}))
EGG = make.item("egg", contains=frozenset({"eggs"}))
WATER = make.item("water", water="1")


def house(
    region: Region = Region.EU,
    compounds: Compounds = Compounds.MERGED,
    additives: Additives = Additives.NAMES,
    packed: Packed = Packed.ELSEWHERE,
    **more: Any,
) -> House:
    """A house that labels in this way."""
    rules = LabelRules(compounds=compounds, additives=additives, packed=packed)
    return make.house(region=region, labels=rules, **more)


def label(book: Book) -> LabelFigure:
    """That of the book's last recipe."""
    return label_of(list(book.recipes)[-1], book, compute(book, ON))


def label_in(
    *recipes: Recipe, stores: Iterable[StoresItem] = (), prices: Iterable[Any] = (), **how: Any
) -> LabelFigure:
    """The label of the last of these recipes, in a house that labels so."""
    usual = {each.id: each for each in (FLOUR, BUTTER, EGG, WATER)}
    shelf = usual | {each.id: each for each in stores}
    return label(make.book(*recipes, stores=shelf.values(), prices=prices, own=house(**how)))


def product(lines: Iterable[Any], yields: Any, *, named: tuple[str, ...] = (), **more: Any) -> Recipe:
    """A product of these lines."""
    client = replace(more.pop("client", ClientText()), named=named)
    return make.recipe(more.pop("path", "cake"), lines, yields, client=client, **more)


def names(found: LabelFigure) -> list[str]:
    """The entries of the list by their bare names."""
    return [name_of(each) for each in found.declaration.ingredients]


def name_of(one: Ingredient) -> str:
    """An entry's name, allergens not set apart."""
    return "".join(phrase.text for phrase in one.name)


def share(found: LabelFigure, name: str) -> Decimal:
    """The share by which an entry is ordered."""
    return next(each.share for each in found.declaration.ingredients if name_of(each) == name)


def row(found: LabelFigure, key: str) -> NutritionRow:
    """A row of the nutrition table."""
    return next(each for each in found.nutrition.rows if each.key == key)

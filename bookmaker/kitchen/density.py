"""What a gram takes up: of an item, by what it consists of; of a recipe, as it is stated or as its content adds up.

Volumes of a food's parts add up nearly: densities at 20 °C by the equations of Choi and Okos (Effects of temperature
and composition on the thermal properties of foods, 1986), coefficients as open implementations print them. Air is in
no composition, so what is reckoned so is the least volume: a mousse takes up more, never less.
"""

from collections.abc import Mapping
from decimal import Decimal

from bookmaker.kitchen.content import water_share
from bookmaker.kitchen.masses import Flows
from bookmaker.kitchen.parts import part_of
from bookmaker.measures.exact import HUNDRED, ONE, ZERO
from bookmaker.model.book import Book
from bookmaker.model.refs import StoresRef, Target
from bookmaker.model.stores import StoresItem

WATER = Decimal("0.9957")
PROTEIN = Decimal("1.3195")
FAT = Decimal("0.9172")
CARBOHYDRATE = Decimal("1.5929")
ASH = Decimal("2.4182")
ALCOHOL = Decimal("0.7893")
"""g/ml at 20 °C; ethanol after the International Alcoholometric Tables (OIML R 22)."""


def stated_density(target: Target, book: Book) -> Decimal | None:
    """g/ml as the stores or the recipe say it; None where nobody does."""
    if isinstance(target, StoresRef):
        return book.stores[target.id].density
    part = part_of(target, book)
    return None if part is None else book.recipes[part].density


def least_volume(target: Target, book: Book, flows: Flows) -> Decimal:
    """Millilitres that a gram takes up at least: as stated, else without any air in it."""
    if isinstance(target, StoresRef):
        return item_volume(book.stores[target.id])
    stated = stated_density(target, book)
    part = part_of(target, book)
    assert part is not None
    return ONE / stated if stated else content_volume(flows[part].content, book)


def content_volume(content: Mapping[StoresRef, Decimal], book: Book) -> Decimal:
    """Millilitres of a gram that holds so many ingoing grams of each item; what is over one gram has gone as water."""
    gone = max(sum(content.values(), ZERO) - ONE, ZERO)
    volume = sum((grams * item_volume(book.stores[item.id]) for item, grams in content.items()), ZERO)
    return max(volume - gone / WATER, ONE / ASH)


def item_volume(item: StoresItem) -> Decimal:
    """Millilitres of a gram of an item, air between its grains left out. What nobody knows of it is taken as sugar, the
    densest that there is much of.
    """
    water = water_share(item)
    nutrients = item.nutrients
    parts = [
        (water, WATER),
        (item.composition.alcohol, ALCOHOL),
        (item.composition.fat if nutrients is None else _share(nutrients.fat), FAT),
        (item.composition.sugars if nutrients is None else _share(nutrients.carbohydrate), CARBOHYDRATE),
        (None if nutrients is None else _share(nutrients.protein), PROTEIN),
        (None if nutrients is None else _share(nutrients.salt), ASH),
    ]
    known = [(share, density) for share, density in parts if share]
    rest = max(ONE - sum((share for share, _ in known), ZERO), ZERO)
    return sum((share / density for share, density in known), ZERO) + rest / CARBOHYDRATE


def _share(per_100: Decimal | None) -> Decimal | None:
    return None if per_100 is None else per_100 / HUNDRED

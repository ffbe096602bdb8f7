"""Which list of its own a bought item is declared with, where suppliers' articles may differ."""

from collections.abc import Iterable
from dataclasses import dataclass

from bookmaker.model.book import Book
from bookmaker.model.stores import MadeOf, StoresItem, heaviest_first


@dataclass(frozen=True, slots=True)
class Stuff:
    """How an item is declared: name, own list, allergens. Items of equal stuff are one ingredient."""

    label: str
    category: str
    number: str
    made_of: tuple[MadeOf, ...]
    allergens: frozenset[str]
    by_law: bool = False
    water: bool = False


def stuff_of(item: StoresItem, allergens: Iterable[str]) -> Stuff:
    """What is declared of an item that contains `allergens`."""
    additive = item.additive
    return Stuff(
        label=item.label,
        category=additive.category if additive else "",
        number=additive.number if additive else "",
        made_of=heaviest_first(_list_of(item)),
        allergens=frozenset(allergens),
        by_law=item.defined_by_law,
        water=is_water(item),
    )


def is_water(item: StoresItem) -> bool:
    """Whether the item is nothing but water: added water, by law."""
    return item.composition.water == 1 and not item.made_of and item.additive is None


def depends_on_article(item: StoresItem, book: Book) -> bool:
    """Whether articles that the house may buy would be declared differently, and none is pinned."""
    return bool(item.articles) and item.differs_by_article(
        (price.supplier, price.code) for price in book.prices.get(item.id, ())
    )


def _list_of(item: StoresItem) -> tuple[MadeOf, ...]:
    pinned = next((each for each in item.articles if (each.supplier, each.code) == item.labelled_as), None)
    return item.made_of if pinned is None or pinned.made_of is None else pinned.made_of

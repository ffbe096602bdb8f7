"""Which list of its own a bought item is declared with, where suppliers' articles may differ."""

from dataclasses import dataclass

from bookmaker.kitchen.allergens import item_allergens
from bookmaker.kitchen.law import declared_as
from bookmaker.model.book import Book
from bookmaker.model.stores import Article, MadeOf, StoresItem


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


def stuff_of(item: StoresItem, book: Book) -> Stuff:
    """What is declared of an item."""
    additive = item.additive
    return Stuff(
        label=item.label,
        category=additive.category if additive else "",
        number=additive.number if additive else "",
        made_of=_in_order(_list_of(item)),
        allergens=frozenset(item_allergens(item, book).contains),
        by_law=item.defined_by_law,
        water=is_water(item),
    )


def is_water(item: StoresItem) -> bool:
    """Whether the item is nothing but water: added water, by law."""
    return item.composition.water == 1 and not item.made_of and item.additive is None


def depends_on_article(item: StoresItem, book: Book) -> bool:
    """Whether articles that the house may buy would be declared differently, and none is pinned."""
    if item.labelled_as is not None or not item.articles:
        return False
    own = {(each.supplier, each.code): each for each in item.articles}
    bought = {(price.supplier, price.code) for price in book.prices.get(item.id, ())}
    declared = {_declared(item, own.get(key)) for key in own.keys() | bought}
    return len(declared) > 1


def _declared(item: StoresItem, article: Article | None) -> tuple[tuple[str, ...], frozenset[str] | None]:
    made_of = item.made_of if article is None or article.made_of is None else article.made_of
    contains = item.contains if article is None or article.contains is None else article.contains
    names = tuple(part.name for part in _in_order(made_of))
    return names, None if contains is None else declared_as(contains)


def _list_of(item: StoresItem) -> tuple[MadeOf, ...]:
    pinned = next((each for each in item.articles if (each.supplier, each.code) == item.labelled_as), None)
    return item.made_of if pinned is None or pinned.made_of is None else pinned.made_of


def _in_order(made_of: tuple[MadeOf, ...]) -> tuple[MadeOf, ...]:
    """By weight where every share is known; else as the supplier wrote them, who must keep the same order."""
    if any(part.share is None for part in made_of):
        return made_of
    return tuple(sorted(made_of, key=lambda part: -(part.share or 0)))

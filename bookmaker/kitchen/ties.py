"""How the recipes of a book hang together: what each draws on, and, read the other way, who uses what."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from bookmaker.kitchen.parts import components_of
from bookmaker.model.book import Book
from bookmaker.model.line import Unmeasured
from bookmaker.model.recipe import Recipe, Status
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef


@dataclass(frozen=True, slots=True)
class Ties:
    """What one recipe draws on, each thing once and in the order of its lines.

    `components` are the recipes made for it, `co_products` what it takes of others by recipe and name, `items` the
    stores items that it names (as an alternative and as packaging, too), `paid` those that it pays for.
    """

    components: tuple[RecipeRef, ...]
    co_products: tuple[tuple[str, str], ...]
    items: tuple[str, ...]
    paid: tuple[str, ...]


def ties_of(recipe: Recipe, book: Book) -> Ties:
    """What a recipe draws on. A retired recipe pays for nothing any more."""
    lines = recipe.lines
    named = [target for line in lines for target in (line.target, *line.alternatives)]
    packed = [wrap.target for wrap in recipe.packaging]
    paid = [line.target for line in lines if not isinstance(line.quantity, Unmeasured)] + packed
    taken = [line.target for line in lines if isinstance(line.target, CoProductRef)]
    return Ties(
        components=components_of(recipe, book),
        co_products=tuple(dict.fromkeys((target.recipe.id, target.name) for target in taken)),
        items=_items([*named, *packed]),
        paid=() if recipe.status is Status.RETIRED else _items(paid),
    )


def _items(targets: Iterable[object]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(target.id for target in targets if isinstance(target, StoresRef)))


@dataclass(frozen=True, slots=True)
class Users:
    """Who uses what, in the book's order of making.

    `of_recipes` draw on a recipe or on what it gives beside its product, `of_co_products` take that (by the parent's
    id and the co-product's name), `of_items` name a stores item; `paying` is the first that pays for an item.
    """

    of_recipes: Mapping[RecipeRef, tuple[RecipeRef, ...]]
    of_co_products: Mapping[tuple[str, str], tuple[RecipeRef, ...]]
    of_items: Mapping[StoresRef, tuple[RecipeRef, ...]]
    paying: Mapping[str, RecipeRef]


def users_of(ties: Mapping[RecipeRef, Ties]) -> Users:
    """The ties of all recipes, read the other way; items by name."""
    recipes: dict[RecipeRef, list[RecipeRef]] = {}
    co_products: dict[tuple[str, str], list[RecipeRef]] = {}
    items: dict[str, list[RecipeRef]] = {}
    paying: dict[str, RecipeRef] = {}
    for ref, drawn in ties.items():
        for part in drawn.components:
            recipes.setdefault(part, []).append(ref)
        for taken in drawn.co_products:
            co_products.setdefault(taken, []).append(ref)
        for item in drawn.items:
            items.setdefault(item, []).append(ref)
        for item in drawn.paid:
            paying.setdefault(item, ref)
    return Users(
        {part: tuple(users) for part, users in recipes.items()},
        {taken: tuple(users) for taken, users in co_products.items()},
        {StoresRef(item): tuple(items[item]) for item in sorted(items)},
        {item: paying[item] for item in sorted(paying)},
    )

"""Which allergens a recipe contains and may contain, and by which way each comes in.

The union over everything that may go in: all lines, also optional ones, what is taken to taste or as needed,
alternatives, release agents, and coatings of which most goes back; every article that the house may buy; and up
through all components. Packaging is no ingredient. The lists stand in `law`; laws change, so check against the local
law.

Sulphites stated by weight count for an item that holds more than 10 mg/kg. The law counts them in the product as
eaten; that a little of such an item is diluted below the threshold is not reckoned, so that rather too much is
declared than too little. Nor is it reckoned that boiling down brings an item above it: who boils down wine or vinegar
of less writes `sulphites` into its `contains`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from bookmaker.kitchen.figures import THE_HOUSE, AllergenFigure, Path
from bookmaker.kitchen.law import declared_as, in_order, sulphites_declared
from bookmaker.kitchen.parts import is_seed, sources_of
from bookmaker.model.book import Book
from bookmaker.model.house import Region
from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target
from bookmaker.model.stores import StoresItem, StoresKind

NOTHING = AllergenFigure({}, {})

_Ways = dict[str, dict[Path, None]]


@dataclass(frozen=True, slots=True)
class _Found:
    """What has been found so far; the inner dicts keep each way once, in the order it was met."""

    contains: _Ways = field(default_factory=dict)
    may_contain: _Ways = field(default_factory=dict)
    undeclared: dict[Path, None] = field(default_factory=dict)

    def add(self, figure: AllergenFigure, through: Path) -> None:
        """Take in the allergens of a part that is reached through `through`."""
        for into, ways in ((self.contains, figure.contains), (self.may_contain, figure.may_contain)):
            for name, paths in ways.items():
                # the house's own cross contact is added once, at the top
                into.setdefault(name, {}).update(
                    dict.fromkeys((*through, *path) for path in paths if path != THE_HOUSE)
                )
        self.undeclared.update(dict.fromkeys((*through, *path) for path in figure.undeclared))


def allergens_of(recipe: Recipe, book: Book, done: Mapping[RecipeRef, AllergenFigure]) -> AllergenFigure:
    """The recipe's allergens; `done` holds those of the recipes that stand before it. A moulding recipe is no food:
    none.
    """
    if recipe.kind is Kind.MOULDING:
        return NOTHING
    found = _Found()
    for line in recipe.lines:
        if is_seed(line, recipe, book):
            continue
        for target in (line.target, *line.alternatives):
            for through, figure in _parts(target, book, done):
                found.add(figure, through)
    for name in declared_as(book.house.cross_contact_allergens):
        found.may_contain.setdefault(name, {})[THE_HOUSE] = None
    region = book.house.region
    may = (name for name, ways in found.may_contain.items() if ways and name not in found.contains)
    return AllergenFigure(
        contains={name: tuple(found.contains[name]) for name in in_order(found.contains, region)},
        may_contain={name: tuple(found.may_contain[name]) for name in in_order(may, region)},
        undeclared=tuple(found.undeclared),
    )


def _parts(
    target: Target, book: Book, done: Mapping[RecipeRef, AllergenFigure]
) -> Iterable[tuple[Path, AllergenFigure]]:
    match target:
        case StoresRef(id):
            yield (), item_allergens(book.stores[id], book)
        case CoProductRef():
            for source in sources_of(target, book):
                yield (target, source), done[source]
        case RecipeRef():
            ref = book.sized(target)
            yield (ref,), done[ref]


def item_allergens(item: StoresItem, book: Book) -> AllergenFigure:
    """One item's allergens over all its permitted articles; the way is the item alone.

    Permitted are the articles of the price list, on any date, and those that the item describes. An article that says
    nothing of its own is as the item. The item's own declaration counts too, unless every permitted article has its
    own.
    """
    if item.kind is not StoresKind.FOOD:
        return NOTHING
    way: Path = (StoresRef(item.id),)
    contains, declared = _over_articles(item, book)
    if item.sulphites is not None and sulphites_declared(item.sulphites):
        contains |= {"sulphites"}
    contains = declared_as(contains) - declared_as(_exempt(item, book.house.region))
    may = item.may_contain.union(*(article.may_contain or () for article in item.articles))
    return AllergenFigure(
        contains=dict.fromkeys(contains, (way,)),
        may_contain=dict.fromkeys(declared_as(may), (way,)),
        undeclared=() if declared else (way,),
    )


def _over_articles(item: StoresItem, book: Book) -> tuple[frozenset[str], bool]:
    """The union over permitted articles, and whether all of them are declared."""
    own = {(each.supplier, each.code): each.contains for each in item.articles}
    bought = {(price.supplier, price.code) for price in book.prices.get(item.id, ())}
    as_item = not own or any(own.get(key) is None for key in own.keys() | bought)
    union = frozenset[str]().union(*(contains for contains in own.values() if contains is not None))
    return union | (item.contains or frozenset()) if as_item else union, item.contains is not None or not as_item


def _exempt(item: StoresItem, region: Region) -> frozenset[str]:
    return frozenset[str]().union(*(names for name, names in item.exempt if name == region))

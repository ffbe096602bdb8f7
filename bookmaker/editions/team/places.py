"""Where everything of a book stands in the edition: names and routes of recipes, stores and sections."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from bookmaker.editions.team.routes import Collision, collisions, fold, fold_path
from bookmaker.editions.team.views import Link, Route
from bookmaker.model.book import Book
from bookmaker.model.recipe import Kind, Recipe, Status
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target

FRONT = Route("", "index")
STORES = Route("stores", "index")
COMPONENTS = Route("", "components")
ALLERGENS = Route("", "allergens")
COSTS = Route("", "costs")
BY_NAME = Route("", "by-name")
BY_INGREDIENT = Route("", "by-ingredient")
GLOSSARY = Route("", "glossary")
CAUTIONS = Route("", "cautions")
ABOUT = Route("", "about")

_KIND_ORDER = tuple(Kind)


@dataclass(frozen=True, slots=True)
class Places:
    """Names and routes by what they belong to."""

    names: Mapping[Target, str]
    routes: Mapping[Target, Route]
    sections: Mapping[str, Link]

    def link(self, target: Target, place: str = "") -> Link:
        """The name of `target` and its page."""
        route = self.routes.get(target)
        return Link(self.names[target], route.at(place) if route and place else route)

    def links(self, targets: Iterable[Target]) -> tuple[Link, ...]:
        """Links in the order of their names, each once."""
        found = {self.link(target) for target in targets}
        return tuple(sorted(found, key=lambda link: link.name.casefold()))

    def working(self, ref: RecipeRef, place: str = "") -> Route:
        """The page that shows the recipe's working."""
        route = self.routes[ref]
        return Route("working" + route.folder.removeprefix("recipes"), route.stem, place)


def places_of(book: Book) -> Places:
    """Every name and route of the book."""
    names: dict[Target, str] = {}
    routes: dict[Target, Route] = {}
    for ref in book.recipes:
        names[ref] = book.name(ref)
        routes[ref] = recipe_route(ref, book)
        bare = RecipeRef(ref.id)
        names.setdefault(bare, book.recipes[ref].title)
        routes[bare] = recipe_route(book.sized(bare), book)
        for given in book.recipes[ref].gives:
            for owner in (ref, bare):
                co_product = CoProductRef(owner, given.name)
                names[co_product] = given.name
                routes.setdefault(co_product, routes[owner].at("gives"))
    for item in book.stores:
        names[StoresRef(item)] = item
        routes[StoresRef(item)] = Route("stores", fold(item))
    sections = {
        section: Link(heading, Route(_folder(section), "index")) for section, heading in _headings(book).items()
    }
    return Places(names, routes, sections)


def recipe_route(ref: RecipeRef, book: Book) -> Route:
    """A recipe's page; its first size has the recipe's own page, the others one each beside it."""
    folder, stem = fold_path(ref.id)
    sizes = book.sizes.get(ref.id, ())
    if ref.size and sizes and ref.size != sizes[0]:
        stem += f"-{fold(ref.size)}"
    return Route(f"recipes/{folder}" if folder else "recipes", stem)


def route_collisions(book: Book) -> tuple[Collision, ...]:
    """Things that would be written to the same page: mistakes of the book, to be reported before projecting."""
    return collisions(_named(book))


def in_order(book: Book) -> tuple[RecipeRef, ...]:
    """Recipes as the book has them: by section, products before components, then by title; sizes as written."""
    sections = list(_headings(book))

    def rank(ref: RecipeRef) -> tuple[int, int, str, int]:
        recipe = book.recipes[ref]
        sizes = book.sizes.get(ref.id, ())
        size = sizes.index(ref.size) if ref.size in sizes else 0
        return sections.index(recipe.section), _KIND_ORDER.index(recipe.kind), recipe.title.casefold(), size

    return tuple(sorted(book.recipes, key=rank))


def is_listed(recipe: Recipe) -> bool:
    """Whether indexes and lists name it: retired recipes keep a page, outside the indexes."""
    return recipe.status is not Status.RETIRED


def _headings(book: Book) -> dict[str, str]:
    """Section folders in the house's order, then the others by name, each with its heading."""
    used = sorted({recipe.section for recipe in book.recipes.values()})
    named = dict(book.house.sections)
    ordered = [*(section for section in named if section in used), *(s for s in used if s not in named)]
    return {section: named.get(section) or _heading(section) for section in ordered}


def _heading(section: str) -> str:
    words = section.rsplit("/", 1)[-1].replace("-", " ").replace("_", " ")
    return words[:1].upper() + words[1:] if words else "Recipes"


def _folder(section: str) -> str:
    return "/".join(["recipes", *(fold(part) for part in section.split("/") if part)])


def _named(book: Book) -> Iterator[tuple[str, Route]]:
    for section, heading in _headings(book).items():
        yield heading, Route(_folder(section), "index")
    yield "stores", STORES
    for ref in book.recipes:
        yield book.name(ref), recipe_route(ref, book)
    for item in book.stores:
        yield item, Route("stores", fold(item))

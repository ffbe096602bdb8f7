"""Where everything of a book stands in the edition: names and routes of recipes, stores and sections."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

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
    """Names and routes by what they belong to; `spelt` is what a name in small letters stands for.

    `listed` are the recipes that indexes and lists name: retired ones keep a page outside them.
    """

    names: Mapping[Target, str]
    routes: Mapping[Target, Route]
    sections: Mapping[str, Link]
    spelt: Mapping[str, Target]
    listed: Collection[RecipeRef]

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


@dataclass(frozen=True, slots=True)
class Entry:
    """A recipe in one size as far as it takes to place it; `gives` names its co-products."""

    title: str
    section: str
    kind: Kind
    status: Status
    gives: tuple[str, ...] = ()


def entry_of(recipe: Recipe) -> Entry:
    """A recipe's entry in the contents."""
    return Entry(recipe.title, recipe.section, recipe.kind, recipe.status, tuple(each.name for each in recipe.gives))


@dataclass(frozen=True, slots=True)
class Contents:
    """What there is in a book. `headings` are the sections' as the house names and orders them."""

    recipes: Mapping[RecipeRef, Entry]
    sizes: Mapping[str, tuple[str, ...]]
    stores: tuple[str, ...]
    headings: tuple[tuple[str, str], ...]

    def places(self) -> Places:
        """Every name and route of the book."""
        names: dict[Target, str] = {}
        for ref, entry in self.recipes.items():
            names[ref] = self._name(ref)
            bare = RecipeRef(ref.id)
            names.setdefault(bare, entry.title)
            for given in entry.gives:
                names[CoProductRef(ref, given)] = names[CoProductRef(bare, given)] = given
        names |= {StoresRef(item): item for item in self.stores}
        sections = {
            section: Link(heading, Route(_folder(section), "index")) for section, heading in self._headings().items()
        }
        spelt = {name.casefold(): target for target, name in names.items()}
        listed = frozenset(ref for ref, entry in self.recipes.items() if entry.status is not Status.RETIRED)
        return Places(names, _Routes(self, names), sections, spelt, listed)

    def in_order(self) -> tuple[RecipeRef, ...]:
        """Recipes as the book has them: by section, products before components, then by title; sizes as written."""
        sections = {section: number for number, section in enumerate(self._headings())}

        def rank(ref: RecipeRef) -> tuple[int, int, str, int]:
            entry = self.recipes[ref]
            sizes = self.sizes.get(ref.id, ())
            size = sizes.index(ref.size) if ref.size in sizes else 0
            return sections[entry.section], _KIND_ORDER.index(entry.kind), entry.title.casefold(), size

        return tuple(sorted(self.recipes, key=rank))

    def collisions(self) -> tuple[Collision, ...]:
        """Things that would be written to the same page: mistakes of the book, to be reported before projecting."""
        return collisions(self._named())

    def route(self, ref: RecipeRef) -> Route:
        """A recipe's page; its first size has the recipe's own page, the others one each beside it."""
        folder, stem = fold_path(ref.id)
        sizes = self.sizes.get(ref.id, ())
        if ref.size and sizes and ref.size != sizes[0]:
            stem += f"-{fold(ref.size)}"
        return Route(f"recipes/{folder}" if folder else "recipes", stem)

    def _name(self, ref: RecipeRef) -> str:
        title = self.recipes[ref].title
        return f"{title} ({ref.size})" if ref.size else title

    def _headings(self) -> dict[str, str]:
        """Section folders in the house's order, then the others by name, each with its heading."""
        used = sorted({entry.section for entry in self.recipes.values()})
        named = dict(self.headings)
        ordered = [*(section for section in named if section in used), *(s for s in used if s not in named)]
        return {section: named.get(section) or _heading(section) for section in ordered}

    def _named(self) -> Iterator[tuple[str, Route]]:
        for section, heading in self._headings().items():
            yield heading, Route(_folder(section), "index")
        yield "stores", STORES
        for ref in self.recipes:
            yield self._name(ref), self.route(ref)
        for item in self.stores:
            yield item, Route("stores", fold(item))


def contents_of(book: Book) -> Contents:
    """What there is in a book."""
    recipes = {ref: entry_of(recipe) for ref, recipe in book.recipes.items()}
    return Contents(recipes, book.sizes, tuple(book.stores), book.house.sections)


def places_of(book: Book) -> Places:
    """Every name and route of the book."""
    return contents_of(book).places()


@dataclass(frozen=True, slots=True)
class _Routes(Mapping[Target, Route]):
    """Routes, worked out when somebody asks; what has a name has a page."""

    contents: Contents
    names: Mapping[Target, str]
    known: dict[Target, Route] = field(default_factory=dict)

    def __getitem__(self, target: Target) -> Route:
        found = self.known.get(target)
        if found is None:
            if target not in self.names:
                raise KeyError(target)
            found = self.known[target] = self._route(target)
        return found

    def __iter__(self) -> Iterator[Target]:
        return iter(self.names)

    def __len__(self) -> int:
        return len(self.names)

    def _route(self, target: Target) -> Route:
        match target:
            case StoresRef(item):
                return Route("stores", fold(item))
            case CoProductRef(owner):
                return self[owner].at("gives")
            case RecipeRef(id, ""):
                sizes = self.contents.sizes.get(id, ())
                return self.contents.route(RecipeRef(id, sizes[0]) if sizes else target)
            case _:
                return self.contents.route(target)


def _heading(section: str) -> str:
    words = section.rsplit("/", 1)[-1].replace("-", " ").replace("_", " ")
    return words[:1].upper() + words[1:] if words else "Recipes"


def _folder(section: str) -> str:
    return "/".join(["recipes", *(fold(part) for part in section.split("/") if part)])

"""The whole book: every document read by itself, then all of them bound together.

The two are strictly apart. `read_documents` depends on each file alone, so what it gives can be kept by the digest of a
file's text; `bind_book` looks at everything and reads nothing.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from bookmaker.model.book import Book, Caution
from bookmaker.model.house import House
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef
from bookmaker.model.stores import Price, StoresItem
from bookmaker.model.written.recipe import WrittenRecipe
from bookmaker.problems.anchors import Anchor, SourceMap
from bookmaker.problems.problem import Problem, problem
from bookmaker.reading.binding import Bound, bind
from bookmaker.reading.cautions import read_cautions
from bookmaker.reading.documents import (
    Read,
    cautions_in,
    glossary_in,
    has_us_measures,
    house_in,
    prices_in,
    register_in,
    stores_in,
)
from bookmaker.reading.files import Document, Folder, read_folder
from bookmaker.reading.furnishing import Room, link_advice
from bookmaker.reading.glossary import Glossary, spelt
from bookmaker.reading.names import Names
from bookmaker.reading.names import gather as gather_names
from bookmaker.reading.order import cycle_problem, needs_of, order_of
from bookmaker.reading.prices import bind_prices
from bookmaker.reading.quantities import Shelf
from bookmaker.reading.recipe import RecipeDocument, written_recipe
from bookmaker.reading.register import Issued, bind_register
from bookmaker.reading.stores import bind_cautions, claimed_names
from bookmaker.reading.stores import gather as gather_stores
from bookmaker.reading.uniqueness import check_codes, check_tags
from bookmaker.reading.walk import HOUSE, STORES

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Reading:
    """A book as far as it could be read, everything that is wrong with it, and its texts for showing where.

    `book` is None only where there is no recipe and no house at all; recipes that cannot be computed, and those
    made from them, are not in it.
    """

    book: Book | None
    problems: tuple[Problem, ...]
    sources: Mapping[str, SourceMap]


@dataclass(slots=True)
class Documents:
    """Every document of a book, read by itself; `claimed` are names of items in stores files that cannot be read."""

    house: House | None = None
    stores: list[tuple[StoresItem, ...]] = field(default_factory=list)
    prices: tuple[Price, ...] = ()
    cautions: Mapping[str, Caution] = field(default_factory=dict)
    glossary: Glossary | None = None
    issued: tuple[Issued, ...] = ()
    recipes: list[RecipeDocument] = field(default_factory=list)
    unread: tuple[str, ...] = ()
    claimed: dict[str, tuple[str, ...]] = field(default_factory=dict)
    files: frozenset[str] = frozenset()
    problems: list[Problem] = field(default_factory=list)
    sources: dict[str, SourceMap] = field(default_factory=dict)


def read_book(folder: Path, skip: Path | None = None) -> Reading:
    """Read the book in `folder`; `skip` is the output folder, if it lies inside."""
    found, problems = read_folder(folder, skip)
    documents = read_documents(found)
    book, in_binding = bind_book(documents)
    every = dict.fromkeys((*problems, *documents.problems, *in_binding))
    return Reading(book, tuple(every), documents.sources)


def read_documents(folder: Folder) -> Documents:
    """Read every document by itself."""
    documents = Documents(files=folder.other, unread=tuple(each.name for each in folder.unread))
    for unread in folder.unread:
        documents.sources[unread.name] = SourceMap(unread.name, unread.text, {(): (0, len(unread.text))})
        if unread.name.startswith(f"{STORES}/"):
            documents.claimed[unread.name] = claimed_names(unread.text)
    if house := folder.house:
        documents.house = _taken(house_in(house), house, documents).value
    documents.problems += no_house(folder)
    if cautions := folder.cautions:
        documents.cautions = _taken(cautions_in(cautions), cautions, documents).value
    else:
        documents.cautions, _ = read_cautions(None)
    for each in folder.stores:
        found = _taken(stores_in(each), each, documents).value
        if found.items is None:
            documents.claimed[each.name] = found.claimed
        else:
            documents.stores.append(found.items)
    if prices := folder.prices:
        us = has_us_measures(documents.house)
        documents.prices = _taken(prices_in(prices, us=us), prices, documents).value
    if glossary := folder.glossary:
        documents.glossary = _taken(glossary_in(glossary), glossary, documents).value
    if register := folder.register:
        documents.issued = _taken(register_in(register), register, documents).value
    for each in folder.recipes:
        read = written_recipe(each.name, each.text)
        documents.recipes.append(read)
        documents.problems += read.problems
        documents.sources[each.name] = read.source
    return documents


def _taken(read: Read[T], document: Document, documents: Documents) -> Read[T]:
    documents.problems += read.problems
    documents.sources[document.name] = read.source(document)
    return read


def no_house(folder: Folder) -> list[Problem]:
    """A book without a house. Problems: `no-house`."""
    if folder.house is not None or any(each.name == HOUSE for each in folder.unread):
        return []
    return [problem("no-house", Anchor(HOUSE))]


@dataclass(frozen=True, slots=True)
class Larder:
    """The stores with their prices, bound to each other."""

    stores: Mapping[str, StoresItem]
    prices: Mapping[str, tuple[Price, ...]]


def bind_larder(
    stores: Sequence[Sequence[StoresItem]],
    prices: Sequence[Price],
    cautions: Mapping[str, Caution],
    house: House,
    claimed: Iterable[str],
) -> tuple[Larder, list[Problem]]:
    """All files' items, their cautions, and their prices; `claimed` are names in files that cannot be read."""
    gathered, problems = gather_stores(stores)
    bound, more = bind_cautions(gathered, cautions)
    listed, still_more = bind_prices(prices, bound, house, claimed)
    return Larder(bound, listed), [*problems, *more, *still_more]


def bind_names(
    stores: Mapping[str, StoresItem], written: Sequence[WrittenRecipe], claims: Mapping[str, Iterable[str]]
) -> tuple[Names, list[Problem]]:
    """Everything that recipes may name, and what must be unique among them."""
    names, problems = gather_names(stores, written, claims)
    return names, [*problems, *check_codes(written), *check_tags(written)]


def bind_book(documents: Documents) -> tuple[Book | None, list[Problem]]:
    """Bind all documents to one book. A cause is reported where it is, not at those who depend on it."""
    house = documents.house or House("")
    claimed = [name for each in documents.claimed.values() for name in each]
    larder, problems = bind_larder(documents.stores, documents.prices, documents.cautions, house, claimed)
    written = [each.recipe for each in documents.recipes if each.recipe]
    claims = {each.source.document: each.claims for each in documents.recipes if each.recipe is None}
    claims |= {name: (stem(name),) for name in documents.unread} | documents.claimed
    names, more = bind_names(larder.stores, written, claims)
    problems += more
    files = frozenset(each.source.document for each in documents.recipes) | frozenset(documents.unread)
    by_ref = _by_ref(written)
    shelf = Shelf(names, larder.stores, by_ref, house)
    room = Room(
        shelf,
        documents.cautions,
        files,
        documents.files,
        furnished=documents.house is not None,
        terms=spelt(documents.glossary.terms if documents.glossary else ()),
    )
    bound = {
        RecipeRef(each.id, each.size): bind(each, room) for recipe in written for each in recipe.sizes or (recipe,)
    }
    problems += [found for each in bound.values() for found in each.problems]
    recipes, more = _ordered(bound, by_ref)
    problems += more
    problems += glossary_problems(documents.glossary, files)
    titles = {ref: by_ref[ref].title.text for ref in bound}
    register, more = bind_register(documents.issued, titles, unread_recipes(files, (each.id for each in written)))
    problems += more
    if documents.house is None and not written:
        return None, problems
    book = Book(
        house=house,
        stores=larder.stores,
        prices=larder.prices,
        recipes=recipes,
        sizes={
            recipe.id: tuple(size.size for size in recipe.sizes if RecipeRef(recipe.id, size.size) in recipes)
            for recipe in written
            if recipe.sizes
        },
        cautions=documents.cautions,
        glossary=documents.glossary.terms if documents.glossary else (),
        register=register,
    )
    return book, problems


def unread_recipes(files: Iterable[str], read: Iterable[str]) -> frozenset[str]:
    """The paths of recipes whose files could not be read."""
    return frozenset(name.removesuffix(".md") for name in files).difference(read)


def stem(document: str) -> str:
    """The name that a file which cannot be read probably bears."""
    return document.rpartition("/")[2].rpartition(".")[0].replace("-", " ")


def _by_ref(written: Sequence[WrittenRecipe]) -> dict[RecipeRef, WrittenRecipe]:
    found = {RecipeRef(recipe.id): recipe for recipe in written}
    return found | {RecipeRef(recipe.id, size.size): size for recipe in written for size in recipe.sizes}


def glossary_problems(glossary: Glossary | None, documents: frozenset[str]) -> list[Problem]:
    """The glossary's links that lead to no recipe file. Problems: `broken-link`."""
    return [
        problem(
            "broken-link",
            Anchor("glossary.md", (), *link.span),
            fix=link_advice(link.path, "glossary.md", documents),
            written=link.written,
        )
        for link in (glossary.links if glossary else ())
        if link.path not in documents
    ]


def _ordered(
    bound: Mapping[RecipeRef, Bound], written: Mapping[RecipeRef, WrittenRecipe]
) -> tuple[dict[RecipeRef, Recipe], list[Problem]]:
    """The recipes that can be computed, components first; cycles and recipes made from themselves are reported."""
    needs = {ref: needs_of(each.recipe, written) for ref, each in bound.items()}
    whole = {ref: each.recipe for ref, each in bound.items() if each.recipe and each.complete and not needs[ref].faults}
    order, cycles = order_of({ref: each.refs for ref, each in needs.items()}, whole)
    problems = [fault for each in needs.values() for fault in each.faults]
    problems += [
        cycle_problem(cycle, needs.__getitem__, lambda ref: written[RecipeRef(ref.id)].title.text) for cycle in cycles
    ]
    return {ref: whole[ref] for ref in order}, problems

"""The whole book: every document read by itself, then all of them bound together.

The two are strictly apart. `read_documents` depends on each file alone, so what it gives can be kept by the digest of a
file's text; `bind_book` looks at everything and reads nothing.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from bookmaker.measures.units import Spoons
from bookmaker.model.book import Book, Caution
from bookmaker.model.house import House, Region
from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target
from bookmaker.model.stores import StoresItem
from bookmaker.model.written.recipe import WrittenRecipe
from bookmaker.problems.anchors import Anchor, SourceMap
from bookmaker.problems.anchors import Path as TreePath
from bookmaker.problems.problem import Problem, Related, problem
from bookmaker.reading.binding import Bound, bind
from bookmaker.reading.cautions import read_cautions
from bookmaker.reading.files import HOUSE, STORES, Document, Folder, read_folder
from bookmaker.reading.furnishing import Room, link_advice
from bookmaker.reading.glossary import Glossary, read_glossary
from bookmaker.reading.graph import in_order
from bookmaker.reading.house import read_house
from bookmaker.reading.names import gather as gather_names
from bookmaker.reading.prices import PriceList, bind_prices, read_prices
from bookmaker.reading.quantities import Shelf
from bookmaker.reading.recipe import RecipeDocument, written_recipe
from bookmaker.reading.stores import bind_cautions, claimed_names, read_stores
from bookmaker.reading.stores import gather as gather_stores
from bookmaker.reading.tree import Tree, compose
from bookmaker.reading.uniqueness import check_codes, check_tags


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
    prices: PriceList | None = None
    cautions: Mapping[str, Caution] = field(default_factory=dict)
    glossary: Glossary | None = None
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
    _read_house(folder, documents)
    tree = _tree(folder.cautions, documents) if folder.cautions else None
    documents.cautions, problems = read_cautions(tree)
    documents.problems += problems
    for each in folder.stores:
        if tree := _tree(each, documents):
            items, problems = read_stores(tree)
            documents.stores.append(items)
            documents.problems += problems
        else:
            documents.claimed[each.name] = claimed_names(each.text)
    _read_lists(folder, documents)
    for each in folder.recipes:
        read = written_recipe(each.name, each.text)
        documents.recipes.append(read)
        documents.problems += read.problems
        documents.sources[each.name] = read.source
    return documents


def _tree(document: Document, documents: Documents) -> Tree | None:
    tree, problems = compose(document.text, document.name)
    documents.problems += problems
    spans: Mapping[TreePath, tuple[int, int]] = tree.spans if tree else {(): (0, len(document.text))}
    documents.sources[document.name] = SourceMap(document.name, document.text, spans)
    return tree


def _read_house(folder: Folder, documents: Documents) -> None:
    if folder.house is None:
        if not any(name == HOUSE for name in documents.unread):
            documents.problems.append(problem("no-house", Anchor(HOUSE)))
        return
    if tree := _tree(folder.house, documents):
        documents.house, problems = read_house(tree)
        documents.problems += problems


def _read_lists(folder: Folder, documents: Documents) -> None:
    """The price list and the glossary, which are no YAML."""
    if folder.prices:
        house = documents.house
        us = house is not None and (house.region is Region.US or house.spoons is Spoons.US)
        documents.prices, problems = read_prices(folder.prices, us=us)
        documents.problems += problems
        name = folder.prices.name
        documents.sources[name] = SourceMap(name, folder.prices.text, documents.prices.spans)
    if folder.glossary:
        documents.glossary, problems = read_glossary(folder.glossary)
        documents.problems += problems
        name = folder.glossary.name
        documents.sources[name] = SourceMap(name, folder.glossary.text, documents.glossary.spans)


def bind_book(documents: Documents) -> tuple[Book | None, list[Problem]]:
    """Bind all documents to one book. A cause is reported where it is, not at those who depend on it."""
    house = documents.house or House("")
    stores, problems = gather_stores(documents.stores)
    stores, more = bind_cautions(stores, documents.cautions)
    problems += more
    claimed = [name for each in documents.claimed.values() for name in each]
    prices, more = bind_prices(documents.prices.prices if documents.prices else (), stores, house, claimed)
    problems += more
    written = [each.recipe for each in documents.recipes if each.recipe]
    claims = {each.source.document: each.claims for each in documents.recipes if each.recipe is None}
    claims |= {name: (_stem(name),) for name in documents.unread} | documents.claimed
    names, more = gather_names(stores, written, claims)
    problems += more
    problems += [*check_codes(written), *check_tags(written)]
    files = frozenset(each.source.document for each in documents.recipes) | frozenset(documents.unread)
    shelf = Shelf(names, stores, _by_ref(written), house)
    room = Room(shelf, documents.cautions, files, documents.files, furnished=documents.house is not None)
    bound = {
        RecipeRef(each.id, each.size): bind(each, room) for recipe in written for each in recipe.sizes or (recipe,)
    }
    problems += [found for each in bound.values() for found in each.problems]
    recipes, more = _ordered(bound, {recipe.id: recipe for recipe in written})
    problems += more
    problems += _glossary_links(documents.glossary, files)
    if documents.house is None and not written:
        return None, problems
    book = Book(
        house=house,
        stores=stores,
        prices=prices,
        recipes=recipes,
        sizes={
            recipe.id: tuple(size.size for size in recipe.sizes if RecipeRef(recipe.id, size.size) in recipes)
            for recipe in written
            if recipe.sizes
        },
        cautions=documents.cautions,
        glossary=documents.glossary.terms if documents.glossary else (),
    )
    return book, problems


def _stem(document: str) -> str:
    return document.rpartition("/")[2].rpartition(".")[0].replace("-", " ")


def _by_ref(written: Sequence[WrittenRecipe]) -> dict[RecipeRef, WrittenRecipe]:
    found = {RecipeRef(recipe.id): recipe for recipe in written}
    return found | {RecipeRef(recipe.id, size.size): size for recipe in written for size in recipe.sizes}


def _glossary_links(glossary: Glossary | None, documents: frozenset[str]) -> list[Problem]:
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
    bound: Mapping[RecipeRef, Bound], written: Mapping[str, WrittenRecipe]
) -> tuple[dict[RecipeRef, Recipe], list[Problem]]:
    """The recipes that can be computed, components first; cycles and recipes made from themselves are reported."""
    graph = _Graph(bound, written)
    order, cycles = in_order({ref: graph.needs(ref) for ref in bound})
    problems = [*graph.problems, *(graph.cycle(each) for each in cycles)]
    spoilt = {ref for cycle in cycles for ref in cycle} | graph.spoilt
    kept: dict[RecipeRef, Recipe] = {}
    for ref in order:
        recipe, whole = bound[ref].recipe, bound[ref].complete and ref not in spoilt
        if recipe and whole and all(need in kept for need in graph.needs(ref)):
            kept[ref] = recipe
    return kept, problems


class _Graph:
    """Which recipe needs which others, by the lines of their formulas."""

    def __init__(self, bound: Mapping[RecipeRef, Bound], written: Mapping[str, WrittenRecipe]) -> None:
        self.bound = bound
        self.written = written
        self.problems: list[Problem] = []
        self.spoilt: set[RecipeRef] = set()
        self._needs = {ref: tuple(self._edges(ref)) for ref in bound}

    def needs(self, ref: RecipeRef) -> tuple[RecipeRef, ...]:
        """What must be made before `ref`, in the order of its lines."""
        return tuple(need for need, _ in self._needs[ref])

    def _edges(self, ref: RecipeRef) -> list[tuple[RecipeRef, Anchor]]:
        recipe = self.bound[ref].recipe
        edges = []
        for line in recipe.lines if recipe else ():
            for target in (line.target, *line.alternatives):
                need = self._of(target)
                if need is None:
                    continue
                if need.id != ref.id:
                    edges.append((need, line.anchor))
                elif recipe and (recipe.kind is not Kind.PREFERMENT or not isinstance(target, RecipeRef)):
                    self.spoilt.add(ref)
                    self.problems.append(problem("self-reference", line.anchor, title=recipe.title))
        return edges

    def _of(self, target: Target) -> RecipeRef | None:
        """The recipe that must be there for `target`, in the size that it stands for."""
        match target:
            case StoresRef():
                return None
            case CoProductRef(ref):
                return self._sized(ref)
            case RecipeRef():
                return self._sized(target)

    def _sized(self, ref: RecipeRef) -> RecipeRef:
        recipe = self.written.get(ref.id)
        return RecipeRef(ref.id, recipe.sizes[0].size) if recipe and recipe.sizes and not ref.size else ref

    def cycle(self, cycle: Sequence[RecipeRef]) -> Problem:
        """The cycle as a path of titles, at the line that opens it; the other lines are related."""
        pairs = list(zip(cycle, (*cycle[1:], cycle[0]), strict=True))
        anchors = [next(anchor for need, anchor in self._needs[ref] if need == below) for ref, below in pairs]
        titles = [self._title(ref) for ref in (*cycle, cycle[0])]
        related = [
            Related(anchor, f"{self._title(ref)} needs {self._title(below)}")
            for anchor, (ref, below) in list(zip(anchors, pairs, strict=True))[1:]
        ]
        return problem("cycle", anchors[0], related=related, path=" → ".join(titles))

    def _title(self, ref: RecipeRef) -> str:
        return self.written[ref.id].title.text

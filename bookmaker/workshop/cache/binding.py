"""Binding: each recipe anew only where its own text, or something that it looked up in the book, has changed."""

import marshal
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from bookmaker.editions.team.places import Contents, Entry
from bookmaker.model.house import House
from bookmaker.model.method import Method
from bookmaker.model.recipe import ClientText, Kind, Recipe, Status, Teaching
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target
from bookmaker.model.written.recipe import WrittenRecipe
from bookmaker.problems.anchors import NOWHERE
from bookmaker.problems.problem import Problem
from bookmaker.reading.binding import bind
from bookmaker.reading.book import bind_names, stem
from bookmaker.reading.furnishing import Room
from bookmaker.reading.glossary import spelt
from bookmaker.reading.names import Named, Names
from bookmaker.reading.order import Needs, cycle_problem, needs_of, order_of
from bookmaker.reading.quantities import Shelf
from bookmaker.workshop.cache.larder import KeptLarder
from bookmaker.workshop.cache.lazily import Lazily
from bookmaker.workshop.cache.ledger import BoundEntry, DocumentEntry, Ledger
from bookmaker.workshop.cache.library import Library, problem_bytes, problems_in, refs_in
from bookmaker.workshop.cache.notes import Changes, Notes, label, recipe_of
from bookmaker.workshop.cache.packing import digest, digest_of, pack, recalled
from bookmaker.workshop.cache.store import Store

NAMES, FACES, ITEMS, FILES, PICTURES, HAZARDS, TERMS = "nwsdoxg"
"""What a recipe looks up when it is bound."""

Table = dict[str, tuple[tuple[str, ...], str, str]]
"""The namespace: what a folded name stands for, how it is spelt, and what kind of thing it is."""


@dataclass(slots=True)
class Bound:
    """The bound book: an entry for each recipe, and the recipes themselves for those who want them."""

    entries: dict[str, BoundEntry]
    order: list[str]
    """Those that can be computed, components first."""
    sizes: dict[str, tuple[str, ...]]
    recipes: Lazily[RecipeRef, Recipe]
    cycles: bytes
    name_problems: tuple[Problem, ...] = ()
    fresh: set[str] = field(default_factory=set)
    """Those that have been bound anew."""

    def problems(self) -> Iterator[Problem]:
        """What is wrong with the recipes in the book, in the order of their files."""
        for entry in self.entries.values():
            yield from problems_in(entry.problems)
        for entry in self.entries.values():
            yield from problems_in(entry.faults)
        yield from problems_in(self.cycles)

    def contents(self, stores: Collection[str], house: House) -> Contents:
        """What there is in the book, to be placed."""
        return contents_from(self.entries, self.order, self.sizes, stores, house.sections)


def contents_from(
    entries: Mapping[str, BoundEntry],
    order: list[str],
    sizes: Mapping[str, tuple[str, ...]],
    stores: Collection[str],
    headings: tuple[tuple[str, str], ...],
) -> Contents:
    """What there is in a book, by its entries."""
    recipes = {}
    for name in order:
        entry = entries[name]
        recipes[recipe_of(name)] = Entry(
            entry.title, entry.section, Kind(entry.kind), Status(entry.status), entry.gives
        )
    return Contents(recipes, sizes, tuple(stores), headings)


def seen_by_others(recipe: Recipe) -> Recipe:
    """What other recipes may read of a recipe: all that they can be computed from, and no more.

    So a word changed in a method touches nobody else.
    """
    return replace(
        recipe,
        method=Method(),
        client=ClientText(),
        teaching=Teaching(),
        photo="",
        photo_text="",
        tags=(),
        revision=1,
        revised=None,
    )


class Namespace:
    """Everything that a recipe may name, kept for as long as no file's face has changed."""

    def __init__(self, library: Library, larder: KeptLarder, store: Store) -> None:
        self._library, self._larder, self._store = library, larder, store
        faces = [f"{name}\0{entry.face}" for name, entry in library.entries.items() if entry.claims is None]
        claims = [f"{name}\0{claimed}" for name, each in self._claims().items() for claimed in each]
        self.key = digest("names", larder.key, *faces, "", *claims)
        row = store.get(f"names:{self.key}")
        if row is None:
            row = self._bound()
            store.put(f"names:{self.key}", row)
        self.table: Table
        self.table, problems = marshal.loads(row)  # noqa: S302 - the store has checked it
        self.problems = problems_in(problems)

    def named(self) -> Mapping[str, Named]:
        """What each name stands for."""
        return Lazily(self.table, lambda name: _named(*self.table[name]))

    def _claims(self) -> dict[str, tuple[str, ...]]:
        """Names of files that could not be read: nobody is to blame for using them."""
        claims = {name: each.claims for name, each in self._library.entries.items() if each.claims is not None}
        claims |= {each.name: (stem(each.name),) for each in self._library.folder.unread}
        return claims | self._larder.claimed

    def _bound(self) -> bytes:
        library = self._library
        faces = [library.face(name) for name, entry in library.entries.items() if entry.claims is None]
        names, problems = bind_names(self._larder.stores, faces, self._claims())
        table = {name: (_flat(named.target), named.spelt, named.what) for name, named in names.named.items()}
        return marshal.dumps((table, problem_bytes(tuple(problems))))


def _flat(target: Target | None) -> tuple[str, ...]:
    match target:
        case None:
            return ()
        case StoresRef(id):
            return (id,)
        case RecipeRef(id, size):
            return (id, size)
        case CoProductRef(recipe, name):
            return (recipe.id, recipe.size, name)


def _named(flat: tuple[str, ...], spelt: str, what: str) -> Named:
    target: Target | None
    match flat:
        case (id,):
            target = StoresRef(id)
        case (id, size):
            target = RecipeRef(id, size)
        case (id, size, name):
            target = CoProductRef(RecipeRef(id, size), name)
        case _:
            target = None
    return Named(target, spelt, what, NOWHERE)


class Binder:
    """Binds a book's recipes, those that have to be."""

    def __init__(self, library: Library, larder: KeptLarder, house: House, store: Store) -> None:
        self._library, self._larder, self._house, self._store = library, larder, house, store
        self.namespace = Namespace(library, larder, store)
        self.terms = spelt(library.glossary.value.terms if library.glossary else ())
        self.files = dict.fromkeys((*library.entries, *(each.name for each in library.folder.unread)), "")
        self._refs = {
            ref: name for name, entry in library.entries.items() for ref in (*_bare(name, entry), *refs_in(name, entry))
        }
        self._faces: Lazily[RecipeRef, WrittenRecipe] = Lazily(self._refs, self._face)

    def table_at(self, key: str) -> Table:
        """An earlier namespace; nothing where it is not kept any more."""
        row = self._store.get(f"names:{key}")
        found: Table = marshal.loads(row)[0] if row else {}  # noqa: S302 - the store has checked it
        return found

    def face_digests(self) -> dict[str, str]:
        """What stands for what others see of each recipe."""
        return {label(ref): self._library.entries[name].face for ref, name in self._refs.items()}

    def bind(self, before: Ledger, changes: Changes, *, house_changed: bool) -> Bound:
        """Bind what has changed; the others' entries stand as they were."""
        entries: dict[str, BoundEntry] = {}
        made: dict[RecipeRef, Recipe] = {}
        fresh: set[str] = set()
        for name, document in self._library.entries.items():
            for ref in refs_in(name, document):
                key = label(ref)
                entry = before.bound.get(key)
                if entry is None or entry.document != document.digest or house_changed or changes.touch(entry.reads):
                    entry, recipe = self._bind(name, ref, document)
                    fresh.add(key)
                    if recipe is not None:
                        made[ref] = recipe
                entries[key] = entry
        order, cycles = self._order(entries, before)
        placed = dict.fromkeys(map(recipe_of, order))
        recipes = Lazily(placed, lambda ref: self._recipe(ref, entries))
        for ref, recipe in made.items():
            if ref in placed:
                recipes.set(ref, recipe)
        return Bound(entries, order, self._sizes(placed), recipes, cycles, self.namespace.problems, fresh)

    def _bind(self, name: str, ref: RecipeRef, document: DocumentEntry) -> tuple[BoundEntry, Recipe | None]:
        written = self._library.written(name)
        variant = next(each for each in written.sizes or (written,) if each.size == ref.size)
        bound = bind(variant, self._room)
        needs = needs_of(bound.recipe, self._noted_faces)
        recipe = bound.recipe
        own = digest_of(recipe) if recipe else ""
        if recipe:
            self._store.put(f"bound:{own}", pack(recipe))
        entry = BoundEntry(
            document=document.digest,
            reads=self._notes.take(),
            own=own,
            seen=digest_of(seen_by_others(recipe)) if recipe else "",
            whole=bool(recipe and bound.complete and not needs.faults),
            needs=tuple(map(label, needs.refs)),
            problems=problem_bytes(bound.problems),
            faults=problem_bytes(needs.faults),
            title=variant.title.text,
            section=variant.section,
            kind=variant.kind.value,
            status=variant.status.value,
            gives=tuple(each.name for each in variant.gives),
            photo=recipe.photo if recipe else "",
            taught=variant.teaching.level if variant.teaching.teach else 0,
        )
        return entry, recipe

    @cached_property
    def _notes(self) -> Notes:
        return Notes()

    @cached_property
    def _noted_faces(self) -> Mapping[RecipeRef, WrittenRecipe]:
        return self._notes.on(FACES, self._faces)

    @cached_property
    def _room(self) -> Room:
        notes = self._notes
        names = Names(notes.on(NAMES, self.namespace.named()))
        shelf = Shelf(names, notes.on(ITEMS, self._larder.stores), self._noted_faces, self._house)
        return Room(
            shelf,
            notes.on(HAZARDS, self._library.all_cautions),
            notes.on_set(FILES, self.files),
            notes.on_set(PICTURES, self._library.folder.other),
            furnished=self._library.house is not None and self._library.house.value is not None,
            terms=notes.on(TERMS, self.terms),
        )

    def _face(self, ref: RecipeRef) -> WrittenRecipe:
        face = self._library.face(self._refs[ref])
        return next((each for each in face.sizes if each.size == ref.size), face) if ref.size else face

    def _order(self, entries: Mapping[str, BoundEntry], before: Ledger) -> tuple[list[str], bytes]:
        """The order of making; the one before, where nothing that it depends on has changed."""
        now = [(key, entry.needs, entry.whole) for key, entry in entries.items()]
        if not before.cycles and now == [(key, entry.needs, entry.whole) for key, entry in before.bound.items()]:
            return before.order, b""
        needs = {recipe_of(key): [recipe_of(each) for each in entry.needs] for key, entry in entries.items()}
        whole = {recipe_of(key) for key, entry in entries.items() if entry.whole}
        order, cycles = order_of(needs, whole)
        problems = tuple(
            cycle_problem(cycle, lambda ref: self._needs(ref, entries), lambda ref: entries[label(ref)].title)
            for cycle in cycles
        )
        return [label(ref) for ref in order], problem_bytes(problems)

    def _needs(self, ref: RecipeRef, entries: Mapping[str, BoundEntry]) -> Needs:
        return needs_of(self._recipe(ref, entries), self._faces)

    def _recipe(self, ref: RecipeRef, entries: Mapping[str, BoundEntry]) -> Recipe:
        key = label(ref)
        found: Recipe | None = recalled(self._store.get(f"bound:{entries[key].own}"))
        if found is not None:
            return found
        name = self._refs[ref]
        _, recipe = self._bind(name, ref, self._library.entries[name])
        assert recipe is not None
        return recipe

    def _sizes(self, placed: Collection[RecipeRef]) -> dict[str, tuple[str, ...]]:
        found = {}
        for name, entry in self._library.entries.items():
            if entry.sizes and entry.claims is None:
                path = name.removesuffix(".md")
                found[path] = tuple(size for size in entry.sizes if RecipeRef(path, size) in placed)
        return found


def _bare(name: str, entry: DocumentEntry) -> tuple[Any, ...]:
    """The recipe without a size, where it has some."""
    return (RecipeRef(name.removesuffix(".md")),) if entry.sizes and entry.claims is None else ()

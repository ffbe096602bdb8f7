"""The library: the book's documents, each read once for as long as its text is the same."""

import marshal
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cached_property
from typing import Any, Generic, NamedTuple, TypeVar

from bookmaker.model.book import Caution
from bookmaker.model.house import House
from bookmaker.model.method import Method
from bookmaker.model.recipe import ClientText, Teaching
from bookmaker.model.refs import RecipeRef
from bookmaker.model.stores import Price
from bookmaker.model.written.recipe import WrittenRecipe
from bookmaker.problems.anchors import SourceMap
from bookmaker.problems.problem import Problem
from bookmaker.reading.cautions import read_cautions
from bookmaker.reading.documents import (
    Read,
    StoresFile,
    cautions_in,
    glossary_in,
    has_us_measures,
    house_in,
    prices_in,
    register_in,
    stores_in,
)
from bookmaker.reading.files import Document, Folder
from bookmaker.reading.glossary import Glossary
from bookmaker.reading.recipe import written_recipe
from bookmaker.reading.register import Issued
from bookmaker.reading.walk import PRICES
from bookmaker.workshop.cache.ledger import DocumentEntry
from bookmaker.workshop.cache.packing import Damaged, digest, digest_of, pack, recalled, unpack
from bookmaker.workshop.cache.store import Store
from bookmaker.workshop.pool import spread

T = TypeVar("T")

_KINDS = ("recipe", "face", "places", "house", "cautions", "stores", "prices", "us prices", "glossary", "issued")
"""What a document may be kept as."""

WORTH_A_POOL = 60
"""Recipe files. To start two processes takes as long as to read some thirty."""


class Recalled(Generic[T]):
    """A document as it was read, now or before; the value is unpacked when somebody wants it."""

    def __init__(self, read: Callable[[], Read[T]], row: bytes | None = None) -> None:
        self._read = read
        self._row = row

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """What is wrong with it."""
        return problems_in(marshal.loads(self._row)[1]) if self._row else self._now.problems  # noqa: S302 - checked

    @cached_property
    def value(self) -> T:
        """What it came to."""
        if self._row:
            try:
                value: T = unpack(marshal.loads(self._row)[0])  # noqa: S302 - the store has checked it
            except Damaged:
                pass
            else:
                return value
        return self._now.value

    @cached_property
    def _now(self) -> Read[T]:
        return self._read()

    def row(self) -> bytes:
        """What the store is to keep of it."""
        return marshal.dumps((pack(self._now.value), problem_bytes(self._now.problems)))


class ReadIn(NamedTuple):
    """A recipe file just read: its entry, and what the store is to keep of it; no bytes where there is no recipe."""

    entry: DocumentEntry
    recipe: bytes
    face: bytes


def read_in(document: Document) -> ReadIn:
    """Read a recipe file."""
    read = written_recipe(document.name, document.text)
    problems = problem_bytes(read.problems)
    if read.recipe is None:
        return ReadIn(DocumentEntry(document.digest, "", (), read.claims, problems), b"", b"")
    face = face_of(read.recipe)
    sizes = tuple(each.size for each in read.recipe.sizes)
    return ReadIn(DocumentEntry(document.digest, digest_of(face), sizes, None, problems), pack(read.recipe), pack(face))


def _reader(_: None) -> Callable[[Document], ReadIn]:
    return read_in


class Library:
    """Every document of a book."""

    def __init__(self, folder: Folder, store: Store, before: Mapping[str, DocumentEntry]) -> None:
        self.folder = folder
        self._store = store
        self._documents = {each.name: each for each in (*folder.documents, *folder.unread)}
        self.house: Recalled[House | None] | None = (
            self._recalled("house", folder.house, house_in) if folder.house else None
        )
        self.cautions: Recalled[Mapping[str, Caution]] | None = (
            self._recalled("cautions", folder.cautions, cautions_in) if folder.cautions else None
        )
        self.stores: dict[str, Recalled[StoresFile]] = {
            each.name: self._recalled("stores", each, stores_in) for each in folder.stores
        }
        self.glossary: Recalled[Glossary] | None = (
            self._recalled("glossary", folder.glossary, glossary_in) if folder.glossary else None
        )
        self.register: Recalled[tuple[Issued, ...]] | None = (
            self._recalled("issued", folder.register, register_in) if folder.register else None
        )
        self.entries = self._entries(before)
        """The recipe files."""

    @cached_property
    def prices(self) -> Recalled[tuple[Price, ...]] | None:
        """The price list; whether US measures may stand in it depends on the house."""
        us = has_us_measures(self.house.value if self.house else None)

        def read(document: Document) -> Read[tuple[Price, ...]]:
            return prices_in(document, us=us)

        return self._recalled("us prices" if us else "prices", self.folder.prices, read) if self.folder.prices else None

    @cached_property
    def all_cautions(self) -> Mapping[str, Caution]:
        """Every caution that the book may name."""
        return self.cautions.value if self.cautions else read_cautions(None)[0]

    def digest(self, name: str) -> str:
        """A document's digest; nothing for one that is not there."""
        return self._documents[name].digest if name in self._documents else ""

    def problems(self) -> Iterator[Problem]:
        """What is wrong with the documents by themselves, the settings' first; the recipes' are in their entries."""
        for each in (self.cautions, *self.stores.values(), self.prices, self.glossary, self.register):
            if each is not None:
                yield from each.problems

    def keys(self) -> Iterator[str]:
        """The keys in the store under which documents are kept."""
        for document in self._documents.values():
            for kind in _KINDS:
                yield _key(kind, document)

    # --- recipes

    def written(self, name: str) -> WrittenRecipe:
        """A recipe as written. Only for a file that holds one."""
        document = self._documents[name]
        kept: WrittenRecipe | None = recalled(self._store.get(_key("recipe", document)))
        if kept is not None:
            return kept
        recipe = written_recipe(name, document.text).recipe
        assert recipe is not None
        return recipe

    def face(self, name: str) -> WrittenRecipe:
        """What other recipes may see of a recipe file."""
        kept: WrittenRecipe | None = recalled(self._store.get(_key("face", self._documents[name])))
        return kept if kept is not None else face_of(self.written(name))

    def _entries(self, before: Mapping[str, DocumentEntry]) -> dict[str, DocumentEntry]:
        """An entry for each recipe file, in the folder's order; what is not known from before is read now."""
        known = {
            each.name: before[each.name]
            for each in self.folder.recipes
            if each.name in before and before[each.name].digest == each.digest
        }
        new = [each for each in self.folder.recipes if each.name not in known]
        for document, read in zip(new, spread(_reader, None, new, worth=WORTH_A_POOL), strict=True):
            known[document.name] = read.entry
            if read.recipe:
                self._store.put(_key("recipe", document), read.recipe)
                self._store.put(_key("face", document), read.face)
        return {each.name: known[each.name] for each in self.folder.recipes}

    def _recalled(self, kind: str, document: Document, read: Callable[[Document], Read[T]]) -> Recalled[T]:
        key = _key(kind, document)
        row = self._store.get(key)
        found = Recalled(lambda: read(document), row)
        if row is None:
            self._store.put(key, found.row())
        return found

    # --- places

    def source(self, name: str) -> SourceMap | None:
        """A document's text with the places of its parts, for a report."""
        document = self._documents.get(name)
        if document is None:
            return None
        key = _key("places", document)
        if row := self._store.get(key):
            spans: Any = marshal.loads(row)  # noqa: S302 - the store has checked it
            return SourceMap(name, document.text, spans)
        spans = dict(self._spans(document))
        self._store.put(key, marshal.dumps(spans))
        return SourceMap(name, document.text, spans)

    def _spans(self, document: Document) -> Mapping[Any, tuple[int, int]]:
        folder = self.folder
        if document in folder.unread:
            return {(): (0, len(document.text))}
        if document is folder.house:
            return house_in(document).spans
        if document is folder.cautions:
            return cautions_in(document).spans
        if document is folder.glossary:
            return glossary_in(document).spans
        if document is folder.register:
            return register_in(document).spans
        if document.name == PRICES:
            return prices_in(document, us=has_us_measures(self.house.value if self.house else None)).spans
        if document.name in self.stores:
            return stores_in(document).spans
        return written_recipe(document.name, document.text).source.spans


class Sources(Mapping[str, SourceMap]):
    """The texts of a library's documents with their places, each worked out when a report shows it."""

    def __init__(self, library: Library) -> None:
        self._library = library

    def __getitem__(self, name: str) -> SourceMap:
        found = self._library.source(name)
        if found is None:
            raise KeyError(name)
        return found

    def __iter__(self) -> Iterator[str]:
        return (each.name for each in self._library.folder.documents)

    def __len__(self) -> int:
        return len(self._library.folder.documents)


def face_of(recipe: WrittenRecipe) -> WrittenRecipe:
    """What other recipes and the book's namespace may see of a recipe: all but its own formula, method and words."""
    return replace(
        recipe,
        stages=(),
        losses=(),
        base=None,
        batch=None,
        keep_back=None,
        boil_to=None,
        layers=(),
        packaging=(),
        density=None,
        dough_temperature=None,
        labour_role=None,
        portion=None,
        prices=(),
        client=ClientText(),
        named=(),
        keeps=(),
        cautions=(),
        teaching=Teaching(),
        topics=(),
        photo=None,
        photo_text="",
        method=Method(),
        links=(),
        revision=1,
        revised=None,
        sizes=tuple(face_of(size) for size in recipe.sizes),
    )


def refs_in(name: str, entry: DocumentEntry) -> tuple[RecipeRef, ...]:
    """The recipes in a file: one, or one for each size."""
    if entry.claims is not None:
        return ()
    path = name.removesuffix(".md")
    return tuple(RecipeRef(path, size) for size in entry.sizes) or (RecipeRef(path),)


def problem_bytes(problems: tuple[Problem, ...]) -> bytes:
    """Problems as bytes; none are none."""
    return pack(problems) if problems else b""


def problems_in(content: bytes) -> tuple[Problem, ...]:
    """The problems that `problem_bytes` was given."""
    found: tuple[Problem, ...] = unpack(content) if content else ()
    return found


def _key(kind: str, document: Document) -> str:
    return f"{kind}:{digest(document.name, document.digest)}"

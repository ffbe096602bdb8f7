"""Documents read one by one: what each comes to depends on nothing but its name and text.

So what was read can be kept for as long as a file's bytes are the same. What the book's parts mean to each other is
not looked at here.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from bookmaker.measures.units import Spoons
from bookmaker.model.book import Caution
from bookmaker.model.house import House, Region
from bookmaker.model.stores import Price, StoresItem
from bookmaker.problems.anchors import Path, SourceMap
from bookmaker.problems.problem import Problem
from bookmaker.reading.cautions import read_cautions
from bookmaker.reading.files import Document
from bookmaker.reading.glossary import Glossary, read_glossary
from bookmaker.reading.house import read_house
from bookmaker.reading.prices import read_prices
from bookmaker.reading.register import Issued, read_register
from bookmaker.reading.stores import claimed_names, read_stores
from bookmaker.reading.tree import Tree, compose

T = TypeVar("T")

Spans = Mapping[Path, tuple[int, int]]


@dataclass(frozen=True, slots=True)
class Read(Generic[T]):
    """What a document came to, what is wrong with it, and where its parts stand in its text."""

    value: T
    problems: tuple[Problem, ...]
    spans: Spans

    def source(self, document: Document) -> SourceMap:
        """The document's text with its places."""
        return SourceMap(document.name, document.text, self.spans)


@dataclass(frozen=True, slots=True)
class StoresFile:
    """The items of one file; `claimed` are the names that it seems to hold where it cannot be read."""

    items: tuple[StoresItem, ...] | None
    claimed: tuple[str, ...] = ()


def house_in(document: Document) -> Read[House | None]:
    """`house.yaml`. Problems: as of `reading.house`."""
    return _from_tree(document, read_house, None)


def cautions_in(document: Document) -> Read[Mapping[str, Caution]]:
    """`cautions.yaml` with the built-in cautions. Problems: as of `reading.cautions`."""
    built_in, _ = read_cautions(None)
    return _from_tree(document, read_cautions, built_in)


def stores_in(document: Document) -> Read[StoresFile]:
    """One file of stores. Problems: as of `reading.stores`."""

    def items(tree: Tree) -> tuple[StoresFile, list[Problem]]:
        found, problems = read_stores(tree)
        return StoresFile(found), problems

    return _from_tree(document, items, StoresFile(None, claimed_names(document.text)))


def prices_in(document: Document, *, us: bool) -> Read[tuple[Price, ...]]:
    """The price list; `us` allows US kitchen measures in packs. Problems: as of `reading.prices`."""
    listed, problems = read_prices(document, us=us)
    return Read(listed.prices, tuple(problems), listed.spans)


def register_in(document: Document) -> Read[tuple[Issued, ...]]:
    """The records of `issued.csv`. Problems: as of `reading.register`."""
    written, problems = read_register(document)
    return Read(written.records, tuple(problems), written.spans)


def glossary_in(document: Document) -> Read[Glossary]:
    """`glossary.md`. Problems: as of `reading.glossary`."""
    glossary, problems = read_glossary(document)
    return Read(glossary, tuple(problems), glossary.spans)


def has_us_measures(house: House | None) -> bool:
    """Whether a house may use US kitchen measures."""
    return house is not None and (house.region is Region.US or house.spoons is Spoons.US)


def _from_tree(document: Document, read: Callable[[Tree], tuple[T, list[Problem]]], without: T) -> Read[T]:
    tree, problems = compose(document.text, document.name)
    if tree is None:
        return Read(without, tuple(problems), {(): (0, len(document.text))})
    value, more = read(tree)
    return Read(value, (*problems, *more), tree.spans)

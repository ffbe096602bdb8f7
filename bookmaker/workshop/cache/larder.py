"""The larder: stores items with their prices, bound once for as long as their files, the house and the hazards stay.

An item, its price list and the price that counts are packed one by one, so that a recipe unpacks only what it uses.
"""

import marshal
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from functools import cached_property
from typing import Any, TypeVar

from bookmaker.kitchen.figures import ChosenPrice
from bookmaker.kitchen.prices import choose_prices
from bookmaker.measures.exact import exactly
from bookmaker.model.book import Book, Caution
from bookmaker.model.house import House
from bookmaker.model.stores import Price, StoresItem
from bookmaker.problems.problem import Problem
from bookmaker.reading.book import bind_larder
from bookmaker.reading.stores import claimed_names
from bookmaker.reading.walk import STORES
from bookmaker.workshop.cache.lazily import Lazily
from bookmaker.workshop.cache.library import Library, problem_bytes, problems_in
from bookmaker.workshop.cache.packing import canonical, digest, pack, unpack
from bookmaker.workshop.cache.store import Store

V = TypeVar("V")

Packed = dict[str, tuple[str, bytes]]
"""By item: a digest, and the packed value."""


class Shelves:
    """What is kept of the larder under a key."""

    def __init__(self, row: bytes) -> None:
        self.items: Packed
        self.listed: Packed
        self.items, self.listed, self._problems = marshal.loads(row)  # noqa: S302 - the store has checked it

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """What is wrong when the stores are bound."""
        return problems_in(self._problems)


class KeptLarder:
    """The stores and prices of a book on a date."""

    def __init__(self, library: Library, house: House, house_digest: str, on: date, store: Store) -> None:
        self._library, self._house, self._on, self._store = library, house, on, store
        folder = library.folder
        files = [folder.prices, *folder.stores, *(each for each in folder.unread if each.name.startswith(STORES))]
        parts = [f"{each.name}\0{each.digest}" for each in files if each]
        self.key = digest("larder", house_digest, canonical(tuple(library.all_cautions.values())), *parts)
        self.chosen_key = digest("chosen", self.key, on.isoformat())

    @cached_property
    def claimed(self) -> dict[str, tuple[str, ...]]:
        """The names that files seem to hold which cannot be read."""
        unread = [each for each in self._library.folder.unread if each.name.startswith(f"{STORES}/")]
        found = {each.name: claimed_names(each.text) for each in unread}
        for name, read in self._library.stores.items():
            if any(problem.is_error for problem in read.problems) and read.value.items is None:
                found[name] = read.value.claimed
        return found

    @cached_property
    def shelves(self) -> Shelves:
        """Everything, still packed."""
        return Shelves(_kept(self._store, f"larder:{self.key}", self._bind))

    @cached_property
    def stores(self) -> Mapping[str, StoresItem]:
        """The items by name."""
        return _unpacked(self.shelves.items)

    @cached_property
    def prices(self) -> Mapping[str, tuple[Price, ...]]:
        """Each item's lines of the price list."""
        return _unpacked(self.shelves.listed)

    @cached_property
    def _choice(self) -> tuple[Packed, tuple[str, ...]]:
        found: tuple[Packed, tuple[str, ...]] = marshal.loads(  # noqa: S302 - the store has checked it
            _kept(self._store, f"chosen:{self.chosen_key}", self._choose)
        )
        return found

    @property
    def chosen_packed(self) -> Packed:
        """The prices that count, still packed."""
        return self._choice[0]

    @cached_property
    def lacking(self) -> frozenset[str]:
        """The items whose price lacks something."""
        return frozenset(self._choice[1])

    @cached_property
    def chosen(self) -> Mapping[str, ChosenPrice]:
        """The price that counts for each item."""
        return _unpacked(self.chosen_packed)

    def _bind(self) -> bytes:
        library = self._library
        files = [found for each in library.stores.values() if (found := each.value.items) is not None]
        prices = library.prices.value if library.prices else ()
        claimed = [name for names in self.claimed.values() for name in names]
        larder, problems = bind_larder(files, prices, library.all_cautions, self._house, claimed)
        items = {name: (digest(canonical(item)), pack(item)) for name, item in larder.stores.items()}
        listed = {name: (digest(canonical(rows)), pack(rows)) for name, rows in larder.prices.items()}
        return marshal.dumps((items, listed, problem_bytes(tuple(problems))))

    def _choose(self) -> bytes:
        book = Book(self._house, self.stores, self.prices, {}, {}, {})
        with exactly():
            chosen = choose_prices(book, self._on)
        packed = {name: (digest(repr(price)), pack(price)) for name, price in chosen.items()}
        return marshal.dumps((packed, tuple(name for name, price in chosen.items() if price.lacks)))


def digests(packed: Packed) -> dict[str, str]:
    """What stands for each value."""
    return {name: found for name, (found, _) in packed.items()}


def shelves_at(key: str, store: Store) -> tuple[Packed, Packed]:
    """The items and price lists of an earlier larder; nothing where it is not kept any more."""
    row = store.get(f"larder:{key}")
    if row is None:
        return {}, {}
    found = Shelves(row)
    return found.items, found.listed


def chosen_at(key: str, store: Store) -> Packed:
    """The prices that counted for an earlier larder; nothing where it is not kept any more."""
    row = store.get(f"chosen:{key}")
    found: Packed = marshal.loads(row)[0] if row else {}  # noqa: S302 - the store has checked it
    return found


def _kept(store: Store, key: str, make: Callable[[], bytes]) -> bytes:
    row = store.get(key)
    if row is None:
        row = make()
        store.put(key, row)
    return row


def _unpacked(packed: Mapping[str, tuple[str, bytes]]) -> Mapping[str, Any]:
    return Lazily(packed, lambda name: unpack(packed[name][1]))


def caution_digests(cautions: Iterable[Caution]) -> dict[str, str]:
    """What stands for each hazard."""
    return {each.name: digest(repr(each)) for each in cautions}

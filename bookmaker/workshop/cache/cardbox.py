"""The card box: small values of all recipes, or of all items, packed one by one and kept together.

A page about the whole book is made from such a box. It is opened only when one of its cards has changed.
"""

import marshal
from collections.abc import Callable, Mapping
from typing import Any

from bookmaker.workshop.cache.packing import Damaged, digest, pack, unpack
from bookmaker.workshop.cache.store import Store


class CardBox:
    """The cards of one kind. `digests` says what stands for each, in the book's order; `make` makes one anew."""

    def __init__(self, name: str, digests: Mapping[str, str], make: Callable[[str], Any], store: Store) -> None:
        self._name = f"now:cards {name}"
        self._digests, self._make, self._store = digests, make, store
        self._new: dict[str, Any] = {}
        self._new_packed: dict[str, bytes] = {}
        self.key = digest(*(f"{key}\0{found}" for key, found in digests.items()))
        """What stands for all of them together."""

    def put(self, key: str, card: object) -> None:
        """A card that has just been made."""
        self._new[key] = card

    def put_packed(self, key: str, card: bytes) -> None:
        """A card that has just been made and packed."""
        self._new_packed[key] = card

    def cards(self) -> dict[str, Any]:
        """All cards, in the book's order."""
        packed = self._packed()
        found = {}
        for key, wanted in self._digests.items():
            if key in self._new_packed:
                self._new[key] = unpack(self._new_packed[key])
            if key in self._new:
                found[key] = self._new[key]
                continue
            try:
                kept, content = packed[key]
                found[key] = unpack(content) if kept == wanted else self._make(key)
            except (KeyError, Damaged):
                found[key] = self._make(key)
        return found

    def save(self) -> None:
        """Keep what is new, where something is."""
        before = self._packed()
        packed = {}
        for key, wanted in self._digests.items():
            kept = before.get(key)
            if kept is None or kept[0] != wanted:
                card = self._new_packed.get(key)
                if card is None:
                    card = pack(self._new[key] if key in self._new else self._make(key))
                kept = wanted, card
            packed[key] = kept
        if packed != before or list(packed) != list(before):
            self._store.put(self._name, marshal.dumps(packed))

    def _packed(self) -> dict[str, tuple[str, bytes]]:
        row = self._store.get(self._name)
        found: dict[str, tuple[str, bytes]] = marshal.loads(row) if row else {}  # noqa: S302 - checked by the store
        return found

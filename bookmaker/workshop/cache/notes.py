"""Notes of what was looked up: a computation is given mappings that write down which of their keys it asks for.

What a pure function computes follows from its arguments and from what it looked up. So its result may be used again
for as long as nothing that it looked up has changed, and no one has to list by hand what a figure or a page depends on.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from sys import intern
from typing import Any, Generic, TypeVar

from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef

K = TypeVar("K")
V = TypeVar("V")

ALL = "*"
"""Noted where a computation went through all keys."""


class Noted(Mapping[K, V], Generic[K, V]):
    """A mapping that notes what it is asked for, whether it has it or not."""

    def __init__(self, known: Mapping[K, V]) -> None:
        self.known = known
        self.asked: set[K] = set()
        self.all_asked = False

    def __getitem__(self, key: K) -> V:
        self.asked.add(key)
        return self.known[key]

    def get(self, key: K, default: Any = None) -> Any:
        """The value of `key`, or `default`."""
        self.asked.add(key)
        return self.known.get(key, default)

    def __contains__(self, key: object) -> bool:
        self.asked.add(key)  # type: ignore[arg-type]
        return key in self.known

    def __iter__(self) -> Iterator[K]:
        self.all_asked = True
        return iter(self.known)

    def __len__(self) -> int:
        self.all_asked = True
        return len(self.known)


class NotedSet(Collection[K], Generic[K]):
    """A set that notes what it is asked for."""

    def __init__(self, known: Collection[K]) -> None:
        self.known = known
        self.asked: set[K] = set()
        self.all_asked = False

    def __contains__(self, key: object) -> bool:
        self.asked.add(key)  # type: ignore[arg-type]
        return key in self.known

    def __iter__(self) -> Iterator[K]:
        self.all_asked = True
        return iter(self.known)

    def __len__(self) -> int:
        self.all_asked = True
        return len(self.known)


class Notes:
    """All that one computation after the other looks up, in mappings that are told apart by a letter each."""

    def __init__(self) -> None:
        self._noted: list[tuple[str, Noted[Any, Any] | NotedSet[Any]]] = []

    def on(self, kind: str, known: Mapping[K, V]) -> Noted[K, V]:
        """A mapping whose look-ups are noted."""
        noted = Noted(known)
        self._noted.append((kind, noted))
        return noted

    def on_set(self, kind: str, known: Collection[K]) -> NotedSet[K]:
        """A set whose look-ups are noted."""
        noted = NotedSet(known)
        self._noted.append((kind, noted))
        return noted

    def take(self) -> tuple[str, ...]:
        """What was looked up since the last time, as labels in order."""
        labels: set[str] = set()
        for kind, noted in self._noted:
            if noted.all_asked:
                labels.add(kind + ALL)
            elif noted.asked:
                labels.update(kind + label(key) for key in noted.asked)
            noted.asked.clear()
            noted.all_asked = False
        return tuple(map(intern, sorted(labels)))


def label(key: object) -> str:
    """A key as a text that no other key has among those of its mapping."""
    if isinstance(key, RecipeRef):
        return f"{key.id}\0{key.size}" if key.size else key.id
    if isinstance(key, str):
        return key
    if isinstance(key, StoresRef):
        return f"\0{key.id}"
    if isinstance(key, CoProductRef):
        return f"{label(key.recipe)}\0\0{key.name}"
    raise TypeError(f"{key!r} has no label")


def recipe_of(text: str) -> RecipeRef:
    """The recipe with that label."""
    path, _, size = text.partition("\0")
    return RecipeRef(path, size)


class Changes:
    """What has changed since the ledger was written, as labels. What was not known before has changed, too."""

    def __init__(self, labels: Iterable[str] = ()) -> None:
        self.labels = set(labels)

    def compare(self, kind: str, before: Mapping[str, Any], now: Mapping[str, Any]) -> None:
        """Note each key whose value is another one, or that is gone, or new."""
        if before == now:
            if list(before) != list(now):
                self.labels.add(kind + ALL)
            return
        gone = before.keys() - now.keys()
        self.labels.update(kind + key for key in gone)
        self.labels.update(kind + key for key, value in now.items() if key not in before or before[key] != value)
        self.labels.add(kind + ALL)

    def add(self, kind: str, key: str) -> None:
        """Note one key."""
        self.labels.add(kind + key)
        self.labels.add(kind + ALL)

    def touch(self, reads: Iterable[str]) -> bool:
        """Whether any of what was looked up has changed."""
        return not self.labels.isdisjoint(reads)

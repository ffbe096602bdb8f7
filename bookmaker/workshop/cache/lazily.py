"""Mappings whose values are fetched when somebody asks for them."""

from collections.abc import Callable, Collection, Iterator, Mapping
from typing import Generic, TypeVar

K = TypeVar("K")
V = TypeVar("V")


class Lazily(Mapping[K, V], Generic[K, V]):
    """The values of `keys`, each made by `make` when it is first wanted."""

    def __init__(self, keys: Collection[K], make: Callable[[K], V]) -> None:
        self._keys = keys
        self._make = make
        self._made: dict[K, V] = {}

    def __getitem__(self, key: K) -> V:
        try:
            return self._made[key]
        except KeyError:
            if key not in self._keys:
                raise
        made = self._made[key] = self._make(key)
        return made

    def __contains__(self, key: object) -> bool:
        return key in self._keys

    def __iter__(self) -> Iterator[K]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)

    def set(self, key: K, value: V) -> None:
        """Take in a value that has just been made anyway."""
        self._made[key] = value

"""Chance that comes out the same everywhere: numbers drawn from a hash of what they are for.

`random` promises the same numbers only for some of its methods and within one version of Python; a workbook must not
change its numbers because a kitchen bought a new computer.
"""

from collections.abc import Sequence
from decimal import Decimal
from hashlib import sha256
from typing import TypeVar

T = TypeVar("T")

_SPAN = 1 << 64


class Dice:
    """A row of numbers that follows from `seed` alone."""

    def __init__(self, *seed: str) -> None:
        # each text counts with its length, so that it matters where one ends
        self._seed = "".join(f"{len(part)}:{part}" for part in seed).encode()
        self._drawn = 0

    def below(self, count: int) -> int:
        """A whole number from 0 to `count` - 1, each as likely as the others."""
        if count < 1:
            raise ValueError(f"there is no number below {count}")
        fair = _SPAN - _SPAN % count
        while True:
            self._drawn += 1
            digest = sha256(self._seed + b"#%d" % self._drawn).digest()
            number = int.from_bytes(digest[:8], "big")
            if number < fair:
                return number % count

    def between(self, least: int, most: int, step: int = 1) -> int:
        """`least`, `least` + `step` … up to `most`."""
        return least + step * self.below((most - least) // step + 1)

    def degrees(self, least: int, most: int) -> Decimal:
        """A whole number of degrees."""
        return Decimal(self.between(least, most))

    def one_of(self, things: Sequence[T]) -> T:
        """One of several things."""
        return things[self.below(len(things))]

    def some_of(self, things: Sequence[T], count: int) -> tuple[T, ...]:
        """`count` of several things (all where there are fewer), in the order that they stand in."""
        kept = sorted(self.shuffled(range(len(things)))[:count])
        return tuple(things[number] for number in kept)

    def shuffled(self, things: Sequence[T]) -> tuple[T, ...]:
        """The things in any order."""
        row = list(things)
        for last in range(len(row) - 1, 0, -1):
            other = self.below(last + 1)
            row[last], row[other] = row[other], row[last]
        return tuple(row)

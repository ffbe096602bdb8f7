"""A leaf: one file of an edition, before it is made."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from bookmaker.workshop.pool import spread

WORTH_A_POOL = 100
"""Leaves. To begin two processes takes as long as to make some fifty pages."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """Its path in the output folder, what stands for all that it is made from, and how it is made."""

    path: str
    made_from: str
    make: Callable[[], bytes]


def make_all(leaves: Sequence[Leaf], get_ready: Callable[[], None]) -> Iterator[bytes]:
    """What each leaf comes to, in their order; many of them are made on several processes.

    `get_ready` is called before those begin.
    """
    if len(leaves) >= WORTH_A_POOL:
        get_ready()
    yield from spread(_maker, leaves, range(len(leaves)), worth=WORTH_A_POOL)


def _maker(leaves: Sequence[Leaf]) -> Callable[[int], bytes]:
    return lambda number: leaves[number].make()

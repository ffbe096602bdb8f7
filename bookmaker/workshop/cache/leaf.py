"""A leaf: one file of an edition, before it is made."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from bookmaker.workshop.pool import spread

WORTH_A_POOL = 100
"""Leaves. To begin two processes takes as long as to make some fifty pages."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """Its path in the output folder, what stands for all that it is made from, and how it is made.

    One that `spreads` its own work over processes is made in this one, before the others: what it keeps in the store,
    they find there.
    """

    path: str
    made_from: str
    make: Callable[[], bytes]
    spreads: bool = False


def make_all(leaves: Sequence[Leaf], get_ready: Callable[[], None]) -> Iterator[bytes]:
    """What each leaf comes to, those first that spread their own work, as `in_order` has them; many of the others are
    made on several processes. `get_ready` is called before those begin.
    """
    alone = [leaf for leaf in leaves if leaf.spreads]
    for leaf in alone:
        yield leaf.make()
    rest = leaves[len(alone) :]
    if len(rest) >= WORTH_A_POOL:
        get_ready()
    yield from spread(_maker, rest, range(len(rest)), worth=WORTH_A_POOL)


def in_order(leaves: Iterable[Leaf]) -> list[Leaf]:
    """Leaves in the order in which `make_all` makes them."""
    return sorted(leaves, key=lambda leaf: not leaf.spreads)


def _maker(leaves: Sequence[Leaf]) -> Callable[[int], bytes]:
    return lambda number: leaves[number].make()

"""A leaf: one file of an edition, before it is made."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from operator import itemgetter

from bookmaker.workshop.pool import spread_calls

WORTH_A_POOL = 100
"""Leaves. To begin two processes takes as long as to make some fifty pages."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """Its path in the output folder, what stands for all that it is made from, and how it is made.

    One that `spreads` its own work over processes is made in this one, before the others: what it keeps in the store,
    they find there. One whose content is `at_hand` is made in this process too, while the others are under way.
    """

    path: str
    made_from: str
    make: Callable[[], bytes]
    spreads: bool = False
    at_hand: bool = False


def make_all(leaves: Sequence[Leaf], get_ready: Callable[[], None]) -> Iterator[bytes]:
    """What each leaf comes to, in the order that `in_order` gives them; many are made on several processes.

    `get_ready` is called before those begin.
    """
    apart = [leaf.make for leaf in leaves if not (leaf.spreads or leaf.at_hand)]
    if len(apart) >= WORTH_A_POOL:
        get_ready()
    made = spread_calls(apart, worth=WORTH_A_POOL)
    for leaf in leaves:
        yield leaf.make() if leaf.spreads or leaf.at_hand else next(made)


def in_order(leaves: Iterable[Leaf]) -> list[Leaf]:
    """Leaves in the order in which to make them: those that spread their work first, then the others, with those that
    are at hand between them, so that neither this process nor the others wait for long.
    """
    spreading: list[Leaf] = []
    apart: list[Leaf] = []
    at_hand: list[Leaf] = []
    for leaf in leaves:
        (spreading if leaf.spreads else at_hand if leaf.at_hand else apart).append(leaf)
    woven = [(place / len(kind), leaf) for kind in (apart, at_hand) for place, leaf in enumerate(kind)]
    return [*spreading, *(leaf for _, leaf in sorted(woven, key=itemgetter(0)))]

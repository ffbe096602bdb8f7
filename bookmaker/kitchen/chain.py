"""The critical path: what must be done before what, how early and how late each thing can start, and what holds up
the end.

The usual forward and backward pass over an acyclic network (Kelley and Walker, 1959); checked in the tests against
networkx and against worked cases of textbooks.
"""

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from graphlib import TopologicalSorter
from typing import Generic, TypeVar

from bookmaker.measures.exact import ZERO

Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Activity(Generic[Key]):
    """Something that lasts `duration` and begins when all of `after` have ended, and not before `ready`."""

    key: Key
    duration: Decimal
    after: tuple[Key, ...] = ()
    ready: Decimal = ZERO


@dataclass(frozen=True, slots=True)
class Slot:
    """When an activity can start: as early as everything before it lets it, as late as the end lets it."""

    start: Decimal
    end: Decimal
    latest_start: Decimal
    latest_end: Decimal

    @property
    def slack(self) -> Decimal:
        """How long it may be put off without putting off the end."""
        return self.latest_start - self.start


@dataclass(frozen=True, slots=True)
class Schedule(Generic[Key]):
    """Every activity's slot, the end of it all, and one longest chain from the beginning to the end."""

    slots: Mapping[Key, Slot]
    end: Decimal
    chain: tuple[Key, ...]


def schedule(activities: Iterable[Activity[Key]]) -> Schedule[Key]:
    """Earliest and latest times, and the critical chain. Of equally long chains the one written first is given.

    Raises `graphlib.CycleError` for activities that wait for each other and `KeyError` for one that nobody described:
    both are refused when a recipe is read.
    """
    by_key = {activity.key: activity for activity in activities}
    order = _in_order(by_key)
    early: dict[Key, tuple[Decimal, Decimal]] = {}
    for key in order:
        activity = by_key[key]
        start = max([activity.ready, *(early[before][1] for before in activity.after)])
        early[key] = start, start + activity.duration
    end = max([ZERO, *(finish for _, finish in early.values())])
    late = dict.fromkeys(order, end)
    for key in reversed(order):
        begin = late[key] - by_key[key].duration
        for before in by_key[key].after:
            late[before] = min(late[before], begin)
    slots = {
        key: Slot(*early[key], latest_start=late[key] - by_key[key].duration, latest_end=late[key]) for key in by_key
    }
    return Schedule(slots, end, _chain(by_key, early, end))


def _in_order(by_key: Mapping[Key, Activity[Key]]) -> tuple[Key, ...]:
    """An order in which everything stands behind all that it waits for: as written, where that is one, as steps are."""
    behind: set[Key] = set()
    for key, activity in by_key.items():
        if not behind.issuperset(activity.after):
            return tuple(TopologicalSorter({key: activity.after for key, activity in by_key.items()}).static_order())
        behind.add(key)
    return tuple(by_key)


def _chain(
    by_key: Mapping[Key, Activity[Key]], early: Mapping[Key, tuple[Decimal, Decimal]], end: Decimal
) -> tuple[Key, ...]:
    """Walk back from what ends last through what each was waiting for."""
    at = next((key for key in by_key if early[key][1] == end), None)
    chain: list[Key] = []
    while at is not None:
        chain.append(at)
        start = early[at][0]
        waited = by_key[at].after
        at = next((key for key in waited if early[key][1] == start), None)
    return tuple(reversed(chain))

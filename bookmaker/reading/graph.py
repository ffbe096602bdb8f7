"""Which recipe needs which: an order in which components come first, and the cycles that make one impossible."""

from collections.abc import Hashable, Iterable, Mapping
from typing import TypeVar

T = TypeVar("T", bound=Hashable)


def in_order(needs: Mapping[T, Iterable[T]]) -> tuple[tuple[T, ...], tuple[tuple[T, ...], ...]]:
    """The nodes, each after all it needs, and the cycles found on the way (each from its first node as given).

    Nodes are taken in the order given, so the result does not depend on anything else. Needs outside of the mapping are
    passed over. Nodes that stand on a cycle appear in the order, too, but not behind everything they need.
    """
    order: list[T] = []
    cycles: list[tuple[T, ...]] = []
    done: set[T] = set()
    for start in needs:
        if start in done:
            continue
        path: dict[T, None] = {start: None}
        stack = [(start, iter(needs[start]))]
        while stack:
            node, rest = stack[-1]
            below = next(rest, None)
            if below is None:
                stack.pop()
                path.pop(node)
                if node not in done:
                    done.add(node)
                    order.append(node)
            elif below in path:
                walked = list(path)
                cycles.append(tuple(walked[walked.index(below) :]))
            elif below in needs and below not in done:
                path[below] = None
                stack.append((below, iter(needs[below])))
    return tuple(order), _distinct(cycles, {node: index for index, node in enumerate(needs)})


def _distinct(cycles: list[tuple[T, ...]], rank: Mapping[T, int]) -> tuple[tuple[T, ...], ...]:
    """Each cycle once, turned so that it begins with its earliest node."""
    found: dict[tuple[T, ...], None] = {}
    for cycle in cycles:
        first = min(range(len(cycle)), key=lambda index: rank[cycle[index]])
        found[(*cycle[first:], *cycle[:first])] = None
    return tuple(found)

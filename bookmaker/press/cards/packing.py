"""Blocks into columns: which arrangement of a card's blocks fits on one side, or on two. Pure; heights in millimetres.

A card has its formula at the left of its front and its steps after it, cautions before the first step. The second side
begins at a step: blocks are never cut.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

Column = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Blocks:
    """A card's blocks by name, in reading order, and the height of each.

    `formula` is one block, or two where it was divided; none where it is too broad for a column: then it is `wide`, and
    stands over both. `tail` is what may stand under the formula or at the end.
    """

    heights: dict[str, float]
    formula: Column
    cautions: Column
    steps: Column
    tail: Column = ()
    parts: Column = ()
    wide: Column = ()

    def high(self, blocks: Sequence[str]) -> float:
        """The height of blocks one below the other."""
        return sum(self.heights[each] for each in blocks)


@dataclass(frozen=True, slots=True)
class Arrangement:
    """The columns of each side, left and right; on the front they may stand below something `wide`."""

    sides: tuple[tuple[Column, Column], ...]
    wide: Column = ()


def on_one_side(blocks: Blocks, room: float) -> Arrangement | None:
    """The first good arrangement on one side; None where none fits."""
    for left, right in _fronts(blocks):
        if blocks.high(left) <= room and blocks.high(right) <= room:
            return Arrangement(((left, right),))
    everything = (*blocks.formula, *blocks.parts, *blocks.cautions, *blocks.steps, *blocks.tail)
    left, rest = _filled(blocks, everything, room)
    if set(blocks.formula) <= set(left) and blocks.high(rest) <= room:
        return Arrangement(((left, rest),))
    return None


def _fronts(blocks: Blocks) -> Iterator[tuple[Column, Column]]:
    """Ways of dividing a side into a column of what to take and one of what to do."""
    take = (*blocks.formula, *blocks.parts)
    yield (*take, *blocks.tail), (*blocks.cautions, *blocks.steps)
    for cut in range(len(blocks.tail) - 1, 0, -1):
        yield (*take, *blocks.tail[:cut]), (*blocks.cautions, *blocks.steps, *blocks.tail[cut:])
    yield (*take, *blocks.cautions, *blocks.tail), blocks.steps
    yield take, (*blocks.cautions, *blocks.steps, *blocks.tail)
    yield (*take, *blocks.cautions), (*blocks.steps, *blocks.tail)


def on_two_sides(blocks: Blocks, front: float, back: float) -> Arrangement | None:
    """The formula and the beginning of the method on the front, the rest on the back; None where it does not fit."""
    if len(blocks.formula) > 1:
        return _divided(blocks, front, back)
    for take in ((*blocks.formula, *blocks.parts), blocks.formula):
        if blocks.high(take) <= front:
            break
    else:
        return None
    left_over = blocks.parts if take == blocks.formula else ()
    under: list[str] = []
    for each in blocks.tail:
        if blocks.high((*take, *under, each)) <= front:
            under.append(each)
    tail = tuple(each for each in blocks.tail if each not in under)
    left = (*take, *under)
    cautions: Column = blocks.cautions
    if not under and blocks.high((*take, *cautions)) <= front and blocks.high(cautions) > front / 3:
        left, cautions = (*take, *cautions), ()
    right, rest = _filled(blocks, (*left_over, *cautions, *blocks.steps, *tail), front)
    if not rest:
        # All of it is on the front after all: the steps go on where they are easier to read
        return Arrangement(((left, right),))
    return _with_back(blocks, (left, right), rest, back)


def _divided(blocks: Blocks, front: float, back: float) -> Arrangement | None:
    """A formula over both columns of the front, the method on the back."""
    left, right = blocks.formula[:1], blocks.formula[1:]
    if blocks.high(left) > front or blocks.high(right) > front:
        return None
    more, rest = _filled(blocks, (*blocks.parts, *blocks.cautions), front - blocks.high(right))
    return _with_back(blocks, (left, (*right, *more)), (*rest, *blocks.steps, *blocks.tail), back)


def _with_back(blocks: Blocks, front: tuple[Column, Column], rest: Column, back: float) -> Arrangement | None:
    """The rest in two columns of the back, as even as they can be."""
    best: tuple[float, tuple[Column, Column]] | None = None
    for cut in range(1, len(rest) + 1):
        left, right = rest[:cut], rest[cut:]
        higher = max(blocks.high(left), blocks.high(right))
        if higher <= back and (best is None or higher <= best[0]):
            best = higher, (left, right)
    return Arrangement((front, best[1])) if best else None


def _filled(blocks: Blocks, row: Sequence[str], room: float) -> tuple[Column, Column]:
    """As many blocks as there is room for, and the rest."""
    taken = 0
    while taken < len(row) and blocks.high(row[: taken + 1]) <= room:
        taken += 1
    return tuple(row[:taken]), tuple(row[taken:])

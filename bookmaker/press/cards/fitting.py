"""Fitting: the largest type, on one side or else on two, in which a card's blocks have room."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path

from bookmaker.editions.cards.views import CardSheet, CardView
from bookmaker.press.cards.blocks import (
    AID,
    CAUTIONS,
    FORMULA,
    KEEPING,
    LOOK_FOR,
    MOULDING,
    PARTS,
    CardSetter,
    Sizes,
    code_width,
    rows,
)
from bookmaker.press.cards.measuring import Ruler
from bookmaker.press.cards.packing import Arrangement, Blocks, on_one_side, on_two_sides
from bookmaker.press.cards.papers import PAPERS, Type
from bookmaker.press.cards.styles import card_styles, variables

FOOT, SECOND = "foot", "formula, second part"

AIR = 1.0
"""Millimetres that are left free above the foot."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """A card in its sizes and places. `too_long` names what to shorten where even the smallest type has no room."""

    html: str
    type_: Type
    sides: int
    too_long: tuple[str, ...] = ()


class Way(Enum):
    """How a card is laid out, the better ways first. A formula is divided only if it must be."""

    ONE_SIDE = 1
    TWO_SIDES = 2
    DIVIDED = 3


@dataclass(frozen=True, slots=True)
class Measured:
    """A card's blocks in one size of type: `front` and `back` are the heights of columns."""

    type_: Type
    html: dict[str, str]
    blocks: Blocks
    foot: float
    front: float
    back: float

    def arranged(self, way: "Way") -> Arrangement | None:
        """The blocks arranged that way, if they fit."""
        blocks = self.blocks
        front = self.front - blocks.high(blocks.wide)
        if front < 0 or (way is not Way.DIVIDED and len(blocks.formula) > 1):
            return None
        found = on_one_side(blocks, front) if way is Way.ONE_SIDE else on_two_sides(blocks, front, self.back)
        return replace(found, wide=blocks.wide) if found else None

    def fill(self, way: "Way") -> float:
        """How full the card would be with so many sides: past 1 there is too much."""
        room = 2 * self.front + (0 if way is Way.ONE_SIDE else 2 * self.back)
        return sum(self.blocks.heights.values()) / room


class CardFitter:
    """Fits cards of one theme on one paper. Costly to make, then used for many."""

    def __init__(self, themes: Sequence[Path], paper: str) -> None:
        self._themes = [*themes]
        self._paper = PAPERS[paper]
        self._ruler = Ruler(card_styles(themes, paper), self._paper.width)
        self._setters: dict[tuple[str, bool], CardSetter] = {}

    def fit(self, sheet: CardSheet) -> Fitted:
        """The card as it is printed: on one side if it can be, in the largest type that has room."""
        setter = self._setter(sheet.view)
        measured: dict[int, Measured] = {}

        def at(level: int) -> Measured:
            if level not in measured:
                measured[level] = self._measure(setter, sheet, level)
            return measured[level]

        for way in Way:
            smallest = self._paper.one_side - 1 if way is Way.ONE_SIDE else len(self._paper.levels) - 1
            level = self._level(way, smallest, at)
            if level is not None and (arranged := at(level).arranged(way)):
                shown = at(level)
                sizes = Sizes(shown.type_, shown.foot, shown.blocks.high(arranged.wide))
                html = setter.card(sheet, arranged, shown.html, sizes)
                return Fitted(html, shown.type_, len(arranged.sides))
        last = at(len(self._paper.levels) - 1)
        names = too_long(last)
        return Fitted(setter.refusal(sheet, last.type_, names), last.type_, 1, names)

    def _level(self, way: Way, smallest: int, at: Callable[[int], Measured]) -> int | None:
        """The largest level that fits, 0 being the largest of all; None where not even the `smallest` does.

        Measuring takes time: what is known of one size tells where to look first.
        """
        levels = self._paper.levels
        known = at(_FIRST)

        def guess(level: int) -> float:
            larger = levels[level].steps / levels[_FIRST].steps
            return known.fill(way) * math.pow(larger, _GROWTH)

        if guess(smallest) > _HOPELESS:
            return None
        level = next((each for each in range(smallest) if guess(each) < _FULL), smallest)
        while not at(level).arranged(way):
            level += 1
            if level > smallest:
                return None
        while level > 0 and guess(level - 1) < _HOPELESS and at(level - 1).arranged(way):
            level -= 1
        return level

    def _setter(self, view: CardView) -> CardSetter:
        key = view.language, view.fahrenheit
        if key not in self._setters:
            self._setters[key] = CardSetter(self._themes, self._paper, view.language, fahrenheit=view.fahrenheit)
        return self._setters[key]

    def _measure(self, setter: CardSetter, sheet: CardSheet, level: int) -> Measured:
        """The blocks in one size: a formula too broad for a column over both, one too high for it in two parts."""
        view, paper = sheet.view, self._paper
        type_ = paper.levels[level]
        html = setter.blocks(view, type_)
        sizes = _key_sizes(type_.key, paper.levels[-1].key)
        keys = {f"key {size}": setter.figures(view, size) for size in sizes}
        beside = paper.content - (code_width(sheet.address, paper) if sheet.address else 0)
        is_broad = paper.column - sum(setter.widths(view, type_)) < paper.names
        formula = {FORMULA: html[FORMULA]}
        others = {name: block for name, block in html.items() if name != FORMULA}
        found = self._heights(
            view,
            type_,
            (paper.content if is_broad else paper.column, formula),
            (paper.column, others),
            (paper.content, {FOOT: setter.foot(view)}),
            (beside, keys),
        )
        type_ = replace(type_, key=next((size for size in sizes if f"key {size}" in found), sizes[-1]))
        front = paper.bottom - found[FOOT] - AIR - paper.front_top
        if not is_broad and found.get(FORMULA, 0) > front:
            formula = self._divided(setter, view, type_, found)
            found |= self._heights(view, type_, (paper.column, formula))
        html = formula | others
        blocks = _blocks({name: found.get(name, _NEVER) for name in html}, tuple(formula), is_broad=is_broad)
        return Measured(type_, html, blocks, found[FOOT], front, paper.bottom - paper.back_top)

    def _heights(self, view: CardView, type_: Type, *groups: tuple[float, dict[str, str]]) -> dict[str, float]:
        return self._ruler.heights(view.language, variables(self._paper, type_), groups)

    def _divided(self, setter: CardSetter, view: CardView, type_: Type, found: dict[str, float]) -> dict[str, str]:
        """The formula in two parts of nearly the same height, divided at the head of a stage if one is near."""
        all_rows = rows(view)
        heights = [found[row.id] for row in all_rows]
        whole = sum(heights)
        cut = min(
            range(1, len(all_rows)),
            key=lambda at: abs(sum(heights[:at]) - whole / 2) - (whole / 6 if all_rows[at].stage else 0),
        )
        return {
            FORMULA: setter.formula(view, type_, all_rows[:cut]),
            SECOND: setter.formula(view, type_, all_rows[cut:], goes_on=True),
        }


_FIRST = 3
"""The level that is measured first."""

_GROWTH = 1.3
"""By what power of its size type takes more room: higher lines, and more of them."""

_FULL, _HOPELESS = 0.97, 1.0
"""Below the one a card probably fits, above the other it is not tried: there would be more than there is room for."""

_SHORTER = 0.4
"""By how much a step is shortened by somebody who is asked to: a guess."""

_NEVER = 1e6
"""The height of what is wider than its column: it fits nowhere."""


def _key_sizes(wanted: float, floor: float) -> list[float]:
    """Sizes of key figures, the wanted one first: their row must not be wider than the card."""
    return [wanted, *(size for size in (wanted - 4, wanted - 8) if size > floor), floor]


def _blocks(heights: dict[str, float], formula: tuple[str, ...], *, is_broad: bool) -> Blocks:
    def of(*kinds: str) -> tuple[str, ...]:
        return tuple(name for name in heights if name.split(" ")[0] in kinds)

    return Blocks(
        heights=heights,
        formula=() if is_broad else formula,
        wide=formula if is_broad else (),
        cautions=of(MOULDING, CAUTIONS),
        steps=of("step"),
        tail=tuple(name for name in (LOOK_FOR, KEEPING, AID) if name in heights),
        parts=(PARTS,) if PARTS in heights else (),
    )


def too_long(measured: Measured) -> tuple[str, ...]:
    """What to shorten: the formula, if there is no room for it; else the longest steps, then what else is long."""
    blocks = measured.blocks
    if blocks.high(blocks.formula) > 2 * measured.front or blocks.high(blocks.wide) > measured.front:
        return (FORMULA,)
    over = sum(blocks.heights.values()) - 2 * (measured.front + measured.back)
    if over <= 0:
        # there is room, but not where it is wanted: what is highest stands in the way
        return tuple(sorted(blocks.heights, key=lambda name: -blocks.heights[name])[:2])
    named: list[str] = []
    saved = 0.0
    others = (*blocks.cautions, *blocks.tail, *blocks.parts)
    for group in (blocks.steps, others):
        for name in sorted(group, key=lambda each: -blocks.heights[each]):
            if named and saved > over:
                break
            named.append(name)
            saved += blocks.heights[name] * _SHORTER
    return tuple(named)

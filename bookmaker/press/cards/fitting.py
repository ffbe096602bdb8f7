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
        if way is Way.ONE_SIDE:
            return on_one_side(self.blocks, self.front)
        if way is Way.TWO_SIDES and len(self.blocks.formula) > 1:
            return None
        return on_two_sides(self.blocks, self.front, self.back)

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
                html = setter.card(sheet, shown.type_, arranged, shown.html, shown.foot)
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
        """The blocks in one size; a formula that is higher than a column, in two parts."""
        view, paper = sheet.view, self._paper
        type_ = paper.levels[level]
        html = setter.blocks(view, type_)
        keys = {f"key {size}": setter.figures(view, size) for size in _key_sizes(type_.key, paper.levels[-1].key)}
        wide = paper.content - (code_width(sheet.address, paper) if sheet.address else 0)
        style = variables(paper, type_)
        found = self._ruler.heights(
            view.language, style, [(paper.column, html), (paper.content, {FOOT: setter.foot(view)}), (wide, keys)]
        )
        foot = found.pop(FOOT)
        sizes = [size for size in _key_sizes(type_.key, paper.levels[-1].key) if f"key {size}" in found]
        type_ = replace(type_, key=sizes[0] if sizes else paper.levels[-1].key)
        front = paper.bottom - foot - AIR - paper.front_top
        formula: tuple[str, ...] = (FORMULA,)
        if found.get(FORMULA, 0) > front:
            formula = FORMULA, SECOND
            self._divide(setter, view, type_, found, html)
        blocks = _blocks({name: found.get(name, _NEVER) for name in html}, formula)
        return Measured(type_, html, blocks, foot, front, paper.bottom - paper.back_top)

    def _divide(
        self, setter: CardSetter, view: CardView, type_: Type, found: dict[str, float], html: dict[str, str]
    ) -> None:
        """Divide the formula into two parts of nearly the same height, at the head of a stage if one is near."""
        all_rows = rows(view)
        heights = [found[row.id] for row in all_rows]
        head = found[FORMULA] - sum(heights)
        whole = sum(heights)
        cuts = range(1, len(all_rows))
        cut = min(cuts, key=lambda at: abs(sum(heights[:at]) - whole / 2) - (whole / 6 if all_rows[at].stage else 0))
        for name, part in ((FORMULA, slice(None, cut)), (SECOND, slice(cut, None))):
            html[name] = setter.formula(view, type_, all_rows[part], goes_on=name == SECOND)
            found[name] = head + sum(heights[part])


_FIRST = 3
"""The level that is measured first."""

_GROWTH = 1.7
"""By what power of its size type takes more room: higher lines, and more of them."""

_FULL, _HOPELESS = 0.94, 1.06
"""Below the one a card probably fits, above the other surely not: guesses are good to some hundredths."""

_SHORTER = 0.4
"""By how much a step is shortened by somebody who is asked to: a guess."""

_NEVER = 1e6
"""The height of what is wider than its column: it fits nowhere."""


def _key_sizes(wanted: float, floor: float) -> list[float]:
    """Sizes of key figures, the wanted one first: their row must not be wider than the card."""
    return [wanted, *(size for size in (wanted - 4, wanted - 8) if size > floor), floor]


def _blocks(heights: dict[str, float], formula: tuple[str, ...]) -> Blocks:
    def of(*kinds: str) -> tuple[str, ...]:
        return tuple(name for name in heights if name.split(" ")[0] in kinds)

    return Blocks(
        heights=heights,
        formula=formula,
        cautions=of(MOULDING, CAUTIONS),
        steps=of("step"),
        tail=tuple(name for name in (LOOK_FOR, KEEPING, AID) if name in heights),
        parts=(PARTS,) if PARTS in heights else (),
    )


def too_long(measured: Measured) -> tuple[str, ...]:
    """What to shorten: the formula, if there is no room for it; else the longest steps, then what else is long."""
    blocks = measured.blocks
    if blocks.high(blocks.formula) > 2 * measured.front:
        return (FORMULA,)
    over = sum(blocks.heights.values()) - 2 * (measured.front + measured.back)
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

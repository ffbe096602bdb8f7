"""Fitting: the largest type, on one side or else on two, in which a card's blocks have room."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
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


@dataclass(frozen=True, slots=True)
class Measured:
    """A card's blocks in one size of type: `front` and `back` are the heights of columns."""

    type_: Type
    html: dict[str, str]
    blocks: Blocks
    foot: float
    front: float
    back: float

    def arranged(self, sides: int) -> Arrangement | None:
        """The blocks on so many sides, if they fit."""
        return on_one_side(self.blocks, self.front) if sides == 1 else on_two_sides(self.blocks, self.front, self.back)


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

        for sides, smallest, first in ((1, self._paper.one_side - 1, 3), (2, len(self._paper.levels) - 1, 2)):

            def on(level: int, sides: int = sides) -> Arrangement | None:
                return at(level).arranged(sides)

            level = _level(on, smallest, first)
            if level is not None and (arranged := on(level)):
                shown = at(level)
                html = setter.card(sheet, shown.type_, arranged, shown.html, shown.foot)
                return Fitted(html, shown.type_, len(arranged.sides))
        last = at(len(self._paper.levels) - 1)
        names = too_long(last)
        return Fitted(setter.refusal(sheet, last.type_, names), last.type_, 1, names)

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
            view.language, style, {paper.column: html, paper.content: {FOOT: setter.foot(view)}, wide: keys}
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


_NEVER = 1e6
"""The height of what is wider than its column: it fits nowhere."""


def _level(on: Callable[[int], object], smallest: int, first: int) -> int | None:
    """The largest level that fits, where what fits in one size also fits in all smaller ones.

    0 is the largest; looking begins at the `first`.
    """
    level = first
    while not on(level):
        level += 1
        if level > smallest:
            return None
    while level > 0 and on(level - 1):
        level -= 1
    return level


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
    """What to shorten: the highest blocks that together are more than there is no room for."""
    blocks = measured.blocks
    room = 2 * (measured.front + measured.back)
    over = max(sum(blocks.heights.values()) - room, 0.0)
    named: list[str] = []
    saved = 0.0
    for name in sorted(blocks.heights, key=lambda each: -blocks.heights[each]):
        named.append(name)
        # a block is shortened, not left out: by a third, say
        saved += blocks.heights[name] / 3
        if saved > over and len(named) > 1:
            break
    return tuple(named)

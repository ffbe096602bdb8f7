"""A card's blocks as HTML, set by the theme, and the sides put together of blocks that have been given their place."""

import re
from base64 import b64encode
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from markupsafe import Markup, escape

from bookmaker.editions.cards.views import CardLine, CardSheet, CardView
from bookmaker.editions.team.views import Amount
from bookmaker.press.book import tied
from bookmaker.press.cards.edges import edge, edge_size
from bookmaker.press.cards.packing import Arrangement
from bookmaker.press.cards.papers import CardPaper, Type
from bookmaker.press.cards.qr import code_modules, code_picture
from bookmaker.press.cards.styles import variables
from bookmaker.press.formats import NBSP, Formats
from bookmaker.press.html import environment

LABELS: Mapping[str, str] = {
    "oven": "Oven",
    "bake": "In the oven",
    "to": "Bring to",
    "in all": "Start to finish, about",
    "dough": "Dough",
    "yield": "Yield",
    "scaled at": "Scaled at",
    "a piece": "Each weighs",
}
"""What key figures are called."""

FORMULA, PARTS, MOULDING, CAUTIONS = "formula", "parts", "moulding", "cautions"
LOOK_FOR, AID, KEEPING = "look for", "first aid", "keeping"

_NUMBERS = re.compile(r"[^\W\d_]+(?:\.|\b)|[°%]\s?\w*")
_POINT = 25.4 / 72
_APART = 3.4
"""Millimetres between columns of weights."""

_ASK = 10
"""Millimetres below the code, for the words that go with it."""

_DIGIT = 0.5
"""The width of a figure, as a share of the type size: Ledger Sans has 0.497."""


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the formula: the head of a stage, a line, or (neither) the sum."""

    id: str
    stage: str = ""
    kind: str = ""
    line: CardLine | None = None


@dataclass(frozen=True, slots=True)
class Sizes:
    """Sizes of type, and the heights in millimetres of the front's foot and of a formula over both its columns."""

    type_: Type
    foot: float
    wide: float = 0.0


class CardSetter:
    """A theme ready to set the blocks of cards in one language on one paper."""

    def __init__(self, themes: Iterable[Path], paper: CardPaper, language: str, *, fahrenheit: bool) -> None:
        self.paper = paper
        formats = Formats.of(language, fahrenheit=fahrenheit)
        self._formats = formats
        folders = [theme / "cards" for theme in themes]
        made = environment(folders, formats, {"labels": LABELS, "coarse": _has_coarse})

        def unitless(amount: Amount) -> str:
            """A figure before another one of the same unit."""
            return formats.amount(amount).rpartition(NBSP)[0]

        made.filters |= {"key": _key, "unitless": unitless}
        self._set: Any = made.get_template("card.html").module
        self._sheet, self._refusal = made.get_template("sheet.html"), made.get_template("refusal.html")

    # --- blocks

    def blocks(self, view: CardView, type_: Type) -> dict[str, str]:
        """Every block by its name, in reading order."""
        found = {FORMULA: self.formula(view, type_, rows(view))}
        if view.components:
            found[PARTS] = self._block(self._set.components, view)
        if view.moulding:
            found[MOULDING] = self._block(self._set.moulding, view)
        if view.cautions:
            found[CAUTIONS] = self._block(self._set.cautions, view)
        for run in view.steps:
            for at, step in enumerate(run.steps):
                found[f"step {step.number}"] = self._block(self._set.step, step, run.heading if at == 0 else "")
        if view.look_for:
            found[LOOK_FOR] = self._block(self._set.look_for, view)
        if view.first_aid:
            found[AID] = self._block(self._set.first_aid, view)
        if view.keeping:
            found[KEEPING] = self._block(self._set.keeping, view)
        return found

    def formula(self, view: CardView, type_: Type, of: Sequence[Row], *, goes_on: bool = False) -> str:
        """The formula, or a part of its rows."""
        return self._block(self._set.formula, view, self.widths(view, type_), of, goes_on)

    def widths(self, view: CardView, type_: Type) -> list[float]:
        """How wide the columns of weights are."""
        return widths(view, type_, self._formats)

    def foot(self, view: CardView) -> str:
        """The foot of the front: allergens."""
        return self._block(self._set.foot, view)

    def figures(self, view: CardView, size: float) -> str:
        """The key figures, in a size of type."""
        return self._block(self._set.figures, view, size)

    def _block(self, set_by: Callable[..., str], *shown: object) -> str:
        return tied(str(set_by(*shown)))

    # --- sides

    def card(self, sheet: CardSheet, arrangement: Arrangement, blocks: Mapping[str, str], sizes: Sizes) -> str:
        """The whole card: each side with its edges, head, columns and foot in their places."""
        paper = self.paper
        pattern = edge(sheet.pattern), edge_size(sheet.pattern, paper.strip)
        code = code_picture(sheet.address) if sheet.address else ""
        qr = "data:image/svg+xml;base64," + b64encode(code.encode()).decode("ascii") if code else ""
        size = code_width(sheet.address, paper) if sheet.address else 0
        sides = []
        for number, (left, right) in enumerate(arrangement.sides):
            sides.append(
                {
                    "columns": [[Markup(blocks[each]) for each in column] for column in (left, right)],  # noqa: S704
                    "head": self._set.head(sheet, paper, qr, size)
                    if number == 0
                    else self._set.back_head(sheet, paper),
                    "is_front": number == 0,
                }
            )
        return tied(
            self._sheet.render(
                sheet=sheet,
                sides=sides,
                paper=paper,
                variables=variables(paper, sizes.type_),
                edges=self._set.edges(sheet, paper, *pattern),
                figures=Markup(self.figures(sheet.view, sizes.type_.key)),  # noqa: S704
                foot=Markup(self.foot(sheet.view)),  # noqa: S704
                foot_height=round(sizes.foot, 2),
                wide=[Markup(blocks[each]) for each in arrangement.wide],  # noqa: S704
                wide_height=round(sizes.wide, 2),
                qr=size,
            )
        )

    def refusal(self, sheet: CardSheet, type_: Type, too_long: Sequence[str]) -> str:
        """In place of a card that has no room on two sides: what to shorten. No half card goes to the bench."""
        return tied(
            self._refusal.render(
                sheet=sheet, paper=self.paper, variables=variables(self.paper, type_), too_long=too_long
            )
        )


def code_width(address: str, paper: CardPaper) -> float:
    """The width of the code of an address, with the white around it, in millimetres.

    A long address has more squares: they get smaller before the code runs out of the head.
    """
    return round(min(code_modules(address) * paper.module, paper.head + paper.figures - _ASK), 2)


def rows(view: CardView) -> tuple[Row, ...]:
    """The formula's rows, from top to bottom."""
    found: list[tuple[str, str, CardLine | None]] = []
    for stage in view.formula.stages:
        if stage.name:
            found.append((stage.name, stage.kind, None))
        found += [("", "", line) for line in stage.lines]
    found.append(("", "", None))
    return tuple(Row(f"row-{number}", *row) for number, row in enumerate(found))


def widths(view: CardView, type_: Type, formats: Formats) -> list[float]:
    """Widths of the weight columns in millimetres: of the longest number in each, so that columns stand alike."""
    found = []
    for at, batch in enumerate(view.formula.batches):
        size = type_.tested if batch == 1 else type_.others
        shown = [formats.number(view.formula.weights[at])] if at < len(view.formula.weights) else []
        for stage in view.formula.stages:
            for line in stage.lines:
                amount = line.amounts[at]
                if amount is not None:
                    shown.append("≈" * amount.coarse + formats.number(amount.value))
        longest = max((_length(text) for text in shown), default=1.0)
        words = [a.word for s in view.formula.stages for line in s.lines if (a := line.amounts[at]) is not None]
        words_wide = max((len(word) * type_.small * 0.52 for word in words), default=0.0)
        head = 3 * type_.names * 0.6
        found.append(round(max(longest * size * 1.02, words_wide, head) * _POINT + _APART, 2))
    return found


def _length(text: str) -> float:
    """The width of a number in units of its type size."""
    narrow = {NBSP: 0.2, ".": 0.25, ",": 0.25, "≈": 0.5}
    return sum(narrow.get(character, _DIGIT) for character in text)


def _has_coarse(view: CardView) -> bool:
    return any(
        amount is not None and amount.coarse
        for stage in view.formula.stages
        for line in stage.lines
        for amount in line.amounts
    )


def _key(text: str) -> Markup:
    """A key figure with its units in small letters."""
    small = _NUMBERS.sub(lambda found: f"<small>{found[0]}</small>", str(escape(text)))
    return Markup(small)  # noqa: S704 (escaped above)

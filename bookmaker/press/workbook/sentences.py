"""Sentences, tables and values of the workbook's exercises, in the house's language."""

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup, escape

from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.views_parts import (
    Cell,
    Clock,
    Filled,
    Gap,
    Grid,
    Part,
    Room,
    Say,
    Value,
    Word,
)
from bookmaker.press.formats import NBSP, Formats

DAY = 1440

LONG = 30
"""Rows and lines that a page surely holds."""

NOT_ASKED = "–"
"""Stands in a column of numbers where none is asked for."""


@dataclass(frozen=True, slots=True)
class Sentences:
    """How sentences with values in them are set. Every method is a template filter of the same name."""

    formats: Formats

    def say(self, sentence: Say) -> Markup:
        """A sentence with its values; it begins with a capital, whatever name stands first."""
        return leading(self.clause(sentence))

    def clause(self, sentence: Say) -> Markup:
        """The same within another sentence."""
        values = {name: self.value(value) for name, value in sentence.values}
        return escape(self.formats.word(sentence.text)) % values

    def value(self, value: Value | Say) -> Markup:
        """A value; numbers are set apart from the words around them."""
        match value:
            case Say():
                return self.say(value)
            case Word(key):
                # a sentence of ours may stand as a value, with its own signs for percent
                return escape(self.formats.word(key))
            case str():
                return escape(value)
            case Clock(minutes):
                return self._number(self._clock(minutes))
            case Amount():
                return self._number(self._amount(value))
            case _:
                return self._number(self.formats.number(value))

    def plain(self, value: Value | Say) -> Markup:
        """A value in a table, whose columns set numbers apart already."""
        match value:
            case Say():
                return self.say(value)
            case Word() | str():
                return self.value(value)
            case Clock(minutes):
                return escape(self._clock(minutes))
            case Amount():
                return escape(self._amount(value))
            case _:
                return escape(self.formats.number(value))

    def _amount(self, amount: Amount) -> str:
        """As the rest of the book has it, but temperatures on the scale that they are given on."""
        if amount.unit == "°C":
            return f"{self.formats.number(amount.value)}{NBSP}{amount.unit}"
        return self.formats.amount(amount)

    def _clock(self, minutes: int) -> str:
        hours, rest = divmod(minutes % DAY, 60)
        time = f"{hours:02}:{rest:02}"
        days = -(minutes // DAY)
        if days <= 0:
            return time
        if days == 1:
            return self.formats.words.gettext("%s, the day before") % time
        return self.formats.words.gettext("%(time)s, %(days)s days before") % {"time": time, "days": days}

    def _number(self, text: str) -> Markup:
        return Markup("<b>{}</b>").format(text)


def leading(words: Markup) -> Markup:
    """Words with a capital to begin with; what is written in capitals stays so."""
    return words[:1].upper() + words[1:]


def is_long(parts: Sequence[Part]) -> bool:
    """Whether a task may be too long for what is left of a page below a heading, so that it must be let break."""
    rows = sum(len(part.rows) for part in parts if isinstance(part, Grid))
    lines = sum(1 + part.lines for part in parts if isinstance(part, Room))
    return rows + lines > LONG


def shape(part: object) -> str:
    """What kind of part it is: say, grid, room, result, lettered."""
    return type(part).__name__.lower()


def fill(cell: Cell) -> str:
    """What a table's cell holds: gap, filled, number or words."""
    match cell:
        case Gap():
            return "gap"
        case Filled():
            return "filled"
        case Say() | Word() | str() if cell != NOT_ASKED:
            return "words"
        case _:
            return "number"

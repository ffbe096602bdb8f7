"""An amount as a cook writes it: a number and a unit (`1 1/2 kg`, `480..560 g`, `2 leaves`, `60 %`)."""

import re
from dataclasses import dataclass
from decimal import Decimal, localcontext

from bookmaker.measures.exact import CONTEXT
from bookmaker.measures.numbers import Unreadable, take_number
from bookmaker.measures.units import UNITS, Dimension, Spoons, factor

LARGEST_GRAMS = Decimal(10_000_000)
"""Ten tonnes: beyond this a line is a slip of the pen."""

_WORD = re.compile(r"%|[^\W\d_]+(?:[-'][^\W\d_]+)*")
_TWO_WORDS = re.compile(r"fl\s+oz\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Amount:
    """`number` of `unit`. For counts the unit is the cook's own word (`leaf`, `pod`, or `` for a bare number)."""

    number: Decimal
    unit: str
    dimension: Dimension

    def in_base(self, spoons: Spoons = Spoons.METRIC) -> Decimal:
        """The amount in grams, millilitres, millimetres, as a fraction of one, or as a plain count."""
        if self.dimension is Dimension.COUNT:
            return self.number
        with localcontext(CONTEXT):
            return self.number * factor(self.unit, spoons)


@dataclass(frozen=True, slots=True)
class TakenAmount:
    """An amount read from the front of a text and the offset just behind it."""

    amount: Amount
    end: int


def skip_space(text: str, start: int) -> int:
    """The offset of the first character at or after `start` that is not white space."""
    while start < len(text) and text[start].isspace():
        start += 1
    return start


def take_amount(text: str, start: int = 0) -> TakenAmount | None:
    """Read `NUMBER [UNIT]` at `start`; None where no number stands there.

    A word behind the number that is no unit of ours is left in place and the amount is a bare count: `2 vanilla pods`
    is two of whatever `vanilla pods` turns out to be. Raises `Unreadable` as `take_number` does, for zero, and for
    grams that may be meant as thousands.
    """
    taken = take_number(text, start)
    if taken is None:
        return None
    if taken.value == 0:
        raise Unreadable(
            "an amount must be more than zero", start=start, end=taken.end, hint="write how much, or leave it out"
        )
    at = skip_space(text, taken.end)
    if two := _TWO_WORDS.match(text, at):
        return TakenAmount(Amount(taken.value, "fl oz", Dimension.VOLUME), two.end())
    word = _WORD.match(text, at)
    unit = UNITS.get(word[0].lower()) if word else None
    if word and unit:
        _refuse_thousands(text[start : taken.end], unit.symbol, start, taken.end)
        return TakenAmount(Amount(taken.value, unit.symbol, unit.dimension), word.end())
    return TakenAmount(Amount(taken.value, "", Dimension.COUNT), taken.end)


_THOUSANDS = re.compile(r"(?P<whole>[1-9]\d{0,2})\.(?P<part>\d{3})")
_NO_SCALE_SHOWS = frozenset({"mg", "g", "ml"})


def _refuse_thousands(number: str, unit: str, start: int, end: int) -> None:
    """`1.250 g` is a milligram's precision here and a kilo and a quarter in half of Europe: ask, never guess."""
    found = _THOUSANDS.fullmatch(number)
    if found and unit in _NO_SCALE_SHOWS:
        rest = found["part"].rstrip("0")
        less = f"{found['whole']}{'.' if rest else ''}{rest[:2]}"
        raise Unreadable(
            f"{number} {unit} may be meant as {found['whole']}{found['part']} {unit}",
            start=start,
            end=end,
            hint=f"write {found['whole']}{found['part']} {unit} for thousands, or {less} {unit}",
        )


def parse_amount(text: str, *dimensions: Dimension) -> Amount:
    """Read a whole text as one amount in one of `dimensions`; a count keeps the word behind the number as its unit.

    Raises `Unreadable` when it is anything else.
    """
    start = skip_space(text, 0)
    taken = take_amount(text, start)
    if taken is None:
        raise Unreadable(f"'{text.strip()}' does not begin with a number", start=start, end=len(text))
    amount = taken.amount
    rest = text[taken.end :].strip()
    if rest and amount.dimension is Dimension.COUNT:
        amount = Amount(amount.number, rest, Dimension.COUNT)
    elif rest:
        raise Unreadable(f"'{rest}' is left over after the amount", start=taken.end, end=len(text))
    if dimensions and amount.dimension not in dimensions:
        wanted = " or ".join(dimension.value for dimension in dimensions)
        raise Unreadable(f"'{text.strip()}' is no {wanted}", start=start, end=len(text))
    return amount

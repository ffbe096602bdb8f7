"""Flat shapes as a cook writes them: `60 × 40 cm`, `30 × 80 mm`, `discs of 40 mm`."""

import re
from dataclasses import dataclass
from decimal import Decimal, localcontext

from bookmaker.measures.amounts import skip_space, take_amount
from bookmaker.measures.counts import DISC_WORDS, SQUARE_WORDS, singular
from bookmaker.measures.exact import CONTEXT
from bookmaker.measures.numbers import Unreadable, take_number
from bookmaker.measures.units import Dimension, factor
from bookmaker.model.shapes import Disc, Rectangle, Shape

TIMES = re.compile(r"\s*(?:×|[xX*](?![^\W\d_])|by\b)\s*")
"""The sign between two sides, and between `24` and `42 g`; an `x` that begins a word is no sign."""

LONGEST = Decimal(20_000)
"""Twenty metres: beyond this a length is a slip of the pen."""


@dataclass(frozen=True, slots=True)
class TakenShape:
    """A shape read from the front of a text and the offset just behind it."""

    shape: Shape
    end: int


@dataclass(frozen=True, slots=True)
class TakenLength:
    """A length in millimetres read from the front of a text and the offset just behind it."""

    mm: Decimal
    end: int


def take_length(text: str, start: int = 0) -> TakenLength:
    """Read one length at `start`. Raises `Unreadable` for anything else."""
    taken = take_amount(text, start)
    if taken is None or taken.amount.dimension is not Dimension.LENGTH:
        end = taken.end if taken else len(text)
        raise Unreadable(
            f"'{text[start:].strip()}' is no length",
            start=start,
            end=end,
            hint="write a number and mm or cm, as in 40 mm",
        )
    return TakenLength(_within(taken.amount.in_base(), start, taken.end), taken.end)


def take_rectangle(text: str, start: int = 0) -> tuple[Rectangle, int] | None:
    """Read `W × D UNIT` at `start`; None where there is no `×`. A unit missing on the first side is the second's."""
    try:
        first = take_number(text, start)
    except Unreadable:
        return None
    if first is None:
        return None
    cross = TIMES.match(text, first.end)
    own = None
    if cross is None:
        own = take_amount(text, start)
        cross = TIMES.match(text, own.end) if own and own.amount.dimension is Dimension.LENGTH else None
    if cross is None or take_number(text, cross.end()) is None:
        return None
    second = take_amount(text, cross.end())
    if second is None or second.amount.dimension is not Dimension.LENGTH:
        return None
    with localcontext(CONTEXT):
        width = own.amount.in_base() if own else first.value * factor(second.amount.unit)
    if width == 0:
        raise Unreadable("a side must be longer than zero", start=start, end=first.end)
    size = Rectangle(_within(width, start, first.end), _within(second.amount.in_base(), cross.end(), second.end))
    return size, second.end


def take_shape(text: str, start: int, word: str) -> TakenShape | None:
    """Read what one `word` (`disc`, `piece`, `square` …) looks like at `start`; None where no length stands there."""
    if rectangle := take_rectangle(text, start):
        return TakenShape(*rectangle)
    taken = take_amount(text, start)
    if taken is None or taken.amount.dimension is not Dimension.LENGTH:
        return None
    side = _within(taken.amount.in_base(), start, taken.end)
    one = singular(word)
    if one in DISC_WORDS:
        return TakenShape(Disc(side), taken.end)
    if one in SQUARE_WORDS:
        return TakenShape(Rectangle(side, side), taken.end)
    written = text[start : taken.end].strip()
    raise Unreadable(
        f"one length does not say what shape the {word} are",
        start=start,
        end=taken.end,
        hint=f"write 'discs of {written}', 'squares of {written}', or two sides such as 30 × 80 mm",
    )


def take_word(text: str, start: int) -> tuple[str, int]:
    """The word at `start` (after white space) and the offset behind it; an empty word where there is none."""
    at = skip_space(text, start)
    found = re.compile(r"[^\W\d_]+").match(text, at)
    return (found[0], found.end()) if found else ("", at)


def _within(mm: Decimal, start: int, end: int) -> Decimal:
    if mm > LONGEST:
        raise Unreadable(
            "nothing on a bench is longer than 20 m", start=start, end=end, hint="check the number and its unit"
        )
    return mm

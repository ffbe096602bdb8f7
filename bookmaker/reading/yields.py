"""What a batch comes to: the grammar of `yields`, and of `cut`, `to` and `portion` beside it."""

import re
from decimal import Decimal

from bookmaker.measures.amounts import Amount, parse_amount, skip_space, take_amount
from bookmaker.measures.counts import COUNT_WORDS, DISC_WORDS, VESSEL_WORDS, singular
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.units import Dimension
from bookmaker.model.recipe import Portion
from bookmaker.model.shapes import Disc
from bookmaker.model.yields import (
    BoilTo,
    CutSpec,
    FrameYield,
    MassYield,
    MouldYield,
    PieceYield,
    SheetYield,
    TinYield,
    TrayYield,
    Yield,
)  # fmt: skip
from bookmaker.reading.flat import take_length, take_rectangle, take_shape, take_word
from bookmaker.reading.suggest import did_you_mean
from bookmaker.reading.texts import grams

FORMS = "1.1 kg, 24 pieces of 46 g, 6 loaves scaled at 950 g, 1 sheet of 60 × 40 cm at 4 mm, or fills 4 pebble mould"

_FILLS = re.compile(r"\s*fills\s+", re.IGNORECASE)
_MOULDS = re.compile(r"\s*(?:moulds?\s+of\s+)", re.IGNORECASE)
_OF = re.compile(r"\s*of\b\s*", re.IGNORECASE)
_AT = re.compile(r"\s*at\b\s*", re.IGNORECASE)
_SCALED = re.compile(r"\s*scaled(?:\s+(?:at|to))?\b\s*", re.IGNORECASE)
_TRIM = re.compile(r"\s*trim\b\s*", re.IGNORECASE)
_CUT_INTO = re.compile(r"\s*(?:into\s+)?([^\W\d_]+)\s+of\s+", re.IGNORECASE)
_BRIX = re.compile(r"\s*°?\s*brix\s*", re.IGNORECASE)

_MOST_PIECES = Decimal(1_000_000)


def read_yield(text: str) -> Yield:
    """Read `yields`. Raises `Unreadable`."""
    if fills := _FILLS.match(text):
        return _moulds(text, fills.end())
    start = skip_space(text, 0)
    taken = take_amount(text, start)
    if taken is None:
        raise Unreadable(f"'{text.strip()}' does not say how much comes out", end=len(text), hint=f"write {FORMS}")
    if taken.amount.dimension is Dimension.MASS:
        return MassYield(grams(text))
    if taken.amount.dimension is not Dimension.COUNT:
        raise _no_weight(text, taken.amount)
    word, end = take_word(text, taken.end)
    count = taken.amount.number
    if count > _MOST_PIECES:
        raise Unreadable(f"{text.strip()} is more than a million", end=len(text), hint="check the number")
    match singular(word):
        case "sheet":
            return _sheets(text, count, end)
        case "frame":
            return FrameYield(count, _vessel(text, end, "frame", "1 frame of bar frame"))
        case "tin":
            return TinYield(count, _vessel(text, end, "tin", "2 tins of loaf tin 900"))
        case "tray":
            _nothing_left(text, end)
            return TrayYield(count)
        case one if one in COUNT_WORDS:
            return _pieces(text, count, word, end)
        case _:
            raise _unknown_word(text, word, taken.end)


def _moulds(text: str, start: int) -> MouldYield:
    taken = take_amount(text, start)
    if taken is None or taken.amount.dimension is not Dimension.COUNT:
        raise Unreadable(
            f"'{text.strip()}' does not say how many moulds", end=len(text), hint="write it as fills 4 pebble mould"
        )
    wordy = _MOULDS.match(text, taken.end)
    name = text[wordy.end() if wordy else taken.end :].strip()
    if not name:
        raise Unreadable("which mould it fills is missing", end=len(text), hint="write it as fills 4 pebble mould")
    return MouldYield(taken.amount.number, name)


def _sheets(text: str, count: Decimal, start: int) -> SheetYield:
    of = _OF.match(text, start)
    taken = take_rectangle(text, of.end()) if of else None
    if taken is None:
        raise Unreadable("a sheet needs its size", end=len(text), hint="write it as 1 sheet of 60 × 40 cm at 4 mm")
    size, end = taken
    at = _AT.match(text, end)
    if at is None:
        _nothing_left(text, end)
        return SheetYield(count, size)
    thick = take_length(text, at.end())
    if thick.mm > min(size.width, size.depth):
        raise Unreadable(
            "a sheet is never thicker than it is wide", start=at.end(), end=thick.end, hint="check the unit"
        )
    _nothing_left(text, thick.end)
    return SheetYield(count, size, thick.mm)


def _vessel(text: str, start: int, what: str, example: str) -> str:
    of = _OF.match(text, start)
    name = text[of.end() :].strip() if of else ""
    if not name:
        raise Unreadable(f"which {what} is meant is missing", end=len(text), hint=f"write it as {example}")
    return name


def _pieces(text: str, count: Decimal, word: str, start: int) -> PieceYield:
    scaled = _SCALED.match(text, start)
    of = _OF.match(text, start)
    behind = scaled or of or _AT.match(text, start)
    if behind is None:
        _nothing_left(text, start)
        return PieceYield(count, word)
    if not (scaled or of):
        raise Unreadable(
            f"'{text.strip()}' does not say whether the weight is raw or finished",
            start=behind.start(),
            end=len(text),
            hint=f"write 'of {text[behind.end() :].strip()}' for finished pieces, 'scaled at …' for raw ones",
        )
    try:
        each = grams(text[behind.end() :])
    except Unreadable as refused:
        hint = "write it as 24 pieces of 46 g; what is cut from a sheet is said by `cut`"
        raise Unreadable(refused.why, start=behind.end(), end=len(text), hint=refused.hint or hint) from None
    return PieceYield(count, word, scaled=each) if scaled else PieceYield(count, word, finished=each)


def _no_weight(text: str, amount: Amount) -> Unreadable:
    if amount.dimension is Dimension.VOLUME:
        return Unreadable(
            "what comes out is weighed, not measured by volume", end=len(text), hint="weigh it once and write g or kg"
        )
    return Unreadable(f"'{text.strip()}' does not say how much comes out", end=len(text), hint=f"write {FORMS}")


def _unknown_word(text: str, word: str, start: int) -> Unreadable:
    if not word:
        return Unreadable(
            f"'{text.strip()}' does not say what is counted",
            end=len(text),
            hint=f"write {text.strip()} pieces, or a weight",
        )
    at = text.index(word, start)
    hint = did_you_mean(word, (*COUNT_WORDS, *VESSEL_WORDS, "kg", "g")) or "write pieces, or a weight"
    return Unreadable(f"'{word}' is no word that pieces are counted by", start=at, end=at + len(word), hint=hint)


def _nothing_left(text: str, start: int) -> None:
    rest = text[start:].strip()
    if rest:
        at = text.index(rest, start)
        raise Unreadable(f"'{rest}' is left over", start=at, end=at + len(rest), hint=f"write {FORMS}")


def read_cut(text: str) -> CutSpec:
    """Read `cut`: `30 × 80 mm`, `discs of 40 mm`, `30 × 80 mm, trim 5 mm`. Raises `Unreadable`."""
    word, start = "pieces", skip_space(text, 0)
    if (into := _CUT_INTO.match(text)) and into[1].lower() in COUNT_WORDS:
        word, start = into[1], into.end()
    shape = take_shape(text, start, word)
    if shape is None:
        bare = re.fullmatch(r"[\d.\s×xX*]*\d", text[start:].strip())
        hint = f"did you mean {text.strip()} mm?" if bare else "write 30 × 80 mm, or discs of 40 mm"
        raise Unreadable(
            f"'{text.strip()}' is no cut",
            end=len(text),
            hint=hint,
        )
    if isinstance(shape.shape, Disc) and singular(word) not in DISC_WORDS:
        word = "discs"
    end, trim = shape.end, Decimal(0)
    if text[skip_space(text, end) :].startswith(","):
        comma = skip_space(text, end)
        named = _TRIM.match(text, comma + 1)
        if named is None:
            raise Unreadable(
                f"'{text[comma + 1 :].strip()}' is left over", start=comma + 1, end=len(text), hint="write trim 5 mm"
            )
        length = take_length(text, named.end())
        trim, end = length.mm, length.end
    _rest_is_empty(text, end)
    return CutSpec(shape.shape, trim, word)


def _rest_is_empty(text: str, end: int) -> None:
    if rest := text[end:].strip():
        at = text.index(rest, end)
        raise Unreadable(f"'{rest}' is left over", start=at, end=len(text), hint="write it as 30 × 80 mm, trim 5 mm")


def read_end_point(text: str) -> BoilTo:
    """Read `to`: `65 °Brix`, or a weight. Raises `Unreadable`."""
    start = skip_space(text, 0)
    taken = take_amount(text, start)
    if taken and taken.amount.dimension is Dimension.COUNT and (brix := _BRIX.match(text, taken.end)):
        _rest_is_empty(text, brix.end())
        if taken.amount.number >= 100:
            raise Unreadable("nothing is 100 °Brix or more", end=len(text), hint="write a number below 100")
        return BoilTo(brix=taken.amount.number.scaleb(-2))
    if taken and taken.amount.dimension is Dimension.MASS:
        return BoilTo(grams=grams(text))
    raise Unreadable(
        f"'{text.strip()}' is no end point that gives a yield",
        end=len(text),
        hint='write 65 °Brix or a weight; a temperature belongs to the step: {to="118 °C"}',
    )


def read_portion(text: str) -> Portion:
    """Read `portion`: pieces or a weight. Raises `Unreadable`."""
    amount = parse_amount(text)
    if amount.dimension is Dimension.MASS:
        return Portion(grams=grams(text))
    if amount.dimension is Dimension.COUNT and (not amount.unit or amount.unit.lower() in COUNT_WORDS):
        return Portion(pieces=amount.number)
    hint = did_you_mean(amount.unit, COUNT_WORDS) or "write 1 piece, or a weight such as 120 g"
    raise Unreadable(f"'{text.strip()}' is no portion", end=len(text), hint=hint)


def read_piece_count(text: str) -> Decimal:
    """Read `24 pieces` (any count word, or none) as a number. Raises `Unreadable`."""
    amount = parse_amount(text)
    if amount.dimension is not Dimension.COUNT or (amount.unit and amount.unit.lower() not in COUNT_WORDS):
        raise Unreadable(f"'{text.strip()}' is no number of pieces", end=len(text), hint="write it as 24 pieces")
    return amount.number

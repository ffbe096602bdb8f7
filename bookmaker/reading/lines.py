"""The grammar of a formula line: `AMOUNT NAME[, PREPARATION]` and its relatives.

A line is read by itself; whether `vanilla pods` is an item or `pods` a measure of `vanilla` is for the binding to say.
"""

import re
from dataclasses import dataclass, replace
from decimal import Decimal, localcontext

from bookmaker.measures.amounts import LARGEST_GRAMS, Amount, TakenAmount, skip_space, take_amount
from bookmaker.measures.counts import COUNT_WORDS, singular
from bookmaker.measures.exact import CONTEXT
from bookmaker.measures.numbers import Unreadable, take_number
from bookmaker.measures.units import UNITS, Dimension
from bookmaker.model.written.line import LineText, Vague, WrittenCut, WrittenQuantity
from bookmaker.reading.flat import TIMES, take_shape, take_word

LARGEST_COUNT = Decimal(1_000_000)
"""A million pieces: beyond this a line is a slip of the pen."""

_CUT_WORDS = frozenset(COUNT_WORDS.values())

_VAGUE = re.compile(r"(to taste|as needed)\b[ \t]*", re.IGNORECASE)
_ABOUT = re.compile(r"about\b\s*", re.IGNORECASE)
_OF = re.compile(r"of\s+", re.IGNORECASE)
_RANGE = re.compile(r"\s*\(([^()]*\.\.[^()]*)\)[ \t]*")
_DOTS = re.compile(r"\s*\.\.\s*")
_AS_BOUGHT = re.compile(r"as\s+bought", re.IGNORECASE)
_SECOND_LINE = re.compile(
    r"\s(?P<line>[-–—•*]\s+[\d½¼¾][\d./ ½¼¾]*\s*(?:g|kg|mg|ml|cl|dl|l|%)\s+[^\W\d_])", re.IGNORECASE
)
_TRAILING_VAGUE = re.compile(r"[\s,]+(to taste|as needed|as required|q\.?\s?s\.?)\s*$", re.IGNORECASE)
_TRAILING_AMOUNT = re.compile(
    r"^(?P<name>[^\d,]*[^\d\s,:])[\s:]+(?P<amount>\d[\d.,/]*\s*[^\W\d_]{1,5}|\d[\d.,/]*\s*%)\s*$"
)
_NUMBER_WORDS = re.compile(r"(one|two|three|four|five|six|eight|ten|twelve|a dozen|half)\b", re.IGNORECASE)
_SOME = re.compile(r"((?:an?|some|few)\s+(?:little|few|bit of|pinch of|dash of|splash of|knob of)?\s*)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Front:
    """The amount at a line's front."""

    quantity: WrittenQuantity
    start: int
    end: int
    times: Decimal = Decimal(1)
    low: Decimal | None = None
    high: Decimal | None = None


def read_line(text: str) -> LineText:
    """Read one line. Raises `Unreadable` with the offending part of `text` and, where one is likely, the remedy."""
    if not text.strip():
        raise Unreadable("the line is empty", end=len(text), hint="write an amount and a name, as in 480 g plain flour")
    start = skip_space(text, 0)
    about = _ABOUT.match(text, start)
    if vague := _VAGUE.match(text, start):
        front, as_needed = _vague(text, vague)
    else:
        front, as_needed = _front(text, about.end() if about else start), False
    named = _named(text, front)
    ranged = _range(text, front, named, about is not None)
    return replace(ranged, as_needed=True) if as_needed else ranged


def _vague(text: str, vague: re.Match[str]) -> tuple[_Front, bool]:
    words = vague[1].lower()
    if take_amount(text, vague.end()) is None:
        return _Front(Vague(words), vague.start(), vague.end(1)), words == "as needed"
    if words == "to taste":
        raise Unreadable(
            "a line with an amount is not to taste",
            start=vague.start(),
            end=vague.end(1),
            hint=f"write 'to taste {_name_after(text, vague.end())}', or the amount alone",
        )
    return _front(text, vague.end()), True


def _name_after(text: str, start: int) -> str:
    taken = take_amount(text, start)
    return text[taken.end if taken else start :].partition(",")[0].strip() or "fine salt"


def _front(text: str, start: int) -> _Front:
    taken = take_amount(text, start)
    if taken is None:
        raise _no_amount(text, start)
    if taken.amount.dimension is Dimension.COUNT:
        if (cross := TIMES.match(text, taken.end)) and take_number(text, cross.end()):
            return _times(text, start, taken.amount.number, cross.end())
        if cut := _cut(text, start, taken):
            return cut
        if dots := _DOTS.match(text, taken.end):
            return _spread(text, start, taken, dots.end())
        _refuse_spaced(text, start, taken)
    # the full stop behind an abbreviated unit (`500 gr. flour`) is forgiven
    dotted = taken.amount.unit and text[taken.end : taken.end + 2] == ". "
    return _Front(_sane(text, taken.amount, start, taken.end), start, taken.end + 1 if dotted else taken.end)


def _times(text: str, start: int, times: Decimal, behind: int) -> _Front:
    inner = _front(text, behind)
    if inner.times != 1:
        raise Unreadable(
            "a line is multiplied once, not twice", start=start, end=inner.end, hint="multiply two of the numbers"
        )
    if isinstance(inner.quantity, WrittenCut):
        with localcontext(CONTEXT):
            return replace(inner, quantity=replace(inner.quantity, count=inner.quantity.count * times), start=start)
    _sane_times(text, inner.quantity, times, start, inner.end)
    return replace(inner, times=times, start=start)


def _sane_times(text: str, amount: WrittenQuantity, times: Decimal, start: int, end: int) -> None:
    assert isinstance(amount, Amount)
    with localcontext(CONTEXT):
        _sane(text, replace(amount, number=amount.number * times), start, end)


def _cut(text: str, start: int, taken: TakenAmount) -> _Front | None:
    """`24 discs of 40 mm` is a cut; `24 pieces of 42 g` means 24 times 42 g."""
    word, end = take_word(text, taken.end)
    of = _OF.match(text, skip_space(text, end))
    if of is None or singular(word) not in _CUT_WORDS:
        return None
    each = take_amount(text, of.end())
    if each and each.amount.dimension is Dimension.MASS:
        _sane_times(text, each.amount, taken.amount.number, start, each.end)
        return _Front(each.amount, start, each.end, taken.amount.number)
    shape = take_shape(text, of.end(), word) if each else None
    if shape is None:
        return None
    _sane(text, taken.amount, start, taken.end)
    return _Front(WrittenCut(taken.amount.number, word, shape.shape), start, shape.end)


def _spread(text: str, start: int, low: TakenAmount, behind: int) -> _Front:
    """`480..560 g`: the middle is what counts."""
    high = take_amount(text, behind)
    if high is None:
        raise Unreadable("a range needs two ends", start=start, end=behind, hint="write it as 480..560 g")
    _forward(low.amount.number, high.amount.number, start, high.end)
    with localcontext(CONTEXT):
        middle = (low.amount.number + high.amount.number) / 2
    amount = _sane(text, replace(high.amount, number=middle), start, high.end)
    return _Front(amount, start, high.end, low=low.amount.number, high=high.amount.number)


def _named(text: str, front: _Front) -> LineText:
    """What stands behind the amount: name, preparation, `as bought`."""
    behind = text[front.end :]
    if ranged := _RANGE.search(behind):
        # blanked, so that offsets stay
        behind = behind[: ranged.start()] + " " * (ranged.end() - ranged.start()) + behind[ranged.end() :]
    first, comma, more = behind.partition(",")
    start = front.end + len(first) - len(first.lstrip())
    if of := _OF.match(text, start):
        start = of.end()
    end = front.end + len(first.rstrip())
    name = text[start:end]
    if not name:
        raise Unreadable(
            "the line has an amount but no name",
            start=front.start,
            end=max(front.end, front.start + 1),
            hint="write what it is",
        )
    parts = [part.strip() for part in more.split(",")] if comma else []
    bought = any(_AS_BOUGHT.fullmatch(part) for part in parts)
    if second := _SECOND_LINE.search(behind):
        at = front.end + second.start("line")
        raise Unreadable(
            f"'{text[at:].strip()}' stands inside another line",
            start=at,
            end=len(text.rstrip()),
            hint="give it a line of its own, beginning with a dash and indented like its neighbours",
        )
    kept = ", ".join(part for part in parts if part and not _AS_BOUGHT.fullmatch(part))
    if trailing := re.search(r"\s+as\s+bought$", name, re.IGNORECASE):
        # the comma before `as bought` is easily forgotten and nothing else can be meant
        name, bought = name[: trailing.start()], True
        end = start + trailing.start()
    return LineText(
        front.quantity,
        name,
        start,
        end,
        front.start,
        front.end,
        front.times,
        kept,
        bought,
        low=front.low,
        high=front.high,
    )


def _range(text: str, front: _Front, line: LineText, about: bool) -> LineText:
    found = _RANGE.search(text, front.end)
    if found is None:
        if about and line.low is None:
            raise Unreadable(
                "'about' needs the range that the amount moves in",
                start=skip_space(text, 0),
                end=front.end,
                hint=f"write it behind the name, as in {text.strip()} (low..high), or leave 'about' out",
            )
        return line
    amount = line.quantity
    if not isinstance(amount, Amount) or line.low is not None:
        raise Unreadable("a range belongs to one amount", start=found.start(1), end=found.end(1))
    low_text, _, high_text = found[1].partition("..")
    start = found.start(1)
    low = take_amount(found[1])
    high = take_amount(found[1], found[1].index("..") + 2 + len(high_text) - len(high_text.lstrip()))
    if low is None or high is None or found[1][high.end :].strip() or found[1][low.end : len(low_text)].strip():
        raise Unreadable("the range is not two numbers", start=start, end=found.end(1), hint="write it as (480..560)")
    for end in (low, high):
        if end.amount.unit not in ("", amount.unit):
            raise Unreadable(
                f"the range is in {end.amount.unit}, the amount in {amount.unit or 'pieces'}",
                start=start,
                end=found.end(1),
                hint=f"write the range without a unit: ({low.amount.number}..{high.amount.number})",
            )
    _forward(low.amount.number, high.amount.number, start, found.end(1))
    if not low.amount.number <= amount.number <= high.amount.number:
        raise Unreadable(
            f"{amount.number} does not lie between {low.amount.number} and {high.amount.number}",
            start=start,
            end=found.end(1),
            hint="let the range reach from the least to the most",
        )
    return replace(line, low=low.amount.number, high=high.amount.number)


def _forward(low: Decimal, high: Decimal, start: int, end: int) -> None:
    if low > high:
        raise Unreadable(
            f"the range runs backwards, from {low} down to {high}", start=start, end=end, hint=f"write {high}..{low}"
        )


def _sane(text: str, amount: Amount, start: int, end: int) -> Amount:
    """The amount, unless it is beyond anything a kitchen makes."""
    written = text[start:end].strip()
    match amount.dimension:
        case Dimension.MASS | Dimension.VOLUME:
            if amount.in_base() > LARGEST_GRAMS:
                raise Unreadable(
                    f"{written} is more than ten tonnes", start=start, end=end, hint="check the number and its unit"
                )
        case Dimension.LENGTH:
            raise Unreadable(
                f"{written} is a length, not an amount",
                start=start,
                end=end,
                hint="write grams, or how many pieces of that length",
            )
        case _:
            if amount.number > LARGEST_COUNT:
                raise Unreadable(f"{written} is more than a million", start=start, end=end, hint="check the number")
    return amount


def _refuse_spaced(text: str, start: int, taken: TakenAmount) -> None:
    at = skip_space(text, taken.end)
    if at < len(text) and text[at].isdigit() and (more := take_amount(text, at)):
        whole = re.sub(r"\s+", "", text[start : taken.end]) + text[at : more.end]
        raise Unreadable("a number has no spaces in it", start=start, end=more.end, hint=f"write {whole}")


def _no_amount(text: str, start: int) -> Unreadable:
    said, end = text.strip(), len(text.rstrip())
    begin = min(start, end)
    if trailing := _TRAILING_VAGUE.search(text):
        name = text[start : trailing.start()].strip()
        words = "as needed" if trailing[1].lower() not in ("to taste", "as needed") else trailing[1].lower()
        return Unreadable(
            f"'{said}' does not begin with an amount",
            start=start,
            end=len(text.rstrip()),
            hint=f"write '{words} {name}'",
        )
    if amount := _TRAILING_AMOUNT.match(text[start:]):
        return Unreadable(
            f"'{said}' does not begin with an amount",
            start=start,
            end=len(text.rstrip()),
            hint=f"put the amount first: {amount['amount']} {amount['name'].strip()}",
        )
    unit = re.compile(r"[^\W\d_]+|%").match(text, start)
    if unit and unit[0].lower() in UNITS:
        hint = f"write how many {unit[0]}"
    elif _NUMBER_WORDS.match(text, start):
        hint = "write the number in figures"
    elif some := _SOME.match(text, start):
        hint = f"weigh it and write grams, or write 'to taste {text[some.end() :].strip()}'"
    else:
        hint = f"write how much, as in 100 g {said}, or 'to taste {said}'"
    return Unreadable(f"'{said}' does not begin with an amount", start=begin, end=end, hint=hint)

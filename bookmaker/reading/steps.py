"""What stands in a step's braces: `{work="10 min" at="160 °C" on="convection oven"}`.

One table says what each attribute means and how it is read; a new one is a row there, a field of `Step`, and a test.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.measures.amounts import parse_amount
from bookmaker.measures.counts import COUNT_WORDS, VESSEL_WORDS, counted, singular
from bookmaker.measures.durations import Span, minutes, span
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.temperatures import find_temperatures, parse_temperature
from bookmaker.measures.units import Dimension
from bookmaker.model.method import Each, Hold, Load, Reading
from bookmaker.reading.bounds import END_POINT, HELD, SETTING, Bounds, check_minutes, check_reading
from bookmaker.reading.suggest import did_you_mean
from bookmaker.reading.texts import grams, parts, whole, yes_or_no

_PER = re.compile(r"\s+per\s+", re.IGNORECASE)
_COUNTED = {
    **dict.fromkeys(COUNT_WORDS, "piece"),
    **VESSEL_WORDS,
    "mould": "mould",
    "moulds": "mould",
    "cavity": "piece",
}
_MOST_WORK = Decimal(100 * 60)
_MOST_TIME = Decimal(2 * 365 * 1440)
"""Minutes beyond which a time is a slip of the pen (common practice, no source)."""
_UNWANTED_BATCH = ("batch", "making", "mix")


def read_work(text: str) -> Decimal:
    """Hands-on minutes: one figure. Raises `Unreadable`."""
    if ".." in text:
        raise Unreadable(
            "hands-on time is one figure, not a span",
            end=len(text),
            hint="write the usual time; a span belongs to `takes`",
        )
    found = minutes(text)
    if found == 0:
        raise Unreadable("a step without hands-on time says nothing about it", end=len(text), hint="leave work out")
    return check_minutes(text, found, _MOST_WORK, "anybody works on one making")


def read_each(text: str) -> Each:
    """`20 s per piece`. Raises `Unreadable`."""
    per = _PER.search(text)
    if per is None:
        raise Unreadable(
            f"'{text.strip()}' does not say per what", end=len(text), hint=f"write {text.strip()} per piece"
        )
    word = text[per.end() :].strip()
    one = _counted(re.sub(r"^1\s+", "", word), per.end(), len(text))
    return Each(read_work(text[: per.start()]), one)


def _counted(word: str, start: int, end: int) -> str:
    found = _COUNTED.get(word.lower())
    if found is None:
        hint = did_you_mean(word, _COUNTED) or "count pieces, trays, sheets, frames, moulds or tins"
        if word.lower() in _UNWANTED_BATCH:
            hint = "time for the whole making is `work`"
        raise Unreadable(f"'{word}' is nothing that a step counts", start=start, end=end, hint=hint)
    return found


def read_hold(text: str) -> Hold:
    """`2 h at 4 °C`. Raises `Unreadable`."""
    lasts, at, temperature = text.partition(" at ")
    if not at:
        return Hold(read_span(lasts))
    try:
        held = Hold(read_span(lasts), parse_temperature(temperature))
        check_reading(temperature, HELD, offset=len(lasts) + len(at))
        return held
    except Unreadable as refused:
        if refused.why.endswith("no temperature"):
            raise Unreadable(
                refused.why, start=len(lasts) + len(at), end=len(text), hint="write it as 2 h at 4 °C"
            ) from None
        raise


def read_setting(text: str) -> Reading:
    """What a machine is set to, as written, with the temperatures in it. Raises `Unreadable`."""
    return _reading(text, SETTING)


def read_end_point(text: str) -> Reading:
    """What the product comes to, as written, with the temperatures in it. Raises `Unreadable`."""
    return _reading(text, END_POINT)


def _reading(text: str, bounds: Bounds) -> Reading:
    found = find_temperatures(text)
    if re.fullmatch(r"\s*\d+(?:\.\d+)?\s*", text):
        raise Unreadable(f"'{text.strip()}' has no unit", end=len(text), hint=f"did you mean {text.strip()} °C?")
    check_reading(text, bounds)
    return Reading(text.strip(), found)


def read_limit(text: str) -> str:
    """A food-safety limit in words; the temperatures in it are such as something comes to. Raises `Unreadable`."""
    words = read_words(text)
    check_reading(text, END_POINT)
    return words


def read_load(text: str) -> Load:
    """`4 sheets`, `12 kg`, `48 pieces`. Raises `Unreadable`."""
    amount = parse_amount(text)
    if amount.dimension is Dimension.MASS:
        return Load(grams(text))
    if amount.dimension is not Dimension.COUNT or not amount.unit:
        raise Unreadable(
            f"'{text.strip()}' does not say how much goes in at once",
            end=len(text),
            hint="write it as 4 sheets, or 12 kg",
        )
    start = text.index(amount.unit)
    one = _counted(amount.unit, start, start + len(amount.unit))
    return Load(
        amount.number, "moulds" if one == "mould" else counted(one, 2) if singular(one) in COUNT_WORDS else f"{one}s"
    )


def read_people(text: str) -> int:
    """`2`, `2 people`. Raises `Unreadable`."""
    return whole(re.sub(r"\s*(people|persons?|pairs? of hands)\s*$", "", text))


def read_repeat(text: str) -> int:
    """`3`, `3 times`. Raises `Unreadable`."""
    return whole(re.sub(r"\s*(times|×|x)\s*$", "", text))


def read_words(text: str) -> str:
    """Text as it is. Raises `Unreadable` where there is none."""
    if not text.strip():
        raise Unreadable("nothing stands between the quotation marks", end=len(text), hint="fill it in or leave it out")
    return " ".join(text.split())


def read_list(text: str) -> tuple[str, ...]:
    """Names with commas between them."""
    return tuple(part for part, _, _ in parts(text, ","))


def read_span(text: str) -> Span:
    """A duration or a span. Raises `Unreadable`."""
    found = span(text)
    check_minutes(text, found.long_end, _MOST_TIME, "anything stands in a kitchen")
    return found


@dataclass(frozen=True, slots=True)
class Attribute:
    """One attribute: how its text is read, what it means to a cook, an example."""

    read: Callable[[str], object]
    doc: str
    example: str


ATTRIBUTES: Mapping[str, Attribute] = {
    "work": Attribute(read_work, "hands-on time for the whole making, in person-minutes", "10 min"),
    "each": Attribute(read_each, "hands-on time per piece, tray, sheet, frame, mould or tin", "20 s per piece"),
    "takes": Attribute(read_span, "unattended and uncertain: the plan reckons with the long end", "18 min..22 min"),
    "wait": Attribute(read_span, "unattended and free: a window for the plan; may be open", "4 h..16 h"),
    "hold": Attribute(
        read_hold, "the recipe may pause after this step, how long and at what temperature", "2 h at 4 °C"
    ),
    "at": Attribute(read_setting, "the equipment's setting", "top 180 °C, bottom 160 °C, steam"),
    "to": Attribute(read_end_point, "the product's end point", "core 75 °C"),
    "on": Attribute(read_words, "a piece of the house's equipment", "convection oven"),
    "load": Attribute(read_load, "how much goes into one machine at once", "4 sheets"),
    "needs": Attribute(read_people, "people who must be there", "2"),
    "repeat": Attribute(read_repeat, "how many times the step is done", "3"),
    "uses": Attribute(
        read_list, "lines or stages of the formula that go in here; without it, all at the start", "Wash"
    ),
    "name": Attribute(read_words, "what other steps and sizes call this step", "chill"),
    "after": Attribute(read_list, "names of the steps it follows, where not the one before", "chill, boil"),
    "limit": Attribute(read_limit, "a food-safety limit", "4 °C within 2 h"),
    "if-missed": Attribute(read_words, "what to do when the limit is missed", "discard"),
    "ccp": Attribute(read_words, "the critical control point's number in the house's plan", "2"),
    "kill": Attribute(yes_or_no, "`yes`: this step kills germs, so that keeping starts anew", "yes"),
    "caution": Attribute(read_list, "hazards of this step, by name", "hot sugar"),
}
"""Every attribute a step may carry."""


@dataclass(frozen=True, slots=True)
class WrittenAttribute:
    """One `key="value"` and its offsets in the braces' text."""

    key: str
    value: str
    key_start: int
    start: int
    end: int


_PAIR = re.compile(
    r"""\s*(?P<key>[^\W\d_][\w-]*)\s*(?P<sign>[=:])\s*
    (?: "(?P<double>(?:[^"\\]|\\.)*)" | '(?P<single>[^']*)' | [“„](?P<curly>[^”“]*)[”“] | (?P<bare>[^\s"'“„}]+) )""",
    re.VERBOSE | re.DOTALL,
)


def split_attributes(text: str) -> list[WrittenAttribute]:
    """The pairs in a braces' text (braces left out). Raises `Unreadable` at the first part that is no pair."""
    found: list[WrittenAttribute] = []
    at = 0
    while text[at:].strip():
        pair = _PAIR.match(text, at)
        if pair is None:
            raise _no_pair(text, at, found[-1] if found else None)
        kind = str(pair.lastgroup)
        value = re.sub(r'\\(["\\])', r"\1", pair[kind]) if kind == "double" and "\\" in pair[kind] else pair[kind]
        found.append(WrittenAttribute(pair["key"].lower(), value, pair.start("key"), pair.start(kind), pair.end(kind)))
        at = pair.end()
    return found


def _no_pair(text: str, at: int, before: WrittenAttribute | None) -> Unreadable:
    start = at + len(text[at:]) - len(text[at:].lstrip())
    end = start + len(text[start:].split(maxsplit=1)[0])
    quoted = before is not None and text[before.end : before.end + 1] in ('"', "'", "”", "“")
    if before and not quoted:
        hint = f'put the value in quotation marks: {before.key}="{before.value} {text[start:end]}"'
    else:
        hint = 'write each as key="value", as in {work="10 min" at="160 °C"}'
    return Unreadable(f"'{text[start:end]}' in the braces is no key=\"value\"", start=start, end=end, hint=hint)

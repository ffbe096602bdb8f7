"""Durations in minutes, and spans of them: `4 h..16 h`, `18..22 min`, `4 h..`."""

import re
from dataclasses import dataclass
from decimal import Decimal, localcontext
from functools import lru_cache

from bookmaker.measures.exact import CONTEXT
from bookmaker.measures.numbers import Unreadable, take_number

MINUTES = {
    "min": Decimal(1), "h": Decimal(60), "day": Decimal(1440), "week": Decimal(10080), "month": Decimal(43200),
    "year": Decimal(525600),
}  # fmt: skip
"""Minutes in a unit from a minute up; a month is 30 days, a year 365, as keeping times are meant."""

SPELLINGS = {
    "s": "s", "sec": "s", "secs": "s", "second": "s", "seconds": "s", "min": "min", "mins": "min", "minute": "min",
    "minutes": "min",
    "h": "h", "hr": "h", "hrs": "h", "hour": "h", "hours": "h", "d": "day", "day": "day", "days": "day",
    "week": "week", "weeks": "week", "month": "month", "months": "month", "year": "year", "years": "year",
}  # fmt: skip
"""Every accepted spelling of a unit of time."""

_UNIT = re.compile(r"\s*([A-Za-z]+)")


@dataclass(frozen=True, slots=True)
class Span:
    """From `least` to `most` minutes; `most` None means that the end is open."""

    least: Decimal
    most: Decimal | None

    @property
    def long_end(self) -> Decimal:
        """What a plan reckons with: the long end, or the short one where the end is open."""
        return self.least if self.most is None else self.most


@lru_cache(maxsize=4096)
def minutes(text: str) -> Decimal:
    """Read one duration (`90 min`, `1 h 30 min`, `3 days`) as minutes. Raises `Unreadable`."""
    at, found, any_read = 0, Decimal(0), False
    with localcontext(CONTEXT):
        while at < len(text) and text[at:].strip():
            at += len(text[at:]) - len(text[at:].lstrip())
            taken = take_number(text, at)
            unit = _UNIT.match(text, taken.end) if taken else None
            if taken is None or unit is None or unit[1].lower() not in SPELLINGS:
                raise _no_duration(text)
            found += _in_minutes(taken.value, SPELLINGS[unit[1].lower()])
            at, any_read = unit.end(), True
    if not any_read:
        raise _no_duration(text)
    return found


def span(text: str) -> Span:
    """Read a duration or a span of durations; a unit missing on the short end is the long end's.

    Raises `Unreadable`.
    """
    short, dots, long = text.partition("..")
    if not dots:
        one = minutes(text)
        return Span(one, one)
    if not long.strip():
        return Span(minutes(short), None)
    most = minutes(long)
    if re.fullmatch(r"\s*[\d./½¼¾ ]+\s*", short) and (unit := re.search(r"([A-Za-z]+)\s*$", long)):
        short = f"{short} {unit[1]}"
    least = minutes(short)
    if least > most:
        raise Unreadable(
            f"'{text.strip()}' runs backwards", end=len(text), hint=f"write {long.strip()}..{short.strip()}"
        )
    return Span(least, most)


def _in_minutes(value: Decimal, unit: str) -> Decimal:
    # a sixtieth is no finite decimal: seconds are divided, so that 30 s is half a minute and not a hair less
    return value / 60 if unit == "s" else value * MINUTES[unit]


_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?:\s*h)?")
_DASHED = re.compile(r"(?P<short>[\d.½¼¾]+\s*[A-Za-z]*)\s*(?:-|–|—|−|\bto\b)\s*(?P<long>[\d.½¼¾]+\s*[A-Za-z]+)")


def _no_duration(text: str) -> Unreadable:
    bare = text.strip()
    hint = "write a number and s, min, h, days, weeks or months"
    if clock := _CLOCK.fullmatch(bare):
        hours, rest = int(clock[1]), int(clock[2])
        hint = "write " + " ".join(each for each in (f"{hours} h" * bool(hours), f"{rest} min" * bool(rest)) if each)
    elif dashed := _DASHED.fullmatch(bare):
        hint = f"a span has two dots: write {dashed['short'].strip()}..{dashed['long'].strip()}"
    return Unreadable(f"'{bare}' is no duration", end=len(text), hint=hint)

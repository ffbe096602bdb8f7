"""Single texts to values: shares, masses, lengths, dates, choices. What cannot be read is reported at its place.

The readers at the end are plain functions that raise `Unreadable`; `Values` catches, reports and goes on.
"""

import re
from collections.abc import Callable, Sequence
from datetime import date
from decimal import Decimal, localcontext
from typing import TypeVar

from bookmaker.measures import durations
from bookmaker.measures.amounts import Amount, parse_amount, skip_space
from bookmaker.measures.exact import CONTEXT, ONE
from bookmaker.measures.money import Money, take_money
from bookmaker.measures.numbers import Unreadable, take_number
from bookmaker.measures.units import UNITS, Dimension, Spoons
from bookmaker.model.written import Names
from bookmaker.problems.anchors import Anchor
from bookmaker.reading.texts import Texts, share, whole

T = TypeVar("T")


class Values(Texts):
    """Reads the texts of a settings file. An empty text was not written: it gives None, or the default."""

    def value(self, code: str, grammar: Callable[[str], T], text: str, anchor: Anchor) -> T | None:
        """What `grammar` makes of a text; None, and a problem `code`, where it refuses it."""
        return self.read(text or None, anchor, grammar, code)

    def share(self, text: str, anchor: Anchor) -> Decimal | None:
        """`86 %` as a fraction of one, at most one."""
        return self.value("bad-share", share, text, anchor)

    def amount(self, text: str, anchor: Anchor, *dimensions: Dimension, us: bool = False) -> Amount | None:
        """An amount in one of `dimensions`; US kitchen measures only with `us`."""
        return self.value("bad-amount", lambda given: amount(given, *dimensions, us=us), text, anchor)

    def base(
        self, text: str, anchor: Anchor, dimension: Dimension, *, us: bool = False, most: Decimal | None = None
    ) -> Decimal | None:
        """An amount in grams, millilitres or millimetres, at most `most`."""
        found = self.amount(text, anchor, dimension, us=us)
        in_base = found.in_base(Spoons.US if us else Spoons.METRIC) if found else None
        if found and in_base is not None and most is not None and in_base > most:
            small = {Dimension.VOLUME: "ml", Dimension.LENGTH: "mm", Dimension.MASS: "g"}[dimension]
            slip = found.unit != small and found.number <= most
            fix = f"did you mean {found.number} {small}?" if slip else "check the number and its unit"
            self.report("bad-amount", anchor, why=f"{text.strip()} is more than anything of this kind has", fix=fix)
            return None
        return in_base

    def number_of(self, text: str, anchor: Anchor, default: int = 1) -> int:
        """A whole number from 1 up."""
        found = self.value("bad-number", whole, text, anchor)
        return default if found is None else found

    def is_yes(self, text: str, anchor: Anchor) -> bool:
        """Yes or no; nothing is no."""
        return bool(self.yes(text or None, anchor))

    def day(self, text: str, anchor: Anchor) -> date | None:
        """A date."""
        return self.value("bad-date", day, text, anchor)

    def minutes(self, text: str, anchor: Anchor) -> Decimal | None:
        """A duration in minutes."""
        return self.value("bad-duration", durations.minutes, text, anchor)

    def rate(self, text: str, anchor: Anchor, per: str, money: str) -> Decimal | None:
        """`21.50 EUR/h` in the house's currency."""
        found = self.value("bad-price", lambda given: rate(given, per), text, anchor)
        if found and found.currency != money:
            self.report("rate-currency", anchor, currency=found.currency, money=money)
            return None
        return found.amount if found else None

    def choice(self, text: str, anchor: Anchor, what: str, known: Sequence[str], default: str) -> str:
        """One of a few words, in the house's spelling of it; `what` names it to the cook (`region`)."""
        return self.one_of(text or None, anchor, known, what) or default

    def word_list(self, written: Names, anchor: Anchor, what: str, known: Sequence[str]) -> frozenset[str]:
        """A set of words out of a few."""
        found = (self.choice(words.text, words.anchor, what, known, "") for words in self.names(written, anchor))
        return frozenset(word for word in found if word)


_HOW = {
    Dimension.MASS: "write a number and g or kg",
    Dimension.VOLUME: "write a number and ml or l",
    Dimension.LENGTH: "write a number and mm or cm",
}


def amount(text: str, *dimensions: Dimension, us: bool = False) -> Amount:
    """One amount in one of `dimensions`; US kitchen measures only with `us`. Raises `Unreadable`."""
    try:
        return us_checked(parse_amount(text, *dimensions), text, us)
    except Unreadable as refused:
        hint = refused.hint or next((_HOW[each] for each in dimensions if each in _HOW), "")
        raise Unreadable(refused.why, start=refused.start, end=refused.end, hint=hint) from None


def us_checked(amount: Amount, text: str, us: bool) -> Amount:
    """The amount, unless it is in a US kitchen measure that means something else elsewhere. Raises `Unreadable`."""
    unit = UNITS.get(amount.unit)
    if unit and unit.us_only and not us:
        raise Unreadable(
            f"'{amount.unit}' is a US kitchen measure, and this house does not use them",
            end=len(text),
            hint=f"write {amount.in_base(Spoons.US).quantize(ONE)} ml, or set `region: US` in house.yaml",
        )
    return amount


def number(text: str) -> Decimal:
    """A plain number from 0 up. Raises `Unreadable`."""
    start = len(text) - len(text.lstrip())
    taken = take_number(text, start)
    if taken is None or text[taken.end :].strip():
        begin = start if taken is None else skip_space(text, taken.end)
        raise Unreadable(
            f"'{text.strip()}' is no number", start=begin, end=len(text.rstrip()), hint="write digits only"
        )
    return taken.value


def grams_per_100(text: str) -> Decimal:
    """`81.11 g`, `350 mg`, `1.3 µg` or a bare number, in grams; 0 is a value like any other. Raises `Unreadable`."""
    start = len(text) - len(text.lstrip())
    taken = take_number(text, start)
    unit = text[taken.end :].strip() if taken else ""
    factors = {"": ONE, "g": ONE, "mg": Decimal("0.001"), "µg": Decimal("0.000001"), "mcg": Decimal("0.000001")}
    if taken is None or unit not in factors:
        raise Unreadable(
            f"'{text.strip()}' is no amount per 100 g", start=start, end=len(text.rstrip()), hint="write it as 81.11 g"
        )
    with localcontext(CONTEXT):
        return taken.value * factors[unit]


_DENSITY = re.compile(r"\s*(g/ml|kg/l|g/cm³|g/cm3|kg/m³|kg/m3|g/l)\s*$", re.IGNORECASE)


def density(text: str) -> Decimal:
    """`0.911 g/ml` in grams per millilitre. Raises `Unreadable`."""
    start = len(text) - len(text.lstrip())
    taken = take_number(text, start)
    unit = _DENSITY.match(text, taken.end) if taken else None
    if taken is None or unit is None or taken.value == 0:
        raise Unreadable(
            f"'{text.strip()}' is no density", start=start, end=len(text.rstrip()), hint="write it as 0.911 g/ml"
        )
    with localcontext(CONTEXT):
        found = taken.value / 1000 if unit[1].lower() in ("kg/m³", "kg/m3", "g/l") else taken.value
    if not Decimal("0.02") <= found <= 20:
        hint = f"did you mean {taken.value / 1000} g/ml?" if 20 < taken.value < 20000 else "water is 1 g/ml"
        raise Unreadable(f"nothing in a kitchen weighs {text.strip()}", start=start, end=len(text.rstrip()), hint=hint)
    return found


_RATES = {"h": "21.50 EUR/h", "kWh": "0.28 EUR/kWh"}


def rate(text: str, per: str) -> Money:
    """`21.50 EUR/h`. Raises `Unreadable`."""
    try:
        taken = take_money(text)
    except Unreadable as refused:
        hint = refused.hint if "comma" in refused.why else f"write it as {_RATES[per]}"
        raise Unreadable(refused.why, start=refused.start, end=refused.end, hint=hint) from None
    if "".join(text[taken.end :].split()).lower() != f"/{per}".lower():
        hint = f"write {taken.money.amount} {taken.money.currency}/{per}"
        raise Unreadable(f"'{text.strip()}' is no price per {per}", end=len(text), hint=hint)
    return taken.money


_DAY = re.compile(r"(\d{4})-(\d{2})-(\d{2})")
_OTHER_DAY = re.compile(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4})|(\d{4})([./-])(\d{1,2})\6(\d{1,2})")


def day(text: str) -> date:
    """`2026-03-01`. Raises `Unreadable`."""
    if found := _DAY.fullmatch(text.strip()):
        try:
            return date(int(found[1]), int(found[2]), int(found[3]))
        except ValueError:
            raise Unreadable(
                f"there is no day {text.strip()} in the calendar", end=len(text), hint="write year-month-day"
            ) from None
    raise Unreadable(f"'{text.strip()}' is no date we can be sure of", end=len(text), hint=_day_hint(text.strip()))


def _day_hint(text: str) -> str:
    """The same date as year-month-day; both readings where day and month could be either."""
    found = _OTHER_DAY.fullmatch(text)
    if not found:
        return "write year-month-day, as in 2026-03-01"
    if found[5]:
        return f"write {found[5]}-{int(found[7]):02}-{int(found[8]):02}"
    first, second, year = int(found[1]), int(found[3]), found[4]
    if first > 12:
        return f"write {year}-{second:02}-{first:02}"
    if second > 12 or first == second:
        return f"write {year}-{first:02}-{second:02}"
    return f"write {year}-{second:02}-{first:02} or {year}-{first:02}-{second:02}"

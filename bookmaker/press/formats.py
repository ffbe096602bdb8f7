"""Numbers, money, durations, temperatures and dates as the house's language prints them.

Nothing is rounded here: a view's decimals are printed as they are. Numbers are grouped by no-break spaces from five
digits on, as the International System has it (SI Brochure, 5.4.4), because a comma or a point would mean different
things in different kitchens.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cache
from gettext import NullTranslations

from bookmaker.editions.team.views import Amount, Bound, Known, Lacking, Link, Size, Time
from bookmaker.measures.durations import MINUTES
from bookmaker.measures.rounding import to_step
from bookmaker.measures.temperatures import Temperature
from bookmaker.press.words import translations

NBSP = "\N{NO-BREAK SPACE}"

# CLDR: languages that write a decimal comma; all others get a point
_COMMA = frozenset(
    (
        "bg",
        "ca",
        "cs",
        "da",
        "de",
        "el",
        "es",
        "et",
        "fi",
        "fr",
        "hr",
        "hu",
        "id",
        "is",
        "it",
        "lt",
        "lv",
        "nb",
        "nl",
        "nn",
        "no",
        "pl",
        "pt",
        "ro",
        "ru",
        "sk",
        "sl",
        "sr",
        "sv",
        "tr",
        "uk",
    )
)

_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
           "December")  # fmt: skip

_VULGAR = {Decimal("0.5"): "½", Decimal("0.25"): "¼", Decimal("0.75"): "¾", Decimal("1.5"): "1½", Decimal("2.5"): "2½"}

_LACKS = {
    "price": "no price for",
    "stale price": "old price for",
    "currency": "priced in another currency:",
    "amount": "no weight for",
    "yield": "no yield for",
    "composition": "composition not known of",
    "allergens": "allergens not declared by",
    "nutrition": "no nutrition data for",
    "time": "no times for",
    "keeping": "no keeping time for",
    "labour": "no rate for",
    "choice": "label depends on the article or alternative of",
}


@cache
def _mark(language: str) -> str:
    """What stands before the decimals."""
    return "," if language.partition("-")[0].lower() in _COMMA else "."


@dataclass(frozen=True, slots=True)
class LackGroup:
    """Things lacking of one kind: the words before them (`no price for`) and what they are."""

    words: str
    of: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class Formats:
    """The house's way of writing. `words` translates; every method is also a template filter of the same name."""

    language: str = "en"
    fahrenheit: bool = False
    words: NullTranslations = field(default_factory=NullTranslations)

    @classmethod
    def of(cls, language: str, *, fahrenheit: bool = False) -> "Formats":
        """The formats of a language, with its interface words."""
        return cls(language, fahrenheit, translations(language))

    def word(self, key: str) -> str:
        """One of our own words, translated."""
        return self.words.gettext(key) if key else ""

    def number(self, value: Decimal | int) -> str:
        """A plain number with the decimals that it has."""
        text = str(value) if isinstance(value, int) else f"{value:f}"
        sign = "−" if text.startswith("-") and value else ""
        whole, _, part = text.lstrip("-").partition(".")
        if len(whole) > 4:
            head = len(whole) % 3
            whole = NBSP.join(filter(None, [whole[:head], *(whole[at : at + 3] for at in range(head, len(whole), 3))]))
        return sign + whole + (_mark(self.language) + part if part else "")

    def factor(self, value: Decimal) -> str:
        """A batch factor: ½, 1, 2½, 4."""
        return _VULGAR.get(value.normalize()) or self.number(value)

    def amount(self, amount: Amount) -> str:
        """A number with its unit, and `at least` or `under` before it where that holds."""
        if amount.unit == "min":
            text = self.duration(amount.value)
        elif amount.unit == "°C":
            text = self.temperature(amount.value)
        else:
            text = self.number(amount.value) + (NBSP + amount.unit if amount.unit else "")
        return self._bounded(text, amount.bound)

    def bare(self, amount: Amount) -> str:
        """A number without its unit and bound, for columns that name the unit at their head."""
        return self.number(amount.value)

    def known(self, figure: Known) -> str:
        """A figure that may be incomplete, without what it lacks."""
        return self.amount(figure.amount) if figure.amount else self.word("not known")

    def _bounded(self, text: str, bound: Bound) -> str:
        match bound:
            case Bound.AT_LEAST:
                return self.words.gettext("at least %s") % text
            case Bound.AT_MOST:
                return self.words.gettext("at most %s") % text
            case Bound.UNDER:
                return self.words.gettext("under %s") % text
            case _:
                return text

    def lacking(self, lacks: Iterable[Lacking]) -> tuple[LackGroup, ...]:
        """Lacks grouped by kind in the order met, each thing once."""
        groups: dict[str, dict[str, Link]] = {}
        for lack in lacks:
            groups.setdefault(lack.kind, {}).setdefault(lack.of.name, lack.of)
        return tuple(
            LackGroup(self.word(_LACKS.get(kind, kind)), tuple(things.values())) for kind, things in groups.items()
        )

    def duration(self, minutes: Decimal) -> str:
        """Minutes as a cook says them: `20 s`, `90 min`, `16 h`, `3 days`, `2 months`."""
        number, unit = self._duration(minutes)
        return number + NBSP + unit

    def time(self, time: Time) -> str:
        """A span of minutes: `18–22 min`, `4–16 h`, `4 h or longer`."""
        least, unit = self._duration(time.least)
        if time.most is None:
            return self.words.gettext("%s or longer") % f"{least}{NBSP}{unit}"
        if time.most == time.least:
            return f"{least}{NBSP}{unit}"
        most, most_unit = self._duration(time.most)
        if unit == most_unit and NBSP not in least + most:
            return f"{least}–{most}{NBSP}{unit}"
        return f"{least}{NBSP}{unit} – {most}{NBSP}{most_unit}"

    def _duration(self, minutes: Decimal) -> tuple[str, str]:
        if 0 < minutes < 1:
            return self.number(to_step(minutes * 60, Decimal(1))), "s"
        if minutes < 2 * MINUTES["h"]:
            whole = minutes == minutes.to_integral_value()
            return self.number(to_step(minutes, Decimal(1) if whole else Decimal("0.5")).normalize()), "min"
        if minutes < 2 * MINUTES["day"]:
            return self._compound(minutes, "h", "min", MINUTES["h"], Decimal(1))
        for unit, least in (("year", 1), ("month", 1), ("week", 2), ("day", 1)):
            if minutes % MINUTES[unit] == 0 and minutes >= least * MINUTES[unit]:
                count = int(minutes / MINUTES[unit])
                return self.number(count), self.words.ngettext(unit, f"{unit}s", count)
        days = self.words.ngettext("day", "days", 2)
        return self._compound(minutes, days, "h", MINUTES["day"], MINUTES["h"])

    def _compound(self, minutes: Decimal, unit: str, smaller: str, size: Decimal, part: Decimal) -> tuple[str, str]:
        minutes = to_step(minutes, part)
        count, rest = minutes // size, minutes % size
        if not rest:
            return self.number(count), unit
        return f"{self.number(count)}{NBSP}{unit}{NBSP}{self.number(to_step(rest / part, Decimal(1)))}", smaller

    def temperature(self, celsius: Decimal) -> str:
        """A reading on the house's scale."""
        if self.fahrenheit:
            return self.number(to_step(Temperature(celsius).fahrenheit, Decimal(1))) + NBSP + "°F"
        return self.number(celsius) + NBSP + "°C"

    def date(self, day: date) -> str:
        """`2 October 2026`, in the order that the language's catalogue gives."""
        words = {"day": day.day, "month": self.word(_MONTHS[day.month - 1]), "year": day.year}
        return self.words.gettext("%(day)s %(month)s %(year)s") % words

    def size(self, size: Size) -> str:
        """A flat shape: `30 × 80 mm`, `60 × 40 cm`; a round by its diameter, `40 mm`."""
        sides = [size.width] if size.depth is None else [size.width, size.depth]
        in_cm = all(side >= 100 and side % 5 == 0 for side in sides)
        shown = [self.number((side / 10).normalize() + 0 if in_cm else side) for side in sides]
        return f"{NBSP}×{NBSP}".join(shown) + NBSP + ("cm" if in_cm else "mm")

"""Temperatures. Readings and differences convert differently, so they are different types.

Conversions: NIST Handbook 44, Appendix C (Celsius and Fahrenheit scales); intervals by NIST SP 811.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal, localcontext

from bookmaker.measures.exact import CONTEXT
from bookmaker.measures.numbers import Unreadable

_READING = re.compile(r"([-−]?\d+(?:\.\d+)?)\s*°?\s*([CF])\b")
_NUMBER = r"(?:(?<!\d)[-−])?\d+(?:\.\d+)?"
_NUMBERS = re.compile(_NUMBER)
_BETWEEN = r"\s*(?:°\s*)?(?:,|/|\.\.|–|-|\bto\b)\s*"
# `45, 27, 31 °C` and `2..4 °C` share one unit; an acidity before them (`pH 4.2, 85 °C`) is none of them
_SEVERAL = re.compile(
    rf"(?<![\d.])(?<!pH )(?<!pH)(?P<numbers>{_NUMBER}(?:{_BETWEEN}{_NUMBER})*)\s*°?\s*(?P<scale>[CF])\b"
)
ABSOLUTE_ZERO = Decimal("-273.15")
FIVE_NINTHS_OVER, FIVE_NINTHS_UNDER = Decimal(5), Decimal(9)


@dataclass(frozen=True, slots=True, order=True)
class Temperature:
    """A reading in degrees Celsius."""

    celsius: Decimal

    @property
    def fahrenheit(self) -> Decimal:
        """The same reading in degrees Fahrenheit."""
        with localcontext(CONTEXT):
            return self.celsius * FIVE_NINTHS_UNDER / FIVE_NINTHS_OVER + 32

    @classmethod
    def from_fahrenheit(cls, degrees: Decimal) -> "Temperature":
        """A reading given in degrees Fahrenheit."""
        with localcontext(CONTEXT):
            return cls((degrees - 32) * FIVE_NINTHS_OVER / FIVE_NINTHS_UNDER)


@dataclass(frozen=True, slots=True, order=True)
class TemperatureDifference:
    """A difference in kelvin (the size of a Celsius degree); no offset applies."""

    kelvin: Decimal

    @property
    def fahrenheit_degrees(self) -> Decimal:
        """The same difference in Fahrenheit degrees."""
        with localcontext(CONTEXT):
            return self.kelvin * FIVE_NINTHS_UNDER / FIVE_NINTHS_OVER


@dataclass(frozen=True, slots=True)
class WrittenReading:
    """A reading in a longer text: on which scale it was written, and from where to where it stands."""

    temperature: Temperature
    fahrenheit: bool
    start: int
    end: int


def find_readings(text: str) -> Iterator[WrittenReading]:
    """Every reading written in `text`, in order (`top 180 °C, bottom 160 °C`; `45, 27, 31 °C` are three)."""
    for several in _SEVERAL.finditer(text):
        numbers = list(_NUMBERS.finditer(text, several.start("numbers"), several.end("numbers")))
        for number in numbers:
            end = several.end() if number is numbers[-1] else number.end()
            yield WrittenReading(_degrees(number[0], several["scale"]), several["scale"] == "F", number.start(), end)


def find_temperatures(text: str) -> tuple[Temperature, ...]:
    """The readings in `text`, wherever they stand in it."""
    return tuple(found.temperature for found in find_readings(text))


def parse_temperature(text: str) -> Temperature:
    """Read a whole text as one reading (`4 °C`, `-18 °C`, `350 °F`). Raises `Unreadable`."""
    found = _READING.fullmatch(text.strip())
    if not found:
        raise Unreadable(f"'{text.strip()}' is no temperature", end=len(text), hint="write it as 160 °C")
    return _degrees(found[1], found[2])


def _degrees(number: str, scale: str) -> Temperature:
    degrees = Decimal(number.replace("−", "-"))
    return Temperature(degrees) if scale == "C" else Temperature.from_fahrenheit(degrees)

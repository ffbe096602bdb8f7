"""Temperatures. Readings and differences convert differently, so they are different types.

Conversions: NIST Handbook 44, Appendix C (Celsius and Fahrenheit scales); intervals by NIST SP 811.
"""

import re
from dataclasses import dataclass
from decimal import Decimal, localcontext

from bookmaker.measures.exact import CONTEXT
from bookmaker.measures.numbers import Unreadable

_READING = re.compile(r"([-−]?\d+(?:\.\d+)?)\s*°?\s*([CF])\b")
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


def find_temperatures(text: str) -> tuple[Temperature, ...]:
    """Every reading written in `text`, in order (`top 180 °C, bottom 160 °C`)."""
    return tuple(_of(found) for found in _READING.finditer(text))


def parse_temperature(text: str) -> Temperature:
    """Read a whole text as one reading (`4 °C`, `-18 °C`, `350 °F`). Raises `Unreadable`."""
    found = _READING.fullmatch(text.strip())
    if not found:
        raise Unreadable(f"'{text.strip()}' is no temperature", end=len(text), hint="write it as 160 °C")
    return _of(found)


def _of(found: re.Match[str]) -> Temperature:
    degrees = Decimal(found[1].replace("−", "-"))
    return Temperature(degrees) if found[2] == "C" else Temperature.from_fahrenheit(degrees)

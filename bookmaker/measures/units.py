"""Units a cook may write, and their factors. This module is the one door to pint.

A short allow-list stands before pint, whose own parser would read `3 pinch` as picoinches and `2 c` as the speed of
light. Factors come from pint's registry on decimals and are checked in the tests against NIST Handbook 44, Appendix C.
"""

from dataclasses import dataclass
from decimal import Context, Decimal
from enum import StrEnum
from functools import cache
from typing import Any


class Dimension(StrEnum):
    """What an amount measures; amounts are kept in the base unit named here."""

    MASS = "mass"  # gram
    VOLUME = "volume"  # millilitre
    LENGTH = "length"  # millimetre
    SHARE = "share"  # fraction of one
    COUNT = "count"  # pieces of the item's own measure


class Spoons(StrEnum):
    """Which spoons and cups the house means."""

    METRIC = "metric"
    US = "us"


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: `symbol` is how we print it, `term` what pint calls it."""

    symbol: str
    dimension: Dimension
    term: str
    us_only: bool = False


def _table() -> dict[str, Unit]:
    mass = {
        "mg": ("milligram", ["mg"]), "g": ("gram", ["g", "gr", "gram", "grams", "gramme", "grammes"]),
        "kg": ("kilogram", ["kg", "kilo", "kilos"]), "t": ("metric_ton", ["t", "tonne", "tonnes"]),
        "lb": ("pound", ["lb", "lbs", "pound", "pounds"]), "oz": ("ounce", ["oz", "ounce", "ounces"]),
    }  # fmt: skip
    volume = {
        "ml": ("milliliter", ["ml", "millilitre", "millilitres"]), "cl": ("centiliter", ["cl"]),
        "dl": ("deciliter", ["dl"]), "l": ("liter", ["l", "litre", "litres", "liter", "liters"]),
        "tsp": ("teaspoon", ["tsp", "teaspoon", "teaspoons"]),
        "tbsp": ("tablespoon", ["tbsp", "tablespoon", "tablespoons"]),
    }  # fmt: skip
    us = {
        "cup": ("cup", ["cup", "cups"]), "fl oz": ("fluid_ounce", ["fl oz", "floz"]),
        "pint": ("pint", ["pint", "pints"]),
        "qt": ("quart", ["qt", "quart", "quarts"]), "gal": ("gallon", ["gal", "gallon", "gallons"]),
    }  # fmt: skip
    length = {
        "mm": ("millimeter", ["mm"]), "cm": ("centimeter", ["cm"]), "m": ("meter", ["m"]),
        "in": ("inch", ["in", "inch", "inches"]),
    }  # fmt: skip
    found: dict[str, Unit] = {"%": Unit("%", Dimension.SHARE, "percent")}
    for names, dimension, us_only in (
        (mass, Dimension.MASS, False),
        (volume, Dimension.VOLUME, False),
        (us, Dimension.VOLUME, True),
        (length, Dimension.LENGTH, False),
    ):
        for symbol, (term, spellings) in names.items():
            found |= {spelling: Unit(symbol, dimension, term, us_only) for spelling in spellings}
    return found


UNITS: dict[str, Unit] = _table()
"""Every accepted spelling, in lower case, and its unit."""

_DECIMAL = {
    symbol: Decimal(number)
    for symbol, number in {
        "mg": "0.001", "g": "1", "kg": "1000", "t": "1000000", "ml": "1", "cl": "10", "dl": "100", "l": "1000",
        "mm": "1", "cm": "10", "m": "1000", "%": "0.01",
    }.items()
}  # fmt: skip
"""Metric units are powers of ten by definition: nothing to ask pint about, whose registry takes longer to open than a
whole book to read. The tests hold each against it."""

_DUST = Context(prec=24)
_BASE = {Dimension.MASS: "gram", Dimension.VOLUME: "milliliter", Dimension.LENGTH: "millimeter"}
# Common practice outside the United States: a 5 ml teaspoon and a 15 ml tablespoon
_METRIC_SPOONS = {"tsp": Decimal(5), "tbsp": Decimal(15)}


@cache
def _registry() -> Any:
    import pint

    return pint.UnitRegistry(non_int_type=Decimal)


@cache
def factor(symbol: str, spoons: Spoons = Spoons.METRIC) -> Decimal:
    """How many base units (g, ml, mm, or one for a share) make one `symbol`."""
    if spoons is Spoons.METRIC and symbol in _METRIC_SPOONS:
        return _METRIC_SPOONS[symbol]
    if symbol in _DECIMAL:
        return _DECIMAL[symbol]
    unit = UNITS[symbol]
    found = _registry().Quantity(Decimal(1), unit.term).to(_BASE[unit.dimension]).magnitude
    # our factors are finite decimals of less than 20 digits; the registry's way through base units leaves dust
    clean = _DUST.plus(Decimal(found)).normalize(_DUST)
    return clean.quantize(Decimal(1)) if clean == clean.to_integral_value() else clean  # 1000, not 1E+3

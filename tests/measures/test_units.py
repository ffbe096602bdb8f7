"""Unit factors against NIST Handbook 44, Appendix C, and against weights printed beside volumes in public recipes."""

from decimal import Decimal
from typing import Any

import pint
import pytest

from bookmaker.measures.units import UNITS, Dimension, Spoons, factor
from tests.support.reference import cases

REFERENCE = cases("units")
DENSITIES = cases("densities")


@pytest.mark.parametrize(
    ("case", "symbol"),
    [
        ("unit-us-fluid-ounce", "fl oz"),
        ("unit-us-liquid-pint", "pint"),
        ("unit-us-gallon", "gal"),
        ("unit-us-cup", "cup"),
        ("unit-us-quart", "qt"),
    ],
)
def test_us_volumes_are_exact(case: str, symbol: str) -> None:
    assert factor(symbol, Spoons.US) == Decimal(REFERENCE[case]["expect"]["value_ml"])


def test_us_teaspoon_is_a_sixth_of_a_fluid_ounce() -> None:
    printed = Decimal(REFERENCE["unit-us-teaspoon"]["expect"]["value_ml"])
    assert abs(factor("tsp", Spoons.US) - printed) < Decimal("1e-10")
    assert abs(factor("tsp", Spoons.US) * 6 - factor("fl oz", Spoons.US)) < Decimal("1e-20")


def test_inch() -> None:
    assert factor("in") == Decimal(REFERENCE["unit-inch"]["expect"]["value_mm"])


@pytest.mark.parametrize(("symbol", "grams"), [("lb", "453.59237"), ("oz", "28.349523125")])
def test_avoirdupois_is_exact(symbol: str, grams: str) -> None:
    """NIST Handbook 44, Appendix C: 1 lb = 453.592 37 g exactly, 1 oz = 1/16 lb (from memory)."""
    assert factor(symbol) == Decimal(grams)


def test_metric_spoons() -> None:
    spoons = REFERENCE["metric-cup-spoons"]["expect"]
    assert factor("tsp") == Decimal(spoons["metric_tsp_ml"])
    assert factor("tbsp") == Decimal(spoons["metric_tbsp_ml"])


@pytest.mark.parametrize(
    ("symbol", "base"),
    [("mg", "0.001"), ("g", "1"), ("kg", "1000"), ("t", "1000000"), ("ml", "1"), ("cl", "10"), ("dl", "100"),
     ("l", "1000"), ("mm", "1"), ("cm", "10"), ("m", "1000"), ("%", "0.01")],
)  # fmt: skip
def test_metric_factors(symbol: str, base: str) -> None:
    """By the definition of the SI prefixes."""
    assert factor(symbol) == Decimal(base)


@pytest.mark.parametrize("case", DENSITIES)
def test_density_from_a_weight_and_a_volume_in_cups(case: str) -> None:
    given, expected = DENSITIES[case]["given"], DENSITIES[case]["expect"]
    grams = Decimal(given["weight_oz"]) * factor("oz")
    millilitres = Decimal(given["volume_us_cups"]) * factor("cup", Spoons.US)
    assert abs(grams / millilitres - Decimal(expected["density_g_per_ml"])) <= Decimal("0.0006")


def test_only_kitchen_units_are_known() -> None:
    assert not {"pinch", "c", "gb", "stone", "byte", "°c", "cc"} & set(UNITS)
    assert {unit.dimension for unit in UNITS.values()} == set(Dimension) - {Dimension.COUNT}


def test_factors_are_plain_numbers() -> None:
    """A factor of 1E+3 would print amounts as 5E+2."""
    assert [str(factor(symbol)) for symbol in ("kg", "t", "l", "cm")] == ["1000", "1000000", "1000", "10"]


@pytest.mark.parametrize("symbol", ["mg", "g", "kg", "t", "ml", "cl", "dl", "l", "mm", "cm", "m", "%"])
def test_metric_factors_are_those_of_the_registry(symbol: str) -> None:
    # SI Brochure, 9th edition, table 7 (prefixes); the litre is 1 dm³, the tonne 1000 kg (table 8): from memory
    registry: Any = pint.UnitRegistry(non_int_type=Decimal)
    base = {Dimension.MASS: "gram", Dimension.VOLUME: "milliliter", Dimension.LENGTH: "millimeter", Dimension.SHARE: ""}
    unit = UNITS[symbol]
    found = registry.Quantity(Decimal(1), unit.term).to(base[unit.dimension]).magnitude
    assert abs(found - factor(symbol)) < Decimal("1e-20")

"""Readings and differences."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.temperatures import Temperature, TemperatureDifference, find_temperatures, parse_temperature
from tests.support.reference import cases

REFERENCE = cases("units")
READINGS = [case for case in REFERENCE if case.startswith("temp-") and case != "temp-difference"]


@pytest.mark.parametrize("case", READINGS)
def test_fahrenheit_readings(case: str) -> None:
    """NIST Handbook 44, Appendix C."""
    degrees = Decimal(REFERENCE[case]["given"]["fahrenheit"])
    celsius = Decimal(REFERENCE[case]["expect"]["celsius"])
    assert abs(Temperature.from_fahrenheit(degrees).celsius - celsius) <= Decimal("0.0001")
    assert abs(Temperature(celsius).fahrenheit - degrees) <= Decimal("0.0002")


def test_a_difference_has_no_offset() -> None:
    """NIST SP 811: an interval of 18 °F is one of 10 °C."""
    case = REFERENCE["temp-difference"]
    kelvin = Decimal(case["expect"]["delta_celsius"])
    assert TemperatureDifference(kelvin).fahrenheit_degrees == Decimal(case["given"]["delta_fahrenheit"])


@pytest.mark.parametrize(
    ("text", "celsius"),
    [("4 °C", "4"), ("-18 °C", "-18"), ("−18°C", "-18"), ("118 C", "118"), ("32 °F", "0"), ("-40 F", "-40"),
     ("2.5 °C", "2.5")],
)  # fmt: skip
def test_written_readings(text: str, celsius: str) -> None:
    assert parse_temperature(text) == Temperature(Decimal(celsius))


@pytest.mark.parametrize("text", ["", "4", "warm", "4 K", "4 °C or so", "4,5 °C", "°C"])
def test_what_is_no_reading(text: str) -> None:
    with pytest.raises(Unreadable):
        parse_temperature(text)


def test_every_reading_of_a_setting() -> None:
    found = find_temperatures("top 180 °C, bottom 160 °C, steam")
    assert [each.celsius for each in found] == [180, 160]


@given(st.decimals(min_value=-200, max_value=400, places=3))
def test_there_and_back(celsius: Decimal) -> None:
    reading = Temperature(celsius)
    assert abs(Temperature.from_fahrenheit(reading.fahrenheit).celsius - celsius) < Decimal("1e-25")

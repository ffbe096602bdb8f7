"""Readings and differences."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.temperatures import (
    Temperature,
    TemperatureDifference,
    find_readings,
    find_temperatures,
    parse_temperature,
)
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


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("45, 27, 29.5 °C", ["45", "27", "29.5"]),
        ("2..4 °C", ["2", "4"]),
        ("5-8 °C", ["5", "8"]),
        ("5–8 °C within 2 h", ["5", "8"]),
        ("from 65 to 4 °C within 2 h", ["65", "4"]),
        ("-18..-12 °C", ["-18", "-12"]),
        ("at least 7 min at 220 °C, dry", ["220"]),
        ("pH 4.2, 85 °C", ["85"]),
        ("48, 28, 31.5 C", ["48", "28", "31.5"]),
        ("240 °C, 230 °C, then 200 °C", ["240", "230", "200"]),
    ],
)
def test_readings_may_share_one_unit(text: str, celsius: list[str]) -> None:
    found = list(find_readings(text))
    assert [str(each.temperature.celsius) for each in found] == celsius
    assert all(text[each.start : each.end].startswith(number) for each, number in zip(found, celsius, strict=True))


@given(st.decimals(min_value=-200, max_value=400, places=3))
def test_there_and_back(celsius: Decimal) -> None:
    reading = Temperature(celsius)
    assert abs(Temperature.from_fahrenheit(reading.fahrenheit).celsius - celsius) < Decimal("1e-25")

"""The water's temperature, friction and ice, against the rules of bread books.

Every source stands beside its case in tests/reference/dough-temperature.yaml.
"""

from decimal import Decimal

import pytest

from bookmaker.kitchen.dough_temperature import (
    MELTING,
    YEAST_LIMIT,
    friction_of,
    water_temperature,
    with_ice,
)
from bookmaker.measures.temperatures import Temperature, TemperatureDifference
from tests.support.reference import cases

D = Decimal
CASES = cases("dough-temperature")
DUST = D("1e-25")


def _f(degrees: str) -> Temperature:
    return Temperature.from_fahrenheit(D(degrees))


def _f_difference(degrees: str) -> TemperatureDifference:
    return TemperatureDifference(D(degrees) * 5 / 9)


def _c(degrees: str) -> Temperature:
    return Temperature(D(degrees))


def test_a_straight_dough_with_the_mixer_s_minutes_as_friction() -> None:
    case = CASES["ddt-3factor-78F-friction-2-per-min"]
    given, expect = case["given"], case["expect"]
    friction = _f_difference(str(int(given["mix_minutes"]) * int(given["friction_F_per_min"])))
    assert friction.fahrenheit_degrees.quantize(D(1)) == D(expect["friction_F"])
    found = water_temperature(_f(given["ddt_F"]), [_f(given["flour_F"]), _f(given["room_F"])], friction)
    assert abs(found.fahrenheit - D(expect["water_F"])) < DUST


def test_a_dough_mixed_by_hand() -> None:
    case = CASES["ddt-hand-mix-no-friction"]
    given = case["given"]
    found = water_temperature(
        _f(given["ddt_F"]), [_f(given["flour_F"]), _f(given["room_F"])], TemperatureDifference(D(0))
    )
    assert abs(found.fahrenheit - D(case["expect"]["water_F"])) < DUST


@pytest.mark.parametrize("name", ["ddt-3factor-celsius", "ddt-4factor-poolish"])
def test_degrees_celsius_with_and_without_a_preferment(name: str) -> None:
    given, expect = CASES[name]["given"], CASES[name]["expect"]
    known = [_c(given[key]) for key in ("room_C", "flour_C", "preferment_C") if key in given]
    found = water_temperature(_c(given["ddt_C"]), known, TemperatureDifference(D(given["friction_C"])))
    assert found.celsius == D(expect["water_C"])


def test_water_that_is_too_warm_for_yeast() -> None:
    given, expect = CASES["ddt-water-above-limit"]["given"], CASES["ddt-water-above-limit"]["expect"]
    known = [_f(given["flour_F"]), _f(given["room_F"])]
    found = water_temperature(_f(given["ddt_F"]), known, _f_difference(given["friction_F"]))
    assert abs(found.fahrenheit - D(expect["water_F"])) < DUST
    assert found > YEAST_LIMIT


def test_friction_worked_back_from_a_finished_dough() -> None:
    given, expect = CASES["ddt-friction-factor"]["given"], CASES["ddt-friction-factor"]["expect"]
    known = [_f(given["flour_F"]), _f(given["room_F"])]
    found = friction_of(_f(given["actual_dough_F"]), known, _f(given["water_F"]))
    assert abs(found.fahrenheit_degrees - D(expect["friction_F"])) < DUST
    assert abs(water_temperature(_f(given["actual_dough_F"]), known, found).fahrenheit - D(given["water_F"])) < DUST


def test_a_difference_converts_without_the_offset() -> None:
    case = CASES["ddt-friction-conversion"]
    found = _f_difference(case["given"]["friction_F"]).kelvin
    assert abs(found - D(case["expect"]["friction_C"])) <= D(case["tolerance_value"])


@pytest.mark.parametrize(
    ("name", "water", "needed", "ice"),
    [
        ("ice-us-formula-equivalence", "total_water_lb", "target_F", "ice_lb"),
        ("ice-us-formula-textbook", "total_water_lb", "target_F", "ice_lb"),
    ],
)
def test_ice_for_water_that_is_too_warm(name: str, water: str, needed: str, ice: str) -> None:
    """The American form of the rule, tap + 112 °F, is ours: 144 BTU/lb are 80 K, and 112 is 144 − 32."""
    case = CASES[name]
    found = with_ice(D(case["given"][water]), _f(case["given"]["tap_F"]), _f(case["given"][needed]))
    assert abs(found.ice - D(case["expect"][ice])) <= D(case["tolerance_value"])
    assert abs(found.ice + found.tap - D(case["given"][water])) < DUST


def test_what_a_pound_of_ice_takes() -> None:
    """A pound of ice takes 144 BTU to melt: as much as cooling a pound of water by 144 °F, which are 80 K."""
    given, expect = CASES["ice-latent-capacity"]["given"], CASES["ice-latent-capacity"]["expect"]
    ice = D(given["water_lb"]) * D(given["replaced_fraction"])
    assert ice == D(expect["ice_lb"])
    assert ice * MELTING * 9 / 5 == D(expect["extra_BTU"])


def test_no_ice_where_the_tap_is_cold_enough() -> None:
    assert with_ice(D(1000), _c("12"), _c("12")).ice == 0
    assert with_ice(D(1000), _c("8"), _c("12")).tap == 1000


def test_never_more_ice_than_water() -> None:
    iced = with_ice(D(1000), _c("20"), _c("-90"))
    assert (iced.ice, iced.tap) == (D(1000), D(0))


def test_ice_and_tap_water_come_to_the_temperature_needed() -> None:
    """Heat balance: the ice melts (80 K of its own mass) and warms to the needed temperature, the tap water cools."""
    tap, needed = D(19), D("6.5")
    found = with_ice(D(4100), _c("19"), _c("6.5"))
    assert abs(found.ice * (MELTING + needed) - found.tap * (tap - needed)) < D("1e-20")

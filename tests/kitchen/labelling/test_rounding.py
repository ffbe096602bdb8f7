"""Rounding of printed nutrition, case by case against the published rules."""

from decimal import Decimal

import pytest

from bookmaker.kitchen.labelling.rounding import (
    eu_energy,
    eu_grams,
    net_quantity,
    us_amount,
    us_calories,
    us_daily_value,
)
from tests.support.reference import cases

CASES = cases("nutrition")
EU = [case for case in CASES if case.startswith("eu-round-")]
US = [case for case in CASES if case.startswith("us-round-")]
_US_KEYS = {"total_fat": "fat", "carbohydrate": "total carbohydrate"}


@pytest.mark.parametrize("case", EU)
def test_eu_values_are_printed_as_the_guidance_says(case: str) -> None:
    given = CASES[case]["given"]
    value, declared = Decimal(given["value_per_100g"]), CASES[case]["expect"]["declared"]
    match given["nutrient"]:
        case "energy_kJ":
            assert eu_energy(value, Decimal(0)) == f"{declared} kJ / 0 kcal"
        case "energy_kcal":
            assert eu_energy(Decimal(0), value) == f"0 kJ / {declared.removesuffix(' (half up)')} kcal"
        case nutrient:
            # where the guidance leaves a choice of `0` and `<0.5`, the honest one is printed
            assert eu_grams(nutrient, value) == f"{declared.removeprefix('0 or ')} g"


@pytest.mark.parametrize("case", US)
def test_us_values_are_printed_as_the_rule_says(case: str) -> None:
    given = CASES[case]["given"]
    value, declared = Decimal(given["value_per_serving"]), CASES[case]["expect"]["declared"].removesuffix(" (half up)")
    nutrient = given["nutrient"]
    if nutrient == "calories":
        assert us_calories(value) == declared
    else:
        milligrams = nutrient in ("cholesterol", "sodium")
        printed = us_amount(_US_KEYS.get(nutrient, nutrient), value / 1000 if milligrams else value)
        assert printed == f"{declared} {'mg' if milligrams else 'g'}"


@pytest.mark.parametrize(
    ("key", "grams", "printed"),
    [
        ("fat", "0", "0 g"),
        ("fat", "0.5", "<0.5 g"),
        ("fat", "0.50001", "0.5 g"),
        ("fat", "0.55", "0.6 g"),
        ("fat", "9.95", "10.0 g"),
        ("fat", "10", "10 g"),
        ("saturates", "0.1", "<0.1 g"),
        ("saturates", "0.10001", "0.1 g"),
        ("saturates", "0.05", "<0.1 g"),
        ("salt", "0.0125", "<0.01 g"),
        ("salt", "0.01251", "0.01 g"),
        ("salt", "1", "1.0 g"),
        ("salt", "0.99999", "1.00 g"),
        ("fibre", "6.25", "6.3 g"),
    ],
)
def test_at_the_boundaries_of_the_eu_table(key: str, grams: str, printed: str) -> None:
    """European Commission, guidance on tolerances (December 2012), rounding table."""
    assert eu_grams(key, Decimal(grams)) == printed


@pytest.mark.parametrize(
    ("key", "grams", "printed"),
    [
        ("fat", "0.49", "0 g"),
        ("saturates", "0.75", "1 g"),
        ("trans fat", "4.99", "5 g"),
        ("trans fat", "5.4", "5 g"),
        ("cholesterol", "0.002", "less than 5 mg"),
        ("cholesterol", "0.005", "less than 5 mg"),
        ("cholesterol", "0.0051", "5 mg"),
        ("sodium", "0.005", "5 mg"),
        ("sodium", "0.14", "140 mg"),
        ("sodium", "0.1401", "140 mg"),
        ("fibre", "0.49", "0 g"),
        ("fibre", "0.5", "less than 1 g"),
        ("fibre", "1", "1 g"),
        ("vitamin d", "0.00000125", "1.3 mcg"),
        ("calcium", "0.126", "130 mg"),
        ("iron", "0.00119", "1.2 mg"),
        ("potassium", "0.2349", "230 mg"),
    ],
)
def test_at_the_boundaries_of_the_us_rule(key: str, grams: str, printed: str) -> None:
    """21 CFR 101.9(c); the last four from memory."""
    assert us_amount(key, Decimal(grams)) == printed


@pytest.mark.parametrize(
    ("key", "share", "printed"),
    [
        ("fat", "0.145", "15%"),
        ("fat", "0.004", "0%"),
        ("calcium", "0.019", "0%"),
        ("calcium", "0.03", "4%"),
        ("calcium", "0.12", "10%"),
        ("iron", "0.13", "15%"),
        ("iron", "0.54", "50%"),
        ("iron", "0.55", "60%"),
    ],
)
def test_daily_values_go_in_the_steps_of_their_kind(key: str, share: str, printed: str) -> None:
    """21 CFR 101.9(c)(8)(iii), seen as quoted, and (d)(7)(ii), from memory."""
    assert us_daily_value(key, Decimal(share)) == printed


def test_division_dust_does_not_lift_a_value_over_its_boundary() -> None:
    assert eu_grams("fat", Decimal("0.5") + Decimal("1e-30")) == "<0.5 g"


@pytest.mark.parametrize(
    ("grams", "declared"),
    [("10.87", "10.8"), ("63.68", "63"), ("999.9", "999"), ("1016.4", "1010"), ("1038.26", "1030"), ("60", "60")],
)
def test_a_net_quantity_is_never_more_than_is_in(grams: str, declared: str) -> None:
    """Directive 76/211/EEC, Annex I, no. 1(a): contents may on average not be less than declared."""
    assert net_quantity(Decimal(grams)) == Decimal(declared)


def test_a_net_quantity_loses_no_gram_to_the_dust_of_divisions() -> None:
    assert net_quantity(Decimal(200) / 3 * 3) == 200

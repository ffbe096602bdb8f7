"""Readings on the other scale than the house's are shown again on its own."""

from decimal import Decimal

import pytest

from bookmaker.editions.team.project_method import readings_again
from bookmaker.model.house import LANGUAGES_WITH_WORDS
from bookmaker.press.formats import NBSP, Formats
from bookmaker.press.words import CATALOGUES, DOMAIN


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("core 85 °C", ["185 °F"]),
        ("from 65 °C to 4 °C within 2 h", ["149 °F", "39 °F"]),
        ("45, 27, 29.5 °C", ["113 °F", "81 °F", "85 °F"]),
        ("core 185 °F", []),
        ("core 85 °C (185 °F)", []),
        ("core 185 °F, then 4 °C within 2 h", ["39 °F"]),
        ("by colour", []),
    ],
)
def test_in_a_house_of_fahrenheit(text: str, shown: list[str]) -> None:
    formats = Formats.of("en", fahrenheit=True)
    found = [formats.amount(each).replace(NBSP, " ") for each in readings_again(text, fahrenheit=True)]
    assert found == shown


@pytest.mark.parametrize(
    ("text", "celsius"),
    [("350 °F", ["177"]), ("160 °C", []), ("160 °C (320 °F)", []), ("160 °C, then 350 °F", ["177"])],
)
def test_in_a_house_of_celsius(text: str, celsius: list[str]) -> None:
    assert [each.value for each in readings_again(text, fahrenheit=False)] == [Decimal(each) for each in celsius]


def test_the_languages_said_to_have_words_have_them() -> None:
    translated = {found.parents[1].name for found in CATALOGUES.glob(f"*/LC_MESSAGES/{DOMAIN}.mo")}
    assert {"en", *translated} == set(LANGUAGES_WITH_WORDS)

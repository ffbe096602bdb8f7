"""Near misses."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.reading.suggest import did_you_mean, fold, near

KNOWN = ("unsalted butter", "plain flour", "strong white flour", "Almond sablé", "whole egg", "egg yolk", "fine salt")


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Almond  Sablé", "almond sable"),
        ("CRÈME brûlée", "creme brulee"),
        ("chef’s mix", "chef's mix"),
        (" x ", "x"),
        ("Maß", "mass"),
    ],
)
def test_names_that_are_the_same_to_a_cook(one: str, other: str) -> None:
    assert fold(one) == fold(other)


@pytest.mark.parametrize(
    ("name", "meant"),
    [
        ("unsalted buter", "unsalted butter"),
        ("almond sable", "Almond sablé"),
        ("butter, unsalted", "unsalted butter"),
        ("plian flour", "plain flour"),
        ("yolk", "egg yolk"),
        ("egg yolks", "egg yolk"),
        ("fine sea salt", "fine salt"),
        ("butter", "unsalted butter"),
    ],
)
def test_the_nearest_name(name: str, meant: str) -> None:
    assert near(name, KNOWN) == (meant,)
    assert did_you_mean(name, KNOWN) == f"did you mean '{meant}'?"


@pytest.mark.parametrize("name", ["gelatine", "", "x"])
def test_nothing_is_offered_for_what_is_like_nothing(name: str) -> None:
    assert near(name, KNOWN) == ()
    assert did_you_mean(name, KNOWN) == ""


def test_several_best_first() -> None:
    assert near("plain flours", ("plain flour", "plane flour", "cream"), most=2) == ("plain flour", "plane flour")


@given(st.text(max_size=20), st.lists(st.text(max_size=20), max_size=8))
def test_what_is_offered_is_known(name: str, known: list[str]) -> None:
    assert set(near(name, known, most=3)) <= set(known)

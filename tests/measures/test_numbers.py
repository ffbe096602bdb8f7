"""The number grammar."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.measures.numbers import VULGAR, Unreadable, take_number
from tests.support.reference import cases
from tests.support.refusals import outcome

FRACTIONS = cases("units")["frac-decimal"]


@pytest.mark.parametrize(
    ("text", "value", "rest"),
    [
        ("12", "12", ""),
        ("0.5 kg", "0.5", " kg"),
        (".5", "0.5", ""),
        ("1/2 l", "0.5", " l"),
        ("1 1/2 kg", "1.5", " kg"),
        ("½ cup", "0.5", " cup"),
        ("1½ kg", "1.5", " kg"),
        ("2¾", "2.75", ""),
        ("480..560 g", "480", "..560 g"),
        ("1/2", "0.5", ""),
        ("12 × 1/2", "12", " × 1/2"),
    ],
)
def test_numbers(text: str, value: str, rest: str) -> None:
    taken = take_number(text)
    assert taken is not None
    assert (taken.value, text[taken.end :]) == (Decimal(value), rest)


@pytest.mark.parametrize("text", ["", "g", "one", "  12", "x12"])
def test_no_number_here(text: str) -> None:
    assert take_number(text) is None


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("1,5 kg", "write 1.5"),
        ("1,500 g", "write 1500 for thousands, or 1.5"),
        ("4,000 g", "write 4000 for thousands, or 4"),
        ("1,234", "write 1234 for thousands, or 1.234"),
        ("4 000 g", "write 4000"),
        ("12 500 000 g", "write 12500000"),
        ("1\u202f500 g", "write 1500"),
        ("1'500 g", "write 1500"),
        ("12,25", "write 12.25"),
        ("-3 g", "leave the sign out"),
        ("+3 g", "leave the sign out"),
        ("−3 g", "leave the sign out"),
        ("-.5", "leave the sign out"),
    ],
)
def test_refusals_say_what_to_write(text: str, hint: str) -> None:
    with pytest.raises(Unreadable) as refused:
        take_number(text)
    assert refused.value.hint == hint
    assert refused.value.start == 0
    assert refused.value.end is not None


def test_a_fraction_over_zero_is_refused() -> None:
    with pytest.raises(Unreadable, match="0 below the line"):
        take_number("1/0 kg")


def test_published_fractions() -> None:
    """The decimals that a kitchen arithmetic lesson prints, to four places."""
    for written, decimal in zip(FRACTIONS["given"]["fractions"], FRACTIONS["expect"]["decimals"], strict=True):
        taken = take_number(written)
        assert taken is not None
        assert abs(taken.value - Decimal(decimal)) <= Decimal("0.0001")


@pytest.mark.parametrize("sign", VULGAR)
def test_vulgar_fractions_are_what_they_show(sign: str) -> None:
    over, under = VULGAR[sign]
    taken = take_number(f"3{sign}")
    assert taken is not None
    assert abs(taken.value - (3 + Decimal(over) / Decimal(under))) < Decimal("1e-27")


@given(st.decimals(min_value=0, max_value=10**9, places=6, allow_nan=False))
def test_what_is_written_is_read(value: Decimal) -> None:
    text = f"{value:f}"
    taken = take_number(f"{text} g")
    assert taken is not None
    assert (taken.value, taken.end) == (value, len(text))


@given(st.text(), st.integers(min_value=0, max_value=20))
def test_any_text_is_read_or_refused(text: str, start: int) -> None:
    start = min(start, len(text))
    taken = outcome(lambda: take_number(text, start))
    if isinstance(taken, Unreadable):
        assert taken.end is not None
        assert start <= taken.start < taken.end <= len(text)
    else:
        assert taken is None or (taken.value >= 0 and start < taken.end <= len(text))

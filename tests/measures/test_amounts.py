"""Amounts: numbers with their units."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.measures.amounts import Amount, parse_amount, take_amount
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.units import UNITS, Dimension, Spoons
from tests.support.refusals import outcome


@pytest.mark.parametrize(
    ("text", "number", "unit", "dimension", "rest"),
    [
        ("480 g plain flour", "480", "g", Dimension.MASS, " plain flour"),
        ("480g", "480", "g", Dimension.MASS, ""),
        ("1 1/2 kg", "1.5", "kg", Dimension.MASS, ""),
        ("2 Tbsp rum", "2", "tbsp", Dimension.VOLUME, " rum"),
        ("3 fl oz", "3", "fl oz", Dimension.VOLUME, ""),
        ("60 % water", "60", "%", Dimension.SHARE, " water"),
        ("60% water", "60", "%", Dimension.SHARE, " water"),
        ("2 vanilla pods", "2", "", Dimension.COUNT, " vanilla pods"),
        ("3 leaves gelatine", "3", "", Dimension.COUNT, " leaves gelatine"),
        ("4 pieces of 46 g", "4", "", Dimension.COUNT, " pieces of 46 g"),
        ("2 grams-only scale", "2", "", Dimension.COUNT, " grams-only scale"),
        ("30 mm", "30", "mm", Dimension.LENGTH, ""),
        ("2 in", "2", "in", Dimension.LENGTH, ""),
    ],
)
def test_amounts_at_the_front(text: str, number: str, unit: str, dimension: Dimension, rest: str) -> None:
    taken = take_amount(text)
    assert taken is not None
    assert (taken.amount, text[taken.end :]) == (Amount(Decimal(number), unit, dimension), rest)


def test_a_unit_is_a_whole_word() -> None:
    """`4 gelatine` is four of something, not four grams of elatine."""
    taken = take_amount("4 gelatine")
    assert taken is not None
    assert taken.amount == Amount(Decimal(4), "", Dimension.COUNT)


@pytest.mark.parametrize(
    ("text", "grams"), [("1.5 kg", "1500"), ("2 lb", "907.18474"), ("250 mg", "0.25"), ("½ t", "500000")]
)
def test_base_units(text: str, grams: str) -> None:
    assert parse_amount(text, Dimension.MASS).in_base() == Decimal(grams)


def test_spoons_depend_on_the_house() -> None:
    spoon = parse_amount("2 tbsp")
    assert spoon.in_base() == 30
    assert abs(spoon.in_base(Spoons.US) - Decimal("29.5735295625")) < Decimal("1e-12")


def test_a_count_is_its_number() -> None:
    amount = parse_amount("12 pieces", Dimension.COUNT)
    assert amount.unit == "pieces"
    assert amount.in_base() == 12


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("0 g", "more than zero"),
        ("0.000 kg", "more than zero"),
        ("1,5 kg", "decimal point"),
        ("-2 g", "sign"),
        ("2 g g", "left over"),
        ("heaps", "does not begin with a number"),
        ("", "does not begin with a number"),
        ("2 ml", "is no mass"),
        ("2 pinches", "is no mass"),
        ("60 %", "is no mass"),
        ("nan g", "does not begin with a number"),
        ("inf kg", "does not begin with a number"),
        ("1e5 g", "is no mass"),
    ],
)
def test_refusals(text: str, why: str) -> None:
    with pytest.raises(Unreadable, match=why):
        parse_amount(text, Dimension.MASS)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("4.000 g", "write 4000 g for thousands, or 4 g"),
        ("1.250 g", "write 1250 g for thousands, or 1.25 g"),
        ("2.125 ml", "write 2125 ml for thousands, or 2.12 ml"),
    ],
)
def test_what_may_be_thousands_is_asked_for(text: str, hint: str) -> None:
    """Half of Europe writes a thousand grams as 1.000 g."""
    with pytest.raises(Unreadable) as refused:
        parse_amount(text)
    assert refused.value.hint == hint


@pytest.mark.parametrize(("text", "grams"), [("1.250 kg", "1250"), ("0.125 g", "0.125"), ("1.25 g", "1.25")])
def test_what_a_scale_shows_is_no_thousand(text: str, grams: str) -> None:
    assert parse_amount(text).in_base() == Decimal(grams)


@given(st.decimals(min_value="0.01", max_value=10**6, places=2), st.sampled_from(sorted(UNITS)))
def test_every_spelling_of_every_unit_is_read_back(number: Decimal, spelling: str) -> None:
    found = parse_amount(f"{number:f} {spelling}")
    assert (found.number, found.unit) == (number, UNITS[spelling].symbol)
    assert found.in_base(Spoons.US) > 0


@given(st.text(alphabet=st.characters(codec="utf-8"), max_size=40))
def test_any_text_is_read_or_refused(text: str) -> None:
    found = outcome(lambda: parse_amount(text))
    if isinstance(found, Unreadable):
        assert found.why
        assert 0 <= found.start <= len(text)
    else:
        assert found.number > 0

"""Money, rounding to a step, what a scale shows, and how figures are published."""

from decimal import Decimal, getcontext

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.measures.exact import exactly, published, total
from bookmaker.measures.money import Money, take_money
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.rounding import down_to_step, to_step, up_to_step
from bookmaker.measures.scales import Scale, weigh

SCALES = (Scale(Decimal(200), Decimal("0.1")), Scale(Decimal(6000), Decimal(1)), Scale(Decimal(30000), Decimal(5)))
AMOUNTS = st.decimals(min_value="0.001", max_value=10**6, places=4)


def test_money_is_read_with_its_currency() -> None:
    taken = take_money("4.20 EUR incl")
    assert (taken.money, "4.20 EUR incl"[taken.end :]) == (Money(Decimal("4.20"), "EUR"), " incl")


@pytest.mark.parametrize("text", ["", "4.20", "4.20 €", "EUR 4.20", "4.20 eur", "free", "4,20 EUR"])
def test_what_is_no_price(text: str) -> None:
    with pytest.raises(Unreadable):
        take_money(text)


def test_money_adds_and_multiplies_in_one_currency_only() -> None:
    assert Money(Decimal("1.10"), "EUR") + Money(Decimal("2.20"), "EUR") == Money(Decimal("3.30"), "EUR")
    assert Money(Decimal("1.10"), "EUR") * Decimal(3) == Money(Decimal("3.30"), "EUR")
    with pytest.raises(ValueError, match="cannot add USD to EUR"):
        Money(Decimal(1), "EUR") + Money(Decimal(1), "USD")


@pytest.mark.parametrize(("value", "step", "nearest", "up", "down"), [
    ("2.5", "1", "3", "3", "2"), ("2.4", "1", "2", "3", "2"), ("12.5", "5", "15", "15", "10"),
    ("0.05", "0.1", "0.1", "0.1", "0"), ("-2.5", "1", "-3", "-2", "-3"), ("10", "5", "10", "10", "10"),
])  # fmt: skip
def test_rounding_halves_away_from_zero(value: str, step: str, nearest: str, up: str, down: str) -> None:
    given = Decimal(value), Decimal(step)
    assert (to_step(*given), up_to_step(*given), down_to_step(*given)) == (Decimal(nearest), Decimal(up), Decimal(down))


def test_a_step_of_zero_is_a_bug() -> None:
    with pytest.raises(ValueError, match="must be positive"):
        to_step(Decimal(1), Decimal(0))


@pytest.mark.parametrize(("grams", "shown", "most"), [
    ("3.14", "3.1", 200), ("200", "200.0", 200), ("200.04", "200", 6000), ("6001", "6000", 30000),
])  # fmt: skip
def test_the_finest_scale_that_takes_it(grams: str, shown: str, most: int) -> None:
    found = weigh(Decimal(grams), SCALES)
    assert found.shown == Decimal(shown)
    assert found.scale is not None
    assert found.scale.most == most


def test_above_every_scale_the_coarsest_step_in_several_goes() -> None:
    found = weigh(Decimal(41002), SCALES)
    assert found.shown == 41000
    assert found.scale is None


@given(AMOUNTS)
def test_the_rounding_error_is_at_most_half_a_step(grams: Decimal) -> None:
    found = weigh(grams, SCALES)
    step = found.scale.step if found.scale else Decimal(5)
    assert abs(found.shown - grams) <= step / 2
    assert found.error == abs(found.shown - grams) / grams


@pytest.mark.parametrize(("value", "text"), [
    ("1200", "1200"), ("0.100", "0.1"), ("1.2345678901249", "1.23456789012"), ("2.0000000000005", "2"), ("0", "0"),
    ("1234567890123456", "1234567890120000"), ("0.0000012345678901251", "0.00000123456789013"),
])  # fmt: skip
def test_published_figures_have_twelve_significant_digits(value: str, text: str) -> None:
    assert f"{published(Decimal(value)):f}" == text


@given(st.lists(AMOUNTS, max_size=30))
def test_a_total_does_not_depend_on_the_order(parts: list[Decimal]) -> None:
    shuffled = sorted(parts)
    assert total(shuffled) == total(reversed(shuffled))


def test_arithmetic_is_the_kitchens_own_whatever_the_caller_set() -> None:
    before = getcontext().prec
    with exactly():
        third = Decimal(1) / Decimal(3)
    assert len(str(third)) == 36
    assert getcontext().prec == before

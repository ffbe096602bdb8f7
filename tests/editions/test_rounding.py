"""Figures are rounded once, halves up, and say what they lack."""

from decimal import Decimal

import pytest

from bookmaker.editions.team import rounding
from bookmaker.editions.team.places import places_of
from bookmaker.editions.team.views import Bound
from bookmaker.kitchen.figures import Figure, Lack, LackKind
from bookmaker.measures.scales import Scale
from tests.support.make import book, line, recipe, ref

SCALES = (Scale(Decimal(200), Decimal("0.1")), Scale(Decimal(6000), Decimal(1)))
PLACES = places_of(book(recipe("breads/rye", [line(1, "salt")], 1, title="Rye")))


@pytest.mark.parametrize(
    ("grams", "shown", "unit"),
    [
        ("4.25", "4.3", "g"),
        ("19.96", "20", "g"),
        ("46.5", "47", "g"),
        ("9999.4", "9999", "g"),
        ("12345", "12.35", "kg"),
    ],
)
def test_masses(grams: str, shown: str, unit: str) -> None:
    amount = rounding.mass(Decimal(grams))
    assert (str(amount.value), amount.unit) == (shown, unit)


@pytest.mark.parametrize(
    ("value", "shown", "bound"),
    [
        ("3.395", "3.40", Bound.EXACT),
        ("0", "0.00", Bound.EXACT),
        ("0.0049", "0.01", Bound.UNDER),
        ("0.005", "0.01", Bound.EXACT),
        ("-1.285", "-1.29", Bound.EXACT),
    ],
)
def test_money_never_shrinks_to_nothing(value: str, shown: str, bound: Bound) -> None:
    amount = rounding.money(Decimal(value), "EUR")
    assert (str(amount.value), amount.bound) == (shown, bound)


def test_small_pieces_get_a_third_decimal() -> None:
    assert str(rounding.fine_money(Decimal("0.0534"), "EUR").value) == "0.053"
    assert str(rounding.fine_money(Decimal("0.534"), "EUR").value) == "0.53"


def test_water_is_not_free() -> None:
    assert str(rounding.per_kilo(Decimal("0.0000024"), "EUR").value) == "0.0024"
    assert str(rounding.per_kilo(Decimal("0.0068"), "EUR").value) == "6.80"


def test_a_weight_is_what_the_scale_shows_and_says_when_that_is_too_coarse() -> None:
    assert rounding.scale_weight(Decimal("12.34"), SCALES).grams == Decimal("12.3")
    assert not rounding.scale_weight(Decimal("12.34"), SCALES).coarse
    assert rounding.scale_weight(Decimal("0.66"), SCALES).coarse
    # 0.1 g on 8 g: within 1 % of a line, not within the 0.5 % of salt
    assert not rounding.scale_weight(Decimal("8.05"), SCALES).coarse
    assert rounding.scale_weight(Decimal("8.05"), SCALES, careful=True).coarse


def test_a_column_of_percents_has_one_count_of_decimals() -> None:
    assert rounding.percent_places([Decimal(100), Decimal("2.5"), None]) == 1
    assert rounding.percent_places([Decimal(100), Decimal("0.4")]) == 2


def test_a_figure_that_lacks_a_price_is_at_least() -> None:
    lack = Lack(LackKind.PRICE, "salt", (ref("breads/rye"),))
    shown = rounding.known(Figure(Decimal("3.4"), (lack,)), lambda value: rounding.money(value, "EUR"), PLACES)
    assert shown.amount is not None
    assert (str(shown.amount.value), shown.amount.bound) == ("3.40", Bound.AT_LEAST)
    (lacking,) = shown.lacks
    assert lacking.kind == "price"
    assert lacking.of.route is not None
    assert lacking.of.route.key == "stores/salt"
    assert [link.name for link in lacking.via] == ["Rye"]


def test_an_old_price_is_told_but_not_at_least() -> None:
    shown = rounding.known(Figure(Decimal(3), (Lack(LackKind.STALE_PRICE, "salt"),)), rounding.mass, PLACES)
    assert shown.amount is not None
    assert shown.amount.bound is Bound.EXACT
    assert shown.lacks


def test_nothing_known_is_no_amount() -> None:
    assert rounding.known(Figure(None, (Lack(LackKind.YIELD, "x"),)), rounding.mass, PLACES).amount is None


def test_seconds_stay_seconds() -> None:
    assert rounding.minutes(Decimal("0.2")).value * 60 == 12
    assert rounding.minutes(Decimal("22.5")).value == 23

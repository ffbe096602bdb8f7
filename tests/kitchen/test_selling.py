"""List prices, tax, food cost, margin and mark-up, channel by channel."""

from datetime import date
from decimal import Decimal
from typing import Any

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import ChannelPrice, Lack, LackKind
from bookmaker.measures.money import Money
from bookmaker.model.house import Channel
from bookmaker.model.recipe import Kind, ListPrice, Portion
from bookmaker.model.yields import MassYield
from tests.support import make

HOUSE = make.house(
    food_cost=Decimal("0.25"),
    channels=(Channel("tea room", Decimal("0.1"), Decimal("0.3")), Channel("hotel", Decimal("0.2"))),
    overhead=Decimal("0.5"),
)


def channels(*prices: ListPrice, own: Any = HOUSE, **more: Any) -> dict[str, ChannelPrice]:
    """10 tarts of ingredients for 6.00: 0.60 each, and 0.90 with overhead."""
    more.setdefault("kind", Kind.PRODUCT)
    yields = more.pop("yields", make.pieces(10))
    tart = make.recipe("tart", [make.line(1000, "butter")], yields, prices=prices, **more)
    book = make.book(tart, prices=[make.price("butter", "1 kg", 6)], own=own)
    return {channel.channel: channel for channel in compute(book, date(2026, 11, 1)).recipes[tart.ref].cost.channels}


def listed(channel: str, amount: str, taxed: bool, currency: str = "EUR") -> ListPrice:
    return ListPrice(channel, Money(Decimal(amount), currency), taxed)


def test_tax_is_taken_out_of_a_price_that_includes_it() -> None:
    found = channels(listed("tea room", "2.20", True))["tea room"]
    assert (found.list_net, found.list_gross) == (Decimal(2), Decimal("2.2"))


def test_tax_is_put_on_a_net_price() -> None:
    found = channels(listed("hotel", "2.00", False))["hotel"]
    assert (found.list_net, found.list_gross) == (Decimal(2), Decimal("2.4"))


def test_food_cost_is_ingredients_over_net_price_and_margin_what_the_full_cost_leaves() -> None:
    found = channels(listed("tea room", "2.20", True))["tea room"]
    assert found.food_cost.value == Decimal("0.3")
    assert found.margin.value == Decimal("1.1")
    assert found.mark_up.value is not None
    assert round(found.mark_up.value, 20) == round(Decimal("1.1") / Decimal("0.9"), 20)


def test_the_lowest_price_meets_the_target_of_the_channel_else_of_the_house() -> None:
    found = channels()
    assert found["tea room"].target == Decimal("0.3")
    assert (found["tea room"].lowest_net.value, found["tea room"].lowest_gross.value) == (Decimal(2), Decimal("2.2"))
    assert (found["hotel"].lowest_net.value, found["hotel"].lowest_gross.value) == (Decimal("2.4"), Decimal("2.88"))


def test_at_the_lowest_price_food_cost_is_the_target() -> None:
    found = channels(listed("hotel", "2.40", False))["hotel"]
    assert found.food_cost.value == found.target


def test_a_channel_without_a_list_price_has_only_a_lowest_one() -> None:
    found = channels()["hotel"]
    assert found.list_net is None
    assert found.food_cost.value is None
    assert found.margin.value is None


def test_a_portion_is_sold_whole() -> None:
    by_pieces = channels(listed("hotel", "4", False), portion=Portion(pieces=Decimal(2)))["hotel"]
    assert by_pieces.food_cost.value == Decimal("0.3")
    by_weight = channels(
        listed("hotel", "4", False), portion=Portion(grams=Decimal(200)), yields=MassYield(Decimal(1000))
    )
    assert by_weight["hotel"].food_cost.value == Decimal("0.3")


def test_without_pieces_or_portion_nobody_knows_what_is_sold() -> None:
    found = channels(listed("hotel", "4", False), yields=MassYield(Decimal(1000)))["hotel"]
    assert found.food_cost.value is None
    assert found.food_cost.lacks == (Lack(LackKind.YIELD, "portion of tart"),)


def test_another_currency_is_no_list_price() -> None:
    found = channels(listed("hotel", "4", False, "USD"))["hotel"]
    assert found.list_net is None
    assert found.food_cost.lacks == (Lack(LackKind.CURRENCY, "price for hotel"),)


def test_without_a_target_there_is_no_lowest_price() -> None:
    assert channels(own=make.house(channels=(Channel("hotel"),)))["hotel"].lowest_net.value is None


def test_a_mere_component_is_not_sold() -> None:
    assert channels(kind=Kind.COMPONENT) == {}

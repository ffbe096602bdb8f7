"""What a channel pays for a product, what that leaves, and the lowest price that meets the food-cost target.

Food cost is ingredients ÷ net price (the definition of hotel and restaurant bookkeeping; outside checks stand in the
tests). Tax is always apart: recoverable sales tax is no income.
"""

from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.figures import ChannelPrice, Figure, Lack, LackKind, YieldFlow
from bookmaker.kitchen.lacking import Lacks, gathered
from bookmaker.measures.exact import ONE
from bookmaker.model.house import Channel, House
from bookmaker.model.recipe import Kind, Portion, Recipe


@dataclass(frozen=True, slots=True)
class UnitCost:
    """What is sold at once costs this much: its ingredients alone, and everything."""

    ingredients: Figure
    full: Figure


def share_sold(portion: Portion | None, yields: YieldFlow) -> Decimal | None:
    """The fraction of a batch that is sold at a price: a portion, else a piece; None where neither is known."""
    if portion is not None and portion.grams is not None:
        usable = yields.usable.value
        return portion.grams / usable if usable else None
    if not yields.pieces:
        return None
    pieces = portion.pieces if portion is not None and portion.pieces is not None else ONE
    return pieces / yields.pieces


def channels_of(recipe: Recipe, house: House, unit: UnitCost) -> tuple[ChannelPrice, ...]:
    """Every channel of the house for a product, or for any recipe that states prices; none for a mere component."""
    if recipe.kind is not Kind.PRODUCT and not recipe.prices:
        return ()
    return tuple(_channel(recipe, house, channel, unit) for channel in house.channels)


def _channel(recipe: Recipe, house: House, channel: Channel, unit: UnitCost) -> ChannelPrice:
    net, lacks = _list_price(recipe, house, channel)
    target = house.food_cost if channel.food_cost is None else channel.food_cost
    lowest = _over(unit.ingredients, target)
    margin = _margin(unit.full, net, lacks)
    return ChannelPrice(
        channel=channel.name,
        tax=channel.tax,
        list_net=net,
        list_gross=None if net is None else net * (ONE + channel.tax),
        food_cost=_over(unit.ingredients, net, lacks),
        margin=margin,
        mark_up=Figure(margin.value / unit.full.value, margin.lacks)
        if margin.value is not None and unit.full.value
        else Figure(None, margin.lacks),
        target=target,
        lowest_net=lowest,
        lowest_gross=Figure(None if lowest.value is None else lowest.value * (ONE + channel.tax), lowest.lacks),
    )


def _list_price(recipe: Recipe, house: House, channel: Channel) -> tuple[Decimal | None, Lacks]:
    stated = next((price for price in recipe.prices if price.channel == channel.name), None)
    if stated is None:
        return None, ()
    if stated.money.currency != house.money:
        return None, (Lack(LackKind.CURRENCY, f"price for {channel.name}"),)
    return stated.money.amount / (ONE + channel.tax) if stated.taxed else stated.money.amount, ()


def _over(cost: Figure, by: Decimal | None, lacks: Lacks = ()) -> Figure:
    value = cost.value / by if cost.value is not None and by else None
    return Figure(value, gathered(cost.lacks, lacks))


def _margin(full: Figure, net: Decimal | None, lacks: Lacks) -> Figure:
    value = net - full.value if net is not None and full.value is not None else None
    return Figure(value, gathered(full.lacks, lacks))

"""Food cost, margin, and the lowest price, channel by channel."""

from functools import partial

from bookmaker.kitchen.explained.asked import Asked, Workings, in_percent
from bookmaker.kitchen.figures import ChannelPrice, Figure
from bookmaker.kitchen.selling import share_sold
from bookmaker.kitchen.working import FigureSource, HouseSource, Term, Working
from bookmaker.measures.exact import HUNDRED, ONE


def workings(asked: Asked) -> Workings:
    """`selling price in` each channel, and `food cost in` and `margin in` those where a price is set."""
    made = {}
    for channel in asked.cost.channels:
        made[f"selling price in {channel.channel}"] = partial(_lowest, asked, channel)
        if channel.list_net is not None:
            made[f"food cost in {channel.channel}"] = partial(_food_cost, asked, channel)
            made[f"margin in {channel.channel}"] = partial(_margin, asked, channel)
    return made


def _sold(asked: Asked, whole: str) -> tuple[Term, ...]:
    """What one piece or portion costs: the batch's money and the share that is sold at once."""
    parts = asked.cost.parts
    money = parts.ingredients - parts.credit if whole == "ingredients" else parts.total
    share = share_sold(asked.recipe.portion, asked.flow.yields)
    return (
        Term(whole, money, asked.money, FigureSource(asked.ref, whole)),
        Term("pieces or portions", None if not share else ONE / share, "pieces", FigureSource(asked.ref, "yield")),
    )


def _net(asked: Asked, channel: ChannelPrice) -> tuple[Term, ...]:
    return (
        Term("list price with tax", channel.list_gross, asked.money, asked.ref),
        Term("tax", in_percent(channel.tax), "%", HouseSource("channels")),
        Term("net price", channel.list_net, asked.money),
    )


def _food_cost(asked: Asked, channel: ChannelPrice) -> Working:
    terms = (*_sold(asked, "ingredients"), *_net(asked, channel))
    cost = channel.food_cost
    result = Figure(None if cost.value is None else cost.value * HUNDRED, cost.lacks)
    return asked.working(f"food cost in {channel.channel}", "ingredients ÷ net price × 100", terms, result, "%")


def _margin(asked: Asked, channel: ChannelPrice) -> Working:
    terms = (*_net(asked, channel), *_sold(asked, "cost"))
    rule = "net price less full cost, of one piece or portion"
    return asked.working(f"margin in {channel.channel}", rule, terms, channel.margin, asked.money)


def _lowest(asked: Asked, channel: ChannelPrice) -> Working:
    terms = (
        *_sold(asked, "ingredients"),
        Term("target food cost", in_percent(channel.target), "%", HouseSource("food cost")),
        Term("lowest net price", channel.lowest_net.value, asked.money),
        Term("tax", in_percent(channel.tax), "%", HouseSource("channels")),
    )
    rule = "ingredients ÷ target food cost, then the tax on top: the lowest price that meets the target"
    return asked.working(f"selling price in {channel.channel}", rule, terms, channel.lowest_gross, asked.money)

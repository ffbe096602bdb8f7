"""What a recipe costs and earns."""

from decimal import Decimal

from bookmaker.editions.team.places import Places
from bookmaker.editions.team.rounding import (
    at_most,
    fine_money,
    known,
    lacking,
    mass,
    minutes,
    money,
    per_kilo,
    percent,
    places_after_point,
    trimmed,
)
from bookmaker.editions.team.views import Amount, Link
from bookmaker.editions.team.views_money import (
    ChannelView,
    CostLine,
    CostPart,
    CostView,
    LabourView,
    MoneyShare,
    PriceSource,
    SoldBy,
)
from bookmaker.kitchen.figures import ChannelPrice, CostFigure, LineCost, PackagingCost, PriceKey
from bookmaker.measures.counts import counted, singular
from bookmaker.measures.exact import HUNDRED, ZERO
from bookmaker.model.recipe import Portion, Recipe

_SHOWN_ITEMS = 7
_PARTS = ("ingredients", "labour", "energy", "packaging", "overhead")


def cost(recipe: Recipe, figure: CostFigure, word: str, currency: str, places: Places) -> CostView:
    """The standard cost with its breakdown. `word` is what the yield counts."""

    def whole(value: Decimal) -> Amount:
        return money(value, currency)

    def each(value: Decimal) -> Amount:
        return fine_money(value, currency)

    has_pieces = figure.per_piece.value is not None
    return CostView(
        batch=known(figure.batch, whole, places),
        each=known(figure.per_piece, each, places) if has_pieces else None,
        each_word=singular(word) if word else "piece",
        per_kg=known(figure.per_gram, lambda value: per_kilo(value, currency), places),
        ingredients_each=known(figure.ingredients_per_piece, each, places) if has_pieces else None,
        parts=_parts(figure, currency),
        credit=whole(figure.parts.credit) if figure.parts.credit else None,
        lines=tuple(_line(line, currency, places) for line in figure.lines),
        packaging=tuple(_packaging(line, currency, places) for line in figure.packaging),
        labour=LabourView(
            figure.labour.role,
            minutes(figure.labour.minutes),
            Amount(places_after_point(figure.labour.rate, 2), f"{currency}/h") if figure.labour.rate else None,
            known(figure.labour.cost, whole, places),
        )
        if figure.labour.minutes
        else None,
        energy=known(figure.energy_kwh, lambda value: Amount(trimmed(value, 1), "kWh"), places)
        if figure.energy_kwh.value
        else None,
        items=_items(figure, currency, places),
        channels=tuple(channel_view(channel, currency, places) for channel in figure.channels),
        sold=_sold(recipe.portion, word),
        lacks=lacking(figure.lacks, places),
    )


def channel_view(channel: ChannelPrice, currency: str, places: Places) -> ChannelView:
    """One channel's price against its target."""

    def cash(value: Decimal) -> Amount:
        return money(value, currency)

    def share(value: Decimal) -> Amount:
        return Amount(places_after_point(value * HUNDRED, 1), "%")

    target = channel.target
    over = target is not None and channel.food_cost.value is not None and channel.food_cost.value > target
    return ChannelView(
        channel=channel.channel,
        tax=percent(channel.tax),
        net=cash(channel.list_net) if channel.list_net is not None else None,
        gross=cash(channel.list_gross) if channel.list_gross is not None else None,
        food_cost=known(channel.food_cost, share, places),
        margin=at_most(known(channel.margin, cash, places)),
        mark_up=at_most(known(channel.mark_up, lambda value: percent(value, 0), places)),
        target=percent(target) if target is not None else None,
        lowest_net=known(channel.lowest_net, cash, places),
        lowest_gross=known(channel.lowest_gross, cash, places),
        over=over,
    )


def source(key: PriceKey | None) -> PriceSource | None:
    """The price-list line that counted."""
    return PriceSource(key.supplier, key.code, key.since) if key else None


def _sold(portion: Portion | None, word: str) -> SoldBy:
    if portion and portion.grams is not None:
        return SoldBy("", mass(portion.grams))
    if portion and portion.pieces is not None and portion.pieces != 1:
        return SoldBy(counted(word, portion.pieces), Amount(trimmed(portion.pieces, 2)))
    return SoldBy(singular(word) if word else "piece")


def _parts(figure: CostFigure, currency: str) -> tuple[CostPart, ...]:
    whole = sum((getattr(figure.parts, name) for name in _PARTS), ZERO)
    if not whole:
        return ()
    return tuple(
        CostPart(name, money(value, currency), trimmed(value / whole * HUNDRED, 1))
        for name in _PARTS
        if (value := getattr(figure.parts, name))
    )


def _line(line: LineCost, currency: str, places: Places) -> CostLine:
    return CostLine(
        ingredient=places.link(line.target),
        bought=mass(line.bought) if line.bought is not None else None,
        price=per_kilo(line.per_gram, currency) if line.per_gram is not None else None,
        cost=known(line.cost, lambda value: money(value, currency), places),
        source=source(line.price),
    )


def _packaging(line: PackagingCost, currency: str, places: Places) -> CostLine:
    return CostLine(
        ingredient=places.link(line.item),
        bought=Amount(trimmed(line.count, 1)),
        price=Amount(places_after_point(line.each, 3), currency) if line.each is not None else None,
        cost=known(line.cost, lambda value: money(value, currency), places),
        source=source(line.price),
    )


def _items(figure: CostFigure, currency: str, places: Places) -> tuple[MoneyShare, ...]:
    """The dearest stores items through all components; the rest together, so that the shares add up."""
    whole = sum(figure.by_item.values(), ZERO)
    if not whole:
        return ()
    ranked = sorted(figure.by_item.items(), key=lambda entry: (-entry[1], entry[0]))
    shown = ranked if len(ranked) <= _SHOWN_ITEMS + 1 else ranked[:_SHOWN_ITEMS]
    found = [
        MoneyShare(places.link(item), money(value, currency), trimmed(value / whole * HUNDRED, 1))
        for item, value in shown
        if value
    ]
    if rest := sum((value for _, value in ranked[len(shown) :]), ZERO):
        found.append(MoneyShare(Link("others"), money(rest, currency), trimmed(rest / whole * HUNDRED, 1)))
    return tuple(found)

"""What things cost: a recipe's breakdown and prices, in the house's currency."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from bookmaker.editions.team.views import Amount, Known, Lacking, Link


@dataclass(frozen=True, slots=True)
class PriceSource:
    """The price-list line that counted."""

    supplier: str
    code: str
    since: date


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line's cost: `bought` at `price` (per kg or per piece). For a component the price is its own cost."""

    ingredient: Link
    bought: Amount | None
    price: Amount | None
    cost: Known
    source: PriceSource | None = None


@dataclass(frozen=True, slots=True)
class CostPart:
    """One kind of cost through all components: `name` is a key (ingredients, labour ...), `percent` of the total."""

    name: str
    amount: Amount
    percent: Decimal


@dataclass(frozen=True, slots=True)
class LabourView:
    """The recipe's own hands-on time at a role's rate."""

    role: str
    time: Amount
    rate: Amount | None
    cost: Known


@dataclass(frozen=True, slots=True)
class MoneyShare:
    """Where the ingredient money goes: a stores item's cost in the batch, and its percent of all ingredient cost."""

    item: Link
    amount: Amount
    percent: Decimal


@dataclass(frozen=True, slots=True)
class ChannelView:
    """What a channel pays for a piece or portion, and what that leaves. Shares in percent; `over` the target."""

    channel: str
    tax: Amount
    net: Amount | None
    gross: Amount | None
    food_cost: Known
    margin: Known
    mark_up: Known
    target: Amount | None
    lowest_net: Known
    lowest_gross: Known
    over: bool = False


@dataclass(frozen=True, slots=True)
class SoldBy:
    """What a price is for: one `word` (piece, loaf), or a portion of `amount` (pieces counted by `word`, or a mass)."""

    word: str
    amount: Amount | None = None


@dataclass(frozen=True, slots=True)
class CostView:
    """The standard cost at the tested batch. `each_word` says what `each` is of (piece, loaf)."""

    batch: Known
    each: Known | None
    each_word: str
    per_kg: Known
    ingredients_each: Known | None
    parts: tuple[CostPart, ...]
    credit: Amount | None
    lines: tuple[CostLine, ...]
    packaging: tuple[CostLine, ...]
    labour: LabourView | None
    energy: Known | None
    items: tuple[MoneyShare, ...]
    channels: tuple[ChannelView, ...]
    sold: SoldBy
    lacks: tuple[Lacking, ...] = ()

"""The stores: an index, and a page for each item."""

from dataclasses import dataclass
from datetime import date

from bookmaker.editions.team.views import Amount, Lacking, Link, Route
from bookmaker.editions.team.views_recipe import CautionView


@dataclass(frozen=True, slots=True)
class OfferView:
    """One offer of the price list: `pack` in words as written there, what the pack costs, and that per kg or piece.

    `counts` marks the price in force that the figures use; `state` is a key: in force, earlier, later.
    """

    supplier: str
    code: str
    pack: str
    pack_price: Amount
    each: Amount | None
    since: date
    counts: bool
    state: str


@dataclass(frozen=True, slots=True)
class UseView:
    """A recipe that uses the item, and how much of it a tested batch takes as bought."""

    recipe: Link
    amount: Amount | None


@dataclass(frozen=True, slots=True)
class PartView:
    """One part of the item's composition or nutrition: `name` is a key."""

    name: str
    amount: Amount


@dataclass(frozen=True, slots=True)
class ArticleView:
    """One supplier's version that declares its own."""

    supplier: str
    code: str
    contains: tuple[str, ...] | None
    may_contain: tuple[str, ...] | None


@dataclass(frozen=True, slots=True)
class StoresKeepingView:
    """How long the item keeps closed or opened; `time` in minutes, `temperature` in °C."""

    state: str
    time: Amount
    temperature: Amount | None


@dataclass(frozen=True, slots=True)
class StoresItemView:
    """A stores item's page. `contains` None: never declared."""

    route: Route
    name: str
    label: str
    kind: str
    price: OfferView | None
    offers: tuple[OfferView, ...]
    lacks: tuple[Lacking, ...]
    used_in: tuple[UseView, ...]
    reached: tuple[Link, ...]
    contains: tuple[str, ...] | None
    may_contain: tuple[str, ...]
    usable: Amount
    aka: tuple[str, ...] = ()
    articles: tuple[ArticleView, ...] = ()
    density: Amount | None = None
    measures: tuple[PartView, ...] = ()
    composition: tuple[PartView, ...] = ()
    nutrition: tuple[PartView, ...] = ()
    nutrition_source: str = ""
    by_difference: bool = False
    made_of: tuple[PartView | str, ...] = ()
    additive: str = ""
    keeps: tuple[StoresKeepingView, ...] = ()
    cautions: tuple[CautionView, ...] = ()
    diet: tuple[str, ...] = ()
    supplier_sheet: date | None = None
    flour: bool = False
    careful: bool = False
    food_contact: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class StoresRow:
    """One row of the stores index."""

    item: Link
    kind: str
    price: Amount | None
    supplier: str
    since: date | None
    contains: tuple[str, ...] | None
    uses: int
    stale: bool


@dataclass(frozen=True, slots=True)
class StoresIndexView:
    """All stores items, by kind."""

    route: Route
    rows: tuple[StoresRow, ...]

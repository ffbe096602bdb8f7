"""The stores: what is bought, at what price, and where it goes."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from bookmaker.editions.team.cards import ItemCard
from bookmaker.editions.team.places import STORES, Places
from bookmaker.editions.team.project_method import caution_view
from bookmaker.editions.team.rounding import (
    lacking,
    mass,
    minutes,
    per_kilo,
    percent,
    places_after_point,
    trimmed,
)
from bookmaker.editions.team.views import Amount, Link
from bookmaker.editions.team.views_stores import (
    ArticleView,
    OfferView,
    PartView,
    StoresIndexView,
    StoresItemView,
    StoresKeepingView,
    StoresRow,
    UseView,
)
from bookmaker.kitchen.figures import ChosenPrice, LackKind, MassFlow, PriceKey
from bookmaker.kitchen.law import in_order
from bookmaker.kitchen.prices import PER_GRAM, in_force, pack_in_words, piece_grams
from bookmaker.measures.units import Dimension
from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.stores import Article, Price, StoresItem, StoresKind

_COMPOSITION = ("water", "fat", "sugars", "alcohol", "solids")
_NUTRIENTS = ("fat", "saturates", "carbohydrate", "sugars", "fibre", "protein", "salt")


def item_view(
    item: StoresItem,
    chosen: ChosenPrice,
    on: date,
    uses: Iterable[UseView],
    reached: Iterable[RecipeRef],
    *,
    book: Book,
    places: Places,
) -> StoresItemView:
    """An item's page. `reached` are the products that hold it, directly or through components."""
    offers = tuple(_offers(item, chosen, on, book))
    return StoresItemView(
        route=places.routes[StoresRef(item.id)],
        name=item.id,
        label=item.label,
        kind=item.kind.value,
        price=next((offer for offer in offers if offer.counts), None),
        offers=tuple(offer for offer in offers if not offer.counts),
        lacks=lacking(chosen.lacks, places),
        used_in=tuple(sorted(uses, key=lambda use: use.recipe.name.casefold())),
        reached=places.links(reached),
        contains=_names(item.contains, book),
        may_contain=_names(item.may_contain, book) or (),
        usable=percent(item.usable),
        aka=item.aka,
        articles=tuple(_article(article, book) for article in item.articles),
        density=Amount(trimmed(item.density, 3), "g/ml") if item.density is not None else None,
        measures=_measures(item),
        composition=_parts(item.composition, _COMPOSITION),
        nutrition=_nutrition(item),
        nutrition_source=item.nutrients.source if item.nutrients else "",
        by_difference=item.nutrients is not None and item.nutrients.by_difference,
        made_of=tuple(
            PartView(part.name, percent(part.share)) if part.share is not None else part.name for part in item.made_of
        ),
        additive=f"{item.additive.category} {item.additive.number}" if item.additive else "",
        keeps=tuple(
            StoresKeepingView(
                state.state,
                minutes(state.minutes),
                Amount(trimmed(state.temperature.celsius, 1), "°C") if state.temperature else None,
            )
            for state in item.keeps
        ),
        cautions=tuple(caution_view(book.cautions[name]) for name in item.cautions),
        diet=tuple(sorted(item.diet or ())),
        supplier_sheet=item.supplier_sheet,
        flour=item.flour,
        careful=item.careful,
        food_contact=item.food_contact,
        note=item.note,
    )


def grams_of(flow: MassFlow) -> dict[str, Amount | None]:
    """Each stores item that a recipe names in its own lines, with the grams of a tested batch."""
    found: dict[str, Decimal] = {}
    for line in flow.lines:
        if isinstance(line.target, StoresRef):
            found[line.target.id] = found.get(line.target.id, Decimal(0)) + (line.bowl or Decimal(0))
    return {item: mass(grams) if grams else None for item, grams in found.items()}


def item_card(view: StoresItemView) -> ItemCard:
    """An item's card."""
    return ItemCard(
        StoresRow(
            item=Link(view.name, view.route),
            kind=view.kind,
            price=view.price.each if view.price else None,
            supplier=view.price.supplier if view.price else "",
            since=view.price.since if view.price else None,
            contains=view.contains,
            uses=len(view.used_in),
            stale=any(lack.kind == LackKind.STALE_PRICE.value for lack in view.lacks),
        ),
        bool(view.used_in or view.reached),
    )


def index(items: Iterable[ItemCard]) -> StoresIndexView:
    """All items by kind and name, each with the price that counts."""
    kinds = [kind.value for kind in StoresKind]
    rows = (item.row for item in items)
    return StoresIndexView(
        STORES, tuple(sorted(rows, key=lambda row: (kinds.index(row.kind), row.item.name.casefold())))
    )


def _offers(item: StoresItem, chosen: ChosenPrice, on: date, book: Book) -> Iterable[OfferView]:
    """Every line of the price list for the item, newest first; the one that counts is marked."""
    listed = book.prices.get(item.id, ())
    current = in_force(listed, on)
    for price in sorted(listed, key=lambda price: (price.since, price.supplier, price.code), reverse=True):
        counts = chosen.key == PriceKey(price.item, price.supplier, price.code, price.since)
        state = "in force" if price in current else "later" if price.since > on else "earlier"
        yield OfferView(
            supplier=price.supplier,
            code=price.code,
            pack=pack_in_words(price),
            pack_price=Amount(places_after_point(price.price, 2), price.currency),
            each=_chosen_each(chosen, book.house.money) if counts else _each(item, price, book),
            since=price.since,
            counts=counts,
            state=state,
        )


def _chosen_each(chosen: ChosenPrice, currency: str) -> Amount | None:
    if chosen.amount is None:
        return None
    return per_kilo(chosen.amount, currency) if chosen.per == PER_GRAM else _per_piece(chosen.amount, currency)


def _each(item: StoresItem, price: Price, book: Book) -> Amount | None:
    """What a pack's price is per kilogram, or per piece for what has no weight."""
    base = price.each.in_base(book.house.spoons)
    match price.each.dimension:
        case Dimension.MASS:
            grams: Decimal | None = base
        case Dimension.VOLUME:
            grams = base * item.density if item.density is not None else None
        case _:
            one = piece_grams(item, price.each.unit or "piece")
            if one is None or item.kind is StoresKind.PACKAGING:
                return _per_piece(price.price / (price.count * base), price.currency)
            grams = base * one
    return per_kilo(price.price / (price.count * grams), price.currency) if grams else None


def _per_piece(value: Decimal, currency: str) -> Amount:
    return Amount(places_after_point(value, 3), f"{currency}/piece")


def _names(names: frozenset[str] | None, book: Book) -> tuple[str, ...] | None:
    return None if names is None else in_order(names, book.house.region)


def _article(article: Article, book: Book) -> ArticleView:
    return ArticleView(
        article.supplier, article.code, _names(article.contains, book), _names(article.may_contain, book)
    )


def _measures(item: StoresItem) -> tuple[PartView, ...]:
    """Each counted measure once: the first word for it, the others behind it."""
    words: dict[Decimal, list[str]] = {}
    for word, grams in item.measures:
        words.setdefault(grams, []).append(word)
    return tuple(
        PartView(first + (f" ({', '.join(others)})" if others else ""), mass(grams))
        for grams, (first, *others) in words.items()
    )


def _parts(holder: object, names: Iterable[str]) -> tuple[PartView, ...]:
    return tuple(PartView(name, percent(value, 2)) for name in names if (value := getattr(holder, name)) is not None)


def _nutrition(item: StoresItem) -> tuple[PartView, ...]:
    if item.nutrients is None:
        return ()
    return tuple(
        PartView(name, Amount(trimmed(value, 2), "g"))
        for name in _NUTRIENTS
        if (value := getattr(item.nutrients, name)) is not None
    )

"""Which line of the price list counts for an item on a date, and what a gram or a piece costs by it.

In force is the newest line of each supplier's article that is not after the date. Among those the house chooses: the
cheapest per usable gram, or its preferred supplier. Cheapest compares only articles of equal specification: an
article that overrides what the item contains, may contain or is made of is another specification, and those without
overrides come first.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from bookmaker.kitchen.figures import ChosenPrice, Lack, LackKind, PriceKey
from bookmaker.measures.amounts import Amount
from bookmaker.measures.counts import singular
from bookmaker.measures.units import Dimension, Spoons
from bookmaker.model.book import Book
from bookmaker.model.house import Choose, PriceRule
from bookmaker.model.stores import MadeOf, Price, StoresItem, StoresKind
from bookmaker.problems.problem import Problem, problem

PER_GRAM = "gram"
PER_PIECE = "piece"

MINUTES_A_DAY = 1440

_Specification = tuple[frozenset[str] | None, frozenset[str], tuple[MadeOf, ...]]


@dataclass(frozen=True, slots=True)
class _Offer:
    """A price in force, turned into money per gram or per piece; `usable` is per usable gram, for comparing."""

    price: Price
    amount: Decimal
    per: str
    ready: bool
    usable: Decimal
    specification: _Specification
    plain: bool
    rank: int

    @property
    def order(self) -> tuple[str, str, date]:
        """What settles a tie, whatever order the list is in."""
        return self.price.supplier, self.price.code, self.price.since


def in_force(prices: tuple[Price, ...], on: date) -> tuple[Price, ...]:
    """The newest price of each supplier's article on that day. Of two lines from one day the dearer counts."""
    newest: dict[tuple[str, str], Price] = {}
    for price in prices:
        if price.since > on:
            continue
        known = newest.get((price.supplier, price.code))
        if known is None or (price.since, price.price) > (known.since, known.price):
            newest[price.supplier, price.code] = price
    return tuple(newest[key] for key in sorted(newest))


def pack_in_words(price: Price) -> str:
    """The pack as the price list has it: `25 × 250 g`, `25 kg`, `360 pieces`."""
    unit = price.each.unit or "pieces"
    each = f"{price.each.number:f} {unit}"
    return each if price.count == 1 else f"{price.count:f} × {each}"


def piece_grams(item: StoresItem, word: str = "piece") -> Decimal | None:
    """Grams of one of an item's counted measures, whichever form of the word is written; None where it has none."""
    measures = dict(item.measures)
    return next((measures[form] for form in (word, singular(word)) if form in measures), None)


def _grams(item: StoresItem, each: Amount, spoons: Spoons) -> Decimal | None:
    """Grams of one unit of a pack; None for counted goods whose piece has no weight, and for a volume without a
    density.
    """
    base = each.in_base(spoons)
    match each.dimension:
        case Dimension.MASS:
            return base
        case Dimension.VOLUME:
            return base * item.density if item.density is not None else None
        case _:
            one = piece_grams(item, each.unit or "piece")
            return base * one if one is not None else None


def _offer(item: StoresItem, price: Price, rule: PriceRule, spoons: Spoons) -> _Offer | None:
    grams = _grams(item, price.each, spoons)
    counted = price.each.dimension is Dimension.COUNT
    by_piece = counted and (grams is None or item.kind is StoresKind.PACKAGING)
    if by_piece:
        amount = price.price / (price.count * price.each.number)
    elif grams:
        amount = price.price / (price.count * grams)
    else:
        return None
    specification = _specification(item, price)
    return _Offer(
        price=price,
        amount=amount,
        per=PER_PIECE if by_piece else PER_GRAM,
        ready=counted,
        usable=amount if counted else amount / item.usable,
        specification=specification,
        plain=specification == (item.contains, item.may_contain, item.made_of),
        rank=rule.preferred.index(price.supplier) if price.supplier in rule.preferred else len(rule.preferred),
    )


def _specification(item: StoresItem, price: Price) -> _Specification:
    article = next((a for a in item.articles if (a.supplier, a.code) == (price.supplier, price.code)), None)
    if article is None:
        return item.contains, item.may_contain, item.made_of
    return (
        item.contains if article.contains is None else article.contains,
        item.may_contain if article.may_contain is None else article.may_contain,
        item.made_of if article.made_of is None else article.made_of,
    )


def _choose(offers: list[_Offer], choose: Choose) -> _Offer:
    # weighed goods are compared with weighed goods: a price per piece says nothing about a gram
    weighed = [offer for offer in offers if offer.per == PER_GRAM]
    offers = weighed or offers
    if choose is Choose.PREFERRED:
        return min(offers, key=lambda offer: (offer.rank, not offer.plain, offer.usable, *offer.order))
    alike = [offer for offer in offers if offer.plain]
    if not alike:
        first = min(offers, key=lambda offer: (offer.rank, *offer.order))
        alike = [offer for offer in offers if offer.specification == first.specification]
    return min(alike, key=lambda offer: (offer.usable, offer.rank, *offer.order))


def choose_price(book: Book, item: StoresItem, on: date) -> ChosenPrice:
    """The price of one item on a date. What it lacks: any price, one in the house's currency, or a recent one."""
    house = book.house
    known = in_force(book.prices.get(item.id, ()), on)
    ours = [price for price in known if price.currency == house.money]
    if known and not ours:
        return ChosenPrice(item.id, None, None, PER_GRAM, lacks=(Lack(LackKind.CURRENCY, item.id),))
    offers = [offer for price in ours if (offer := _offer(item, price, house.prices, house.spoons))]
    if not offers:
        return ChosenPrice(item.id, None, None, PER_GRAM, lacks=(Lack(LackKind.PRICE, item.id),))
    best = _choose(offers, house.prices.choose)
    price = best.price
    return ChosenPrice(
        item=item.id,
        key=PriceKey(price.item, price.supplier, price.code, price.since),
        amount=best.amount,
        per=best.per,
        pack=pack_in_words(price),
        pack_price=price.price,
        ready=best.ready,
        lacks=(Lack(LackKind.STALE_PRICE, item.id),) if _stale(price, on, house.prices) else (),
    )


def _stale(price: Price, on: date, rule: PriceRule) -> bool:
    return rule.stale_after is not None and (on - price.since).days * MINUTES_A_DAY > rule.stale_after


def choose_prices(book: Book, on: date) -> Mapping[str, ChosenPrice]:
    """The price that counts for every item of the stores on a date."""
    return {name: choose_price(book, item, on) for name, item in book.stores.items()}


# --- what is wrong with the price list ------------------------------------------------------------------------------


def price_findings(
    book: Book, prices: Mapping[str, ChosenPrice], on: date, paying: Mapping[str, str]
) -> tuple[Problem, ...]:
    """One problem for each item that some recipe pays for and whose price is missing, old or in another currency.

    `paying` is the title of the first recipe that pays for an item. Problems: `no-price`, `old-price`,
    `other-currency`, `pack-without-weight`.
    """
    return tuple(_finding(book, prices[name], on, user) for name, user in paying.items() if prices[name].lacks)


def _finding(book: Book, chosen: ChosenPrice, on: date, user: str) -> Problem:
    item = book.stores[chosen.item]
    known = in_force(book.prices.get(item.id, ()), on)
    match chosen.lacks[0].kind:
        case LackKind.STALE_PRICE:
            price = next(price for price in known if _is(price, chosen.key))
            return problem(
                "old-price", price.anchor, item=item.id, since=price.since.isoformat(), days=(on - price.since).days
            )
        case LackKind.CURRENCY:
            found = ", ".join(sorted({price.currency for price in known}))
            return problem("other-currency", known[0].anchor, item=item.id, found=found, house=book.house.money)
        case _ if ours := [price for price in known if price.currency == book.house.money]:
            return problem("pack-without-weight", ours[0].anchor, item=item.id, pack=pack_in_words(ours[0]))
        case _:
            later = next(_later(book.prices.get(item.id, ()), on), "")
            return problem("no-price", item.anchor, item=item.id, on=on.isoformat(), user=user, fix=later)


def _is(price: Price, key: PriceKey | None) -> bool:
    return key == PriceKey(price.item, price.supplier, price.code, price.since)


def _later(prices: tuple[Price, ...], on: date) -> Iterator[str]:
    for since in sorted(price.since for price in prices if price.since > on):
        yield f"its first price counts from {since.isoformat()}; cost on a later date, or add the one before"

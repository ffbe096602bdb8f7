"""Which price counts: newest in force, cheapest of equal specification or preferred, and what a gram costs by it."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.kitchen.figures import Lack, LackKind
from bookmaker.kitchen.prices import choose_price, choose_prices, price_findings
from bookmaker.kitchen.ties import ties_of, users_of
from bookmaker.model.book import Book
from bookmaker.model.house import Choose, House, PriceRule
from bookmaker.model.line import Unmeasured
from bookmaker.model.recipe import PackagingLine, Status
from bookmaker.model.refs import StoresRef
from bookmaker.model.stores import Article, Price, StoresItem, StoresKind
from tests.support import make

ON = date(2026, 11, 1)
DAYS_180 = Decimal(180 * 1440)


def shop(item: StoresItem, *prices: Price, rule: PriceRule | None = None) -> Book:
    own = make.house(prices=rule or PriceRule())
    return make.book(stores=[item], prices=prices, own=own)


def chosen(item: StoresItem, *prices: Price, rule: PriceRule | None = None) -> tuple[str, Decimal | None]:
    found = choose_price(shop(item, *prices, rule=rule), item, ON)
    return (found.key.supplier if found.key else ""), found.amount


BUTTER = make.item("butter")


def test_a_pack_of_packs_is_priced_per_gram() -> None:
    found = choose_price(shop(BUTTER, make.price("butter", "250 g", "58", count=25)), BUTTER, ON)
    assert (found.amount, found.per, found.pack) == (Decimal("0.00928"), "gram", "25 × 250 g")


def test_the_newest_price_in_force_counts() -> None:
    old = make.price("butter", "1 kg", 8, since=date(2025, 1, 1))
    new = make.price("butter", "1 kg", 9, since=date(2026, 6, 1))
    later = make.price("butter", "1 kg", 7, since=date(2026, 11, 2))
    assert chosen(BUTTER, later, new, old) == ("Orchard Gate", Decimal("0.009"))


def test_a_price_counts_from_its_own_day() -> None:
    assert chosen(BUTTER, make.price("butter", "1 kg", 9, since=ON))[1] == Decimal("0.009")


def test_of_two_lines_from_one_day_the_dearer_counts() -> None:
    dear, cheap = make.price("butter", "1 kg", 9), make.price("butter", "1 kg", 8)
    assert chosen(BUTTER, dear, cheap) == chosen(BUTTER, cheap, dear) == ("Orchard Gate", Decimal("0.009"))


def test_the_cheapest_supplier_is_chosen_though_its_pack_costs_more() -> None:
    small = make.price("butter", "1 kg", 9, supplier="Lowfield Dairy")
    large = make.price("butter", "10 kg", 80, supplier="Orchard Gate")
    assert chosen(BUTTER, small, large)[0] == "Orchard Gate"


def test_the_preferred_supplier_is_chosen_though_it_is_dearer() -> None:
    prices = (
        make.price("butter", "1 kg", 9, supplier="Lowfield Dairy"),
        make.price("butter", "1 kg", 8, supplier="Orchard Gate"),
        make.price("butter", "1 kg", 7, supplier="Cold Quay"),
    )
    rule = PriceRule(Choose.PREFERRED, preferred=("Millstone & Reed", "Lowfield Dairy", "Orchard Gate"))
    assert chosen(BUTTER, *prices, rule=rule)[0] == "Lowfield Dairy"


def test_one_suppliers_two_articles_compete() -> None:
    prices = (make.price("butter", "1 kg", 9, code="B1"), make.price("butter", "1 kg", 8, code="B2"))
    assert chosen(BUTTER, *prices)[1] == Decimal("0.008")


@given(st.permutations(("Cold Quay", "Lowfield Dairy", "Orchard Gate")))
def test_ties_do_not_depend_on_the_order_of_the_list(order: list[str]) -> None:
    prices = [make.price("butter", "1 kg", 9, supplier=supplier) for supplier in order]
    assert chosen(BUTTER, *prices)[0] == "Cold Quay"


# --- packs ----------------------------------------------------------------------------------------------------------


def test_a_volume_is_weighed_by_its_density() -> None:
    cream = make.item("cream", density="0.99")
    assert chosen(cream, make.price("cream", "1 l", "4.95", count=2))[1] == Decimal("0.0025")


def test_a_counted_pack_is_weighed_by_the_piece_and_its_pieces_are_ready() -> None:
    egg = make.item("egg", measures=(("piece", Decimal(50)),), usable="0.88")
    found = choose_price(shop(egg, make.price("egg", "360 pieces", 72)), egg, ON)
    assert (found.amount, found.per, found.ready) == (Decimal("0.004"), "gram", True)


def test_a_pack_may_be_counted_in_the_items_own_measure() -> None:
    leaf = make.item("gelatine", measures=(("leaf", Decimal("2.5")), ("leaves", Decimal("2.5"))))
    assert chosen(leaf, make.price("gelatine", "400 leaves", 30))[1] == Decimal("0.03")


def test_packaging_is_priced_per_piece() -> None:
    box = make.item("cake box", kind=StoresKind.PACKAGING, measures=(("piece", Decimal(80)),))
    found = choose_price(shop(box, make.price("cake box", "100 pieces", 25)), box, ON)
    assert (found.amount, found.per) == (Decimal("0.25"), "piece")


def test_the_cheapest_is_compared_per_usable_gram() -> None:
    """A kilogram at 6.00 of which 60 % is usable costs 10.00 usable; ready pieces at 9.00 a kilogram are cheaper."""
    apple = make.item("apple", usable="0.6", measures=(("piece", Decimal(100)),))
    whole = make.price("apple", "1 kg", 6, supplier="Orchard Gate")
    ready = make.price("apple", "10 pieces", 9, supplier="Cold Quay")
    assert chosen(apple, whole, ready) == ("Cold Quay", Decimal("0.009"))


def test_a_price_per_piece_says_nothing_about_a_gram() -> None:
    by_piece = make.price("butter", "1000 pieces", 1, supplier="Cold Quay")
    assert chosen(BUTTER, by_piece, make.price("butter", "1 kg", 9)) == ("Orchard Gate", Decimal("0.009"))


# --- equal specification --------------------------------------------------------------------------------------------

CHOCOLATE = make.item(
    "couverture",
    contains=frozenset({"soybeans"}),
    articles=(
        Article("Cold Quay", "C1", contains=frozenset({"soybeans", "milk"})),
        Article("Lowfield Dairy", "L1", contains=frozenset({"soybeans"})),
    ),
)


def test_cheapest_compares_only_articles_of_equal_specification() -> None:
    own = make.price("couverture", "1 kg", 12, supplier="Orchard Gate")
    other = make.price("couverture", "1 kg", 9, supplier="Cold Quay", code="C1")
    assert chosen(CHOCOLATE, own, other)[0] == "Orchard Gate"


def test_an_article_that_says_the_same_as_the_item_is_of_equal_specification() -> None:
    own = make.price("couverture", "1 kg", 12, supplier="Orchard Gate")
    same = make.price("couverture", "1 kg", 11, supplier="Lowfield Dairy", code="L1")
    assert chosen(CHOCOLATE, own, same)[0] == "Lowfield Dairy"


def test_among_other_specifications_the_preferred_suppliers_counts() -> None:
    item = make.item(
        "nuts",
        articles=(
            Article("Cold Quay", "C1", may_contain=frozenset({"peanuts"})),
            Article("Lowfield Dairy", "L1", may_contain=frozenset({"sesame"})),
        ),
    )
    cheap = make.price("nuts", "1 kg", 9, supplier="Cold Quay", code="C1")
    dear = make.price("nuts", "1 kg", 12, supplier="Lowfield Dairy", code="L1")
    assert chosen(item, cheap, dear, rule=PriceRule(preferred=("Lowfield Dairy",)))[0] == "Lowfield Dairy"
    assert chosen(item, dear, cheap)[0] == "Cold Quay"


# --- what is missing ------------------------------------------------------------------------------------------------


def test_no_price_is_a_lack() -> None:
    found = choose_price(shop(BUTTER), BUTTER, ON)
    assert (found.amount, found.lacks) == (None, (Lack(LackKind.PRICE, "butter"),))


def test_a_price_that_begins_later_is_no_price() -> None:
    found = choose_price(shop(BUTTER, make.price("butter", "1 kg", 9, since=date(2027, 1, 1))), BUTTER, ON)
    assert found.lacks == (Lack(LackKind.PRICE, "butter"),)


def test_another_currency_is_never_used() -> None:
    found = choose_price(shop(BUTTER, make.price("butter", "1 kg", 9, currency="USD")), BUTTER, ON)
    assert (found.amount, found.lacks) == (None, (Lack(LackKind.CURRENCY, "butter"),))


def test_another_currency_does_not_stand_in_the_way_of_our_own() -> None:
    foreign = make.price("butter", "1 kg", 1, currency="USD", supplier="Cold Quay")
    assert chosen(BUTTER, foreign, make.price("butter", "1 kg", 9)) == ("Orchard Gate", Decimal("0.009"))


@pytest.mark.parametrize(("since", "stale"), [(date(2026, 5, 5), False), (date(2026, 5, 4), True)])
def test_a_stale_price_is_used_and_marked(since: date, stale: bool) -> None:
    """180 days before 1 November 2026 is 5 May 2026."""
    rule = PriceRule(stale_after=DAYS_180)
    found = choose_price(shop(BUTTER, make.price("butter", "1 kg", 9, since=since), rule=rule), BUTTER, ON)
    assert found.amount == Decimal("0.009")
    assert found.lacks == ((Lack(LackKind.STALE_PRICE, "butter"),) if stale else ())


def test_a_volume_without_a_density_is_no_price() -> None:
    found = choose_price(shop(BUTTER, make.price("butter", "1 l", 9)), BUTTER, ON)
    assert (found.amount, found.lacks) == (None, (Lack(LackKind.PRICE, "butter"),))


# --- findings -------------------------------------------------------------------------------------------------------


def paying(book: Book) -> dict[str, str]:
    """The title of the first recipe that pays for an item."""
    users = users_of({ref: ties_of(each, book) for ref, each in book.recipes.items()})
    return {item: book.recipes[ref].title for item, ref in users.paying.items()}


def findings(*prices: Price, own: House | None = None, **recipe: Any) -> list[tuple[str, str]]:
    roll = make.recipe("roll", [make.line(10, "butter"), make.line(Unmeasured("to taste"), "salt")], 10, **recipe)
    book = make.book(roll, prices=prices, own=own)
    return [(found.code, found.message) for found in price_findings(book, choose_prices(book, ON), ON, paying(book))]


def test_an_item_without_a_price_is_reported_once_with_a_user() -> None:
    assert findings() == [
        (
            "no-price",
            "'butter' has no price in force on 2026-11-01, and roll uses it: what it costs is shown as 'at least'",
        )
    ]


def test_a_price_of_tomorrow_is_suggested() -> None:
    butter = make.price("butter", "1 kg", 9, since=date(2026, 12, 1))
    book = make.book(make.recipe("roll", [make.line(10, "butter")], 10), prices=[butter])
    (found,) = price_findings(book, choose_prices(book, ON), ON, paying(book))
    assert "2026-12-01" in found.fix


def test_an_old_price_is_reported_with_its_age() -> None:
    old = make.price("butter", "1 kg", 9, since=date(2026, 1, 1))
    own = make.house(prices=PriceRule(stale_after=DAYS_180))
    assert findings(old, own=own) == [("old-price", "the price of 'butter' counts from 2026-01-01 and is 304 days old")]


def test_a_foreign_price_and_a_pack_without_weight_are_reported() -> None:
    assert [code for code, _ in findings(make.price("butter", "1 kg", 9, currency="USD"))] == ["other-currency"]
    assert [code for code, _ in findings(make.price("butter", "1 l", 9))] == ["pack-without-weight"]


def test_retired_recipes_need_no_prices() -> None:
    assert findings(status=Status.RETIRED) == []


def test_packaging_needs_a_price_too() -> None:
    packed = (PackagingLine(StoresRef("bag"), Decimal(1)),)
    butter = make.price("butter", "1 kg", 9)
    assert [message for _, message in findings(butter, packaging=packed)] == [
        "'bag' has no price in force on 2026-11-01, and roll uses it: what it costs is shown as 'at least'"
    ]

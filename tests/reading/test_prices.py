"""`stores/prices.csv`: rows with the place of every field, packs, prices, and what they are bound to."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.measures.amounts import Amount
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.units import Dimension
from bookmaker.model.house import House, PriceRule
from bookmaker.model.stores import Article, Price, StoresItem
from bookmaker.problems.anchors import NOWHERE, SourceMap
from bookmaker.reading.csv_rows import read_rows
from bookmaker.reading.files import Document
from bookmaker.reading.prices import PriceList, bind_prices, read_pack, read_prices
from tests.reading.settings import brief
from tests.support.refusals import outcome

HEAD = "item,supplier,code,pack,price,currency,from\n"
ROW = "unsalted butter,Lowfield Dairy,LD-82,40 × 250 g,78.00,EUR,2026-03-01\n"


def read(text: str) -> tuple[PriceList, list[str]]:
    """The list of a text and its problems in short."""
    found, problems = read_prices(Document("stores/prices.csv", text, ""))
    source = SourceMap("stores/prices.csv", text, found.spans)
    return found, [brief(each, source) for each in problems]


def row(**fields: str) -> str:
    """A faultless row but for these fields."""
    values = {
        "item": "a",
        "supplier": "S",
        "code": "1",
        "pack": "1 kg",
        "price": "2",
        "currency": "EUR",
        "from": "2026-01-01",
    }
    return HEAD + ",".join({**values, **fields}.values()) + "\n"


def test_a_price() -> None:
    found, problems = read(HEAD + ROW)
    assert problems == []
    assert found.prices == (
        Price(
            "unsalted butter", "Lowfield Dairy", "LD-82", Decimal(40), Amount(Decimal(250), "g", Dimension.MASS),
            Decimal("78.00"), "EUR", date(2026, 3, 1),
        ),
    )  # fmt: skip
    anchor = found.prices[0].anchor
    assert anchor.path == ("unsalted butter", "Lowfield Dairy", "LD-82", "2026-03-01")
    text = HEAD + ROW
    assert text[slice(*found.spans[anchor.path])] == ROW.strip()
    assert text[slice(*found.spans[anchor.at("pack").path])] == "40 × 250 g"


def test_columns_in_another_order_quotes_and_blank_lines() -> None:
    found, problems = read(
        'from,currency,price,pack,code,supplier,item\n\n2026-03-01,EUR,0,1 l,"","Mill, Reed","Crème ""x"""\n'
    )
    assert problems == []
    (price,) = found.prices
    assert (price.item, price.supplier, price.code) == ('Crème "x"', "Mill, Reed", "")
    assert price.price == 0


def test_a_list_without_prices_is_no_fault() -> None:
    found, problems = read(HEAD)
    assert (found.prices, problems) == ((), [])


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("", "empty-file: : write something into it, or delete the file"),
        ("item;supplier;code;pack;price;currency;from\n",
         "price-columns: item;supplier;code;pack;price;currency;from: save it with commas"),
        ("item,supplier,code,pack,price,currency\n",
         f"price-columns: item,supplier,code,pack,price,currency: let the first line be {HEAD.strip()}"),
        ("item,suplier,code,pack,price,currency,from\n", "price-columns: suplier: did you mean 'supplier'?"),
        ("item,item,supplier,code,pack,price,currency,from\n", "price-columns: item: keep one of them"),
        (HEAD + 'a,S,1,"1 kg,2,EUR,2026-01-01\n',
         'bad-csv: "1 kg,2,EUR,2026-01-01: close it, or leave both quotation marks out'),
        (HEAD + 'a,S,1,"1 kg"x,2,EUR,2026-01-01\n',
         'bad-csv: x: a quotation mark inside quoted text is written twice: ""'),
        (HEAD + "a,S,1,1 kg,4,20,EUR,2026-01-01\n", "price-fields: 4,20: numbers take a decimal point: write 4.20"),
        (HEAD + "a,S,1,1 kg,4\n", "price-fields: a,S,1,1 kg,4: add what is missing"),
        (HEAD + "a,b,S,1,1 kg,4,EUR,2026-01-01\n",
         "price-fields: a,b,S,1,1 kg,4,EUR,2026-01-01: put a field that has a comma in it in quotation marks"),
        (HEAD + ROW + ROW, f"duplicate-price: {ROW.strip()}: keep the right one"),
        (row(item=""), "empty-value: ,: write its item"),
        (row(price='"4,20"'), "comma-number: 4,20: write 4.20"),
        (row(price="-4"), "bad-price: -4: leave the sign out"),
        (row(price="4 EUR"), "bad-price: EUR: leave the currency out here, it has a column of its own"),
        (row(currency="eur"), "bad-currency: eur: write EUR"),
        (row(currency="€"), "bad-currency: €: write a code such as EUR"),
        (row(**{"from": "1.3.2026"}), "bad-date: 1.3.2026: write 2026-03-01 or 2026-01-03"),
        (row(pack="kg"), "bad-pack: kg: write it as 25 × 250 g, 25 kg, 10 l or 360 pieces"),
        (row(pack="0 kg"), "bad-pack: 0: write how much, or leave it out"),
        (row(pack="25"), "bad-pack: 25: write it as 25 × 250 g, 25 kg, 10 l or 360 pieces"),
        (row(pack="25 kg sack"), "bad-pack: sack: write it as 25 × 250 g, 25 kg, 10 l or 360 pieces"),
        (row(pack="1 cup"), "bad-pack: 1 cup: write 237 ml, or set `region: US` in house.yaml"),
    ],
)  # fmt: skip
def test_one_mistake_is_said_once_at_its_place(text: str, problem: str) -> None:
    _, problems = read(text)
    assert problems == [problem]


def test_a_faulty_row_does_not_take_the_others_along() -> None:
    found, problems = read(row(pack="kg") + ROW)
    assert [price.item for price in found.prices] == ["unsalted butter"]
    assert len(problems) == 1


@pytest.mark.parametrize(
    ("text", "count", "number", "unit", "dimension"),
    [
        ("25 × 250 g", "25", "250", "g", Dimension.MASS),
        ("25 x 250g", "25", "250", "g", Dimension.MASS),
        ("25 kg", "1", "25", "kg", Dimension.MASS),
        ("12 × 1 l", "12", "1", "l", Dimension.VOLUME),
        ("360 pieces", "1", "360", "pieces", Dimension.COUNT),
        ("10 × 100 sheets", "10", "100", "sheets", Dimension.COUNT),
        ("1/2 kg", "1", "0.5", "kg", Dimension.MASS),
        ("6 × 100 m", "6", "100", "m", Dimension.LENGTH),
    ],
)
def test_packs(text: str, count: str, number: str, unit: str, dimension: Dimension) -> None:
    assert read_pack(text) == (Decimal(count), Amount(Decimal(number), unit, dimension))


@given(st.text(alphabet=st.sampled_from("0123456789 ×x*kglmpieces%.,/½-"), max_size=15))
def test_any_text_is_a_pack_or_refused(text: str) -> None:
    found = outcome(lambda: read_pack(text))
    if isinstance(found, Unreadable):
        assert found.why
    else:
        assert found[0] > 0
        assert found[1].number > 0


@given(st.lists(st.lists(st.text(max_size=8), min_size=2, max_size=4), max_size=5))
def test_fields_that_were_quoted_come_back(rows: list[list[str]]) -> None:
    """RFC 4180: everything may stand between quotation marks, a quotation mark itself twice."""
    text = "".join(",".join('"' + field.replace('"', '""') + '"' for field in each) + "\n" for each in rows)
    assert [[field.text for field in each] for each in read_rows(text)] == [
        [field.strip() for field in each] for each in rows
    ]


def _price(item: str, supplier: str = "S", code: str = "1") -> Price:
    return Price(
        item, supplier, code, Decimal(1), Amount(Decimal(1), "kg", Dimension.MASS), Decimal(1), "EUR", date(2026, 1, 1)
    )


def test_prices_are_bound_to_items_by_name_or_alias() -> None:
    stores = {
        "unsalted butter": StoresItem("unsalted butter", "butter", aka=("butter",)),
        "salt": StoresItem("salt", "salt"),
    }
    bound, problems = bind_prices([_price("Butter"), _price("salt"), _price("buter")], stores, House("x"))
    assert list(bound) == ["unsalted butter", "salt"]
    assert all(price.item == name for name, rows in bound.items() for price in rows)
    assert [(each.code, each.fix) for each in problems] == [("price-without-item", "did you mean 'butter'?")]


def test_prices_of_items_whose_file_cannot_be_read_are_passed_over() -> None:
    assert bind_prices([_price("Butter")], {}, House("x"), ["unsalted butter", "butter"]) == ({}, [])


def test_suppliers_and_articles_that_no_price_is_from() -> None:
    item = StoresItem("salt", "salt", articles=(Article("S", "2"), Article("S", "1")), anchor=NOWHERE)
    house = House("x", prices=PriceRule(preferred=("S", "Millstone")))
    _, problems = bind_prices([_price("salt"), _price("salt", "Millstone & Reed")], {"salt": item}, house)
    assert [(each.code, each.fix, each.anchor.path) for each in problems] == [
        ("unknown-supplier", "did you mean 'Millstone & Reed'?", ("prices", "preferred", 1)),
        ("unknown-article", "articles of salt: S 1, Millstone & Reed 1", ("salt", "articles", "S 2", "•key")),
    ]

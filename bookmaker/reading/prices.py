"""`stores/prices.csv` to prices: what a pack costs from which day on."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from bookmaker.measures.amounts import Amount, skip_space, take_amount
from bookmaker.measures.numbers import Unreadable, take_number
from bookmaker.measures.units import Dimension
from bookmaker.model.house import House
from bookmaker.model.stores import Price, StoresItem
from bookmaker.model.written.prices import WrittenPrice
from bookmaker.problems.anchors import Anchor, Path
from bookmaker.problems.problem import Problem, Related
from bookmaker.reading.columns import columns_in
from bookmaker.reading.csv_rows import Field, read_rows
from bookmaker.reading.files import Document
from bookmaker.reading.flat import TIMES
from bookmaker.reading.shape import columns_of
from bookmaker.reading.stores import by_name
from bookmaker.reading.suggest import did_you_mean, fold
from bookmaker.reading.tree import KEY
from bookmaker.reading.values import Values, number, us_checked

_DECIMAL_COMMA = re.compile(r"\d{1,6}")


@dataclass(frozen=True, slots=True)
class PriceList:
    """The prices that could be read, and where they stand: spans by (item, supplier, code, from) and column."""

    prices: tuple[Price, ...]
    spans: Mapping[Path, tuple[int, int]]


def read_prices(document: Document, *, us: bool = False) -> tuple[PriceList, list[Problem]]:
    """The price list. Rows that cannot be read are reported and left out; `us` allows US kitchen measures in packs.

    A price's anchor has the path (item, supplier, code, from) as written; a column's name behind it points at one
    field. Problems: `empty-file`, `bad-csv`, `price-columns`, `price-fields`, `duplicate-price`, and what is wrong with
    a field.
    """
    values = Values(document.name)
    whole: dict[Path, tuple[int, int]] = {(): (0, len(document.text))}
    if not document.text.strip():
        values.report("empty-file", values.top, document=document.name)
        return PriceList((), whole), values.problems
    try:
        head, *rows = read_rows(document.text)
    except Unreadable as refused:
        values.refuse("bad-csv", values.top, refused)
        return PriceList((), whole), values.problems
    columns = columns_in(head, columns_of(WrittenPrice), values, "price-columns", "a price list")
    if columns is None:
        return PriceList((), whole), values.problems
    reader = _Rows(columns, values, whole, us)
    return PriceList(tuple(price for row in rows if (price := reader.price(row))), reader.spans), values.problems


class _Rows:
    """Reads the rows one by one and remembers which prices were there before."""

    def __init__(
        self, columns: Mapping[str, int], values: Values, spans: dict[Path, tuple[int, int]], us: bool
    ) -> None:
        self.columns = columns
        self.values = values
        self.spans = spans
        self.us = us

    def price(self, row: Sequence[Field]) -> Price | None:
        """One price; None where the row cannot be used."""
        values = self.values
        if len(row) != len(self.columns):
            self._wrong_number(row)
            return None
        fields = {name: row[index] for name, index in self.columns.items()}
        empty = [name for name in ("item", "supplier", "pack", "price", "currency", "from") if not fields[name].text]
        for name in empty:
            start, end = fields[name].span
            values.report("empty-value", values.top.part(start, max(end, start + 1)), key=name, fix=f"write its {name}")
        if empty:
            return None
        path = tuple(fields[name].text for name in ("item", "supplier", "code", "from"))
        if path in self.spans:
            related = [Related(Anchor(values.document, path), "the first one")]
            values.report(
                "duplicate-price", values.top.part(row[0].span[0], row[-1].span[1]), item=path[0], related=related
            )
            return None
        self.spans[path] = (row[0].span[0], row[-1].span[1])
        self.spans.update({(*path, name): field.span for name, field in fields.items()})
        return self._price({name: field.text for name, field in fields.items()}, Anchor(values.document, path))

    def _price(self, texts: Mapping[str, str], anchor: Anchor) -> Price | None:
        values = self.values
        pack = values.value("bad-pack", lambda text: read_pack(text, us=self.us), texts["pack"], anchor.at("pack"))
        price = values.value("bad-price", _price_of_pack, texts["price"], anchor.at("price"))
        since = values.day(texts["from"], anchor.at("from"))
        currency = texts["currency"]
        if not re.fullmatch(r"[A-Z]{3}", currency):
            fix = f"write {currency.upper()}" if re.fullmatch(r"[A-Za-z]{3}", currency) else "write a code such as EUR"
            values.report("bad-currency", anchor.at("currency"), text=currency, fix=fix)
            return None
        if pack is None or price is None or since is None:
            return None
        count, each = pack
        return Price(texts["item"], texts["supplier"], texts["code"], count, each, price, currency, since, anchor)

    def _wrong_number(self, row: Sequence[Field]) -> None:
        wanted, found = len(self.columns), len(row)
        at = self.values.top.part(row[0].span[0], max(row[-1].span[1], row[0].span[0] + 1))
        fix = "put a field that has a comma in it in quotation marks" if found > wanted else "add what is missing"
        if found == wanted + 1:
            price = self.columns["price"]
            # 4,20 falls into two fields: the price's and the next
            whole, part = row[price].text, row[price + 1].text
            if _DECIMAL_COMMA.fullmatch(whole) and _DECIMAL_COMMA.fullmatch(part):
                at = self.values.top.part(row[price].span[0], row[price + 1].span[1])
                fix = f"numbers take a decimal point: write {whole}.{part}"
        self.values.report("price-fields", at, found=found, wanted=wanted, fix=fix)


def _price_of_pack(text: str) -> Decimal:
    try:
        return number(text)
    except Unreadable as refused:
        sign = bool(re.search(r"[A-Za-z€£$]", text))
        hint = "leave the currency out here, it has a column of its own" if sign else refused.hint
        raise Unreadable(refused.why, start=refused.start, end=refused.end, hint=hint) from None


def read_pack(text: str, *, us: bool = False) -> tuple[Decimal, Amount]:
    """`25 × 250 g`, `25 kg`, `10 l`, `360 pieces` as a count and what each holds. Raises `Unreadable`."""
    start = skip_space(text, 0)
    first = take_number(text, start)
    cross = TIMES.match(text, first.end) if first else None
    count = first.value if first and cross else Decimal(1)
    if count == 0:
        raise Unreadable("a pack cannot hold nothing", start=start, end=len(text), hint=_PACK_HINT)
    at = cross.end() if cross else start
    taken = take_amount(text, at)
    if taken is None:
        raise Unreadable(f"'{text.strip()}' is no pack", start=start, end=len(text), hint=_PACK_HINT)
    amount, rest = us_checked(taken.amount, text, us), text[taken.end :].strip()
    if amount.dimension is Dimension.COUNT and rest:
        if not all(letter.isalpha() or letter in " -'" for letter in rest):
            raise Unreadable(f"'{rest}' is left over", start=taken.end, end=len(text), hint=_PACK_HINT)
        return count, Amount(amount.number, rest, Dimension.COUNT)
    if rest or amount.dimension not in (Dimension.MASS, Dimension.VOLUME, Dimension.LENGTH):
        begin = skip_space(text, taken.end) if rest else start
        why = f"'{rest}' is left over behind the amount" if rest else f"'{text.strip()}' does not say of what"
        raise Unreadable(why, start=begin, end=len(text), hint=_PACK_HINT)
    return count, amount


_PACK_HINT = "write it as 25 × 250 g, 25 kg, 10 l or 360 pieces"


def bind_prices(
    prices: Sequence[Price], stores: Mapping[str, StoresItem], house: House, claimed: Iterable[str] = ()
) -> tuple[dict[str, tuple[Price, ...]], list[Problem]]:
    """The prices of each item, under the item's own name, in the order of the list.

    `claimed` are names of items whose stores file could not be read: their prices are passed over without a word.

    Problems: `price-without-item`; `unknown-supplier` and `unknown-article` where house or stores name a supplier or an
    article that no price is from; `articles-differ` where an ingredient list would depend on what is delivered.
    """
    values = Values("")
    known = by_name(stores)
    unread = {fold(name) for name in claimed}
    bound: dict[str, list[Price]] = {}
    for price in prices:
        if item := known.get(fold(price.item)):
            bound.setdefault(item.id, []).append(replace(price, item=item.id))
        elif fold(price.item) not in unread:
            fix = did_you_mean(price.item, [name for each in stores.values() for name in (each.id, *each.aka)])
            values.report("price-without-item", price.anchor.at("item"), name=price.item, fix=fix)
    suppliers = dict.fromkeys(price.supplier for price in prices)
    for index, supplier in enumerate(house.prices.preferred):
        if suppliers and supplier not in suppliers:
            at = house.anchor.at("prices", "preferred", index)
            values.report("unknown-supplier", at, name=supplier, fix=did_you_mean(supplier, suppliers))
    for item in stores.values():
        strangers = False
        articles = {f"{price.supplier} {price.code}": None for price in bound.get(item.id, ())}
        for article in item.articles:
            name = f"{article.supplier} {article.code}"
            if articles and name not in articles:
                at = Anchor(item.anchor.document, (item.id, "articles", name, KEY))
                fix = did_you_mean(name, articles) or f"articles of {item.id}: {', '.join(articles)}"
                values.report("unknown-article", at, name=name, item=item.id, fix=fix)
                strangers = True
        if not strangers and item.differs_by_article((price.supplier, price.code) for price in bound.get(item.id, ())):
            at = Anchor(item.anchor.document, (item.id, "articles", KEY))
            values.report("articles-differ", at, item=item.id)
    return {name: tuple(rows) for name, rows in bound.items()}, values.problems

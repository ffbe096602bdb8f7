"""What `cost` prints: a recipe's cost, all products beside each other, or what a price change does."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from bookmaker.editions.team.rounding import fine_money, lacking, money
from bookmaker.editions.team.views import Amount, Bound, Known
from bookmaker.editions.team.views_money import ChannelView, CostLine, CostView, SoldBy
from bookmaker.editions.team.views_overview import CostRow
from bookmaker.kitchen.order import OrderCost
from bookmaker.measures.rounding import to_step
from bookmaker.workshop.terminal.figures import Desk, Pen
from bookmaker.workshop.terminal.table import Column, paragraph, table

INDENT = 3
_A_CENT = Decimal("0.005")


def cost_text(title: str, batch: str, view: CostView, on: str, pen: Pen) -> str:
    """One recipe: its lines, the kinds of cost, what channels pay and what they leave."""
    parts = [paragraph(f"{title} · standard cost of {batch}, prices of {on}", hanging=2), ""]
    parts.append(table(_LINES, [_line(line, pen) for line in (*view.lines, *view.packaging)], indent=INDENT))
    parts += ["", *_sums(view, pen)]
    if view.channels:
        parts += [
            "",
            f"Prices of {_sold(view.sold, pen)}",
            table(_CHANNELS, [_channel(row, pen) for row in view.channels], indent=INDENT),
        ]
    if view.labour is not None and view.labour.rate is None:
        parts += ["", paragraph("Labour is not costed, as the house states no rate for it: margins are before wages.")]
    if view.lacks:
        parts += ["", paragraph("Not complete: " + pen.lacks(view.lacks) + ".")]
    return "\n".join(parts)


def _sold(sold: SoldBy, pen: Pen) -> str:
    """What a price is for: a piece, a loaf, a portion of 8 bonbons."""
    if sold.amount is None:
        return f"a {sold.word}"
    return f"a portion of {pen.amount(sold.amount)} {sold.word}".rstrip()


_LINES = (
    Column("line", wraps=True),
    Column("as bought", right=True),
    Column("at", right=True),
    Column("cost", right=True),
    Column("price of", wraps=True),
)


def _line(line: CostLine, pen: Pen) -> tuple[str, ...]:
    source = ""
    if line.source is not None:
        source = f"{line.source.supplier} {line.source.code}".strip() + f", {line.source.since.isoformat()}"
    name = line.ingredient.name
    return name, pen.amount(line.bought), pen.amount(line.price), pen.known(line.cost), source


def _sums(view: CostView, pen: Pen) -> Iterator[str]:
    rows = [(part.name, pen.amount(part.amount), f"{pen.number(part.percent, 1)} %") for part in view.parts]
    if view.credit is not None:
        rows.append(("less co-products", pen.amount(view.credit), ""))
    rows.append(("a batch", pen.known(view.batch), ""))
    yield table((Column(), Column(right=True), Column(right=True)), rows, indent=INDENT)
    each = f" · {pen.known(view.each)} a {view.each_word}" if view.each is not None else ""
    alone = f" · ingredients alone {pen.known(view.ingredients_each)}" if view.ingredients_each is not None else ""
    yield paragraph(f"{pen.known(view.per_kg)}{each}{alone}", indent=INDENT)


_CHANNELS = (
    Column("channel"),
    Column("net", right=True),
    Column("with tax", right=True),
    Column("food cost", right=True),
    Column("target", right=True),
    Column("lowest net", right=True),
    Column("margin", right=True),
)


def _channel(row: ChannelView, pen: Pen) -> tuple[str, ...]:
    priced = row.net is not None
    food = _signed(row.food_cost, pen) + (" over" if row.over else "") if priced else "–"
    return (
        row.channel,
        pen.amount(row.net),
        pen.amount(row.gross),
        food,
        pen.amount(row.target),
        _signed(row.lowest_net, pen),
        _signed(row.margin, pen) if priced else "–",
    )


def order_text(desk: Desk, title: str, target: str, order: OrderCost, on: str) -> str:
    """An order: everything that is made for it, what of that goes to stock, and what the order costs."""
    pen, currency = desk.pen, desk.book.house.money

    def shown(amount: Decimal) -> str:
        return pen.amount(money(amount, currency))

    paid = order.paid
    hands_on = pen.amount(Amount(to_step(order.hands_on, Decimal(1)), "min"))
    rows = [
        ("ingredients", shown(paid.ingredients), ""),
        ("labour", shown(paid.labour), f"{hands_on} hands-on"),
        ("energy", shown(paid.energy), ""),
        ("packaging", shown(paid.packaging), ""),
        ("overhead", shown(paid.overhead), ""),
    ]
    if paid.credit:
        rows.append(("less co-products", shown(paid.credit), ""))
    rows.append(("all that is made", shown(paid.total), ""))
    rows += [
        (
            "less, to stock" if over.to_stock else "with it, not kept",
            shown(over.cost),
            f"{desk.name(over.ref)}, {pen.mass(over.grams)} left over",
        )
        for over in order.left_overs
        if over.cost >= _A_CENT
    ]
    rows.append(("the order", shown(order.charged), ""))
    parts = [paragraph(f"{title} · an order of {target}, prices of {on}", hanging=2), ""]
    parts.append(table((Column(), Column(right=True), Column(wraps=True)), rows, indent=INDENT))
    if order.per_piece is not None:
        parts.append(paragraph(f"{pen.amount(fine_money(order.per_piece, currency))} a piece", indent=INDENT))
    if order.lacks:
        parts += [
            "",
            paragraph("At least, as it is not complete: " + pen.lacks(lacking(order.lacks, desk.places)) + "."),
        ]
    return "\n".join(parts)


def products_text(rows: Sequence[CostRow], channels: Sequence[str], currency: str, on: str, pen: Pen) -> str:
    """All products: cost, and the food cost in each channel that has a price."""
    columns = [
        Column("product", wraps=True),
        Column("batch", right=True),
        Column("each", right=True),
        *(Column(channel, right=True) for channel in channels),
    ]
    shown = [
        (
            row.product.name,
            _bare(row.batch, pen),
            _bare(row.each, pen),
            *(_share(channel.food_cost, channel.over, pen) if channel else "–" for channel in row.channels),
        )
        for row in rows
    ]
    figures = [figure for row in rows for figure in (row.batch, row.each) if figure]
    notes = ["≥ at least: something is missing, see the recipe's own cost."] if any(map(_incomplete, figures)) else []
    if any(channel and channel.over for row in rows for channel in row.channels):
        notes.append("! over the channel's target.")
    head = f"Costs of the products in {currency}, prices of {on}; food cost by channel"
    return "\n".join([head, "", table(columns, shown), *(["", *notes] if notes else [])])


_SIGNS = {Bound.AT_LEAST: "≥ ", Bound.AT_MOST: "≤ "}


def _signed(figure: Known, pen: Pen) -> str:
    """A figure that may be incomplete, as short as a column wants it."""
    if figure.amount is None:
        return pen.known(figure)
    return _SIGNS.get(figure.amount.bound, "") + pen.amount(replace(figure.amount, bound=Bound.EXACT))


def _incomplete(figure: Known) -> bool:
    return figure.amount is not None and figure.amount.bound == Bound.AT_LEAST


def _bare(figure: Known | None, pen: Pen) -> str:
    if figure is None or figure.amount is None:
        return "–"
    shown = pen.formats.number(figure.amount.value)
    return f"≥ {shown}" if _incomplete(figure) else shown


def _share(figure: Known | None, over: bool, pen: Pen) -> str:
    if figure is None or figure.amount is None:
        return "–"
    return f"{_bare(figure, pen)} %" + (" !" if over else "")


def changes_text(changes: Iterable[str], rows: Sequence[tuple[str, str, str, str]], currency: str) -> str:
    """What a price change does: product, before, after, and by how much."""
    head = f"If {'; '.join(changes)}: ingredients of a piece or portion, in {currency}"
    if not rows:
        return head + "\n\nno product changes"
    columns = (
        Column("product", wraps=True),
        Column("now", right=True),
        Column("then", right=True),
        Column("", right=True),
    )
    return "\n".join([head, "", table(columns, rows)])

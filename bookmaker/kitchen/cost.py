"""The standard cost of a recipe at its tested batch.

A line costs what is charged of it ÷ what is usable × the price per gram in force; a component costs its own batch ÷
its usable mass, so that its losses cost. Each kind of cost goes up through the components by itself, and overhead is
taken once, of what has come together, never of overhead. Seed costs nothing: the batch bears feeding and discard.

A co-product's `worth` is the fraction of an ingredient cost per gram that its user pays and its parent is credited
with: the parent's own, or, for the rest of sheets that the parent cut from a component, that component's. With I the
ingredient cost of a batch, U its usable grams and g the co-product's, the parent's own is I ÷ (U + Σ g × worth), so
that all of I is paid by someone.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from bookmaker.kitchen.figures import (
    ChosenPrice,
    CostFigure,
    CostParts,
    Figure,
    Lack,
    LackKind,
    LineCost,
    LineFlow,
    MassFlow,
    PackagingCost,
    PriceKey,
    TimeFigure,
)
from bookmaker.kitchen.labour import energy_of, labour_of
from bookmaker.kitchen.lacking import Lacks, gathered, passed_up
from bookmaker.kitchen.parts import part_of, sources_of
from bookmaker.kitchen.prices import PER_GRAM, PER_PIECE, piece_grams
from bookmaker.kitchen.selling import UnitCost, channels_of, share_sold
from bookmaker.measures.exact import ONE, ZERO, total
from bookmaker.model.book import Book
from bookmaker.model.house import OverheadBase
from bookmaker.model.recipe import PackagingLine, Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef
from bookmaker.model.stores import StoresKind

ByItem = Mapping[StoresRef, Decimal]

NOTHING: ByItem = {}


@dataclass(frozen=True, slots=True)
class _Share:
    """What one line brings into the batch: its row, its kinds of cost (overhead not yet), and where the ingredient
    money goes.

    `food_lacks` are those of the ingredient money alone.
    """

    row: LineCost
    parts: CostParts = CostParts()
    by_item: ByItem = field(default_factory=dict)
    food_lacks: Lacks = ()


@dataclass(frozen=True, slots=True)
class CostBasis:
    """What costs are looked up in: prices, and the figures of the recipes that stand before this one."""

    book: Book
    prices: Mapping[str, ChosenPrice]
    costs: Mapping[RecipeRef, CostFigure]
    flows: Mapping[RecipeRef, MassFlow]


def cost_of(recipe: Recipe, flow: MassFlow, time: TimeFigure, known: CostBasis) -> CostFigure:
    """The cost of the tested batch, per gram, per piece and per channel, with everything that it lacks."""
    house = known.book.house
    shares = tuple(_share(line, known) for line in flow.lines)
    labour = labour_of(recipe, time, house)
    energy = energy_of(recipe, time, house)
    packaging = tuple(_packaging(line, recipe, flow, known) for line in recipe.packaging)
    credited = _credited(flow, shares, known)
    parts = CostParts(
        ingredients=total(share.parts.ingredients for share in shares),
        labour=total(share.parts.labour for share in shares) + (labour.cost.value or ZERO),
        energy=total(share.parts.energy for share in shares) + (energy.value or ZERO) * (house.energy or ZERO),
        packaging=total(share.parts.packaging for share in shares)
        + total(pack.cost.value or ZERO for pack in packaging),
        credit=credited.money,
    )
    parts = replace(parts, overhead=house.overhead * overhead_base(parts, house.overhead_base))
    unknown = tuple(lack for lack in flow.lacks if lack.kind is LackKind.YIELD)
    food_lacks = gathered(*(share.food_lacks for share in shares), unknown)
    lacks = gathered(
        food_lacks,
        labour.cost.lacks,
        *(share.row.cost.lacks for share in shares),
        *(pack.cost.lacks for pack in packaging),
    )
    batch = _at_least(parts.total, lacks)
    food = _at_least(parts.ingredients - parts.credit, food_lacks)
    sold = share_sold(recipe.portion, flow.yields)
    pieces = flow.yields.pieces
    return CostFigure(
        lines=tuple(share.row for share in shares),
        labour=labour,
        energy_kwh=energy,
        packaging=packaging,
        parts=parts,
        batch=batch,
        per_gram=_per_gram(batch, flow),
        per_piece=_times(batch, ONE / pieces if pieces else None),
        ingredients_per_gram=_per_gram(food, flow),
        ingredients_per_piece=_times(food, ONE / pieces if pieces else None),
        by_item=_by_item(shares, credited),
        channels=channels_of(recipe, house, UnitCost(_sold(food, sold, recipe), _sold(batch, sold, recipe))),
        lacks=lacks,
    )


# --- lines ----------------------------------------------------------------------------------------------------------


def _share(line: LineFlow, known: CostBasis) -> _Share:
    if line.seed:
        return _Share(LineCost(line.line, line.target, None, None, Figure(ZERO)))
    match line.target:
        case StoresRef() if line.bowl is not None or line.pieces is not None:
            return _bought(line, line.target, known)
        case CoProductRef() if line.bowl is not None:
            return _left_over(line, line.target, known)
        case RecipeRef() if line.bowl is not None:
            return _made(line, line.target, known)
        case _:
            return _lacking(line, (Lack(LackKind.AMOUNT, known.book.name(line.target)),))


def _lacking(line: LineFlow, lacks: Lacks, price: PriceKey | None = None) -> _Share:
    return _Share(LineCost(line.line, line.target, None, None, Figure(None, lacks), price), food_lacks=lacks)


def _bought(line: LineFlow, ref: StoresRef, known: CostBasis) -> _Share:
    item, price = known.book.stores[ref.id], known.prices[ref.id]
    if price.amount is None:
        return _lacking(line, price.lacks)
    if price.per == PER_PIECE:
        if line.pieces is None:
            return _lacking(line, (Lack(LackKind.PRICE, ref.id),), price.key)
        charged = line.pieces * line.charged / line.bowl if line.bowl else line.pieces
        row = LineCost(line.line, ref, None, None, Figure(charged * price.amount, price.lacks), price.key)
    else:
        if line.bowl is None:
            return _lacking(line, (Lack(LackKind.AMOUNT, ref.id),), price.key)
        # counted pieces, in the pack or on the line, are ready for use
        bought = line.charged if price.ready or line.pieces is not None else line.charged / item.usable
        row = LineCost(line.line, ref, bought, price.amount, Figure(bought * price.amount, price.lacks), price.key)
    cost = row.cost.value or ZERO
    if item.kind is StoresKind.PACKAGING:
        return _Share(row, CostParts(packaging=cost))
    return _Share(row, CostParts(ingredients=cost), {ref: cost}, price.lacks)


def _made(line: LineFlow, ref: RecipeRef, known: CostBasis) -> _Share:
    component = known.book.sized(ref)
    theirs, usable = known.costs[component], known.flows[component].usable
    lacks = passed_up(theirs.per_gram.lacks, component)
    if not usable:
        return _lacking(line, lacks)
    per_gram, part = theirs.per_gram.value, line.charged / usable
    parts = CostParts(
        ingredients=(theirs.parts.ingredients - theirs.parts.credit) * part,
        labour=theirs.parts.labour * part,
        energy=theirs.parts.energy * part,
        packaging=theirs.parts.packaging * part,
    )
    cost = Figure(None if per_gram is None else line.charged * per_gram, lacks)
    row = LineCost(line.line, ref, line.charged, per_gram, cost)
    return _Share(row, parts, _scaled(theirs.by_item, part), passed_up(theirs.ingredients_per_gram.lacks, component))


def _left_over(line: LineFlow, ref: CoProductRef, known: CostBasis) -> _Share:
    parent = known.book.sized(ref.recipe)
    worth = next((given.worth for given in known.flows[parent].co_products if given.ref.name == ref.name), ZERO)
    if not worth:
        return _Share(LineCost(line.line, ref, line.charged, ZERO, Figure(ZERO)))
    per_gram, by_item, lacks = _rate(rates_of(ref, known.flows[parent], known.book), known)
    lacks = passed_up(lacks, parent)
    if per_gram is None:
        return _lacking(line, lacks)
    cost = line.charged * per_gram * worth
    row = LineCost(line.line, ref, line.charged, per_gram * worth, Figure(cost, lacks))
    return _Share(row, CostParts(ingredients=cost), _scaled(by_item, line.charged * worth), lacks)


# --- co-products ----------------------------------------------------------------------------------------------------

Rates = tuple[tuple[Decimal, RecipeRef], ...]
"""Of which recipes' usable grams one gram of a co-product consists."""


def rates_of(ref: CoProductRef, flow: MassFlow, book: Book) -> Rates:
    """Whose ingredient cost a co-product is worth a share of: its parent's, or, by their offcuts, that of the
    components whose sheets the parent cut up and of which it is the rest. `flow` is the parent's.
    """
    parent = book.sized(ref.recipe)
    sources = tuple(source for source in sources_of(ref, book) if source != parent)
    offcuts = [(line.offcut, part_of(line.target, book)) for line in flow.lines if line.offcut]
    cut = [(grams, source) for grams, source in offcuts if source is not None and source in sources]
    whole = total(grams for grams, _ in cut)
    return tuple((grams / whole, source) for grams, source in cut) if whole else ((ONE, parent),)


def _rate(rates: Rates, known: CostBasis) -> tuple[Decimal | None, ByItem, Lacks]:
    """Ingredient money per gram of a mixture of recipes, the same by item, and what it lacks; None when nothing is
    known.
    """
    figures = [(share, known.costs[ref], ref) for share, ref in rates]
    lacks = gathered(*(passed_up(cost.ingredients_per_gram.lacks, ref) for _, cost, ref in figures))
    if all(cost.ingredients_per_gram.value is None for _, cost, _ in figures):
        return None, NOTHING, lacks
    per_gram = total(share * (cost.ingredients_per_gram.value or ZERO) for share, cost, _ in figures)
    by_item = _sum(_scaled(cost.by_item, share / known.flows[ref].usable) for share, cost, ref in figures)
    return per_gram, by_item, lacks


@dataclass(frozen=True, slots=True)
class _Credits:
    """What a batch is credited with for its co-products, and the same by item."""

    money: Decimal
    by_item: ByItem


def _credited(flow: MassFlow, shares: Iterable[_Share], known: CostBasis) -> _Credits:
    paid = tuple(share.by_item for share in shares)
    taken: list[ByItem] = []
    own_grams = ZERO
    for given in flow.co_products:
        if not given.worth:
            continue
        rates = rates_of(given.ref, flow, known.book)
        if any(ref == known.book.sized(given.ref.recipe) for _, ref in rates):
            own_grams += given.grams * given.worth
        else:
            taken.append(_scaled(_rate(rates, known)[1], given.grams * given.worth))
    left = _sum((*paid, *(_scaled(each, -ONE) for each in taken)))
    if own_grams and flow.usable:
        taken.append(_scaled(left, own_grams / (flow.usable + own_grams)))
    by_item = _sum(taken)
    return _Credits(total(by_item.values()), by_item)


# --- packaging ------------------------------------------------------------------------------------------------------


def _packaging(line: PackagingLine, recipe: Recipe, flow: MassFlow, known: CostBasis) -> PackagingCost:
    """One packaging line; `1 box per 6 pieces` counts fractions, so that a piece bears a sixth of a box."""
    price = known.prices[line.target.id]
    count: Decimal | None = line.count
    if line.per is not None:
        count = line.count * flow.yields.pieces / line.per if flow.yields.pieces else None
    each = price.amount
    if each is not None and price.per == PER_GRAM:
        grams = piece_grams(known.book.stores[line.target.id])
        each = None if grams is None else each * grams
    if count is None:
        return PackagingCost(
            line.target, ZERO, each, Figure(None, (Lack(LackKind.YIELD, f"pieces of {recipe.title}"),)), price.key
        )
    if each is None:
        lacks = price.lacks or (Lack(LackKind.PRICE, line.target.id),)
        return PackagingCost(line.target, count, None, Figure(None, lacks), price.key)
    return PackagingCost(line.target, count, each, Figure(count * each, price.lacks), price.key)


# --- together -------------------------------------------------------------------------------------------------------


def overhead_base(parts: CostParts, base: OverheadBase) -> Decimal:
    """The money that overhead is taken of: what has come together through all components, co-products credited."""
    ingredients = parts.ingredients - parts.credit
    match base:
        case OverheadBase.INGREDIENTS:
            return ingredients
        case OverheadBase.LABOUR:
            return parts.labour
        case OverheadBase.BOTH:
            return ingredients + parts.labour


def _by_item(shares: Iterable[_Share], credited: _Credits) -> ByItem:
    return _sum((*(share.by_item for share in shares), _scaled(credited.by_item, -ONE)))


def _scaled(by_item: ByItem, by: Decimal) -> ByItem:
    return {item: money * by for item, money in by_item.items()}


def _sum(parts: Iterable[ByItem]) -> ByItem:
    found: dict[StoresRef, Decimal] = {}
    for part in parts:
        for item, money in part.items():
            found[item] = found.get(item, ZERO) + money
    return {item: found[item] for item in sorted(found)}


def _at_least(value: Decimal, lacks: Lacks) -> Figure:
    """Money with lacks is a least amount; with lacks and no money at all nothing is known."""
    return Figure(value if value or not lacks else None, lacks)


def _per_gram(cost: Figure, flow: MassFlow) -> Figure:
    if not flow.usable:
        return Figure(None, gathered(cost.lacks, flow.yields.usable.lacks))
    return _times(cost, ONE / flow.usable)


def _sold(cost: Figure, share: Decimal | None, recipe: Recipe) -> Figure:
    if share is None:
        return Figure(None, gathered(cost.lacks, (Lack(LackKind.YIELD, f"portion of {recipe.title}"),)))
    return _times(cost, share)


def _times(cost: Figure, by: Decimal | None) -> Figure:
    return Figure(None if cost.value is None or by is None else cost.value * by, cost.lacks)

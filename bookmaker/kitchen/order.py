"""What an order costs, as it is made: whole moulds, least batches and loads counted, left-overs apart.

The standard cost is that of the tested batch. An order pays for what is really made; what is left over of it goes to
stock where it keeps, and is charged to the order where it does not.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from bookmaker.kitchen.cost import overhead_base
from bookmaker.kitchen.figures import CostParts, Figures, Lack
from bookmaker.kitchen.labour import MINUTES_AN_HOUR, running_minutes
from bookmaker.kitchen.lacking import gathered
from bookmaker.kitchen.parts import count_of
from bookmaker.kitchen.prices import PER_PIECE
from bookmaker.kitchen.scaled import Scaled, ScaledRecipe
from bookmaker.measures.exact import ONE, ZERO, exactly, total
from bookmaker.model.book import Book
from bookmaker.model.method import Step
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef

A_DAY = Decimal(1440)
"""Minutes that a left-over must keep in one of its states to count as stock (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class LeftOver:
    """What remains of one recipe: grams made and not used, what they cost, and whether they keep long enough."""

    ref: RecipeRef
    grams: Decimal
    cost: Decimal
    to_stock: bool


@dataclass(frozen=True, slots=True)
class OrderCost:
    """An order's cost. `paid` is everything that is made; `charged` leaves out what goes to stock.

    `hands_on` are person-minutes of all recipes. `per_piece` is of the pieces asked for. paid.total = charged + the
    left-overs that go to stock. With `lacks` every sum is an "at least".
    """

    paid: CostParts
    left_overs: tuple[LeftOver, ...]
    hands_on: Decimal
    pieces: Decimal | None
    lacks: tuple[Lack, ...] = ()

    @property
    def to_stock(self) -> Decimal:
        """Money that goes to stock with the left-overs that keep."""
        return total(each.cost for each in self.left_overs if each.to_stock)

    @property
    def to_order(self) -> Decimal:
        """Money for left-overs that do not keep: the order bears it."""
        return total(each.cost for each in self.left_overs if not each.to_stock)

    @property
    def charged(self) -> Decimal:
        """What the order costs."""
        return self.paid.total - self.to_stock

    @property
    def per_piece(self) -> Decimal | None:
        """What one piece of the order costs; None for what is not made in pieces."""
        return self.charged / self.pieces if self.pieces else None


def order_cost(book: Book, figures: Figures, scaled: Scaled) -> OrderCost:
    """The cost of everything that `scaled` makes, in the house's currency.

    Labour: work once for each batch, `each` for each piece. Energy: as of the standard cost, with these loads and these
    hands-on minutes. Ingredients and credits: the standard cost's lines, multiplied.
    """
    with exactly():
        minutes = {made.ref: _hands_on(made, book, figures) for made in scaled.recipes}
        own = {made.ref: _own(made, minutes[made.ref], book, figures) for made in scaled.recipes}
        own[scaled.ref] = _plus(own[scaled.ref], CostParts(packaging=_packaging(scaled, figures)))
        whole: dict[RecipeRef, CostParts] = {}
        for made in scaled.recipes:
            whole[made.ref] = _with_overhead(_through(made, scaled, own, whole), book)
        left = tuple(
            over for made in scaled.recipes if (over := _left_over(made, scaled, whole[made.ref], figures)) is not None
        )
        paid = CostParts()
        for parts in own.values():
            paid = _plus(paid, parts)
        top = scaled.own
        piece = figures.recipes[scaled.ref].flow.yields.piece
        return OrderCost(
            paid=_with_overhead(paid, book),
            left_overs=left,
            hands_on=total(minutes.values()),
            pieces=top.needed / piece if piece else None,
            lacks=gathered(*(figures.recipes[made.ref].cost.lacks for made in scaled.recipes)),
        )


def _own(made: ScaledRecipe, minutes: Decimal, book: Book, figures: Figures) -> CostParts:
    """What this recipe adds itself: its stores lines, co-products used, labour and energy; no components."""
    cost, factor = figures.recipes[made.ref].cost, made.plan.factor
    bought = total(
        (line.cost.value or ZERO) * factor for line in cost.lines if isinstance(line.target, StoresRef | CoProductRef)
    )
    rate = cost.labour.rate or ZERO
    return CostParts(
        ingredients=bought,
        labour=minutes * rate / MINUTES_AN_HOUR,
        energy=_kilowatt_hours(made, book, figures) * (book.house.energy or ZERO),
        credit=cost.parts.credit * factor,
    )


def _hands_on(made: ScaledRecipe, book: Book, figures: Figures) -> Decimal:
    return total(_worked(step, made, book, figures) for step in book.recipes[made.ref].method.steps)


def _worked(step: Step, made: ScaledRecipe, book: Book, figures: Figures) -> Decimal:
    """Person-minutes of one step: work once for each batch, `each` for each piece."""
    recipe, flow = book.recipes[made.ref], figures.recipes[made.ref].flow
    work = (step.work or ZERO) * made.plan.batches
    count = count_of(step.each.per, recipe, flow) if step.each else None
    each = step.each.minutes * count * made.plan.factor if step.each and count is not None else ZERO
    return (work + each) * step.repeat


def _kilowatt_hours(made: ScaledRecipe, book: Book, figures: Figures) -> Decimal:
    machines = {machine.name: machine for machine in book.house.equipment}
    loads = {load.step: load.loads for load in made.loads}
    batches = made.plan.batches
    used = ZERO
    for step in book.recipes[made.ref].method.steps:
        machine = machines.get(step.on)
        if machine is not None and machine.power is not None:
            worked = _worked(step, made, book, figures) / step.needs
            goes = Decimal(loads.get(step.number, batches))
            minutes = running_minutes(step, machine.kind, worked, goes, Decimal(batches))
            used += machine.power * minutes / MINUTES_AN_HOUR
    return used


def _packaging(scaled: Scaled, figures: Figures) -> Decimal:
    """Packaging in whole pieces, at the price of a piece."""
    money = ZERO
    for line in scaled.packaging:
        price = figures.prices[line.item.id]
        if price.amount is not None and price.per == PER_PIECE:
            money += (line.pieces or ZERO) * price.amount
    return money


def _through(
    made: ScaledRecipe, scaled: Scaled, own: Mapping[RecipeRef, CostParts], whole: Mapping[RecipeRef, CostParts]
) -> CostParts:
    """What everything made of this recipe cost: its own and its share of each component, overhead apart."""
    parts = own[made.ref]
    for component in scaled.recipes:
        if made.ref in component.users and component.usable:
            used = component.users[made.ref] - _returned(made, component.ref)
            parts = _plus(parts, _times(replace(whole[component.ref], overhead=ZERO), used / component.usable))
    return parts


def _returned(made: ScaledRecipe, component: RecipeRef) -> Decimal:
    """Grams of a component that come back from this user, such as glaze that ran off."""
    return total(line.returns for line in made.lines if line.target in {component, RecipeRef(component.id)})


def _left_over(made: ScaledRecipe, scaled: Scaled, whole: CostParts, figures: Figures) -> LeftOver | None:
    back = total(_returned(user, made.ref) for user in scaled.recipes if user.ref in made.users)
    grams = made.left_over + back
    if grams <= ZERO or not made.usable:
        return None
    keeps = any(state.minutes >= A_DAY for state in figures.recipes[made.ref].keeping)
    return LeftOver(made.ref, grams, whole.total * grams / made.usable, keeps)


def _with_overhead(parts: CostParts, book: Book) -> CostParts:
    return replace(parts, overhead=book.house.overhead * overhead_base(parts, book.house.overhead_base))


def _plus(one: CostParts, other: CostParts) -> CostParts:
    return CostParts(
        one.ingredients + other.ingredients,
        one.labour + other.labour,
        one.energy + other.energy,
        one.packaging + other.packaging,
        one.overhead + other.overhead,
        one.credit + other.credit,
    )


def _times(parts: CostParts, factor: Decimal) -> CostParts:
    if factor == ONE:
        return parts
    return CostParts(
        parts.ingredients * factor,
        parts.labour * factor,
        parts.energy * factor,
        parts.packaging * factor,
        parts.overhead * factor,
        parts.credit * factor,
    )

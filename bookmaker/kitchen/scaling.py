"""Scaling: a target at the top, demand running down the component graph, everything made as the kitchen makes it.

A component's demand is what all its users together put into their bowls; it is made once for all of them. What is
made beyond the demand (a least batch, whole sheets) is left over; the working mass of a line is drawn in full at any
size and comes back. Co-products are used where they fall, never made for their own sake.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from bookmaker.kitchen.batches import MakingPlan, Rounding, loads_of, plan_making
from bookmaker.kitchen.drawing import draw_list, packaging_list
from bookmaker.kitchen.figures import Figures, Lack, LackKind, MassFlow
from bookmaker.kitchen.parts import components_of, count_of, is_seed
from bookmaker.kitchen.scale_cautions import scale_cautions
from bookmaker.kitchen.scaled import CoProductUse, Scaled, ScaledLine, ScaledRecipe
from bookmaker.kitchen.targets import BatchTarget, MassTarget, PieceTarget, ScaleTarget, UseUpTarget, VesselTarget
from bookmaker.kitchen.weighing import weigh_lines
from bookmaker.measures.exact import ONE, ZERO, exactly
from bookmaker.model.book import Book
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target

NOTHING = Decimal("1e-20")
"""A left-over below this share of what is made is the end of 34 digits."""

Flows = Mapping[RecipeRef, MassFlow]


def scale(book: Book, figures: Figures, ref: RecipeRef, target: ScaleTarget) -> Scaled:
    """Scale a recipe to a target.

    The target itself is met exactly, or by the recipe's own sizes of making: 130 pieces in moulds of 24 are six moulds.
    Raises `KeyError` for a recipe that is not in the book, `Unscalable` for one that yields nothing countable.
    """
    with exactly():
        own = book.sized(ref)
        flows = {each: figures.recipes[each].flow for each in _closure(own, book)}
        exact, limiting = _factor(own, target, book, flows)
        rounding = {UseUpTarget: Rounding.DOWN, BatchTarget: Rounding.NONE}.get(type(target), Rounding.UP)
        demand = _Demand(book, flows)
        demand.ask(own, exact, rounding)
        recipes = demand.recipes()
        return Scaled(
            ref=own,
            target=target,
            recipes=recipes,
            draw=draw_list(recipes, book),
            packaging=packaging_list(recipes[-1], book),
            co_products=_co_products(recipes),
            limiting=limiting,
            lacks=tuple(sorted(demand.lacks)),
        )


class Unscalable(Exception):
    """The recipe yields nothing that could be multiplied; its problems say why."""


def _closure(ref: RecipeRef, book: Book) -> list[RecipeRef]:
    """The recipe and all its components, in the order of making."""
    wanted, queue = {ref}, [ref]
    while queue:
        for part in made_of(book.recipes[queue.pop()], book):
            if part not in wanted:
                wanted.add(part)
                queue.append(part)
    return [each for each in book.recipes if each in wanted]


def made_of(recipe: Recipe, book: Book) -> tuple[RecipeRef, ...]:
    """The recipes that must be made for this one; the parents of co-products are not."""
    own = {book.sized(line.target) for line in recipe.lines if isinstance(line.target, RecipeRef)}
    return tuple(part for part in components_of(recipe, book) if part in own)


def _factor(ref: RecipeRef, target: ScaleTarget, book: Book, flows: Flows) -> tuple[Decimal, Target | None]:
    """The number of tested batches that just meets the target, and what limits it."""
    recipe, flow = book.recipes[ref], flows[ref]
    match target:
        case BatchTarget(count):
            return count, None
        case UseUpTarget(stock):
            uses = {each.of: _use_of(each.of, ref, book, flows) for each in stock}
            reach = {each.of: each.grams / uses[each.of] for each in stock if uses[each.of]}
            if not reach:
                raise Unscalable(f"{recipe.title} uses nothing of it that could be weighed")
            limiting = min(reach, key=lambda of: reach[of])
            return reach[limiting], limiting
        case PieceTarget(count):
            return count / _unit(flow.yields.pieces, recipe), None
        case VesselTarget(count, word):
            return count / _unit(count_of(word, recipe, flow), recipe), None
        case MassTarget(grams):
            return grams / _unit(flow.yields.usable.value, recipe), None


def _unit(per_batch: Decimal | None, recipe: Recipe) -> Decimal:
    if not per_batch:
        raise Unscalable(f"{recipe.title} has no yield to scale by")
    return per_batch


def _use_of(target: Target, ref: RecipeRef, book: Book, flows: Flows) -> Decimal:
    """Grams of `target` as bought that one tested batch uses, through all components, made exactly."""
    recipe, flow = book.recipes[ref], flows[ref]
    grams = ZERO
    for line, moved in zip(recipe.lines, flow.lines, strict=True):
        if moved.bowl is None or moved.seed:
            continue
        if moved.target == target or (isinstance(moved.target, RecipeRef) and book.sized(moved.target) == target):
            grams += moved.bowl / _usable_share(line.target, book)
        elif isinstance(moved.target, RecipeRef) and flows[book.sized(moved.target)].usable:
            part = book.sized(moved.target)
            grams += moved.bowl / flows[part].usable * _use_of(target, part, book, flows)
    return grams


def _usable_share(target: Target, book: Book) -> Decimal:
    return book.stores[target.id].usable if isinstance(target, StoresRef) else ONE


@dataclass
class _Demand:
    """Demand running down: recipes are visited users first, so that each knows all its users when its turn comes."""

    book: Book
    flows: Flows
    lacks: set[Lack] = field(default_factory=set)
    _made: dict[RecipeRef, tuple[MakingPlan, Decimal]] = field(default_factory=dict)
    _users: dict[RecipeRef, dict[RecipeRef, Decimal]] = field(default_factory=dict)

    def ask(self, top: RecipeRef, exact: Decimal, rounding: Rounding) -> None:
        """Settle how much is made of every recipe."""
        for ref in reversed(list(self.flows)):
            flow, recipe = self.flows[ref], self.book.recipes[ref]
            if ref == top:
                plan = plan_making(recipe, flow, exact, self.book.house, rounding)
                # what is to be used up is not exceeded: less is made than it reaches for, and nothing is left over
                needed = flow.usable * (plan.factor if rounding is Rounding.DOWN else exact)
            elif ref in self._users and flow.usable:
                needed = sum(self._users[ref].values(), ZERO)
                plan = plan_making(recipe, flow, needed / flow.usable, self.book.house, Rounding.UP)
            else:
                if ref in self._users:
                    self.lacks.add(Lack(LackKind.YIELD, recipe.title))
                continue
            self._made[ref] = plan, needed
            self._pass_on(recipe, flow, plan.factor)

    def _pass_on(self, recipe: Recipe, flow: MassFlow, factor: Decimal) -> None:
        for line, moved in zip(recipe.lines, flow.lines, strict=True):
            if not isinstance(line.target, RecipeRef) or is_seed(line, recipe, self.book):
                continue
            if moved.bowl is None:
                self.lacks.add(Lack(LackKind.AMOUNT, line.name))
                continue
            drawn = max(moved.bowl * factor, line.working or ZERO)
            users = self._users.setdefault(self.book.sized(line.target), {})
            users[recipe.ref] = users.get(recipe.ref, ZERO) + drawn

    def recipes(self) -> tuple[ScaledRecipe, ...]:
        """All recipes that are made, components first."""
        return tuple(self._scaled(ref) for ref in self.flows if ref in self._made)

    def _scaled(self, ref: RecipeRef) -> ScaledRecipe:
        recipe, flow = self.book.recipes[ref], self.flows[ref]
        plan, needed = self._made[ref]
        factor = plan.factor
        usable = flow.usable * factor
        left_over = usable - needed
        if abs(left_over) <= NOTHING * usable:
            left_over = ZERO
        piece = flow.yields.piece
        return ScaledRecipe(
            ref=ref,
            plan=plan,
            needed=needed,
            users=self._users.get(ref, {}),
            lines=_lines(recipe, flow, plan, self.book),
            usable=usable,
            pieces=None if flow.yields.pieces is None else flow.yields.pieces * factor,
            left_over=left_over,
            left_over_pieces=left_over / piece if piece else None,
            into=flow.into * factor,
            co_products={given.ref: given.grams * factor for given in flow.co_products},
            kept_back=flow.kept_back * factor,
            moisture=flow.moisture * factor,
            waste=flow.waste * factor,
            back=flow.back * factor,
            loads=loads_of(recipe, flow, factor, self.book.house),
            cautions=scale_cautions(recipe, flow, plan.each, self.book),
        )


def _lines(recipe: Recipe, flow: MassFlow, plan: MakingPlan, book: Book) -> tuple[ScaledLine, ...]:
    weights = weigh_lines(recipe, flow, plan.each, book)
    found = []
    for line, moved, weight in zip(recipe.lines, flow.lines, weights, strict=True):
        bowl = None if moved.bowl is None else moved.bowl * plan.factor
        drawn = max(bowl or ZERO, line.working or ZERO)
        returns = moved.back * plan.factor + drawn - (bowl or ZERO)
        found.append(ScaledLine(line.id, line.target, bowl, drawn, returns, weight, moved.seed))
    return tuple(found)


def _co_products(recipes: tuple[ScaledRecipe, ...]) -> tuple[CoProductUse, ...]:
    produced: dict[CoProductRef, Decimal] = {}
    used: dict[CoProductRef, Decimal] = {}
    for recipe in recipes:
        for ref, grams in recipe.co_products.items():
            produced[ref] = produced.get(ref, ZERO) + grams
        for line in recipe.lines:
            if isinstance(line.target, CoProductRef):
                used[line.target] = used.get(line.target, ZERO) + (line.bowl or ZERO)
    return tuple(
        CoProductUse(ref, produced.get(ref, ZERO), used.get(ref, ZERO)) for ref in dict.fromkeys([*produced, *used])
    )

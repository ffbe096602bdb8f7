"""The mass flow of a batch: lines join stage by stage, losses act, and what is left is the yield.

A formula in percent whose base weighs nothing by itself is solved back from the yield: usable mass is a straight line
over the weight of the base, so two trial batches settle it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.content import dissolved, per_gram, pot_of, rest_of_cut, water_per_gram
from bookmaker.kitchen.figures import CutFlow, Figure, Lack, LackKind, LineFlow, MassFlow
from bookmaker.kitchen.formula import in_percent, weighed_base, written_base
from bookmaker.kitchen.masses import Bowl, Flows, bowl_of, line_flow
from bookmaker.kitchen.parts import is_seed
from bookmaker.kitchen.sharing import co_products, mass_for, share_out
from bookmaker.kitchen.stages import Way, join, lose
from bookmaker.kitchen.yields import Stated, drives_off_water, own_cut, stated_yield, yield_flow
from bookmaker.measures.exact import ONE, ZERO
from bookmaker.model.book import Book
from bookmaker.model.line import Loss, LossKind, Unmeasured
from bookmaker.model.recipe import Recipe


def flow_of(recipe: Recipe, book: Book, flows: Flows) -> MassFlow:
    """The mass flow of one batch as written; `flows` holds those of the recipes before it in the book.

    Sums and ratios only: doubling every line doubles every mass. Problems of the formula are not reported here
    (`findings.py` compares the flow with what was written); what cannot be known becomes a lack.
    """
    cut = own_cut(recipe, book.house)
    base = _base(recipe, book, flows, cut)
    draft = _draft(recipe, book, flows, base, cut)
    stated = stated_yield(recipe)
    if stated and not _states_losses(recipe):
        draft = _imply(draft, recipe, book, stated)
    return _finish(recipe, book, flows, draft, cut)


@dataclass(frozen=True, slots=True)
class _Draft:
    """A batch through its stated losses. `computed` is what comes out by them, raw where the yield is stated raw."""

    bowls: tuple[Bowl, ...]
    lines: tuple[LineFlow, ...]
    base: Decimal | None
    way: Way
    lacks: tuple[Lack, ...]
    computed: Decimal


def _draft(recipe: Recipe, book: Book, flows: Flows, base: Decimal | None, cut: CutFlow | None) -> _Draft:
    bowls = tuple(bowl_of(line, recipe, book, flows, base) for line in recipe.lines)
    hundred = base if base is not None else weighed_base(recipe, [bowl.grams for bowl in bowls], book)
    lines = tuple(
        line_flow(line, bowl, hundred, is_seed(line, recipe, book))
        for line, bowl in zip(recipe.lines, bowls, strict=True)
    )
    way, at = Way(), 0
    for stage in recipe.stages:
        joined = sum((line.stays for line in lines[at : at + len(stage.lines)]), ZERO)
        way = join(way, stage.name, joined, _acting(stage.losses, cut))
        at += len(stage.lines)
    way, lacks = _boil(recipe, book, flows, lines, way)
    for loss in _acting(recipe.losses, cut):
        way = lose(way, loss.name, loss.kind, loss.share)
    stated = stated_yield(recipe)
    computed = way.scaled if stated and stated.raw else share_out(recipe, lines, way.mass, cut).usable
    return _Draft(bowls, lines, hundred, way, lacks, computed)


def _acting(losses: Sequence[Loss], cut: CutFlow | None) -> list[Loss]:
    """The losses that act: where the recipe's own sheets are cut, the geometric rest stands in for a stated trim."""
    return [loss for loss in losses if cut is None or loss.name != "trim"]


def _boil(
    recipe: Recipe, book: Book, flows: Flows, lines: Sequence[LineFlow], way: Way
) -> tuple[Way, tuple[Lack, ...]]:
    """Boil down to the end point, behind the stages and before the whole's losses; no loss where it is reached."""
    if recipe.boil_to is None or way.mass <= 0:
        return way, ()
    lacks: tuple[Lack, ...] = ()
    if recipe.boil_to.brix is not None:
        solids, lacks = dissolved(pot_of(recipe, lines, way.left, book, flows), book)
        target = solids / recipe.boil_to.brix
    else:
        target = recipe.boil_to.grams or way.mass
    if target >= way.mass:
        return way, lacks
    return lose(way, "boil", LossKind.MOISTURE, ONE - target / way.mass, implied=True), lacks


def _base(recipe: Recipe, book: Book, flows: Flows, cut: CutFlow | None) -> Decimal | None:
    """Grams of the base, for a formula in percent."""
    if not in_percent(recipe):
        return None
    bowls = [bowl_of(line, recipe, book, flows, None).grams for line in recipe.lines]
    base = written_base(recipe, bowls, book)
    stated = stated_yield(recipe)
    if base is not None or stated is None or recipe.batch is not None:
        return base
    at_none = _draft(recipe, book, flows, ZERO, cut).computed
    at_one = _draft(recipe, book, flows, ONE, cut).computed
    if at_one == at_none:
        return None
    found = (stated.grams - at_none) / (at_one - at_none)
    return found if found > 0 else None


def _states_losses(recipe: Recipe) -> bool:
    return bool(recipe.losses or recipe.boil_to or any(stage.losses for stage in recipe.stages))


def _imply(draft: _Draft, recipe: Recipe, book: Book, stated: Stated) -> _Draft:
    """No loss is stated, so the yield tells it: all that went in and does not come out."""
    mass = draft.way.mass
    out = stated.grams if stated.raw else mass_for(recipe, draft.lines, stated.grams)
    if not 0 < out < mass:
        return draft
    moist = not stated.raw and drives_off_water(recipe, book.house)
    kind = LossKind.MOISTURE if moist else LossKind.WASTE
    way = lose(draft.way, "implied", kind, ONE - out / mass, implied=True)
    return _Draft(draft.bowls, draft.lines, draft.base, way, draft.lacks, draft.computed)


def _finish(recipe: Recipe, book: Book, flows: Flows, draft: _Draft, cut: CutFlow | None) -> MassFlow:
    way, lines = draft.way, draft.lines
    shares = share_out(recipe, lines, way.mass, cut)
    pot = pot_of(recipe, lines, way.left, book, flows)
    content = per_gram(pot, way.mass)
    water = Figure(water_per_gram(pot, way.mass, way.dried), pot.lacks)
    unweighed = {lack for bowl in draft.bowls for lack in bowl.lacks}
    needed = {
        lack
        for line, bowl in zip(recipe.lines, draft.bowls, strict=True)
        for lack in bowl.lacks
        if not isinstance(line.quantity, Unmeasured)
    } | set(draft.lacks)
    if shares.usable <= 0:
        needed.add(Lack(LackKind.YIELD, recipe.title))
    usable = Figure(shares.usable if shares.usable > 0 else None, tuple(sorted(needed)))
    thrown = sum((line.wasted + line.air for line in lines), ZERO)
    return MassFlow(
        lines=lines,
        stages=way.stages,
        base=draft.base,
        into=sum((line.bowl or ZERO for line in lines), ZERO),
        back=sum((line.back for line in lines), ZERO),
        working_extra=sum((line.working_extra for line in lines), ZERO),
        moisture=way.grams_lost(LossKind.MOISTURE),
        waste=thrown + way.grams_lost(LossKind.WASTE) + shares.unclaimed,
        out=way.mass,
        kept_back=shares.kept,
        co_products=co_products(recipe, shares, own=(content, water), rest=rest_of_cut(recipe, lines, book, flows)),
        yields=yield_flow(recipe, book, usable, cut, raw=way.raw if way.portioned else None, computed=draft.computed),
        losses=way.whole,
        content=content,
        water=water,
        lacks=tuple(sorted(unweighed | needed)),
    )

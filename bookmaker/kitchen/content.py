"""What a product consists of: ingoing grams of every stores item, and water, per gram.

Waste takes product away and changes no composition; moisture takes water away and concentrates the rest. A culture that
carries its own seed has the composition to which its feedings converge: if `fresh` grams come in with each batch, the
batch comes to `mass`, and `kept` grams of it were seed, then per gram it holds fresh ÷ (mass − kept).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.figures import Figure, Lack, LackKind, LineFlow
from bookmaker.kitchen.masses import Flows
from bookmaker.kitchen.parts import part_of
from bookmaker.measures.exact import HUNDRED, ONE, ZERO
from bookmaker.model.book import Book
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef
from bookmaker.model.stores import StoresItem

Composition = tuple[Mapping[StoresRef, Decimal], Figure]
"""Items and water, per gram."""

NEARLY_DRY = Decimal(95)
"""Grams of solids in 100 g from which the rest is taken for water, where nobody states it (salt, sugar, fat)."""


@dataclass(frozen=True, slots=True)
class Pot:
    """What of the lines is still in a batch: grams of items, their water, and the seed; `lacks` names unknown water."""

    items: Mapping[StoresRef, Decimal]
    water: Decimal
    seed: Decimal
    lacks: tuple[Lack, ...]


def pot_of(recipe: Recipe, lines: Sequence[LineFlow], left: Sequence[Decimal], book: Book, flows: Flows) -> Pot:
    """Gather the lines of a recipe; `left` is what waste has left of a gram of each stage."""
    items: dict[StoresRef, Decimal] = {}
    water, seed = ZERO, ZERO
    lacks: list[Lack] = []
    shares = [share for stage, share in zip(recipe.stages, left, strict=True) for _ in stage.lines]
    for line, share in zip(lines, shares, strict=True):
        grams = line.stays * share
        if line.seed:
            seed += grams
        elif isinstance(line.target, StoresRef):
            items[line.target] = items.get(line.target, ZERO) + grams
            known = water_share(book.stores[line.target.id])
            water += grams * (known or ZERO)
            if known is None and grams:
                lacks.append(Lack(LackKind.COMPOSITION, line.target.id))
        else:
            part, content, wet, missing = _inside(line.target, book, flows)
            for item, amount in content.items():
                items[item] = items.get(item, ZERO) + grams * amount
            water += grams * wet
            lacks += [Lack(lack.kind, lack.of, (part, *lack.via)) for lack in missing]
    return Pot(items, water, seed, tuple(sorted(set(lacks))))


def _inside(
    target: RecipeRef | CoProductRef, book: Book, flows: Flows
) -> tuple[RecipeRef, Mapping[StoresRef, Decimal], Decimal, tuple[Lack, ...]]:
    part = part_of(target, book)
    assert part is not None
    flow = flows[part]
    if isinstance(target, CoProductRef):
        given = next(each for each in flow.co_products if each.ref.name == target.name)
        return part, given.content, given.water.value or ZERO, given.water.lacks
    return part, flow.content, flow.water.value or ZERO, flow.water.lacks


def per_gram(pot: Pot, mass: Decimal) -> Mapping[StoresRef, Decimal]:
    """Ingoing grams of each item in one gram of a batch that comes to `mass` grams; empty when nothing is left."""
    fresh = mass - pot.seed
    return {item: pot.items[item] / fresh for item in sorted(pot.items)} if fresh > 0 else {}


def water_per_gram(pot: Pot, mass: Decimal, moisture: Decimal) -> Decimal | None:
    """Water in a gram of the batch after `moisture` grams of it left; None when more left than was known."""
    fresh = mass - pot.seed
    share = (pot.water - moisture) / fresh if fresh > 0 else None
    return share if share is not None and share >= 0 else None


def water_share(item: StoresItem) -> Decimal | None:
    """Water in a gram of the item as far as the stores say; nearly dry things hold what their nutrients leave over."""
    if item.composition.water is not None:
        return item.composition.water
    if item.nutrients is None:
        return None
    solids = sum(
        (
            part
            for part in (item.nutrients.fat, item.nutrients.carbohydrate, item.nutrients.protein, item.nutrients.salt)
            if part is not None
        ),
        ZERO,
    )
    return max(ONE - solids / HUNDRED, ZERO) if solids >= NEARLY_DRY else None


def dissolved_share(item: StoresItem) -> Decimal | None:
    """Dissolved solids in a gram of the item: stated °Brix, else its sugars; none in water; None where nothing says."""
    composition = item.composition
    if composition.solids is not None:
        return composition.solids
    if composition.sugars is not None:
        return composition.sugars
    if item.nutrients is not None and item.nutrients.sugars is not None:
        return item.nutrients.sugars / HUNDRED
    return ZERO if composition.water == ONE else None


def dissolved(pot: Pot, book: Book) -> tuple[Decimal, tuple[Lack, ...]]:
    """Grams of dissolved solids in a pot, and the items of which nobody knows."""
    grams, lacks = ZERO, []
    for item, amount in pot.items.items():
        share = dissolved_share(book.stores[item.id])
        grams += amount * (share or ZERO)
        if share is None and amount:
            lacks.append(Lack(LackKind.COMPOSITION, item.id))
    return grams, tuple(sorted(lacks))


def rest_of_cut(recipe: Recipe, lines: Sequence[LineFlow], book: Book, flows: Flows) -> Composition | None:
    """Content and water of what lines leave over of the sheets that they are cut from; None where nothing is cut so."""
    parts = [
        (line.offcut, flows[part])
        for line in lines
        if line.offcut and (part := part_of(line.target, book)) is not None and part != recipe.ref
    ]
    total = sum((grams for grams, _ in parts), ZERO)
    if not total:
        return None
    items: dict[StoresRef, Decimal] = {}
    for grams, flow in parts:
        for item, share in flow.content.items():
            items[item] = items.get(item, ZERO) + grams * share / total
    water = sum((grams * (flow.water.value or ZERO) for grams, flow in parts), ZERO) / total
    lacks = {lack for _, flow in parts for lack in flow.water.lacks}
    return {item: items[item] for item in sorted(items)}, Figure(water, tuple(sorted(lacks)))

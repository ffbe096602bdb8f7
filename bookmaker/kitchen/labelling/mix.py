"""What a product is mixed from, level by level: grams of each line, as used, in a gram of the finished product.

The weight of a line is what stays of it; moisture concentrates, waste changes nothing. A component counts with its own
finished weight, as it was when it was used. What is left over of another recipe stands for the recipe that it comes
from.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.allergens import item_allergens
from bookmaker.kitchen.figures import AllergenFigure, Figures, Lack, LackKind, MassFlow, Path
from bookmaker.kitchen.law import LAWS
from bookmaker.kitchen.parts import cut_lines, is_seed, part_of, sources_of
from bookmaker.measures.exact import ONE, ZERO
from bookmaker.model.book import Book
from bookmaker.model.line import Line, LossKind
from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target
from bookmaker.model.stores import StoresKind

SETTLED = Decimal(1).scaleb(-20)
"""Shares are held against limits at twenty decimals, far beyond any scale: 2 % is 2 %, however it was divided."""


def settled(share: Decimal) -> Decimal:
    """A share as it is compared: without the dust of divisions."""
    return share.quantize(SETTLED)


@dataclass(frozen=True, slots=True)
class Part:
    """A line's share of the product: `target` is a stores item or a sized recipe, reached from the line by `through`.

    `choices` are the line's alternatives, `unweighed` says that nobody knows how much goes in.
    """

    target: StoresRef | RecipeRef
    share: Decimal
    through: Path
    line: Line
    stage: str
    choices: tuple[StoresRef | RecipeRef, ...] = ()
    unweighed: bool = False


@dataclass(frozen=True, slots=True)
class Mix:
    """The parts of one recipe, in the order written, and what cannot be known of them."""

    parts: tuple[Part, ...]
    lacks: tuple[Lack, ...] = ()


class Mixes:
    """The mixes of a book's recipes, each worked out when first asked for."""

    def __init__(self, book: Book, figures: Figures) -> None:
        self.book = book
        self.figures = figures
        self._known: dict[RecipeRef, Mix] = {}
        self._allergens: dict[str, AllergenFigure] = {}

    def of(self, ref: RecipeRef) -> Mix:
        """One sized recipe's mix."""
        known = self._known.get(ref)
        if known is None:
            known = self._known[ref] = self._mix(self.book.recipes[ref], self.figures.recipes[ref].flow)
        return known

    def declared(self, item: str) -> tuple[str, ...]:
        """The allergens of one stores item that the region's law wants set apart."""
        law = LAWS[self.book.house.region]
        return tuple(name for name in self.allergens(item).contains if law.group(name) is not None)

    def allergens(self, item: str) -> AllergenFigure:
        """One stores item's allergens, worked out once."""
        known = self._allergens.get(item)
        if known is None:
            known = self._allergens[item] = item_allergens(self.book.stores[item], self.book)
        return known

    def walk(self, ref: RecipeRef) -> Iterator[tuple[Path, StoresRef, Decimal]]:
        """Every stores item that a recipe consists of, through all levels, with its way and its share."""
        for part in self.of(ref).parts:
            yield from self._below(part.target, part.through, part.share)
            for choice in part.choices:
                yield from self._below(choice, (choice,), ZERO)

    def _below(self, target: Target, way: Path, share: Decimal) -> Iterator[tuple[Path, StoresRef, Decimal]]:
        if isinstance(target, StoresRef):
            yield way, target, share
        elif isinstance(target, RecipeRef):
            for further, item, inside in self.walk(target):
                yield (*way, *further), item, share * inside

    def _mix(self, recipe: Recipe, flow: MassFlow) -> Mix:
        left = _left(recipe, flow)
        seed = sum((grams for grams, line in zip(left, flow.lines, strict=True) if line.seed), ZERO)
        fresh = flow.out - seed
        parts: list[Part] = []
        lacks: list[Lack] = []
        stages = [stage.name for stage in recipe.stages for _ in stage.lines]
        for line, moved, grams, stage in zip(recipe.lines, flow.lines, left, stages, strict=True):
            if is_seed(line, recipe, self.book):
                continue
            if moved.bowl is None:
                lacks.append(Lack(LackKind.AMOUNT, line.name))
            share = grams / fresh if fresh > 0 else ZERO
            parts += self._parts(line, share, stage, unweighed=moved.bowl is None)
        if fresh <= 0:
            lacks.append(Lack(LackKind.YIELD, recipe.title))
        return Mix(tuple(parts), tuple(dict.fromkeys(lacks)))

    def _parts(self, line: Line, share: Decimal, stage: str, *, unweighed: bool) -> Iterator[Part]:
        choices = tuple(found for other in line.alternatives for found, _, _ in self._sources(other))
        for target, through, part in self._sources(line.target):
            yield Part(target, share * part, through, line, stage, choices, unweighed)

    def _sources(self, target: Target) -> Iterator[tuple[StoresRef | RecipeRef, Path, Decimal]]:
        """What a line draws on: the way there, and the share of it."""
        match target:
            case StoresRef(id):
                if self.book.stores[id].kind is StoresKind.FOOD:
                    yield target, (target,), ONE
            case CoProductRef():
                yield from self._left_over(target)
            case RecipeRef():
                ref = self.book.sized(target)
                if self.book.recipes[ref].kind is not Kind.MOULDING:
                    yield ref, (ref,), ONE

    def _left_over(self, target: CoProductRef) -> Iterator[tuple[RecipeRef, Path, Decimal]]:
        """The recipes that a co-product is left over of, by the weight of what each leaves."""
        parent = self.book.recipe(target.recipe)
        sources = sources_of(target, self.book)
        offcuts: Mapping[RecipeRef, Decimal] = {}
        if sources != (parent.ref,):
            offcuts = _offcuts(parent, self.figures.recipes[parent.ref].flow, self.book)
        total = sum(offcuts.values(), ZERO)
        for source in sources:
            share = offcuts.get(source, ZERO) / total if total else ONE / len(sources)
            yield source, (target, source), share


def _offcuts(parent: Recipe, flow: MassFlow, book: Book) -> dict[RecipeRef, Decimal]:
    cut = {line.id for line in cut_lines(parent)}
    grams: dict[RecipeRef, Decimal] = {}
    for line, moved in zip(parent.lines, flow.lines, strict=True):
        part = part_of(line.target, book)
        if line.id in cut and part is not None:
            grams[part] = grams.get(part, ZERO) + moved.offcut
    return grams


def _left(recipe: Recipe, flow: MassFlow) -> list[Decimal]:
    """What waste has left of each line's mass at the end of the batch."""
    kept = ONE
    for loss in flow.losses:
        kept *= ONE - loss.share if loss.kind is LossKind.WASTE else ONE
    shares: list[Decimal] = []
    for stage in reversed(flow.stages):
        for loss in stage.losses:
            kept *= ONE - loss.share if loss.kind is LossKind.WASTE else ONE
        shares.append(kept)
    shares.reverse()
    by_line = [share for stage, share in zip(recipe.stages, shares, strict=True) for _ in stage.lines]
    return [line.stays * share for line, share in zip(flow.lines, by_line, strict=True)]

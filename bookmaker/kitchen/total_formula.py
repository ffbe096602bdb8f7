"""The total formula of a dough: preferments and soakers unfolded, so that 100 % is all the flour there is.

Percents are of what goes into the bowl (layout of the Bread Bakers Guild of America's formula standards: overall
formula, prefermented flour as percent of all flour). Seed flour counts. A component that is neither preferment nor
soaker stays one line.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.content import water_share
from bookmaker.kitchen.figures import Figure, Lack, LackKind, LineFlow, MassFlow, TotalFormula, TotalLine
from bookmaker.kitchen.formula import is_flour
from bookmaker.kitchen.masses import Flows
from bookmaker.kitchen.parts import part_of
from bookmaker.measures.exact import HUNDRED, ONE, ZERO
from bookmaker.model.book import Book
from bookmaker.model.line import Line, StageKind
from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.refs import RecipeRef, StoresRef, Target
from bookmaker.model.stores import StoresItem

SALT = Decimal(95)
"""Grams of salt in 100 g from which an item counts as salt."""


_Share = Callable[[StoresItem], Decimal | None]
"""What a gram of an item holds of something; None where nobody says."""


@dataclass(frozen=True, slots=True)
class _Portion:
    """Grams of one thing in the dough: whether it came in with a preferment or soaker, and if it fermented there."""

    target: Target
    grams: Decimal
    inside: bool
    fermented: bool


def total_formula_of(recipe: Recipe, flow: MassFlow, book: Book, flows: Flows) -> TotalFormula | None:
    """Unfold a recipe's preferments and soakers; None where it has none, or no flour.

    Salt, sugar and fat are percents of all flour: salt counts salt itself; sugar and fat what the other things hold
    of them, the flour's own left out. What is not known of an item is a lack.
    """
    portions = _portions(recipe, flow, book, flows)
    if not any(portion.inside for portion in portions):
        return None
    flour = _grams(p for p in portions if is_flour(p.target, book))
    if not flour:
        return None
    fermented = _grams(p for p in portions if is_flour(p.target, book) and p.fermented)
    added = [p for p in portions if not is_flour(p.target, book)]
    own: dict[Target, Decimal] = {}
    inside: dict[Target, Decimal] = {}
    for portion in portions:
        into = inside if portion.inside else own
        into[portion.target] = into.get(portion.target, ZERO) + portion.grams
    return TotalFormula(
        lines=tuple(
            TotalLine(
                target,
                own.get(target, ZERO),
                inside.get(target, ZERO),
                (own.get(target, ZERO) + inside.get(target, ZERO)) / flour * HUNDRED,
            )
            for target in dict.fromkeys([*own, *inside])
        ),
        flour=flour,
        prefermented_flour=fermented / flour * HUNDRED,
        hydration=_grams(p for p in added if is_water(p.target, book)) / flour * HUNDRED,
        effective_hydration=_held(added, flour, book, flows, water_share),
        salt=_held(added, flour, book, flows, salt_share),
        sugar=_held(added, flour, book, flows, sugar_share),
        fat=_held(added, flour, book, flows, fat_share),
    )


def _portions(recipe: Recipe, flow: MassFlow, book: Book, flows: Flows) -> list[_Portion]:
    found: list[_Portion] = []
    lines = iter(flow.lines)
    for stage in recipe.stages:
        for line in stage.lines:
            found += _line(line, next(lines), stage.kind, (recipe, flow), book=book, flows=flows)
    return found


def _line(
    line: Line, amount: LineFlow, stage: StageKind, own: tuple[Recipe, MassFlow], *, book: Book, flows: Flows
) -> Iterable[_Portion]:
    recipe, flow = own
    if line.as_needed:  # dusting is no part of the dough
        return
    grams = amount.bowl or ZERO
    part = part_of(line.target, book) if isinstance(line.target, RecipeRef) else None
    kind = book.recipes[part].kind if part else None
    if part is not None and kind in {Kind.PREFERMENT, Kind.SOAKER}:
        content = flow.content if part == recipe.ref else flows[part].content
        for item, share in content.items():
            yield _Portion(item, grams * share, True, kind is Kind.PREFERMENT)
    elif grams:
        inside = stage is not StageKind.PLAIN
        yield _Portion(line.target, grams, inside, stage is StageKind.PREFERMENT)


def _grams(portions: Iterable[_Portion]) -> Decimal:
    return sum((portion.grams for portion in portions), ZERO)


def is_water(target: Target, book: Book) -> bool:
    """Whether it is water itself, which alone counts for the plain hydration."""
    return isinstance(target, StoresRef) and book.stores[target.id].composition.water == ONE


def salt_share(item: StoresItem) -> Decimal | None:
    """All of an item that is salt, nothing of any other; None where nobody says."""
    if item.nutrients is None or item.nutrients.salt is None:
        return ZERO if item.composition.water == ONE else None
    return ONE if item.nutrients.salt >= SALT else ZERO


def sugar_share(item: StoresItem) -> Decimal | None:
    """Sugars in a gram of an item; None where nobody says."""
    return _known(item, item.composition.sugars, item.nutrients.sugars if item.nutrients else None)


def fat_share(item: StoresItem) -> Decimal | None:
    """Fat in a gram of an item; None where nobody says."""
    return _known(item, item.composition.fat, item.nutrients.fat if item.nutrients else None)


def _known(item: StoresItem, composition: Decimal | None, nutrient: Decimal | None) -> Decimal | None:
    """A share from the composition, else from the nutrients per 100 g; water holds none."""
    if composition is not None:
        return composition
    if nutrient is not None:
        return nutrient / HUNDRED
    return ZERO if item.composition.water == ONE else None


def _held(portions: Iterable[_Portion], flour: Decimal, book: Book, flows: Flows, share: _Share) -> Figure:
    """Percent of all flour of what `share` says of each item, looking into components too."""
    grams = ZERO
    lacks: set[Lack] = set()
    for portion in portions:
        if isinstance(portion.target, StoresRef):
            held: tuple[tuple[StoresRef, Decimal], ...] = ((portion.target, ONE),)
            via: tuple[RecipeRef, ...] = ()
        else:
            part = part_of(portion.target, book)
            assert part is not None
            held, via = tuple(flows[part].content.items()), (part,)
        for item, amount in held:
            if is_flour(item, book):
                continue
            known = share(book.stores[item.id])
            grams += portion.grams * amount * (known or ZERO)
            if known is None:
                lacks.add(Lack(LackKind.COMPOSITION, item.id, via))
    return Figure(grams / flour * HUNDRED, tuple(sorted(lacks)))

"""Percent of a base: which lines count as 100 %, and what 100 % weighs.

Flour is what the stores mark as flour (never starch or nut flours), and never what is dusted on (`as needed`).
"""

from collections.abc import Sequence
from decimal import Decimal

from bookmaker.measures.exact import HUNDRED, ONE, ZERO
from bookmaker.model.book import Book
from bookmaker.model.line import Line, Percent
from bookmaker.model.recipe import BaseKind, Recipe
from bookmaker.model.refs import StoresRef, Target


def is_flour(target: Target, book: Book) -> bool:
    """Whether the stores mark the item as flour."""
    return isinstance(target, StoresRef) and book.stores[target.id].flour


def in_base(line: Line, recipe: Recipe, book: Book) -> bool:
    """Whether the line is part of what counts as 100 %."""
    match recipe.base.kind:
        case BaseKind.TOTAL:
            return True
        case BaseKind.ITEM:
            return line.target == recipe.base.target
        case BaseKind.FLOUR:
            return is_flour(line.target, book) and not line.as_needed


def in_percent(recipe: Recipe) -> bool:
    """Whether the formula is written in percent, at least in part."""
    return any(isinstance(line.quantity, Percent) for line in recipe.lines)


def base_percent(recipe: Recipe, book: Book) -> Decimal:
    """What the base's lines in percent add up to."""
    return sum(
        (
            line.quantity.percent
            for line in recipe.lines
            if isinstance(line.quantity, Percent) and in_base(line, recipe, book)
        ),
        ZERO,
    )


def written_base(recipe: Recipe, bowls: Sequence[Decimal | None], book: Book) -> Decimal | None:
    """Grams that 100 % weighs by what is written; None when neither weighed lines of the base nor `batch` say so.

    `bowls` holds the grams of each line that has any without knowing the base. Weighed lines of the base count first:
    with 200 g of one flour and 80 % of another the base is 1000 g. Else `batch`, which is all that goes into the
    bowl.
    """
    weighed = sum(
        (
            grams
            for line, grams in zip(recipe.lines, bowls, strict=True)
            if grams is not None and in_base(line, recipe, book)
        ),
        ZERO,
    )
    shared = base_percent(recipe, book) / HUNDRED
    if weighed:
        return weighed / (ONE - shared) if shared < ONE else None
    if recipe.batch is None:
        return None
    percents = sum((line.quantity.percent for line in recipe.lines if isinstance(line.quantity, Percent)), ZERO)
    rest = recipe.batch - sum((grams for grams in bowls if grams is not None), ZERO)
    return rest * HUNDRED / percents if percents and rest > 0 else None


def weighed_base(recipe: Recipe, bowls: Sequence[Decimal | None], book: Book) -> Decimal | None:
    """Grams of the lines that count as 100 %, all weighed; None when there are none."""
    found = sum(
        (
            grams
            for line, grams in zip(recipe.lines, bowls, strict=True)
            if grams is not None and in_base(line, recipe, book)
        ),
        ZERO,
    )
    return found or None

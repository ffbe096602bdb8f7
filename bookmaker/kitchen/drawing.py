"""The draw list: what to take from the stores for everything that is made, as bought."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from bookmaker.kitchen.batches import Rounding, to_whole
from bookmaker.kitchen.scaled import DrawLine, ScaledLine, ScaledRecipe
from bookmaker.measures.exact import ONE, ZERO
from bookmaker.model.book import Book
from bookmaker.model.line import Grams, Line
from bookmaker.model.refs import StoresRef


def draw_list(recipes: Iterable[ScaledRecipe], book: Book) -> tuple[DrawLine, ...]:
    """Every stores item of all recipes, in the order in which it is first needed.

    Optional lines are drawn; of alternatives the first. Working mass adds up: two recipes may need theirs at the same
    hour.
    """
    found: dict[StoresRef, DrawLine] = {}
    for scaled in recipes:
        for line, moved in zip(book.recipes[scaled.ref].lines, scaled.lines, strict=True):
            if isinstance(line.target, StoresRef):
                known = found.get(line.target, DrawLine(line.target, ZERO, ZERO, ZERO))
                found[line.target] = _added(known, line, moved, scaled.plan.batches, book)
    return tuple(found.values())


def _added(known: DrawLine, line: Line, moved: ScaledLine, batches: int, book: Book) -> DrawLine:
    if moved.bowl is None:
        return replace(known, unmeasured=True)
    count = moved.each.count
    usable = ONE if count is not None else book.stores[known.item.id].usable
    drawn = max(moved.bowl * _high(line), moved.drawn)
    # a number of pieces is told only where every line of the item counts them
    first = not known.bowl
    counted = count is not None and (first or known.pieces is not None)
    pieces = (known.pieces or ZERO) + count * batches if count is not None and counted else None
    return DrawLine(
        known.item,
        known.bowl + moved.bowl,
        known.bought + drawn / usable,
        known.returns + moved.returns,
        pieces,
        known.unmeasured,
    )


def _high(line: Line) -> Decimal:
    """How much more than the middle may be needed where a line says `about`."""
    if line.high is None or not isinstance(line.quantity, Grams) or not line.quantity.grams:
        return ONE
    return line.high / line.quantity.grams


def packaging_list(scaled: ScaledRecipe, book: Book) -> tuple[DrawLine, ...]:
    """Packaging for what is made of the recipe itself, in whole pieces."""
    found = []
    for line in book.recipes[scaled.ref].packaging:
        count = line.count * scaled.plan.factor
        if line.per is not None:
            if scaled.pieces is None:
                continue
            count = line.count * scaled.pieces / line.per
        found.append(DrawLine(line.target, ZERO, ZERO, ZERO, to_whole(count, Rounding.UP)))
    return tuple(found)

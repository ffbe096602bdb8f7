"""Weights as the house's scales can show them, and what rounding does to them."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from bookmaker.kitchen.figures import MassFlow
from bookmaker.measures.exact import ONE, exactly
from bookmaker.measures.scales import Weighed, weigh
from bookmaker.model.book import Book
from bookmaker.model.line import Cut, Line, Pieces, Sheets
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import StoresRef

LIMIT = Decimal("0.01")
"""A weight may be rounded by so much of itself without being flagged."""

CAREFUL_LIMIT = Decimal("0.005")
"""The same for leaven, salt, gelling agents and preservatives."""

STEPS = tuple(Decimal(step) for step in ("5", "2", "1", "0.5", "0.2", "0.1", "0.05", "0.02", "0.01", "0.005", "0.001"))
"""Steps of scales that can be bought, in grams."""


@dataclass(frozen=True, slots=True)
class RoundingFlag:
    """A weight that the scale cannot show well enough, and what would help.

    `error` and `limit` are fractions of the weight. A scale in steps of `finer` grams is always good enough (None: no
    such scale is sold); so is a batch `larger` times as big on the scale that there is; and so is, where `dilute`,
    one part stirred into nine of the formula's own liquid, of which ten times the weight is taken.
    """

    error: Decimal
    limit: Decimal
    finer: Decimal | None
    larger: Decimal
    dilute: bool


@dataclass(frozen=True, slots=True)
class LineWeight:
    """One line at some factor: exact grams, what the scale shows (None: not weighed), and how many to count."""

    line: str
    grams: Decimal | None
    weighed: Weighed | None
    count: Decimal | None
    flag: RoundingFlag | None = None


def weigh_lines(recipe: Recipe, flow: MassFlow, factor: Decimal, book: Book) -> tuple[LineWeight, ...]:
    """Every line at `factor` times the tested batch, in the order of the formula.

    Lines that are counted in pieces, cuts or sheets are not weighed. Whoever counts by an item's own measure (`2
    leaves`) gets both, since at another factor the count is seldom whole.
    """
    found = []
    for line, moved in zip(recipe.lines, flow.lines, strict=True):
        grams = None if moved.bowl is None else moved.bowl * factor
        sheets = moved.sheets if isinstance(line.quantity, Sheets) else None
        counted = moved.pieces if moved.pieces is not None else sheets
        count = None if counted is None else counted * factor
        if grams is None or isinstance(line.quantity, Pieces | Cut | Sheets):
            found.append(LineWeight(line.id, grams, None, count))
            continue
        weighed = weigh(grams, book.house.scales)
        found.append(LineWeight(line.id, grams, weighed, count, rounding_flag(weighed, careful=_careful(line, book))))
    return tuple(found)


def _careful(line: Line, book: Book) -> bool:
    return isinstance(line.target, StoresRef) and book.stores[line.target.id].careful


def rounding_flag(weighed: Weighed, *, careful: bool) -> RoundingFlag | None:
    """The flag for a weight that is rounded by more than its limit; None when it is good enough."""
    limit = CAREFUL_LIMIT if careful else LIMIT
    if weighed.error <= limit:
        return None
    # the worst that rounding to a step can do is half a step
    allowed = 2 * limit * weighed.exact
    step = weighed.scale.step if weighed.scale else max(2 * abs(weighed.shown - weighed.exact), ONE)
    return RoundingFlag(
        error=weighed.error,
        limit=limit,
        finer=next((each for each in STEPS if each <= allowed and each < step), None),
        larger=(step / allowed).quantize(Decimal("0.1"), rounding=ROUND_CEILING),
        dilute=careful,
    )


@dataclass(frozen=True, slots=True)
class Column:
    """A batch column: every line at one factor."""

    factor: Decimal
    lines: tuple[LineWeight, ...]


def columns(recipe: Recipe, flow: MassFlow, factors: Sequence[Decimal], book: Book) -> tuple[Column, ...]:
    """The formula at each factor, for the recipe's page."""
    with exactly():
        return tuple(Column(factor, weigh_lines(recipe, flow, factor, book)) for factor in factors)

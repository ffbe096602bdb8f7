"""A card's formula: what to weigh or count for each of the house's batches, on which scale, from which components."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import islice

from bookmaker.editions.cards.views import (
    CardAmount,
    CardComponent,
    CardFormula,
    CardLine,
    CardStage,
)
from bookmaker.editions.team.places import Places
from bookmaker.editions.team.project_formula import demands, is_careful, own_measure
from bookmaker.editions.team.rounding import mass, percent, sum_weight, trimmed
from bookmaker.editions.team.views import Amount
from bookmaker.kitchen.figures import LineFlow, MassFlow
from bookmaker.kitchen.masses import Flows
from bookmaker.kitchen.weighing import CAREFUL_LIMIT, LIMIT, LineWeight, columns
from bookmaker.measures.counts import counted
from bookmaker.measures.exact import ONE
from bookmaker.measures.scales import weigh
from bookmaker.model.book import Book
from bookmaker.model.line import Cut, Line, Pieces, Rest, Sheets, Unmeasured
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef
from bookmaker.model.yields import FrameYield, TinYield, TrayYield


def card_formula(recipe: Recipe, flow: MassFlow, book: Book, places: Places) -> CardFormula:
    """The formula with a column for each batch of the house, the tested one among them, in order of size."""
    factors = sorted({*book.house.batches, ONE})
    weighed = columns(recipe, flow, factors, book)
    tested = weighed[factors.index(ONE)].lines
    usual = _usual_step(tested)
    rows = zip(recipe.lines, flow.lines, zip(*(column.lines for column in weighed), strict=True), strict=True)
    lines = (
        replace(
            _line(line, moved, row, book, places), scale=_scale(row, usual, book, careful=is_careful(line.target, book))
        )
        for line, moved, row in rows
    )
    return CardFormula(
        batches=tuple(trimmed(factor, 3) for factor in factors),
        stages=tuple(
            CardStage(stage.name, stage.kind.value, tuple(islice(lines, len(stage.lines)))) for stage in recipe.stages
        ),
        weights=tuple(sum_weight(flow.into * factor).grams for factor in factors),
    )


def _line(line: Line, moved: LineFlow, row: Sequence[LineWeight], book: Book, places: Places) -> CardLine:
    is_counted = isinstance(line.quantity, Pieces | Cut | Sheets)
    own, word, shape = own_measure(line.quantity)
    times = trimmed(line.times, 3) if line.times != ONE and not is_counted else None
    each = moved.bowl / line.times if times is not None and moved.bowl is not None else None
    return CardLine(
        ingredient=places.names[line.target],
        amounts=tuple(_amount(each, line, book) for each in row),
        words=line.quantity.words if isinstance(line.quantity, Unmeasured) else "",
        measure=None if own is None or is_counted else trimmed(own, 3),
        measure_word="" if is_counted else word,
        shape=shape,
        times=times,
        each=None if each is None else trimmed(weigh(each, book.house.scales).shown, 3),
        low=None if line.low is None else trimmed(line.low, 1),
        high=None if line.high is None else trimmed(line.high, 1),
        preparation=line.preparation,
        note=line.note,
        as_bought=line.as_bought,
        as_needed=line.as_needed,
        optional=line.optional,
        seed=moved.seed,
        alternatives=tuple(places.names[other] for other in line.alternatives),
        working=None if line.working is None else trimmed(weigh(line.working, book.house.scales).shown, 3),
        goes_back=line.rest is Rest.BACK and bool(moved.back),
        at_most=percent(line.at_most) if line.at_most is not None else None,
        is_component=isinstance(line.target, RecipeRef | CoProductRef) and not moved.seed,
    )


def _amount(found: LineWeight, line: Line, book: Book) -> CardAmount | None:
    """What to weigh; of what is counted, how many."""
    if found.weighed is not None:
        return CardAmount(trimmed(found.weighed.shown, 3), coarse=found.flag is not None)
    if found.count is None:
        return CardAmount(sum_weight(found.grams).grams) if found.grams is not None else None
    count = trimmed(found.count, 2)
    return CardAmount(count, word=_word(line, count, book))


def _word(line: Line, count: Decimal, book: Book) -> str:
    """What a counted line counts."""
    match line.quantity:
        case Pieces(_, word) | Cut(_, _, word):
            return counted(word, count)
        case _:
            yields = book.recipes[book.sized(line.target)].yields if isinstance(line.target, RecipeRef) else None
            match yields:
                case FrameYield():
                    word = "frame"
                case TinYield():
                    word = "tin"
                case TrayYield():
                    word = "tray"
                case _:
                    word = "sheet"
            return word if count == ONE else f"{word}s"


def _usual_step(lines: Sequence[LineWeight]) -> Decimal | None:
    """The step of the coarsest scale that some line of the tested batch is weighed on."""
    return max((line.weighed.scale.step for line in lines if line.weighed and line.weighed.scale), default=None)


def _scale(row: Sequence[LineWeight], usual: Decimal | None, book: Book, *, careful: bool) -> Decimal | None:
    """The step of the scale that a line must be weighed on, where the next coarser one may err by too much.

    It is named only where it is finer than the one that the heaviest line of the batch is on.
    """
    for found in row:
        scale = found.weighed.scale if found.weighed else None
        if scale is None or usual is None or scale.step >= usual or not found.grams:
            continue
        coarser = min((each.step for each in book.house.scales if each.step > scale.step), default=None)
        if coarser is not None and coarser / 2 > found.grams * (CAREFUL_LIMIT if careful else LIMIT):
            return scale.step
    return None


def card_components(recipe: Recipe, flows: Flows, book: Book, places: Places) -> tuple[CardComponent, ...]:
    """What the tested batch takes of each component, and how many of the component's own batches that is."""
    found = []
    for ref, grams in demands(recipe, flows[recipe.ref], book).items():
        flow, component = flows[ref], book.recipes[ref]
        if not grams or not flow.usable:
            continue
        factor = grams / flow.usable
        pieces = flow.yields.pieces * factor if flow.yields.pieces is not None else None
        least = component.make.least
        found.append(
            CardComponent(
                name=places.names[ref],
                weight=mass(grams),
                batches=trimmed(factor, 2),
                kind=component.kind.value,
                code=component.code,
                count=Amount(trimmed(pieces, 1 if pieces < 10 else 0)) if pieces is not None else None,
                word=flow.yields.word if pieces is not None else "",
                least=mass(least) if least is not None and least > grams else None,
            )
        )
    return tuple(found)

"""Scaling a recipe to an order, and one of its components with it."""

from dataclasses import dataclass
from decimal import Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.exercises.lesson import ROUND_GRAMS, Lesson, Ratio, grams, whole_number
from bookmaker.editions.workbook.views_parts import Cell, Exercise, Filled, Grid, Part, Say, Word, say, without_answers
from bookmaker.kitchen.figures import MassFlow
from bookmaker.model.line import Line, Unmeasured
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef
from bookmaker.model.yields import MouldYield, TinYield

NAME = "scaling"


@dataclass(frozen=True, slots=True)
class _Order:
    """What is ordered, in words; how much a batch gives of it; how often the batch is made."""

    words: Say
    factor: Ratio
    working: Say


def make(lesson: Lesson) -> Exercise | None:
    """By the printed weights: exactly as much as is ordered, nothing rounded up to whole batches."""
    order = _order(lesson)
    lines = _lines(lesson.recipe, lesson.flow)
    if order is None or len(lines) < 2:
        return None
    names = lesson.names
    asked = lesson.dice.some_of([line.id for line, _ in lines], 4)
    grid = Grid(
        ("Ingredient", "One batch, g", "This order, g"),
        tuple(_row(names[line.id], weight, order.factor, line.id in asked) for line, weight in lines),
        say("%(recipe)s", recipe=lesson.title),
    )
    working = [order.working]
    working += [
        say(
            "%(line)s: %(one)s × %(factor)s = %(all)s",
            line=names[line.id],
            one=weight,
            factor=order.factor.shown,
            all=grams(order.factor.of(weight)),
        )
        for line, weight in lines
        if line.id in asked
    ]
    task: list[Part] = [
        order.words,
        say(
            "Make exactly what is ordered: nothing is rounded up to whole batches here. %(round)s",
            round=Word(ROUND_GRAMS),
        ),
        without_answers(grid),
    ]
    answer = [grid]
    if below := _component(lesson, lines, order.factor):
        needed, part, usable, inside, chosen = below
        title = lesson.book.name(part)
        share = Ratio(needed.over, needed.under * usable)
        second = Grid(
            ("Ingredient", "One batch, g", "This order, g"),
            tuple(_row(name, weight, share, name in chosen) for name, weight in inside),
            say("%(part)s: a batch gives %(usable)s g", part=title, usable=usable),
        )
        task += [
            say("The order also needs %(part)s. Scale it to what the order takes.", part=title),
            without_answers(second),
        ]
        answer.append(second)
        working.append(
            say(
                "%(part)s: needed %(needed)s g ÷ %(usable)s g = %(share)s batches",
                part=title,
                needed=trimmed(needed.over / needed.under, 2),
                usable=usable,
                share=share.shown,
            )
        )
        working += [
            say(
                "%(line)s: %(one)s × %(needed)s ÷ %(usable)s = %(all)s",
                line=name,
                one=weight,
                needed=trimmed(needed.over / needed.under, 2),
                usable=usable,
                all=grams(share.of(weight)),
            )
            for name, weight in inside
            if name in chosen
        ]
    return Exercise(NAME, tuple(task), tuple(answer), tuple(working))


def _row(name: str, weight: Decimal, factor: Ratio, asked: bool) -> tuple[Cell, ...]:
    return name, weight, Filled(grams(factor.of(weight)).value) if asked else "–"


def _lines(recipe: Recipe, flow: MassFlow) -> tuple[tuple[Line, Decimal], ...]:
    """All lines that have a weight, as printed."""
    return tuple(
        (line, trimmed(moved.bowl, 1))
        for line, moved in zip(recipe.lines, flow.lines, strict=True)
        if moved.bowl and trimmed(moved.bowl, 1) and not isinstance(line.quantity, Unmeasured)
    )


def _order(lesson: Lesson) -> _Order | None:
    recipe, yields, dice = lesson.recipe, lesson.flow.yields, lesson.dice
    pieces = whole_number(yields.pieces)
    if pieces:
        if isinstance(recipe.yields, MouldYield | TinYield):
            times = dice.between(2, 9)
            count = pieces * times
        else:
            # quarters of a batch, where they come to whole pieces
            quarters = [n for n in range(5, 24) if pieces * n % 4 == 0 and n != 4]
            count = pieces * dice.one_of(quarters) // 4
        words = say(
            "A batch gives %(pieces)s %(word)s. The order is %(count)s.",
            pieces=pieces,
            word=Word(yields.word or "pieces"),
            count=count,
        )
        factor = Ratio(Decimal(count), Decimal(pieces))
        return _Order(
            words,
            factor,
            say("Factor: %(count)s ÷ %(pieces)s = %(factor)s", count=count, pieces=pieces, factor=factor.shown),
        )
    usable = yields.usable.value
    if usable is None or not trimmed(usable, 0):
        return None
    mass = trimmed(usable, 0)
    count = max(100, int(mass * dice.between(6, 42) / 10 / 50) * 50)
    words = say(
        "A batch gives %(usable)s. The order is %(count)s.", usable=Amount(mass, "g"), count=Amount(Decimal(count), "g")
    )
    factor = Ratio(Decimal(count), mass)
    working = say("Factor: %(count)s g ÷ %(usable)s g = %(factor)s", count=count, usable=mass, factor=factor.shown)
    return _Order(words, factor, working)


_Below = tuple[Ratio, RecipeRef, Decimal, list[tuple[str, Decimal]], tuple[str, ...]]


def _component(lesson: Lesson, lines: tuple[tuple[Line, Decimal], ...], factor: Ratio) -> _Below | None:
    """A component, what the order takes of it, what its batch gives, and its lines with those that are asked for."""
    parts = [(line, weight, part) for line, weight in lines if (part := lesson.component(line)) is not None]
    # one that several lines draw on would need them summed up
    single = [each for each in parts if sum(other[2] == each[2] for other in parts) == 1]
    if not single:
        return None
    _, weight, part = lesson.dice.one_of(single)
    flow = lesson.figures.recipes[part].flow
    if not flow.usable or not trimmed(flow.usable, 0):
        return None
    inside = [(line.name, grams_) for line, grams_ in _lines(lesson.book.recipes[part], flow)]
    if len({name for name, _ in inside}) != len(inside) or len(inside) < 2:
        return None
    chosen = lesson.dice.some_of([name for name, _ in inside], 3)
    return Ratio(weight * factor.over, factor.under), part, trimmed(flow.usable, 0), inside, chosen

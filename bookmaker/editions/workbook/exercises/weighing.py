"""Weighing out on a given scale: what it shows, and how far that is from what was meant."""

from decimal import Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import (
    Exercise,
    Filled,
    Grid,
    Result,
    Room,
    Say,
    Word,
    say,
    without_answers,
)
from bookmaker.kitchen.weighing import CAREFUL_LIMIT, LIMIT
from bookmaker.measures.exact import HUNDRED
from bookmaker.measures.rounding import to_step
from bookmaker.measures.scales import Scale
from bookmaker.model.refs import StoresRef

NAME = "weighing"
MOST = 4
_FACTORS = tuple(
    Decimal(text) for text in ("0.12", "0.16", "0.23", "0.27", "0.34", "0.38", "0.43", "0.62", "0.77", "1.3")
)


def make(lesson: Lesson) -> Exercise | None:
    """A small batch, on a scale whose step can be felt."""
    lines = [(line, moved.bowl or Decimal(0)) for line, moved in lesson.weighed()]
    if len(lines) < 3:
        return None
    factor = lesson.dice.one_of(_FACTORS)
    scale = _scale(lesson, max(grams for _, grams in lines) * factor)
    names = lesson.names
    needed = {line.id: trimmed(grams * factor, 2) for line, grams in lines}
    worth = [line for line, _ in lines if needed[line.id] >= scale.step]
    if len(worth) < 3:
        return None
    # the smallest lines are those that rounding hurts
    smallest = sorted(worth, key=lambda line: needed[line.id])[: MOST - 1]
    chosen = [line for line in worth if line in smallest or line is worth[0]]
    rows, working = [], []
    for line in chosen:
        exact = needed[line.id]
        shown = to_step(exact, scale.step)
        error = trimmed(abs(shown - exact) * HUNDRED / exact, 2)
        item = lesson.book.stores[line.target.id] if isinstance(line.target, StoresRef) else None
        limit = CAREFUL_LIMIT if item is not None and item.careful else LIMIT
        bound = trimmed(limit * HUNDRED, 1)
        good = Word("yes") if error <= bound else Word("no")
        rows.append((names[line.id], exact, bound, Filled(shown.normalize() + 0), Filled(error), Filled(good)))
        working.append(
            say(
                "%(line)s: nearest step %(shown)s g; (%(more)s − %(less)s) ÷ %(exact)s × 100 = %(error)s %%",
                line=names[line.id],
                shown=shown.normalize() + 0,
                more=max(shown, exact).normalize() + 0,
                less=min(shown, exact).normalize() + 0,
                exact=exact,
                error=error,
            )
        )
    grid = Grid(
        ("Ingredient", "Needed, g", "May err, %", "Scale shows, g", "Error, %", "Good enough?"),
        tuple(rows),
        say("%(factor)s × a batch of %(recipe)s", factor=factor, recipe=lesson.title),
    )
    remedy = say("What can you do about a line that is not good enough? Name one way.")
    task: tuple[Say | Grid | Room, ...] = (
        say(
            "The scale weighs up to %(most)s g in steps of %(step)s g.",
            most=scale.most,
            step=scale.step,
        ),
        say(
            "Write what it should show (halves go up), and the error in percent of the weight needed, to two decimals."
        ),
        without_answers(grid),
        Room(remedy, lines=1),
    )
    ways = say(
        "A finer scale; a larger batch; or, for what dissolves, ten times as much stirred into a known amount of "
        "the formula's liquid, of which a tenth is taken."
    )
    note = say("For the last question any of these ways is right.")
    return Exercise(NAME, task, (grid, Result(remedy, ways)), tuple(working), note)


def _scale(lesson: Lesson, heaviest: Decimal) -> Scale:
    """A scale of the house that takes the heaviest line: not the finest one, if there is a choice."""
    able = sorted((s for s in lesson.book.house.scales if s.most >= heaviest), key=lambda s: (s.step, s.most))
    if not able:
        return Scale(to_step(heaviest * 2 + 500, Decimal(500)), Decimal(1))
    coarse = [scale for scale in able if scale.step <= Decimal(5)][:2]
    return lesson.dice.one_of(coarse or able[:1])

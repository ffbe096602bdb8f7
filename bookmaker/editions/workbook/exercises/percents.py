"""Missing percents of a formula: line ÷ base × 100."""

from decimal import Decimal

from bookmaker.editions.team.rounding import percent_places, trimmed
from bookmaker.editions.workbook.exercises.formula import Formula, formula_of
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import Cell, Exercise, Filled, Grid, Say, say, without_answers
from bookmaker.measures.exact import HUNDRED

NAME = "percents"
MOST = 4
"""Percents that are asked for."""


def make(lesson: Lesson) -> Exercise | None:
    """From the printed weights; None for a recipe whose lines are not all weighed."""
    formula = formula_of(lesson)
    if formula is None:
        return None
    percents = {name: grams * HUNDRED / formula.base for name, grams in formula.lines.items()}
    places = percent_places(percents.values())
    others = [name for name in formula.lines if name not in formula.in_base]
    if len(others) < 2:
        return None
    asked = lesson.dice.some_of(others, MOST)
    grid = Grid(
        ("Ingredient", "g", "%"),
        tuple(_row(name, formula, trimmed(percents[name], places), name in asked) for name in formula.lines),
        say("Formula of %(recipe)s, one batch", recipe=lesson.title),
    )
    digits = (
        "Find the missing percents, to one decimal." if places == 1 else "Find the missing percents, to two decimals."
    )
    return Exercise(
        NAME,
        (formula.hundred, say(digits), without_answers(grid)),
        (grid,),
        (
            say("Percent = weight of the line ÷ weight of the base × 100."),
            *_base_working(formula),
            *(
                say(
                    "%(line)s: %(grams)s ÷ %(base)s × 100 = %(percent)s %%",
                    line=name,
                    grams=formula.lines[name],
                    base=formula.base,
                    percent=trimmed(percents[name], places),
                )
                for name in asked
            ),
        ),
    )


def _row(name: str, formula: Formula, percent: Decimal, asked: bool) -> tuple[Cell, ...]:
    return name, formula.lines[name], Filled(percent) if asked else percent


def _base_working(formula: Formula) -> tuple[Say, ...]:
    if len(formula.in_base) < 2:
        return ()
    return (
        say(
            "Base: %(sum)s = %(base)s g",
            sum=" + ".join(f"{formula.lines[name]:f}" for name in formula.in_base),
            base=formula.base,
        ),
    )

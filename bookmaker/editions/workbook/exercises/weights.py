"""From percents to weights: dough mass ÷ total percent × line percent."""

from decimal import Decimal

from bookmaker.editions.team.rounding import percent_places, trimmed
from bookmaker.editions.workbook.exercises.formula import formula_of
from bookmaker.editions.workbook.exercises.lesson import ROUND_GRAMS, Lesson, grams
from bookmaker.editions.workbook.views_parts import Exercise, Filled, Grid, say, without_answers
from bookmaker.measures.exact import HUNDRED, total

NAME = "weights"
MOST = 4


def make(lesson: Lesson) -> Exercise | None:
    """From the printed percents and a round mass to be mixed."""
    formula = formula_of(lesson)
    if formula is None:
        return None
    exact = {name: weight * HUNDRED / formula.base for name, weight in formula.lines.items()}
    places = percent_places(exact.values())
    percents = {name: trimmed(value, places) for name, value in exact.items()}
    if not all(percents.values()):
        return None
    # between half and four batches, in half kilograms
    batch = total(formula.lines.values())
    mass = 500 * max(1, int(batch * lesson.dice.between(5, 40) / 10 / 500))
    together = total(percents.values())
    weights = {name: mass * value / together for name, value in percents.items()}
    asked = lesson.dice.some_of(list(percents), MOST)
    grid = Grid(
        ("Ingredient", "%", "g"),
        tuple(
            (name, percents[name], Filled(grams(weights[name]).value) if name in asked else "–") for name in percents
        ),
        say("%(recipe)s in percent", recipe=lesson.title),
    )
    return Exercise(
        NAME,
        (
            formula.hundred,
            say("%(mass)s g are to be mixed. Find the weights of the lines with a box.", mass=mass),
            say(ROUND_GRAMS),
            without_answers(grid),
        ),
        (grid,),
        (
            say("All percents together: %(together)s %%", together=together),
            say(
                "One percent weighs %(mass)s ÷ %(together)s = %(one)s g",
                mass=mass,
                together=together,
                one=trimmed(Decimal(mass) / together, 4),
            ),
            *(
                say(
                    "%(line)s: %(mass)s ÷ %(together)s × %(percent)s = %(grams)s",
                    line=name,
                    mass=mass,
                    together=together,
                    percent=percents[name],
                    grams=grams(weights[name]),
                )
                for name in asked
            ),
        ),
    )

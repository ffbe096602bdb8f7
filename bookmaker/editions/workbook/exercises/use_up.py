"""Using up what is left: how much can be made of it."""

from decimal import ROUND_FLOOR, Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.exercises.lesson import ROUND_GRAMS, Lesson, grams, whole_number
from bookmaker.editions.workbook.views_parts import Exercise, Grid, Part, Result, Room, Word, say
from bookmaker.model.refs import StoresRef
from bookmaker.model.yields import MouldYield, TinYield

NAME = "use up"
TRIES = 100


def make(lesson: Lesson) -> Exercise | None:
    """Of two ingredients that are left, one runs out first."""
    lines = [
        (lesson.names[line.id], trimmed(moved.bowl or Decimal(0), 1))
        for line, moved in lesson.weighed()
        if isinstance(line.target, StoresRef)
        and (moved.bowl or 0) >= 50
        and sum(other.target == line.target for other in lesson.recipe.lines) == 1
    ]
    if len(lines) < 2 or isinstance(lesson.recipe.yields, MouldYield | TinYield):
        return None
    dice = lesson.dice
    chosen = dice.some_of(lines, 2)
    for _ in range(TRIES):
        stocks = [max(10, int(weight * dice.between(6, 36) / 10 / 10) * 10) for _, weight in chosen]
        reach = [Decimal(stock) / weight for stock, (_, weight) in zip(stocks, chosen, strict=True)]
        # one of them clearly first, and none so little that nothing comes of it
        if abs(reach[0] - reach[1]) * 10 > max(reach):
            break
    else:
        return None
    short = 0 if reach[0] < reach[1] else 1
    (name, weight), stock = chosen[short], stocks[short]
    other = 1 - short
    pieces = whole_number(lesson.flow.yields.pieces)
    usable = lesson.flow.yields.usable.value
    first = say("Which of the two runs out first?")
    third = say("How much of the other one is left over then? %(round)s", round=Word(ROUND_GRAMS))
    if pieces:
        made = (pieces * stock / weight).to_integral_value(ROUND_FLOOR)
        if not made:
            return None
        second = say("How many whole %(word)s can be made?", word=Word(lesson.flow.yields.word or "pieces"))
        result = Result(second, Amount(made))
        reckoned = say(
            "%(stock)s ÷ %(weight)s × %(pieces)s = %(exact)s, so %(made)s whole ones",
            stock=stock,
            weight=weight,
            pieces=pieces,
            exact=trimmed(pieces * stock / weight, 2),
            made=made,
        )
        gives = say("A batch gives %(pieces)s %(word)s.", pieces=pieces, word=Word(lesson.flow.yields.word or "pieces"))
        used = made * chosen[other][1] / pieces
        unit = ""
    elif usable is not None and trimmed(usable, 0):
        mass = trimmed(usable, 0)
        second = say("How much can be made, to the gram?")
        result = Result(second, Amount(trimmed(mass * stock / weight, 0), "g"))
        reckoned = say(
            "%(stock)s ÷ %(weight)s × %(mass)s = %(made)s g",
            stock=stock,
            weight=weight,
            mass=mass,
            made=trimmed(mass * stock / weight, 0),
        )
        gives = say("A batch gives %(mass)s.", mass=Amount(mass, "g"))
        used = stock * chosen[other][1] / weight
        unit = "g"
    else:
        return None
    left = stocks[other] - used
    task: tuple[Part, ...] = (
        say(
            "Of two ingredients of %(recipe)s this much is left, and is to be used up; of everything "
            "else there is enough.",
            recipe=lesson.title,
        ),
        gives,
        Grid(
            ("Ingredient", "One batch, g", "Left, g"),
            tuple((each, one, left_over) for (each, one), left_over in zip(chosen, stocks, strict=True)),
            say("What there is"),
        ),
        Room(first, lines=1),
        Room(second, unit),
        Room(third, "g"),
    )
    working = [
        say(
            "%(name)s reaches for %(stock)s ÷ %(weight)s = %(reach)s batches",
            name=each,
            stock=there,
            weight=one,
            reach=trimmed(far, 3),
        )
        for (each, one), there, far in zip(chosen, stocks, reach, strict=True)
    ]
    working += [
        say("%(name)s runs out first.", name=name),
        reckoned,
        say(
            "%(name)s left: %(there)s − %(used)s = %(left)s g",
            name=chosen[other][0],
            there=stocks[other],
            used=trimmed(used, 1),
            left=grams(left).value,
        ),
    ]
    return Exercise(NAME, task, (Result(first, name), result, Result(third, grams(left))), tuple(working))

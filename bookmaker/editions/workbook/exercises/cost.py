"""What the ingredients of a piece cost. Only for houses whose apprentices may see costs."""

from decimal import Decimal

from bookmaker.editions.team.rounding import places_after_point, trimmed
from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.exercises.lesson import Lesson, whole_number
from bookmaker.editions.workbook.views_parts import (
    Cell,
    Exercise,
    Filled,
    Grid,
    Part,
    Result,
    Room,
    say,
    without_answers,
)
from bookmaker.kitchen.figures import LackKind, LineCost
from bookmaker.kitchen.parts import part_of
from bookmaker.measures.exact import ZERO, total
from bookmaker.model.refs import CoProductRef

NAME = "cost"
THOUSAND = Decimal(1000)
_FACTORS = tuple(Decimal(text) for text in ("0.5", "1", "2", "3", "4"))


def make(lesson: Lesson) -> Exercise | None:
    """By the printed prices; None where one is missing, or a line is priced by the piece."""
    cost, money = lesson.own.cost, lesson.book.house.money
    names = lesson.names
    lines = [line for line in cost.lines if line.cost.value is None or line.cost.value > ZERO or line.bought]
    if any(lack.kind is not LackKind.STALE_PRICE for line in lines for lack in line.cost.lacks):
        return None
    if len(lines) < 2 or any(line.bought is None or line.per_gram is None for line in lines):
        return None
    factor = lesson.dice.one_of(_FACTORS)
    rows: list[tuple[Cell, ...]] = []
    each: list[Decimal] = []
    working = []
    for line in lines:
        assert line.bought is not None
        price = _price(line, lesson)
        if price is None:
            return None
        mass = trimmed(line.bought * factor, 1)
        per_kilo = places_after_point(price * THOUSAND, 4 if price * THOUSAND < Decimal("0.1") else 2)
        amount = places_after_point(mass * per_kilo / THOUSAND, 2)
        each.append(amount)
        rows.append((names[line.line], mass, per_kilo, Filled(amount)))
        working.append(
            say(
                "%(line)s: %(mass)s ÷ 1000 × %(price)s = %(amount)s",
                line=names[line.line],
                mass=mass,
                price=per_kilo,
                amount=amount,
            )
        )
    whole = total(each)
    if not whole:
        return None
    grid = Grid(
        ("Ingredient", "Bought, g", f"{money} a kg", money),
        tuple(rows),
        say("Ingredients of %(factor)s × a batch of %(recipe)s", factor=factor, recipe=lesson.title),
    )
    first = say("What do the ingredients cost together?")
    task: list[Part] = [
        say("Reckon each line to the cent, then add them up. A component's price is that of its ingredients."),
        without_answers(grid),
        Room(first, money),
    ]
    answer: list[Grid | Result] = [grid, Result(first, Amount(whole, money))]
    working.append(say("Together: %(sum)s = %(whole)s", sum=" + ".join(f"{one:f}" for one in each), whole=whole))
    pieces = whole_number(None if lesson.flow.yields.pieces is None else lesson.flow.yields.pieces * factor)
    if pieces:
        second = say("What does one of the %(pieces)s pieces cost in ingredients, to a tenth of a cent?", pieces=pieces)
        one = places_after_point(whole / pieces, 3)
        task.append(Room(second, money))
        answer.append(Result(second, Amount(one, money)))
        working.append(say("One piece: %(whole)s ÷ %(pieces)s = %(one)s", whole=whole, pieces=pieces, one=one))
    note = say("Ingredients alone: work, energy, packaging and overhead come on top.")
    return Exercise(NAME, tuple(task), tuple(answer), tuple(working), note)


def _price(line: LineCost, lesson: Lesson) -> Decimal | None:
    """What a gram costs in ingredients alone: the work and energy in a component are not asked for."""
    if isinstance(line.target, CoProductRef):
        return None
    part = part_of(line.target, lesson.book)
    if part is None or part == lesson.ref:
        return line.per_gram
    return lesson.figures.recipes[part].cost.ingredients_per_gram.value

"""How warm the water of a dough must be, and how much of it must be ice."""

from decimal import Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import Exercise, Grid, Result, Room, Say, say
from bookmaker.kitchen.total_formula import is_water
from bookmaker.measures.exact import ZERO, exactly, total
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef

NAME = "water temperature"
TRIES = 200

_CELSIUS_ICE, _FAHRENHEIT_ICE = 80, 112
"""Added to the tap's temperature in the rule for ice: 80 K, or 144 °F less the 32 by which the scales differ."""


def make(lesson: Lesson) -> Exercise | None:
    """On the house's own scale, in whole degrees."""
    recipe = lesson.recipe
    if recipe.dough_temperature is None:
        return None
    wet = [moved.bowl or ZERO for line, moved in lesson.weighed() if is_water(line.target, lesson.book)]
    if not wet:
        return None
    fahrenheit = lesson.book.house.fahrenheit
    unit, ice_constant = ("°F", _FAHRENHEIT_ICE) if fahrenheit else ("°C", _CELSIUS_ICE)
    target = trimmed(recipe.dough_temperature.fahrenheit if fahrenheit else recipe.dough_temperature.celsius, 0)
    dice = lesson.dice
    ferment = _ferment(lesson)
    for _ in range(TRIES):
        known = [
            ("flour", _degrees(dice.between(15, 25), fahrenheit)),
            ("room", _degrees(dice.between(18, 30), fahrenheit)),
            *([(ferment, _degrees(dice.between(18, 26), fahrenheit))] if ferment else []),
        ]
        friction = Decimal(dice.between(4, 24)) if fahrenheit else Decimal(dice.between(2, 13))
        tap = _degrees(dice.between(10, 20), fahrenheit)
        count = len(known) + 1
        there = sum((degrees for _, degrees in known), friction)
        needed = target * count - there
        if _degrees(2, fahrenheit) <= needed <= _degrees(38, fahrenheit) and needed != tap:
            break
    else:
        return None
    water = trimmed(total(wet), 0)
    with exactly():
        ice = max(ZERO, water * (tap - needed) / (tap + ice_constant))
    rows = [(name, Amount(degrees, unit)) for name, degrees in (*known, ("tap water", tap))]
    rows.append(("warmed by mixing (friction)", Amount(friction, unit)))
    first = say("How warm must the water be, in %(unit)s?", unit=unit)
    second = say(
        "How much of the %(water)s g of water must be ice, to the gram? Write 0 where none is needed.", water=water
    )
    task: tuple[Say | Grid | Room, ...] = (
        say("%(recipe)s is to come from the mixer at %(target)s.", recipe=lesson.title, target=Amount(target, unit)),
        Grid(("Measured today", "Reading"), tuple((Say(name), value) for name, value in rows), say("Temperatures")),
        Room(first, unit),
        Room(second, "g"),
    )
    working = [
        say(
            "Needed = wanted dough temperature × n − all that is known; n = %(n)s, the known ones with friction.",
            n=count,
        ),
        say(
            "%(target)s × %(n)s − (%(sum)s) = %(product)s − %(there)s = %(needed)s %(unit)s",
            target=target,
            n=count,
            sum=" + ".join(f"{value:f}" for value in (*(degrees for _, degrees in known), friction)),
            product=target * count,
            there=there,
            needed=needed,
            unit=unit,
        ),
    ]
    if ice:
        working.append(
            say(
                "Ice = water × (tap − needed) ÷ (tap + %(constant)s) = %(water)s × (%(tap)s − %(needed)s) ÷ "
                "(%(tap)s + %(constant)s) = %(ice)s g",
                constant=ice_constant,
                water=water,
                tap=tap,
                needed=needed,
                ice=trimmed(ice, 0),
            )
        )
        working.append(say("The rest, %(rest)s g, comes from the tap.", rest=water - trimmed(ice, 0)))
    else:
        working.append(say("The tap is colder than that: no ice, warm the water."))
    note = say(
        "An estimate: it does not weigh the masses. Measure the dough, and correct the friction for your mixer. "
        "Water warmer than %(limit)s is not poured on yeast.",
        limit=Amount(_degrees(43, fahrenheit), unit),
    )
    return Exercise(
        NAME,
        task,
        (Result(first, Amount(needed, unit)), Result(second, Amount(trimmed(ice, 0), "g"))),
        tuple(working),
        note,
    )


def _degrees(celsius: int, fahrenheit: bool) -> Decimal:
    """Whole degrees on the house's scale."""
    return trimmed(Decimal(celsius) * 9 / 5 + 32, 0) if fahrenheit else Decimal(celsius)


def _ferment(lesson: Lesson) -> str:
    """The preferment whose temperature counts, where there is one."""
    for line, moved in lesson.weighed():
        if isinstance(line.target, RecipeRef):
            part = lesson.book.sized(line.target)
            if moved.seed or lesson.book.recipes[part].kind is Kind.PREFERMENT:
                return line.name
    return ""

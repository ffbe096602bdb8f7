"""How warm the water of a dough must be, how much of it must be ice, and what the mixer really added."""

from collections.abc import Sequence
from decimal import Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import Exercise, Grid, Part, Result, Room, Say, say
from bookmaker.kitchen.dough_temperature import MELTING, YEAST_LIMIT, friction_of, water_temperature, with_ice
from bookmaker.kitchen.total_formula import is_water
from bookmaker.measures.exact import ZERO, published, total
from bookmaker.measures.temperatures import Temperature, TemperatureDifference
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef

NAME = "water temperature"
TRIES = 200

COLDEST, WARMEST = Temperature(Decimal(2)), Temperature(Decimal(38))
"""Water that a kitchen can have, and pour on yeast."""

_FAHRENHEIT_ICE = 112
"""What is added to the tap's temperature in °F: 80 K are 144 °F, less the 32 by which the scales differ."""


class _Scale:
    """Whole degrees on the house's own scale."""

    def __init__(self, *, fahrenheit: bool) -> None:
        self.fahrenheit = fahrenheit
        self.unit = "°F" if fahrenheit else "°C"
        self.ice = Decimal(_FAHRENHEIT_ICE) if fahrenheit else MELTING

    def reading(self, degrees: Decimal) -> Temperature:
        """Degrees of the scale as a temperature."""
        return Temperature.from_fahrenheit(degrees) if self.fahrenheit else Temperature(degrees)

    def difference(self, degrees: Decimal) -> TemperatureDifference:
        """So many degrees more."""
        return TemperatureDifference(degrees * 5 / 9 if self.fahrenheit else degrees)

    def degrees(self, reading: Temperature) -> Decimal:
        """A temperature in degrees of the scale; those made of whole ones are whole."""
        return trimmed(published(reading.fahrenheit if self.fahrenheit else reading.celsius), 1)

    def degrees_more(self, difference: TemperatureDifference) -> Decimal:
        """A difference in degrees of the scale."""
        return trimmed(published(difference.fahrenheit_degrees if self.fahrenheit else difference.kelvin), 1)

    def whole(self, celsius: int) -> Decimal:
        """The whole degree of the scale next to a temperature."""
        return trimmed(self.degrees(Temperature(Decimal(celsius))), 0)

    def amount(self, degrees: Decimal) -> Amount:
        """As it is printed."""
        return Amount(degrees, self.unit)


def make(lesson: Lesson) -> Exercise | None:
    """On the house's own scale, in whole degrees."""
    recipe, dice = lesson.recipe, lesson.dice
    wet = [moved.bowl or ZERO for line, moved in lesson.weighed() if is_water(line.target, lesson.book)]
    if recipe.dough_temperature is None or not wet:
        return None
    scale = _Scale(fahrenheit=lesson.book.house.fahrenheit)
    target = trimmed(scale.degrees(recipe.dough_temperature), 0)
    ferment = _ferment(lesson)
    for _ in range(TRIES):
        known = [
            ("flour", scale.whole(dice.between(15, 25))),
            ("room", scale.whole(dice.between(18, 30))),
            *([(ferment, scale.whole(dice.between(18, 26)))] if ferment else []),
        ]
        friction = Decimal(dice.between(4, 24) if scale.fahrenheit else dice.between(2, 13))
        tap = scale.whole(dice.between(10, 20))
        readings = [scale.reading(degrees) for _, degrees in known]
        wanted = water_temperature(scale.reading(target), readings, scale.difference(friction))
        needed = scale.degrees(wanted)
        if COLDEST <= wanted <= WARMEST and needed != tap:
            break
    else:
        return None
    water = trimmed(total(wet), 0)
    iced = with_ice(water, scale.reading(tap), scale.reading(needed))
    ice = trimmed(iced.ice, 0)
    got = target + dice.one_of((-2, -1, 1, 2))
    really = scale.degrees_more(friction_of(scale.reading(got), readings, scale.reading(needed)))
    first = say("How warm must the water be, in %(unit)s?", unit=scale.unit)
    second = say(
        "How much of the %(water)s g of water must be ice, to the gram? Write 0 where none is needed.", water=water
    )
    third = say(
        "With that water the dough came out at %(got)s. How much did the mixer warm it really, in %(unit)s?",
        got=scale.amount(got),
        unit=scale.unit,
    )
    rows = [(Say(name), scale.amount(degrees)) for name, degrees in (*known, ("tap water", tap))]
    task: tuple[Part, ...] = (
        say("%(recipe)s is to come from the mixer at %(target)s.", recipe=lesson.title, target=scale.amount(target)),
        Grid(
            ("Measured today", "Reading"),
            (*rows, (Say("warmed by mixing (friction)"), scale.amount(friction))),
            say("Temperatures"),
        ),
        Room(first, scale.unit),
        Room(second, "g"),
        Room(third, scale.unit),
    )
    count = len(known) + 1
    degrees = [each for _, each in known]
    working = (
        say(
            "Needed = wanted dough temperature × n − all that is known; n = %(n)s, the known ones with friction.",
            n=count,
        ),
        say(
            "%(target)s × %(n)s − (%(sum)s) = %(product)s − %(there)s = %(needed)s %(unit)s",
            target=target,
            n=count,
            sum=_sum([*degrees, friction]),
            product=target * count,
            there=total([*degrees, friction]),
            needed=needed,
            unit=scale.unit,
        ),
        *_ice_working(scale, water=water, tap=tap, needed=needed, ice=ice),
        say(
            "Friction = dough temperature × n − all the others: %(got)s × %(n)s − (%(sum)s) = %(really)s %(unit)s",
            got=got,
            n=count,
            sum=_sum([*degrees, needed]),
            really=really,
            unit=scale.unit,
        ),
    )
    note = say(
        "An estimate: it does not weigh the masses. Measure the dough, and correct the friction for your mixer. "
        "Water warmer than %(limit)s is not poured on yeast.",
        limit=scale.amount(trimmed(scale.degrees(YEAST_LIMIT), 0)),
    )
    answer = (
        Result(first, scale.amount(needed)),
        Result(second, Amount(ice, "g")),
        Result(third, scale.amount(really)),
    )
    return Exercise(NAME, task, answer, working, note)


def _sum(degrees: Sequence[Decimal]) -> str:
    return " + ".join(f"{value:f}" for value in degrees)


def _ice_working(scale: _Scale, *, water: Decimal, tap: Decimal, needed: Decimal, ice: Decimal) -> tuple[Say, ...]:
    if not ice:
        return (say("The tap is colder than that: no ice, warm the water."),)
    return (
        say(
            "Ice = water × (tap − needed) ÷ (tap + %(constant)s) = %(water)s × (%(tap)s − %(needed)s) ÷ "
            "(%(tap)s + %(constant)s) = %(ice)s g",
            constant=scale.ice,
            water=water,
            tap=tap,
            needed=needed,
            ice=ice,
        ),
        say("The rest, %(rest)s g, comes from the tap.", rest=water - ice),
    )


def _ferment(lesson: Lesson) -> str:
    """The preferment whose temperature counts, where there is one."""
    for line, moved in lesson.weighed():
        if isinstance(line.target, RecipeRef):
            part = lesson.book.sized(line.target)
            if moved.seed or lesson.book.recipes[part].kind is Kind.PREFERMENT:
                return line.name
    return ""

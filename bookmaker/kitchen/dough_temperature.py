"""The temperature of a dough: how warm its water must be, how much of it must be ice, and what the mixer adds.

The rule of bread books: the sum of the temperatures that meet in the bowl, friction among them, is the wanted dough
temperature times their number. So the water's is

    target × n − Σ(known temperatures, friction included),     n = the known ones, friction among them.

Three things meet in a straight dough (flour, room, water: n = 3), four where there is a preferment. The room stands for
what bowl, air and bench take or give; masses are not weighed against each other. So it is an estimate: measure the
dough, and work back the friction of your own mixer from it. Ice melts at the water's own heat: one gram of it takes as
much as cooling 80 g of water by 1 °C (80 cal/g; 144 BTU/lb in the American form of the rule).

Readings are in °C, differences in kelvin, masses in grams.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.measures.exact import exactly
from bookmaker.measures.temperatures import Temperature, TemperatureDifference

MELTING = Decimal(80)
"""Kelvin by which the heat that melts one gram of ice cools one gram of water."""

YEAST_LIMIT = Temperature(Decimal(43))
"""Water warmer than this is not poured on yeast (110 °F on the cards of the Armed Forces Recipe Service)."""


def water_temperature(
    target: Temperature, known: Sequence[Temperature], friction: TemperatureDifference
) -> Temperature:
    """How warm the water must be for a dough of `target`; `known` are flour, room, and preferments, without friction.

    Below zero means that no water is cold enough: then ice, or colder flour.
    """
    with exactly():
        there = sum((each.celsius for each in known), friction.kelvin)
        return Temperature(target.celsius * (len(known) + 1) - there)


def friction_of(dough: Temperature, known: Sequence[Temperature], water: Temperature) -> TemperatureDifference:
    """What mixing added, worked back from a finished dough and what went into it."""
    with exactly():
        there = sum((each.celsius for each in known), water.celsius)
        return TemperatureDifference(dough.celsius * (len(known) + 1) - there)


@dataclass(frozen=True, slots=True)
class IcedWater:
    """Grams of ice and of tap water that together stand for the formula's water."""

    ice: Decimal
    tap: Decimal


def with_ice(water: Decimal, tap: Temperature, needed: Temperature) -> IcedWater:
    """Part of the water as ice, where the tap is warmer than what is needed; no ice where it is not.

    `ice` = water × (tap − needed) ÷ (tap + 80). Never more ice than water.
    """
    with exactly():
        if tap <= needed:
            return IcedWater(Decimal(0), water)
        ice = min(water, water * (tap.celsius - needed.celsius) / (tap.celsius + MELTING))
        return IcedWater(ice, water - ice)

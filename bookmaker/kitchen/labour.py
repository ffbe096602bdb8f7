"""What a recipe's own hands-on minutes and its own machines cost. Waiting is free."""

from decimal import Decimal

from bookmaker.kitchen.figures import Figure, LabourCost, Lack, LackKind, TimeFigure
from bookmaker.measures.exact import total
from bookmaker.model.house import House
from bookmaker.model.method import Step
from bookmaker.model.recipe import Recipe

MINUTES_AN_HOUR = 60


def labour_of(recipe: Recipe, time: TimeFigure, house: House) -> LabourCost:
    """Person-minutes of the recipe's own steps at the rate of its role (else the house's usual role).

    A house that states no rates at all does not cost labour: the cost is then unknown, not missing. A house that has
    rates, but none for this role, or a step without times, makes the cost incomplete.
    """
    role = recipe.labour_role or house.labour_role
    rate = dict(house.labour).get(role)
    untimed = tuple(lack for lack in time.lacks if lack.kind is LackKind.TIME and not lack.via)
    if rate is not None:
        return LabourCost(role, time.hands_on, rate, Figure(time.hands_on * rate / MINUTES_AN_HOUR, untimed))
    if not house.labour:
        return LabourCost(role, time.hands_on, None, Figure(None))
    return LabourCost(
        role, time.hands_on, None, Figure(None, (Lack(LackKind.LABOUR, role or "the usual role"), *untimed))
    )


def kilowatt_hours(recipe: Recipe, time: TimeFigure, house: House) -> tuple[tuple[Step, Decimal], ...]:
    """What each step uses whose equipment has a stated power: power × hours of `takes`, at their long end, × loads ×
    repeats.

    Cold stores run anyway: a `wait` uses nothing.
    """
    power = {equipment.name: equipment.power for equipment in house.equipment}
    timed = {step.step: step for step in time.steps}
    found = []
    for step in recipe.method.steps:
        kilowatts = power.get(step.on)
        if kilowatts is not None and step.takes is not None:
            minutes = step.takes.long_end * timed[step.number].loads * step.repeat
            found.append((step, kilowatts * minutes / MINUTES_AN_HOUR))
    return tuple(found)


def energy_of(recipe: Recipe, time: TimeFigure, house: House) -> Figure:
    """Kilowatt-hours of the recipe's own steps; None where the power of no step is known."""
    used = kilowatt_hours(recipe, time, house)
    return Figure(total(hours for _, hours in used) if used else None)

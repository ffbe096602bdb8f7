"""What a recipe's own hands-on minutes and its own machines cost. Nobody is paid for waiting."""

from decimal import Decimal

from bookmaker.kitchen.figures import Figure, LabourCost, Lack, LackKind, TimeFigure
from bookmaker.measures.exact import ONE, ZERO, total
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


ENERGY_RULE = (
    "power × hours × tariff, at full power: unattended time (`takes`) × loads on every machine but provers, hands-on "
    "time on mixers, hobs, sheeters and others, a wait's short end in ovens and on hobs; cold places hold for nothing; "
    "an estimate"
)
"""What is counted, wherever the figure is explained."""

_RUNS_WHILE_WORKED = frozenset({"mixer", "hob", "sheeter", "other"})
_HEATED_WHILE_WAITING = frozenset({"oven", "hob"})
_RUNS_ANYWAY = "proofer"


def running_minutes(step: Step, kind: str, worked: Decimal, loads: Decimal, batches: Decimal = ONE) -> Decimal:
    """Minutes that the step's machine runs: `worked` are hands-on minutes ÷ people, all repeats counted in.

    Cold places, freezers and provers run anyway, at a fraction of their power that nobody states: their waits count
    nothing, nor does standing at them. What a step takes in the cold is counted, as chilling is work for the machine;
    in a prover it is not, as that only keeps warm.
    """
    minutes = ZERO if step.takes is None or kind == _RUNS_ANYWAY else step.takes.long_end * loads * step.repeat
    if kind in _RUNS_WHILE_WORKED:
        minutes += worked
    if kind in _HEATED_WHILE_WAITING and step.wait is not None:
        minutes += step.wait.least * step.repeat * batches
    return minutes


def kilowatt_hours(recipe: Recipe, time: TimeFigure, house: House) -> tuple[tuple[Step, Decimal], ...]:
    """What each step uses whose equipment has a stated power, as `ENERGY_RULE` says."""
    machines = {machine.name: machine for machine in house.equipment}
    timed = {step.step: step for step in time.steps}
    found = []
    for step in recipe.method.steps:
        machine, own = machines.get(step.on), timed[step.number]
        if machine is None or machine.power is None:
            continue
        minutes = running_minutes(step, machine.kind, own.hands_on / step.needs, Decimal(own.loads))
        if minutes:
            found.append((step, machine.power * minutes / MINUTES_AN_HOUR))
    return tuple(found)


def energy_of(recipe: Recipe, time: TimeFigure, house: House) -> Figure:
    """Kilowatt-hours of the recipe's own steps; None where the power of no step is known."""
    used = kilowatt_hours(recipe, time, house)
    return Figure(total(hours for _, hours in used) if used else None)

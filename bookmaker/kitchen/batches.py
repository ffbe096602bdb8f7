"""How a needed amount is made: in convenient sizes or whole moulds, in equal batches, in oven loads."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from enum import StrEnum

from bookmaker.kitchen.figures import MassFlow
from bookmaker.kitchen.parts import count_of
from bookmaker.measures.exact import ZERO, published
from bookmaker.model.house import Equipment, House
from bookmaker.model.method import Step
from bookmaker.model.recipe import Recipe
from bookmaker.model.yields import FrameYield, MouldYield, SheetYield, TinYield, TrayYield

NOT_A_BOWL = frozenset({"bench", "oven", "cold", "freezer", "proofer"})
"""Kinds of equipment whose room asks for loads, not for smaller batches."""

MORE_BATCHES = 100
"""How many more batches than the machines ask for are tried before a batch may be larger than they hold after all."""


class Rounding(StrEnum):
    """Which way an amount goes to a convenient size."""

    UP = "up"
    DOWN = "down"  # never more than the stock that is to be used up
    NONE = "none"  # the cook named a number of batches


@dataclass(frozen=True, slots=True)
class MakingPlan:
    """How a recipe is made: `batches` equal ones of `each` times the tested batch.

    `exact` is the factor that just covers what is needed; `sized` says in words how that was rounded (empty: not at
    all), `held` what makes it more than one batch: a machine, or the recipe's own `make`.
    """

    exact: Decimal
    batches: int
    each: Decimal
    sized: str = ""
    held: str = ""

    @property
    def factor(self) -> Decimal:
        """All batches together, in tested batches."""
        return self.each * self.batches


@dataclass(frozen=True, slots=True)
class LoadPlan:
    """One step that takes only so much at once: `loads` of up to `per_load` of `word` (empty: grams), side by side in
    the `machines` that the house has, in so many `turns` one after the other.
    """

    step: int
    on: str
    word: str
    units: Decimal
    per_load: Decimal
    loads: int
    machines: int
    turns: int


def plan_making(recipe: Recipe, flow: MassFlow, exact: Decimal, house: House, rounding: Rounding) -> MakingPlan:
    """Round a factor to how the recipe is made, and split it into equal batches."""
    room = _room(recipe, flow, house)
    make = recipe.make
    if rounding is Rounding.NONE:
        return _split(exact, exact, room, "")
    if make.whole:
        return _whole_batches(exact, room, rounding)
    if make.least is not None or make.step is not None:
        return _convenient(recipe, flow, exact, room, rounding)
    if vessel := _vessel(recipe):
        per_batch, word = vessel
        units = to_whole(exact * per_batch, rounding)
        if units:
            return _split(exact, units / per_batch, room, f"whole {word}s")
    return _split(exact, exact, room, "")


_Room = Mapping[str, Decimal]
"""What a batch may be at most, as a factor, by what limits it."""


def _room(recipe: Recipe, flow: MassFlow, house: House) -> _Room:
    machines = {machine.name: machine for machine in house.equipment}
    room: dict[str, Decimal] = {}
    if recipe.make.most is not None and flow.usable:
        room["make"] = recipe.make.most / flow.usable
    for step, grams in zip(recipe.method.steps, step_masses(recipe, flow), strict=True):
        machine = machines.get(step.on)
        holds = _holds(machine) if machine and step.load is None else None
        if holds is not None and grams:
            room[step.on] = min(room.get(step.on, holds / grams), holds / grams)
    return room


def _holds(machine: Equipment) -> Decimal | None:
    if machine.kind in NOT_A_BOWL:
        return None
    return next((holds.amount for holds in machine.holds if not holds.word), None)


def step_masses(recipe: Recipe, flow: MassFlow) -> tuple[Decimal, ...]:
    """Grams that are in the bowl at each step: what no later step is the first to name in its `uses`."""
    first: dict[str, int] = {}
    for step in recipe.method.steps:
        for name in step.uses:
            first.setdefault(name.casefold(), step.number)
    moved = iter(flow.lines)
    joins: list[tuple[int, Decimal]] = []
    for stage in recipe.stages:
        for line in stage.lines:
            named = [first[key] for name in (line.name, line.id, stage.name) if (key := name.casefold()) in first]
            joins.append((min(named, default=0), next(moved).bowl or ZERO))
    return tuple(sum((grams for at, grams in joins if at <= step.number), ZERO) for step in recipe.method.steps)


def _vessel(recipe: Recipe) -> tuple[Decimal, str] | None:
    """How many vessels a batch fills, where it is made in such."""
    match recipe.yields:
        case MouldYield(count=count):
            return count, "mould"
        case TinYield(count=count):
            return count, "tin"
        case TrayYield(count=count):
            return count, "tray"
        case SheetYield(count=count):
            return count, "sheet"
        case FrameYield(count=count):
            return count, "frame"
        case _:
            return None


def to_whole(value: Decimal, rounding: Rounding) -> Decimal:
    """The next whole number; what 34 digits cannot hold is forgiven: 2.000…0001 sheets are two."""
    way = ROUND_FLOOR if rounding is Rounding.DOWN else ROUND_CEILING
    return published(value).to_integral_value(rounding=way)


def _needed(factor: Decimal, room: _Room) -> tuple[int, str]:
    """Into how many batches a factor must go, and what asks for the most."""
    asked = {held: int(to_whole(factor / most, Rounding.UP)) for held, most in room.items()}
    held = max(asked, key=lambda each: asked[each], default="")
    return (asked[held], held) if held and asked[held] > 1 else (1, "")


def _split(exact: Decimal, factor: Decimal, room: _Room, sized: str) -> MakingPlan:
    batches, held = _needed(factor, room)
    return MakingPlan(exact, batches, factor / batches, sized if factor != exact else "", held)


def _whole_batches(exact: Decimal, room: _Room, rounding: Rounding) -> MakingPlan:
    """Whole batches, as many at once as the machines hold such that all turns are equal."""
    total = int(to_whole(exact, rounding)) or 1
    at_once = min((int(most) for most in room.values()), default=total)
    each = next((size for size in range(min(max(at_once, 1), total), 0, -1) if total % size == 0), 1)
    _, held = _needed(Decimal(total), room)
    return MakingPlan(exact, total // each, Decimal(each), "whole batches", held if total > each else "")


def _convenient(recipe: Recipe, flow: MassFlow, exact: Decimal, room: _Room, rounding: Rounding) -> MakingPlan:
    """Batches of a size that the recipe's `make` allows, equal, and none larger than the machines hold."""
    if not flow.usable:
        return MakingPlan(exact, 1, exact)
    start, held = _needed(exact, room)
    for batches in range(start, start + MORE_BATCHES):
        each, sized = _size(recipe, exact * flow.usable / batches, rounding)
        factor = each / flow.usable
        if all(factor <= most for most in room.values()):
            return MakingPlan(exact, batches, factor, sized, held if batches > 1 else "")
    each, sized = _size(recipe, exact * flow.usable / start, rounding)
    return MakingPlan(exact, start, each / flow.usable, sized, held)


def _size(recipe: Recipe, grams: Decimal, rounding: Rounding) -> tuple[Decimal, str]:
    """The allowed size of a batch next to `grams` of product, and in words which rule gave it."""
    least, step = recipe.make.least, recipe.make.step
    if least is not None and grams <= least:
        return (least, "at least") if grams < least and rounding is Rounding.UP else (grams, "")
    if step is None:
        return grams, ""
    start = least or ZERO
    steps = to_whole((grams - start) / step, rounding)
    if not steps and not start:
        return grams, ""  # less than one step is to be used up
    size = start + steps * step
    return size, "in steps" if size != grams else ""


def loads_of(recipe: Recipe, flow: MassFlow, factor: Decimal, house: House) -> tuple[LoadPlan, ...]:
    """How often each step with a `load` is repeated for all that is made; batches are not multiplied by it."""
    found: list[LoadPlan] = []
    for step, grams in zip(recipe.method.steps, step_masses(recipe, flow), strict=True):
        if step.load is None:
            continue
        per_batch = count_of(step.load.word, recipe, flow) if step.load.word else grams
        if per_batch:
            units = per_batch * factor
            loads = int(to_whole(units / step.load.amount, Rounding.UP))
            machines = machines_for(step, house)
            turns = turns_of(loads, machines)
            found.append(
                LoadPlan(step.number, step.on, step.load.word, units, step.load.amount, loads, machines, turns)
            )
    return tuple(found)


def machines_for(step: Step, house: House) -> int:
    """How many of the step's machine the house has; one where it has none or nothing is said."""
    return next((machine.count for machine in house.equipment if machine.name == step.on), 1)


def turns_of(loads: int, machines: int) -> int:
    """How often the machines are filled one after the other, all of them at once."""
    return -(-loads // machines)

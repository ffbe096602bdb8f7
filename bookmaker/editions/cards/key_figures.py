"""The figures that are read from two metres: oven, time, what comes out, dough temperature, what a piece weighs."""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from itertools import groupby

from bookmaker.editions.cards.views import KeyFigure
from bookmaker.editions.team.project_method import span
from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.team.views import Amount, Time
from bookmaker.editions.team.views_recipe import YieldView
from bookmaker.kitchen.figures import TimeFigure
from bookmaker.measures.counts import singular
from bookmaker.measures.rounding import to_step
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.house import House
from bookmaker.model.method import Step
from bookmaker.model.recipe import Recipe

_SHORT = 3
"""So many settings of an oven after each other can be read at a glance; of more, the first and the last."""


_HOT, _FROZEN = Decimal(60), Decimal(-12)
"""Degrees Celsius from which on something is cooked, and down to which it is frozen; common practice, no source."""

_ROUGHLY = Decimal(5)
_LONG = Decimal(120)
"""Minutes. How long it all takes is an estimate: shown to five minutes, from two hours on to a quarter of an hour."""


def key_figures(recipe: Recipe, time: TimeFigure, yields: YieldView, house: House) -> tuple[KeyFigure, ...]:
    """The key figures, the most asked for first; what a recipe does not have is left out."""
    kinds = {machine.name: machine.kind for machine in house.equipment}
    steps = recipe.method.steps
    baked = _last_bake(steps, kinds)
    found = [
        _oven(baked),
        _in_the_oven(baked),
        *([] if baked else [_cooked(steps), _in_all(time)]),
        _dough(recipe),
        _yield(yields),
        _piece(yields),
    ]
    return tuple(figure for figure in found if figure is not None)


def _last_bake(steps: Iterable[Step], kinds: Mapping[str, str]) -> list[Step]:
    """The steps in the oven that follow each other up to the last: what is roasted or baked blind before is none."""
    runs = [list(run) for baked, run in groupby(steps, lambda step: kinds.get(step.on) == "oven") if baked]
    return runs[-1] if runs else []


def _oven(steps: list[Step]) -> KeyFigure | None:
    """What the oven is set to: in turn where it is turned up or down; top and bottom where it has both."""
    settings = [step.at.temperatures for step in steps if step.at and step.at.temperatures]
    turns = [each for each, _ in groupby(settings)]
    if not turns:
        return None
    names = ", ".join(dict.fromkeys(step.on for step in steps))
    if len(turns) == 1:
        return KeyFigure("oven", tuple(map(_degrees, turns[0])), of=names)
    if len(turns) > _SHORT:
        turns = [turns[0], turns[-1]]
    hottest = [_degrees(max(each, key=lambda reading: reading.celsius)) for each in turns]
    return KeyFigure("oven", tuple(hottest), of=names, then=True)


def _in_the_oven(steps: list[Step]) -> KeyFigure | None:
    """How long it bakes, all settings together."""
    spans = [found for step in steps if (found := span(step.takes)) is not None]
    return KeyFigure("bake", time=_together(spans)) if spans else None


def _cooked(steps: Iterable[Step]) -> KeyFigure | None:
    """The end point that decides: of the last step cooked hot, before all one that has a limit; else how to temper;
    else how cold to freeze. At what warmth something is folded or sprayed is for its step to say.
    """
    ends = [(step, step.to.temperatures) for step in steps if step.to and step.to.temperatures]
    hot = [(step, found) for step, found in ends if max(reading.celsius for reading in found) >= _HOT]
    limited = [found for step, found in hot if step.limit]
    curves = [found for _, found in ends if len(found) > 1]
    frozen = [found for _, found in ends if found[-1].celsius <= _FROZEN]
    for decides in (limited, [found for _, found in hot], curves, frozen):
        if decides:
            return KeyFigure("to", tuple(map(_degrees, decides[-1])), then=True)
    return None


def _in_all(time: TimeFigure) -> KeyFigure | None:
    """From the first step to the last, components apart."""
    if not time.total:
        return None
    step = _ROUGHLY if time.total < _LONG else 3 * _ROUGHLY
    return KeyFigure("in all", time=_plain(Amount(max(to_step(time.total, step), step))))


def _dough(recipe: Recipe) -> KeyFigure | None:
    wanted = recipe.dough_temperature
    return KeyFigure("dough", (_degrees(wanted),)) if wanted else None


def _yield(yields: YieldView) -> KeyFigure | None:
    holder = f"{yields.holders.value:f} {yields.holder}" if yields.holders and yields.holder else ""
    if yields.count is not None:
        return KeyFigure("yield", (yields.count,), word=yields.word, of=holder)
    if yields.usable.amount is not None:
        return KeyFigure("yield", (Amount(yields.usable.amount.value, yields.usable.amount.unit),), of=holder)
    return None


def _piece(yields: YieldView) -> KeyFigure | None:
    word = singular(yields.word) if yields.word else "piece"
    if yields.scaled is not None:
        return KeyFigure("scaled at", (yields.scaled,), of=word)
    return KeyFigure("a piece", (yields.piece,), of=word) if yields.piece is not None else None


def _together(spans: list[Time]) -> Time:
    most = [each.most for each in spans]
    least = sum((each.least for each in spans), Decimal(0))
    return Time(least, None if None in most else sum((each for each in most if each is not None), Decimal(0)))


def _plain(amount: Amount) -> Time:
    return Time(amount.value, amount.value)


def _degrees(reading: Temperature) -> Amount:
    return Amount(trimmed(reading.celsius, 1), "°C")

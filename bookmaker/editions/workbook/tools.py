"""What a recipe needs to hand: scales, machines, vessels, instruments."""

from collections.abc import Iterator

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.workbook.views import ToolView
from bookmaker.editions.workbook.views_parts import say
from bookmaker.kitchen.figures import MassFlow
from bookmaker.measures.scales import Scale, weigh
from bookmaker.model.house import House
from bookmaker.model.recipe import Recipe
from bookmaker.model.yields import FrameYield, MouldYield, TinYield


def tools_of(recipe: Recipe, flow: MassFlow, house: House) -> tuple[ToolView, ...]:
    """Each once: the scales that weigh the formula, then vessels and machines in the order of use, then instruments."""
    return tuple(dict.fromkeys((*_scales(flow, house), *_vessels(recipe), *_machines(recipe), *_instruments(recipe))))


def _scales(flow: MassFlow, house: House) -> Iterator[ToolView]:
    used: dict[Scale, None] = {}
    for line in flow.lines:
        if line.bowl and line.pieces is None and line.sheets is None:
            scale = weigh(line.bowl, house.scales).scale
            if scale is not None:
                used[scale] = None
    for scale in sorted(used, key=lambda each: each.step):
        yield ToolView(
            "scale", say("up to %(most)s g in steps of %(step)s g", most=trimmed(scale.most, 0), step=scale.step)
        )


def _vessels(recipe: Recipe) -> Iterator[ToolView]:
    match recipe.yields:
        case MouldYield(count, name) | TinYield(count, name) | FrameYield(count, name):
            yield ToolView(name, say("%(count)s of them", count=trimmed(count, 2)) if count > 1 else None)


def _machines(recipe: Recipe) -> Iterator[ToolView]:
    for step in recipe.method.steps:
        if step.on:
            yield ToolView(step.on)


def _instruments(recipe: Recipe) -> Iterator[ToolView]:
    words = " ".join(
        [
            *(reading.text for step in recipe.method.steps for reading in (step.to,) if reading),
            *(step.limit.text for step in recipe.method.steps if step.limit),
        ]
    )
    if "°C" in words or "°F" in words or recipe.dough_temperature:
        yield ToolView("probe thermometer", say("clean, and checked in ice water and in boiling water"))
    if "°Brix" in words or (recipe.boil_to and recipe.boil_to.brix is not None):
        yield ToolView("refractometer", say("set to zero with water"))

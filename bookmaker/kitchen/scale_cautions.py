"""What changes besides the weights when a batch is much larger or smaller than the tested one.

Common practice, no source: from a quarter to four times the tested batch a formula is taken to behave alike. Beyond
that the weights still hold and the times do not.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from bookmaker.kitchen.figures import MassFlow
from bookmaker.kitchen.parts import components_of
from bookmaker.model.book import Book
from bookmaker.model.recipe import Kind, Recipe

SMALLEST, LARGEST = Decimal("0.25"), Decimal(4)

BOILING = frozenset({"boil", "cook", "reduce"})

WARM = Decimal(60)
"""°C from which a mass must be cooled down again with care."""


class ScaleCaution(StrEnum):
    """What to mind; `WORDS` says it."""

    MIXING = "mixing"
    BAKING = "baking"
    MOISTURE = "moisture"
    LEAVENING = "leavening"
    COOLING = "cooling"


WORDS: dict[ScaleCaution, str] = {
    ScaleCaution.MIXING: (
        "Mixing times were tested on another batch size. Judge by look and temperature of the mass, not by the clock."
    ),
    ScaleCaution.BAKING: (
        "Baking times hold for the tested load. A fuller or emptier oven bakes differently: check core and colour."
    ),
    ScaleCaution.MOISTURE: (
        "A larger pan loses less of its water in the same time, a smaller one more. "
        "Go by the end point in °C, °Brix or weight, not by minutes."
    ),
    ScaleCaution.LEAVENING: (
        "A large dough warms itself and ferments faster, a small one cools. Go by dough temperature and rise, and "
        "adjust the leaven after a trial."
    ),
    ScaleCaution.COOLING: (
        "A larger mass of cream or custard does not cool in the same time: divide it shallow and measure its core. "
        "Times and temperatures for cooling are those of your food-safety plan and local rules."
    ),
}


@dataclass(frozen=True, slots=True)
class _Kitchenware:
    """Which kinds of equipment the method stands on, and whether it heats anything."""

    kinds: frozenset[str]
    hottest: Decimal

    @property
    def warms_a_mass(self) -> bool:
        """Whether a mass is warmed as a whole; what is only baked cools piece by piece."""
        return "hob" in self.kinds or (self.hottest >= WARM and "oven" not in self.kinds)


def scale_cautions(recipe: Recipe, flow: MassFlow, each: Decimal, book: Book) -> tuple[ScaleCaution, ...]:
    """What to mind when one batch is `each` times the tested one; nothing within a quarter and four times."""
    if SMALLEST <= each <= LARGEST:
        return ()
    ware = _ware(recipe, book)
    losses = {loss.name for loss in (*flow.losses, *(loss for stage in flow.stages for loss in stage.losses))}
    leavened = recipe.kind is Kind.PREFERMENT or any(
        book.recipes[part].kind is Kind.PREFERMENT for part in components_of(recipe, book)
    )
    applies = {
        ScaleCaution.MIXING: "mixer" in ware.kinds,
        ScaleCaution.BAKING: "oven" in ware.kinds,
        ScaleCaution.MOISTURE: bool(losses & BOILING),
        ScaleCaution.LEAVENING: leavened or "proofer" in ware.kinds,
        ScaleCaution.COOLING: each > LARGEST and ware.warms_a_mass,
    }
    return tuple(caution for caution, holds in applies.items() if holds)


def _ware(recipe: Recipe, book: Book) -> _Kitchenware:
    kinds = {machine.name: machine.kind for machine in book.house.equipment}
    steps = recipe.method.steps
    readings = [
        reading.celsius
        for step in steps
        for setting in (step.at, step.to)
        if setting is not None
        for reading in setting.temperatures
    ]
    return _Kitchenware(
        frozenset(kinds[step.on] for step in steps if step.on in kinds), max(readings, default=Decimal(0))
    )

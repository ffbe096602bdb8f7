"""What scaling gives: for every recipe in the order of making how much, in which batches, weighed how; what to draw.

Masses are grams for everything that is made of a recipe, unless a name says `each`. For each recipe

    into = usable + co-products + kept back + moisture + waste + back,
    usable = what its users take + left over,

so that what is drawn from the stores is found again in the product, its losses, what goes back and what is left over.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.batches import LoadPlan, MakingPlan
from bookmaker.kitchen.figures import Lack
from bookmaker.kitchen.scale_cautions import ScaleCaution
from bookmaker.kitchen.targets import ScaleTarget
from bookmaker.kitchen.weighing import LineWeight
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target


@dataclass(frozen=True, slots=True)
class ScaledLine:
    """One line: its bowl over all batches (None: never weighed), and one batch's weight as a scale shows it.

    `drawn` is what must be at hand: the bowl, or the working mass where that is more; `returns` is the part of it
    that goes back.
    """

    line: str
    target: Target
    bowl: Decimal | None
    drawn: Decimal
    returns: Decimal
    each: LineWeight
    seed: bool = False


@dataclass(frozen=True, slots=True)
class CoProductUse:
    """A co-product in this plan: grams produced, grams that recipes of the plan use, and what must be there already."""

    ref: CoProductRef
    produced: Decimal
    used: Decimal

    @property
    def short(self) -> Decimal:
        """Grams that the plan uses and does not produce: from stock, or from earlier days."""
        return max(self.used - self.produced, Decimal(0))

    @property
    def left_over(self) -> Decimal:
        """Grams that remain."""
        return max(self.produced - self.used, Decimal(0))


@dataclass(frozen=True, slots=True)
class ScaledRecipe:
    """One recipe of the plan. `needed` is what is asked of it: by the target, or by its users (`users`: grams each)."""

    ref: RecipeRef
    plan: MakingPlan
    needed: Decimal
    users: Mapping[RecipeRef, Decimal]
    lines: tuple[ScaledLine, ...]
    usable: Decimal
    pieces: Decimal | None
    left_over: Decimal
    left_over_pieces: Decimal | None
    into: Decimal
    co_products: Mapping[CoProductRef, Decimal]
    kept_back: Decimal
    moisture: Decimal
    waste: Decimal
    back: Decimal
    loads: tuple[LoadPlan, ...]
    cautions: tuple[ScaleCaution, ...]


@dataclass(frozen=True, slots=True)
class DrawLine:
    """What to draw from the stores of one item: `bowl` grams go in, `bought` are drawn as bought, `returns` come back.

    `bought` is before peeling and stoning, at the high end where a line says `about`, and holds the working mass.
    `pieces` for what is counted (packaging in whole pieces). `unmeasured`: some recipe takes it to taste, which no
    number can hold.
    """

    item: StoresRef
    bowl: Decimal
    bought: Decimal
    returns: Decimal
    pieces: Decimal | None = None
    unmeasured: bool = False


@dataclass(frozen=True, slots=True)
class Scaled:
    """A scaled recipe with all its components: `recipes` in the order of making, the recipe itself last.

    `limiting` is what runs out first when something is to be used up.
    """

    ref: RecipeRef
    target: ScaleTarget
    recipes: tuple[ScaledRecipe, ...]
    draw: tuple[DrawLine, ...]
    packaging: tuple[DrawLine, ...]
    co_products: tuple[CoProductUse, ...]
    limiting: Target | None = None
    lacks: tuple[Lack, ...] = ()

    @property
    def own(self) -> ScaledRecipe:
        """The recipe that was asked for."""
        return self.recipes[-1]

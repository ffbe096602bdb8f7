"""What the kitchen computes for a recipe: plain values, exact, each knowing what it lacks.

Masses are grams, times minutes, money in the house's currency, shares fractions of one. A figure is for the *tested
batch* (the formula as written) unless its name says otherwise. Nothing here is rounded.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum

from bookmaker.kitchen.elements import Element
from bookmaker.kitchen.step_times import ChainLink, StepTime, Stretch
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.line import LossKind
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target
from bookmaker.model.shapes import Shape
from bookmaker.problems.problem import Problem


class LackKind(StrEnum):
    """What a figure can lack."""

    PRICE = "price"  # no price in force
    STALE_PRICE = "stale price"  # used all the same, but old
    CURRENCY = "currency"  # priced in another currency
    AMOUNT = "amount"  # named but not weighed (to taste), or a component whose piece weight is unknown
    YIELD = "yield"  # the yield cannot be computed
    COMPOSITION = "composition"  # water, solids, sugars ... not known
    ALLERGENS = "allergens"  # never declared
    NUTRITION = "nutrition"
    TIME = "time"  # a step without times
    KEEPING = "keeping"
    LABOUR = "labour"  # no rate for the role
    CHOICE = "choice"  # what a label says depends on which article or alternative is used


@dataclass(frozen=True, slots=True, order=True)
class Lack:
    """One missing input: what is missing, of what, and through which recipes it is reached (nearest first)."""

    kind: LackKind
    of: str
    via: tuple[RecipeRef, ...] = ()


@dataclass(frozen=True, slots=True)
class Figure:
    """A number and what it lacks. With lacks, `value` is what is known so far ("at least"), or None when nothing is."""

    value: Decimal | None
    lacks: tuple[Lack, ...] = ()

    @property
    def complete(self) -> bool:
        """Whether nothing is missing."""
        return self.value is not None and not self.lacks


# --- mass flow -------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class LineFlow:
    """Where one line's mass goes: bowl = stays + back + wasted + air + offcut.

    `bowl` goes into the bowl or is taken in hand; `offcut` is the geometric rest of a cut; `working_extra` is drawn
    beyond the bowl to work with and returns whole. `sheets` is set for cuts and whole sheets, `pieces` for what
    is counted. `percent` is of the formula's base.
    """

    line: str
    target: Target
    bowl: Decimal | None
    stays: Decimal
    back: Decimal = Decimal(0)
    wasted: Decimal = Decimal(0)
    air: Decimal = Decimal(0)
    offcut: Decimal = Decimal(0)
    working_extra: Decimal = Decimal(0)
    sheets: Decimal | None = None
    pieces: Decimal | None = None
    percent: Decimal | None = None
    seed: bool = False

    @property
    def charged(self) -> Decimal:
        """What is paid for, as it goes into the bowl: everything but what returns to stores."""
        return self.stays + self.wasted + self.air + self.offcut


@dataclass(frozen=True, slots=True)
class LossFlow:
    """A loss as it acted: `grams` of a mass of `of`. `implied` when it follows from the stated yield or end point."""

    name: str
    kind: LossKind
    share: Decimal
    of: Decimal
    grams: Decimal
    implied: bool = False


@dataclass(frozen=True, slots=True)
class StageFlow:
    """A stage: what joined, what was in before, its losses, what is in after."""

    name: str
    joined: Decimal
    before: Decimal
    losses: tuple[LossFlow, ...]
    after: Decimal


@dataclass(frozen=True, slots=True)
class CutFlow:
    """How shapes come out of one sheet: pieces per sheet, rows, and the share of the sheet's area that they take."""

    shape: Shape
    per_sheet: int
    across: int
    down: int
    pattern: str  # "grid", "turned grid", "square rows", "offset rows", "turned offset rows"
    used_share: Decimal


@dataclass(frozen=True, slots=True)
class CoProductFlow:
    """What a batch gives beside its product, in grams; `content` and `water` are per gram of it, as in `MassFlow`."""

    ref: CoProductRef
    grams: Decimal
    worth: Decimal
    content: Mapping[StoresRef, Decimal] = field(default_factory=dict)
    water: Figure = field(default_factory=lambda: Figure(None))


@dataclass(frozen=True, slots=True)
class YieldFlow:
    """What the batch comes to: `pieces` of `piece` grams each (None for a mass); `scaled` is a piece's raw weight.

    `sheets` counts whole sheets, frames or trays that come out, `sheet` their usable mass each. `stated` and
    `computed` grams are both kept where the cook stated a mass; for pieces scaled at a weight both are raw.
    """

    usable: Figure
    word: str
    pieces: Decimal | None = None
    piece: Decimal | None = None
    scaled: Decimal | None = None
    sheets: Decimal | None = None
    sheet: Decimal | None = None
    cut: CutFlow | None = None
    stated: Decimal | None = None
    computed: Decimal | None = None


@dataclass(frozen=True, slots=True)
class MassFlow:
    """The whole way of a batch's mass.

    Conservation: into + working_extra = usable + co_products + kept_back + moisture + waste + back + working_extra,
    where `waste` holds line waste, air, stage waste and unclaimed offcuts. `content` is grams of each stores item
    ingoing that one gram of finished product contains (waste changes it not, moisture concentrates it); co-products
    of other recipes are followed to their stores items. `out` is what is there after all losses, before the seed is
    kept back and the product cut; `losses` are the whole's, behind the stages' own. `water` is grams of water in a
    gram of product.
    """

    lines: tuple[LineFlow, ...]
    stages: tuple[StageFlow, ...]
    base: Decimal | None
    into: Decimal
    back: Decimal
    working_extra: Decimal
    moisture: Decimal
    waste: Decimal
    out: Decimal
    kept_back: Decimal
    co_products: tuple[CoProductFlow, ...]
    yields: YieldFlow
    losses: tuple[LossFlow, ...]
    content: Mapping[StoresRef, Decimal]
    water: Figure
    lacks: tuple[Lack, ...] = ()

    @property
    def usable(self) -> Decimal:
        """Grams of product ready to use; zero when unknown."""
        return self.yields.usable.value or Decimal(0)


# --- formula percent --------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class TotalLine:
    """One stores item of the total formula: own grams, grams inside preferments and soakers, percent of all flour.

    A component that is neither preferment nor soaker stays one line.
    """

    item: Target
    own: Decimal
    inside: Decimal
    percent: Decimal


@dataclass(frozen=True, slots=True)
class TotalFormula:
    """Preferments and soakers unfolded; percents of all flour, seed flour included.

    `hydration` counts the item water alone, `effective_hydration` the water inside everything; both are percents.
    """

    lines: tuple[TotalLine, ...]
    flour: Decimal
    prefermented_flour: Decimal
    hydration: Decimal
    effective_hydration: Figure
    salt: Figure
    sugar: Figure
    fat: Figure


# --- cost -------------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, order=True)
class PriceKey:
    """The price-list line that counted."""

    item: str
    supplier: str
    code: str
    since: date


@dataclass(frozen=True, slots=True)
class ChosenPrice:
    """The price in force for an item, or what it lacks. `per` is `gram`, or `piece` for counted goods.

    `ready` marks a counted pack: its pieces are ready for use, so the item's `usable` is not applied to it.
    """

    item: str
    key: PriceKey | None
    amount: Decimal | None
    per: str
    pack: str = ""
    pack_price: Decimal | None = None
    ready: bool = False
    lacks: tuple[Lack, ...] = ()


@dataclass(frozen=True, slots=True)
class LineCost:
    """One line's cost: `bought` grams as bought (÷ usable) at `per_gram`. For components per_gram is theirs."""

    line: str
    target: Target
    bought: Decimal | None
    per_gram: Decimal | None
    cost: Figure
    price: PriceKey | None = None


@dataclass(frozen=True, slots=True)
class CostParts:
    """The kinds of cost, through all components. `credit` is what co-products are credited with (positive).

    A component's credit is already off the ingredients that its user pays; `credit` here is this recipe's own.
    """

    ingredients: Decimal = Decimal(0)
    labour: Decimal = Decimal(0)
    energy: Decimal = Decimal(0)
    packaging: Decimal = Decimal(0)
    overhead: Decimal = Decimal(0)
    credit: Decimal = Decimal(0)

    @property
    def total(self) -> Decimal:
        """All of it."""
        return self.ingredients + self.labour + self.energy + self.packaging + self.overhead - self.credit


@dataclass(frozen=True, slots=True)
class LabourCost:
    """Own hands-on minutes of this recipe (components not counted) at a role's rate per hour."""

    role: str
    minutes: Decimal
    rate: Decimal | None
    cost: Figure


@dataclass(frozen=True, slots=True)
class PackagingCost:
    """One packaging line at the tested batch."""

    item: StoresRef
    count: Decimal
    each: Decimal | None
    cost: Figure
    price: PriceKey | None = None


@dataclass(frozen=True, slots=True)
class ChannelPrice:
    """What a channel pays and what that leaves. Money per piece (or portion); shares are fractions.

    `food_cost` is ingredients ÷ net price; `margin` is money: net price less full cost; `mark_up` is margin ÷ full
    cost. `lowest_*` is the lowest price that meets the food-cost target; `list_*` are None where no price is set.
    """

    channel: str
    tax: Decimal
    list_net: Decimal | None
    list_gross: Decimal | None
    food_cost: Figure
    margin: Figure
    mark_up: Figure
    target: Decimal | None
    lowest_net: Figure
    lowest_gross: Figure


@dataclass(frozen=True, slots=True)
class CostFigure:
    """The standard cost at the tested batch.

    `own` holds this recipe's own labour, energy, packaging and its stores lines; `parts` everything through components.
    `by_item` is where the ingredient money goes, down to stores items, co-products credited: it comes to
    `parts.ingredients` less `parts.credit`.
    """

    lines: tuple[LineCost, ...]
    labour: LabourCost
    energy_kwh: Figure
    packaging: tuple[PackagingCost, ...]
    parts: CostParts
    batch: Figure
    per_gram: Figure
    per_piece: Figure
    ingredients_per_gram: Figure
    ingredients_per_piece: Figure
    by_item: Mapping[StoresRef, Decimal]
    channels: tuple[ChannelPrice, ...]
    lacks: tuple[Lack, ...] = ()


# --- allergens --------------------------------------------------------------------------------------------------------

Path = tuple[Target, ...]
"""From the recipe's own line down to the stores item."""

THE_HOUSE: Path = ()
"""The way by which cross contact in the house itself comes in."""


@dataclass(frozen=True, slots=True)
class AllergenFigure:
    """Allergens with the ways they come in, those of the house's region first, in the order of its law.

    In `may_contain` the way `THE_HOUSE` (of no steps) stands for the house's own cross contact. `undeclared` lists
    the ways to items that never declared: then nothing is free from.
    """

    contains: Mapping[str, tuple[Path, ...]]
    may_contain: Mapping[str, tuple[Path, ...]]
    undeclared: tuple[Path, ...] = ()


# --- time -------------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class TimeFigure:
    """Times of the recipe alone and with all components made from scratch. `total` is elapsed along the longest way."""

    steps: tuple[StepTime, ...]
    stretches: tuple[Stretch, ...]
    total: Decimal
    hands_on: Decimal
    waiting: Decimal
    whole_total: Decimal
    whole_hands_on: Decimal
    chain: tuple[ChainLink, ...]
    lacks: tuple[Lack, ...] = ()


# --- keeping ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class KeepingFigure:
    """One state: how long as stated, and how long at most, with the part that limits it.

    `part` is the component with the least time to spare, and `part_age` how old it, with its own parts, may be when it
    goes in for the rest of its life to cover this one: nothing to spare where the time counts from its making.
    """

    state: str
    stated: Decimal
    minutes: Decimal
    temperature: Temperature | None
    words: str
    from_state: str
    within: Decimal | None
    date_word: str
    limited_by: Target | None = None
    because: str = ""
    part: Target | None = None
    part_age: Decimal = Decimal(0)


# --- together ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class RecipeFigures:
    """Everything computed about one recipe in one size.

    `used_in` are the recipes that draw on it or on what it gives beside its product; `takers` are those that use each
    of its co-products, by the co-product's name.
    """

    ref: RecipeRef
    flow: MassFlow
    total_formula: TotalFormula | None
    cost: CostFigure
    allergens: AllergenFigure
    time: TimeFigure
    keeping: tuple[KeepingFigure, ...]
    completeness: tuple[Element, ...]
    components: tuple[RecipeRef, ...]
    used_in: tuple[RecipeRef, ...]
    takers: Mapping[str, tuple[RecipeRef, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Figures:
    """A book's figures on a costing date. `used_in` says which recipes use a stores item in their own lines."""

    on: date
    recipes: Mapping[RecipeRef, RecipeFigures]
    prices: Mapping[str, ChosenPrice]
    used_in: Mapping[StoresRef, tuple[RecipeRef, ...]]
    findings: tuple[Problem, ...] = field(default=())

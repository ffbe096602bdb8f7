"""A recipe's page, part by part. Everything is for the tested batch unless a field says otherwise."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from bookmaker.editions.team.views import Amount, Known, Lacking, Link, Route, Size, Time
from bookmaker.editions.team.views_money import CostView
from bookmaker.editions.team.views_prose import Prose, Run


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """Who the recipe is. `kind` and `status` are keys; `sizes` are its pages in other sizes, `size` this page's own."""

    title: str
    kind: str
    status: str
    revision: int
    revised: date | None
    section: Link
    code: str = ""
    size: str = ""
    sizes: tuple[Link, ...] = ()
    tags: tuple[str, ...] = ()
    aka: tuple[str, ...] = ()
    teaching: str = ""


@dataclass(frozen=True, slots=True)
class YieldView:
    """What a batch comes to.

    `count` of `word` (pieces, loaves) of `piece` each, scaled raw at `scaled`; `holders` of `holder` (moulds, sheets);
    `size` and `thickness` of a sheet. `stated` and `computed` stand where a stated mass is not what losses leave.
    """

    usable: Known
    count: Amount | None = None
    word: str = ""
    piece: Amount | None = None
    scaled: Amount | None = None
    holders: Amount | None = None
    holder: str = ""
    size: Size | None = None
    thickness: Amount | None = None
    tray: Amount | None = None
    kept_back: Amount | None = None
    stated: Amount | None = None
    computed: Amount | None = None
    boil_to: Amount | None = None
    portion: Amount | None = None
    portion_word: str = ""
    dough_temperature: Decimal | None = None
    make_least: Amount | None = None
    make_step: Amount | None = None
    make_most: Amount | None = None
    make_whole: bool = False


@dataclass(frozen=True, slots=True)
class LossView:
    """A loss: `kind` is moisture or waste; `stage` empty for one of the whole. `implied` by the stated yield."""

    name: str
    kind: str
    share: Amount
    mass: Amount
    stage: str = ""
    implied: bool = False


@dataclass(frozen=True, slots=True)
class Weight:
    """A weight as a scale of the house shows it, in grams; `coarse` where rounding errs too much for the line."""

    grams: Decimal
    coarse: bool = False


@dataclass(frozen=True, slots=True)
class LineView:
    """One line of the formula.

    `measure` and `measure_word` are the cook's own amount where it was no mass (`2 pods`, `24 discs`), `shape` what is
    cut. `words` stand in place of a weight (`to taste`). `stays` is percent of the line that stays in the product,
    `rest` what becomes of the rest. `weights` follow the formula's batch columns.
    """

    ingredient: Link
    weight: Weight | None
    percent: Decimal | None
    weights: tuple[Weight | None, ...] = ()
    words: str = ""
    measure: Decimal | None = None
    measure_word: str = ""
    shape: Size | None = None
    times: Decimal | None = None
    each: Weight | None = None
    low: Decimal | None = None
    high: Decimal | None = None
    preparation: str = ""
    note: str = ""
    as_bought: bool = False
    as_needed: bool = False
    optional: bool = False
    seed: bool = False
    alternatives: tuple[Link, ...] = ()
    stays: Amount | None = None
    rest: str = ""
    working: Weight | None = None
    loss: Amount | None = None
    at_most: Amount | None = None
    is_component: bool = False


@dataclass(frozen=True, slots=True)
class StageView:
    """A stage in order of making; `kind` is a key for a preferment or soaker stage, else empty."""

    name: str
    kind: str
    lines: tuple[LineView, ...]
    weight: Weight
    weights: tuple[Weight, ...]


@dataclass(frozen=True, slots=True)
class FormulaView:
    """The formula. `base` is what counts as 100 % (a key `flour`/`total`, or an item's name).

    `batches` heads the batch columns; the tested batch, 1, is not among them: it is the main weight column.
    """

    base: str
    batches: tuple[Decimal, ...]
    stages: tuple[StageView, ...]
    weight: Weight
    weights: tuple[Weight, ...]
    percent: Decimal | None


@dataclass(frozen=True, slots=True)
class TotalLineView:
    """One item of the total formula, in grams: weighed here, inside preferments and soakers, together."""

    item: Link
    own: Decimal
    inside: Decimal
    together: Decimal
    percent: Decimal


@dataclass(frozen=True, slots=True)
class TotalFormulaView:
    """Preferments and soakers unfolded; percents of all flour."""

    lines: tuple[TotalLineView, ...]
    flour: Amount
    prefermented: Amount
    hydration: Amount
    effective_hydration: Known
    salt: Known
    sugar: Known
    fat: Known


@dataclass(frozen=True, slots=True)
class TrayLine:
    """One line inside a component's tray; `words` in place of a weight that nobody gave."""

    ingredient: Link
    weight: Weight | None
    words: str = ""


@dataclass(frozen=True, slots=True)
class ComponentTray:
    """A component with its own weights for this batch. `batches` is how many of its own tested batches that is."""

    component: Link
    kind: str
    weight: Amount
    batches: Decimal
    lines: tuple[TrayLine, ...]
    count: Amount | None = None
    word: str = ""
    make_least: Amount | None = None


@dataclass(frozen=True, slots=True)
class SettingView:
    """A setting or end point as written; `also` holds its readings in the house's other scale."""

    text: str
    also: tuple[Amount, ...] = ()


@dataclass(frozen=True, slots=True)
class CautionView:
    """A hazard and what to do. `because` names stores items that bring it along."""

    name: str
    hazard: str
    do: str
    first_aid: str = ""
    because: tuple[Link, ...] = ()


@dataclass(frozen=True, slots=True)
class NoteView:
    """A block of the method: `kind` is a key (why, look for, fix, note, private, caution)."""

    kind: str
    content: Prose
    caution: CautionView | None = None


@dataclass(frozen=True, slots=True)
class StepView:
    """One instruction. Times in minutes; `hands_on` is all work at the tested batch, `loads` how many it takes, in
    `turns` one after the other.
    """

    number: int
    text: Run
    name: str = ""
    work: Amount | None = None
    each: Amount | None = None
    each_per: str = ""
    takes: Time | None = None
    wait: Time | None = None
    hold: Time | None = None
    hold_at: Decimal | None = None
    at: SettingView | None = None
    to: SettingView | None = None
    on: str = ""
    load: Amount | None = None
    load_word: str = ""
    loads: int = 1
    turns: int = 1
    needs: int = 1
    repeat: int = 1
    uses: tuple[str, ...] = ()
    after: tuple[int, ...] = ()
    limit: str = ""
    limit_also: tuple[Amount, ...] = ()
    if_missed: str = ""
    missed_also: tuple[Amount, ...] = ()
    ccp: str = ""
    kill: bool = False
    hands_on: Amount | None = None
    cautions: tuple[CautionView, ...] = ()
    notes: tuple[NoteView, ...] = ()


@dataclass(frozen=True, slots=True)
class StepsView:
    """A run of steps under one heading (empty: none)."""

    heading: str
    steps: tuple[StepView, ...]


@dataclass(frozen=True, slots=True)
class MethodView:
    """The method. `notes` stand before the first step."""

    introduction: Prose
    notes: tuple[NoteView, ...]
    runs: tuple[StepsView, ...]


@dataclass(frozen=True, slots=True)
class StretchView:
    """A stretch of time: `kind` is work, takes or wait; minutes from the recipe's start."""

    step: int
    kind: str
    start: Decimal
    end: Decimal


@dataclass(frozen=True, slots=True)
class ChainView:
    """One step of the critical chain, minutes from the beginning of everything."""

    recipe: Link
    step: int
    start: Decimal
    end: Decimal


@dataclass(frozen=True, slots=True)
class TimeView:
    """The recipe's own time, drawn to scale, and the whole with all components made from scratch."""

    stretches: tuple[StretchView, ...]
    total: Amount
    hands_on: Amount
    waiting: Amount
    whole_total: Amount
    whole_hands_on: Amount
    chain: tuple[ChainView, ...] = ()
    lacks: tuple[Lacking, ...] = ()


@dataclass(frozen=True, slots=True)
class PathView:
    """The way an allergen comes in, from the stores item up to this recipe's own line."""

    steps: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class AllergenLine:
    """One allergen and its ways in."""

    name: str
    paths: tuple[PathView, ...]


@dataclass(frozen=True, slots=True)
class AllergensView:
    """What the recipe contains, may contain, and which items never declared anything.

    `handled` are allergens that only the house's own air and tools can bring in.
    """

    contains: tuple[AllergenLine, ...]
    may_contain: tuple[AllergenLine, ...]
    handled: tuple[str, ...]
    undeclared: tuple[PathView, ...]
    cross_contact: str = ""


@dataclass(frozen=True, slots=True)
class KeepingView:
    """How long in one state: `stated` by the cook, `most` after the shortest-lived part; both in minutes.

    `part` is the component with the least to spare, `part_age` how old it may be when it goes in (None: just made).
    """

    state: str
    stated: Amount
    most: Amount
    temperature: Decimal | None
    words: str = ""
    from_state: str = ""
    within: Amount | None = None
    date_word: str = ""
    limited_by: Link | None = None
    because: str = ""
    part: Link | None = None
    part_age: Amount | None = None


@dataclass(frozen=True, slots=True)
class ElementView:
    """One element a standardised recipe should have."""

    name: str
    present: bool
    advice: str = ""


@dataclass(frozen=True, slots=True)
class LayerView:
    """One layer, listed bottom to top."""

    layer: Link
    shape: str = ""
    thickness: Amount | None = None
    holds: tuple[Link, ...] = ()
    coats: bool = False


@dataclass(frozen=True, slots=True)
class CutView:
    """How shapes come out of one sheet. `of` names the component whose sheet it is (None: the recipe's own)."""

    shape: Size
    sheet: Size
    trim: Decimal
    per_sheet: int
    across: int
    down: int
    pattern: str
    used: Amount
    word: str = ""
    of: Link | None = None


@dataclass(frozen=True, slots=True)
class CoProductView:
    """What a batch gives beside its product, and where that goes."""

    name: str
    mass: Amount
    worth: Amount
    used_in: tuple[Link, ...] = ()


@dataclass(frozen=True, slots=True)
class Share:
    """One part of a whole: its amount, and its share of the whole in percent."""

    part: Link
    amount: Amount
    percent: Decimal


@dataclass(frozen=True, slots=True)
class Branch:
    """One component in the tree below a recipe; `again` where it stands in full further up."""

    recipe: Link
    weight: Amount | None
    branches: "tuple[Branch, ...]" = ()
    again: bool = False


@dataclass(frozen=True, slots=True)
class PhotoView:
    """A photo of the book: its path there, and what it shows in words."""

    source: str
    text: str


@dataclass(frozen=True, slots=True)
class ClientWords:
    """What clients are told about a product; `thaw_also` are its readings again, on the house's scale."""

    describe: str = ""
    serve: str = ""
    sold_as: str = ""
    thaw: str = ""
    thaw_also: tuple[Amount, ...] = ()
    named: tuple[str, ...] = ()
    defrosted: bool = False


@dataclass(frozen=True, slots=True)
class RecipeView:
    """Everything a recipe's page shows. `coarse` where some weight on it is."""

    route: Route
    working: Route
    coarse: bool
    head: TitleBlock
    yields: YieldView
    formula: FormulaView
    losses: tuple[LossView, ...]
    method: MethodView
    cost: CostView
    allergens: AllergensView
    total_formula: TotalFormulaView | None = None
    trays: tuple[ComponentTray, ...] = ()
    time: TimeView | None = None
    cautions: tuple[CautionView, ...] = ()
    keeping: tuple[KeepingView, ...] = ()
    completeness: tuple[ElementView, ...] = ()
    composition: tuple[Share, ...] = ()
    tree: tuple[Branch, ...] = ()
    layers: tuple[LayerView, ...] = ()
    cuts: tuple[CutView, ...] = ()
    co_products: tuple[CoProductView, ...] = ()
    used_in: tuple[Link, ...] = ()
    client: ClientWords | None = None
    photo: PhotoView | None = None

"""What a bench card shows. It has no place for money, for working time that is paid, or for private notes.

A card's code stands for all of this, field by field: a field that is renamed makes every card that was ever issued look
replaced. New fields need a default that says nothing; while they have it, codes stay as they were.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from bookmaker.editions.team.views import Amount, Size, Time


@dataclass(frozen=True, slots=True)
class CardTitle:
    """Who the recipe is. `kind` and `status` are keys, `section` is the heading of its part of the book."""

    house: str
    title: str
    section: str
    kind: str
    status: str
    revision: int
    revised: date | None = None
    code: str = ""
    size: str = ""
    aka: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class KeyFigure:
    """A figure to be read from two metres.

    `label` is a key (`oven`, `yield`). `amounts` are printed one after the other, `then` between them if they follow
    each other in time. `of` says more in small letters: which oven, which moulds.
    """

    label: str
    amounts: tuple[Amount, ...] = ()
    time: Time | None = None
    word: str = ""
    of: str = ""
    then: bool = False


@dataclass(frozen=True, slots=True)
class CardAmount:
    """Grams as a scale of the house shows them, or a count of `word` where a line is not weighed.

    `coarse` where the scale rounds by too much for the line.
    """

    value: Decimal
    word: str = ""
    coarse: bool = False


@dataclass(frozen=True, slots=True)
class CardLine:
    """One line of the formula, an amount for each batch column.

    `words` stand in place of amounts (`to taste`). `measure` of `measure_word` is the cook's own amount where it was
    no mass, `times` × `each` grams how it is portioned; both for the tested batch. `shape` is what is cut. `scale` is
    the step in grams of the scale to take, where a coarser one would not do. `working` are grams to work with.
    """

    ingredient: str
    amounts: tuple[CardAmount | None, ...] = ()
    words: str = ""
    measure: Decimal | None = None
    measure_word: str = ""
    shape: Size | None = None
    times: Decimal | None = None
    each: Decimal | None = None
    low: Decimal | None = None
    high: Decimal | None = None
    preparation: str = ""
    note: str = ""
    as_bought: bool = False
    as_needed: bool = False
    optional: bool = False
    seed: bool = False
    alternatives: tuple[str, ...] = ()
    working: Decimal | None = None
    goes_back: bool = False
    at_most: Amount | None = None
    scale: Decimal | None = None
    is_component: bool = False


@dataclass(frozen=True, slots=True)
class CardStage:
    """A stage in order of making; `kind` is a key for a preferment or soaker, else empty."""

    name: str
    kind: str
    lines: tuple[CardLine, ...]


@dataclass(frozen=True, slots=True)
class CardFormula:
    """The formula; `batches` heads its columns in order of size, the tested batch (1) among them. Sums in grams."""

    batches: tuple[Decimal, ...]
    stages: tuple[CardStage, ...]
    weights: tuple[Decimal, ...]


@dataclass(frozen=True, slots=True)
class CardComponent:
    """A component that the tested batch takes: how much, and how many of its own batches that is.

    `least` is the smallest amount that it can be made in, where that is more than the batch takes.
    """

    name: str
    weight: Amount
    batches: Decimal
    kind: str = ""
    code: str = ""
    count: Amount | None = None
    word: str = ""
    least: Amount | None = None


@dataclass(frozen=True, slots=True)
class CardSetting:
    """A setting or an end point as written; `also` holds its readings in the house's other scale."""

    text: str
    also: tuple[Amount, ...] = ()


@dataclass(frozen=True, slots=True)
class CardLimit:
    """A food-safety limit with room for a reading; `ccp` is the number of a critical control point, if it is one.

    `also` and `missed_also` hold the readings of its words in the house's other scale.
    """

    text: str
    also: tuple[Amount, ...] = ()
    if_missed: str = ""
    ccp: str = ""
    missed_also: tuple[Amount, ...] = ()


@dataclass(frozen=True, slots=True)
class CardStep:
    """One instruction. `cautions` are names of hazards; `look_for` are the points that tell that it is done."""

    number: int
    text: str
    at: CardSetting | None = None
    to: CardSetting | None = None
    takes: Time | None = None
    wait: Time | None = None
    hold: Time | None = None
    hold_at: Decimal | None = None
    on: str = ""
    load: Amount | None = None
    load_word: str = ""
    loads: int = 1
    needs: int = 1
    repeat: int = 1
    after: tuple[int, ...] = ()
    kill: bool = False
    limit: CardLimit | None = None
    cautions: tuple[str, ...] = ()
    look_for: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CardSteps:
    """A run of steps under one heading (empty: none)."""

    heading: str
    steps: tuple[CardStep, ...]


@dataclass(frozen=True, slots=True)
class CardCaution:
    """A hazard by name and what to do; `more` is what the recipe adds to it, without a name if to none."""

    name: str
    do: str
    more: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FirstAid:
    """What helps at once, and the hazards that it helps with."""

    cautions: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class MouldMaterial:
    """A material of mould making: when its supplier's sheet was looked at, and whether it is declared for food."""

    name: str
    sheet: date | None
    food_contact: bool


@dataclass(frozen=True, slots=True)
class CardAllergens:
    """Allergens by name; `undeclared` are the items that never declared any."""

    contains: tuple[str, ...] = ()
    may_contain: tuple[str, ...] = ()
    undeclared: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CardKeeping:
    """How long in one state, at most. `date_word` is what the client's date is called."""

    state: str
    most: Amount
    temperature: Decimal | None = None
    words: str = ""
    from_state: str = ""
    within: Amount | None = None
    date_word: str = ""


@dataclass(frozen=True, slots=True)
class CardView:
    """A bench card, all that is printed on it but its code. `allergens` is None for what is no food."""

    head: CardTitle
    figures: tuple[KeyFigure, ...]
    formula: CardFormula
    steps: tuple[CardSteps, ...]
    allergens: CardAllergens | None
    components: tuple[CardComponent, ...] = ()
    cautions: tuple[CardCaution, ...] = ()
    first_aid: tuple[FirstAid, ...] = ()
    keeping: tuple[CardKeeping, ...] = ()
    look_for: tuple[str, ...] = ()
    moulding: tuple[MouldMaterial, ...] = ()
    language: str = "en"
    fahrenheit: bool = False


@dataclass(frozen=True, slots=True)
class CardSheet:
    """A card as it is printed: with its code, the address that the code leads to (empty: none), and its edge.

    `pattern` numbers the section's edge; the edge sorts cards, and stands for nothing that is written on them.
    """

    view: CardView
    code: str
    address: str = ""
    pattern: int = 0


PARTS = ("weights", "steps", "allergens", "cautions", "the rest")
"""What a replaced card's page tells apart, in this order."""

"""The kitchen that owns the book: its settings, equipment, money and law."""

from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from bookmaker.measures.scales import Scale
from bookmaker.measures.units import Spoons
from bookmaker.model.shapes import Rectangle
from bookmaker.problems.anchors import NOWHERE, Anchor

LANGUAGES_WITH_WORDS = ("en",)
"""Languages in which the published pages' own words exist; for any other, figures and dates alone follow it."""


class Region(StrEnum):
    """Whose label law applies."""

    EU = "EU"
    UK = "UK"
    US = "US"


class Paper(StrEnum):
    """One size per build."""

    A4 = "A4"
    LETTER = "Letter"

    @property
    def sheet(self) -> Rectangle:
        """Width and height of one sheet, in millimetres (ISO 216; ANSI/ASME Y14.1)."""
        if self is Paper.A4:
            return Rectangle(Decimal(210), Decimal(297))
        return Rectangle(Decimal("215.9"), Decimal("279.4"))


class Choose(StrEnum):
    """Which price in force counts."""

    CHEAPEST = "cheapest"
    PREFERRED = "preferred"


class OverheadBase(StrEnum):
    """What the overhead percentage is taken of."""

    INGREDIENTS = "ingredients"
    LABOUR = "labour"
    BOTH = "ingredients and labour"


@dataclass(frozen=True, slots=True)
class PriceRule:
    """How a price is chosen, and after how many minutes it counts as stale."""

    choose: Choose = Choose.CHEAPEST
    preferred: tuple[str, ...] = ()
    stale_after: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Channel:
    """A way of selling: tax as a fraction of the net price, and its own food-cost target."""

    name: str
    tax: Decimal = Decimal(0)
    food_cost: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Holds:
    """What a piece of equipment takes at once.

    Grams (empty word), or a count of trays, sheets, moulds, tins, pieces.
    """

    amount: Decimal
    word: str = ""


@dataclass(frozen=True, slots=True)
class Equipment:
    """A machine or a place to work. `kind` is one of EQUIPMENT_KINDS; `power` in kilowatts."""

    name: str
    kind: str
    count: int = 1
    holds: tuple[Holds, ...] = ()
    power: Decimal | None = None


EQUIPMENT_KINDS = ("bench", "mixer", "oven", "hob", "cold", "freezer", "proofer", "sheeter", "other")


@dataclass(frozen=True, slots=True)
class Mould:
    """A mould of `cavities` cavities of `volume` ml each, filled to the fraction `fill`."""

    name: str
    cavities: int
    volume: Decimal
    fill: Decimal = Decimal(1)
    food_contact: bool = False
    made_of: str = ""
    anchor: Anchor = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Tin:
    """A tin or ring: volume in ml, or diameter and height in mm."""

    name: str
    volume: Decimal | None = None
    diameter: Decimal | None = None
    height: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Flat:
    """A frame or a tray: its inside size and height in mm."""

    name: str
    size: Rectangle
    height: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Staff:
    """People who work in a role, from `start` to `end` in minutes after midnight.

    An end past 1440 runs into the next day.
    """

    name: str
    role: str
    people: int = 1
    start: int = 0
    end: int = 1440


@dataclass(frozen=True, slots=True)
class Stickers:
    """A sheet of labels to print on: the size of one, how many stand across and down, and where; in millimetres.

    `left` and `top` are the margins before the first one. `small_packs` says that they go on packs whose largest side
    is under 80 cm², for which the law allows smaller letters.
    """

    name: str
    size: Rectangle
    across: int
    down: int
    left: Decimal
    top: Decimal
    gap_across: Decimal = Decimal(0)
    gap_down: Decimal = Decimal(0)
    small_packs: bool = False


class Compounds(StrEnum):
    """How the house's own components stand in an ingredient list.

    Merged, each ingredient is named once with all its weight; nested, a component keeps its name and a list of its own,
    which the law allows where that name is laid down or established by custom (Annex VII, part E).
    """

    MERGED = "merged"
    NESTED = "nested"


class Additives(StrEnum):
    """Behind their class, additives are named or numbered (Annex VII, part C)."""

    NAMES = "names"
    NUMBERS = "numbers"


class Packed(StrEnum):
    """Where products are packed for the guest: for sale elsewhere (prepacked), or on the premises that sell them."""

    ELSEWHERE = "for sale elsewhere"
    ON_PREMISES = "on premises"


@dataclass(frozen=True, slots=True)
class LabelRules:
    """What the house decides about labels and product sheets.

    `compounds`, `additives` and `packed` shape the ingredient list. `price` names the channel whose list price sheets
    show; empty: none. `stickers` are the label sheets that the house prints on.
    """

    compounds: Compounds = Compounds.MERGED
    additives: Additives = Additives.NAMES
    packed: Packed = Packed.ELSEWHERE
    price: str = ""
    stickers: tuple[Stickers, ...] = ()


class CardPaper(StrEnum):
    """What bench cards are printed on; all of them lie on their long side."""

    A4 = "A4"
    A5 = "A5"
    LETTER = "Letter"


@dataclass(frozen=True, slots=True)
class House:
    """Everything that the house decides. Money rates are in the house's currency."""

    name: str
    language: str = "en"
    region: Region = Region.EU
    paper: Paper = Paper.A4
    money: str = "EUR"
    batches: tuple[Decimal, ...] = (Decimal("0.5"), Decimal(1), Decimal(2), Decimal(4))
    fahrenheit: bool = False
    spoons: Spoons = Spoons.METRIC
    prices: PriceRule = PriceRule()
    food_cost: Decimal | None = None
    labour: tuple[tuple[str, Decimal], ...] = ()
    labour_role: str = ""
    overhead: Decimal = Decimal(0)
    overhead_base: OverheadBase = OverheadBase.INGREDIENTS
    energy: Decimal | None = None
    channels: tuple[Channel, ...] = ()
    scales: tuple[Scale, ...] = (Scale(Decimal(5000), Decimal(1)),)
    equipment: tuple[Equipment, ...] = ()
    moulds: tuple[Mould, ...] = ()
    tins: tuple[Tin, ...] = ()
    frames: tuple[Flat, ...] = ()
    trays: tuple[Flat, ...] = ()
    staff: tuple[Staff, ...] = ()
    see_costs: tuple[str, ...] = ()
    classes: tuple[str, ...] = ()
    published_at: str = ""
    cross_contact: str = ""
    cross_contact_allergens: frozenset[str] = frozenset()
    forbid_claims: tuple[str, ...] = ()
    contact: str = ""
    labels: LabelRules = LabelRules()
    card_paper: CardPaper = CardPaper.A4
    sections: tuple[tuple[str, str], ...] = ()
    anchor: Anchor = field(default=NOWHERE, compare=False)

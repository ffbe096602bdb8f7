"""What a product sheet shows to a client.

What may be told is settled by these types: none of them can hold a cost, a step, a supplier or a note. The one type
that holds money is `ListPrice`, the price that the house wrote itself. They are the edition's own, shared with no
other, so that nothing comes in by way of a neighbour. Words that are ours (`best before`) are English keys that the
press translates.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum


@dataclass(frozen=True, slots=True, order=True)
class Address:
    """A page of the edition by its file's stem; all pages lie in one folder."""

    stem: str


# --- amounts that are no money ----------------------------------------------------------------------------------------


class MassUnit(StrEnum):
    """What masses are printed in."""

    GRAM = "g"
    KILOGRAM = "kg"


@dataclass(frozen=True, slots=True)
class Mass:
    """A mass, rounded."""

    value: Decimal
    unit: MassUnit = MassUnit.GRAM


@dataclass(frozen=True, slots=True)
class ListPrice:
    """The price that the house lists for one portion or piece: as it wrote it, tax (percent) in it or on top."""

    amount: Decimal
    currency: str
    taxed: bool
    tax: Decimal


# --- what the law wants said ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Words:
    """A run of a declaration; an allergen is set apart."""

    text: str
    allergen: bool = False


class Verdict(StrEnum):
    """What is known of an allergen. There is no word for free from: nobody promised that."""

    CONTAINS = "contains"
    MAY_CONTAIN = "may contain"
    NOT_KNOWN = "not known"  # something in the product was never declared
    NOT_NAMED = "not named"  # every declaration is there, and none names it


@dataclass(frozen=True, slots=True)
class AllergenRow:
    """One group of the law's list, and which of its members are meant: `named` where the group has several.

    `others` says that of the group's other members it is not known whether they are in.
    """

    group: str
    verdict: Verdict
    named: bool = False
    contains: tuple[str, ...] = ()
    may_contain: tuple[str, ...] = ()
    others: bool = False


@dataclass(frozen=True, slots=True)
class Allergens:
    """The law's list, row by row, and the house's own words on cross contact."""

    rows: tuple[AllergenRow, ...]
    complete: bool
    cross_contact: str


@dataclass(frozen=True, slots=True)
class NutritionLine:
    """One nutrient, printed as the law rounds it; `within` marks a part of the line above."""

    name: str
    per_100: str
    per_piece: str
    reference: str
    within: bool


@dataclass(frozen=True, slots=True)
class Nutrients:
    """Grams per 100 g (sodium: milligrams), and energy with its unit, for machines; what is not known is left out."""

    energy: str = ""
    fat: str = ""
    saturates: str = ""
    carbohydrate: str = ""
    sugars: str = ""
    fibre: str = ""
    protein: str = ""
    sodium: str = ""


@dataclass(frozen=True, slots=True)
class Nutrition:
    """The nutrition table. A column in which no line has anything is not there; `piece` is what one of them weighs."""

    lines: tuple[NutritionLine, ...]
    has_per_100: bool
    has_per_piece: bool
    has_reference: bool
    reference_word: str
    piece: Mass | None
    piece_word: str
    notes: tuple[str, ...]
    plain: Nutrients


# --- keeping ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Keeping:
    """How long the product keeps in one state: minutes, degrees Celsius, and from which state within what time."""

    state: str
    minutes: Decimal
    temperature: Decimal | None
    words: str
    from_state: str
    within: Decimal | None
    date_word: str


# --- how it is built --------------------------------------------------------------------------------------------------


class Form(StrEnum):
    """What a layer looks like when it is cut through."""

    SLAB = "slab"
    DOME = "dome"
    PEBBLE = "pebble"
    SHELL = "shell"  # a bottom and walls round whatever stands on it


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer; width and height in millimetres as far as they are known. `inside` is what it encloses."""

    name: str
    form: Form
    width: Decimal | None
    height: Decimal | None
    inside: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CrossSection:
    """The product cut open, bottom to top, with what coats it. Only where every size is known is it `to_scale`."""

    layers: tuple[Layer, ...]
    coats: tuple[str, ...]
    to_scale: bool


# --- pages ------------------------------------------------------------------------------------------------------------


class Gap(StrEnum):
    """What a sheet cannot say yet, and says so."""

    INGREDIENTS = "ingredients"
    ALLERGENS = "allergens"
    NUTRITION = "nutrition"
    KEEPING = "keeping"
    NET = "net weight"


@dataclass(frozen=True, slots=True)
class Portion:
    """What is sold at once: pieces by their word, or a mass alone; `servings` is into how many it is cut."""

    count: Decimal | None
    word: str
    mass: Mass | None
    servings: int | None = None


@dataclass(frozen=True, slots=True)
class Photo:
    """That there is a photo, and what it shows. It is published under the page's own name."""

    text: str


@dataclass(frozen=True, slots=True)
class Instruction:
    """What a client is to do; `again` are temperatures in it (°C) to be given on the house's own scale as well."""

    words: str
    again: tuple[Decimal, ...] = ()


@dataclass(frozen=True, slots=True)
class SheetView:
    """The sheet of one product in one size. `quantities` are of what its name says and its ingredient list does not."""

    address: Address
    title: str
    size: str
    legal_name: str
    defrosted: bool
    quantities: tuple[str, ...]
    describe: str
    photo: Photo | None
    section: CrossSection | None
    portion: Portion | None
    net: Mass | None
    price: ListPrice | None
    declaration: tuple[Words, ...]
    allergens: Allergens
    nutrition: Nutrition | None
    diets: tuple[str, ...]
    notes: tuple[str, ...]
    keeping: tuple[Keeping, ...]
    serve: Instruction | None
    thaw: Instruction | None
    gaps: tuple[Gap, ...]
    revision: int
    revised: date | None
    law: str


@dataclass(frozen=True, slots=True)
class WithheldView:
    """Stands at a sheet's address while the sheet is being revised."""

    address: Address
    title: str
    size: str


@dataclass(frozen=True, slots=True)
class IndexEntry:
    """A product's name and its page."""

    title: str
    address: Address


@dataclass(frozen=True, slots=True)
class IndexView:
    """All sheets by name, and no more about them."""

    entries: tuple[IndexEntry, ...]


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands around every page: whose it is, whom to ask, how it is printed, and what is to be checked."""

    house: str
    language: str
    contact: str
    fahrenheit: bool
    paper: str
    check: str


INDEX = Address("index")
ALL = Address("all")
"""The one document with all sheets."""

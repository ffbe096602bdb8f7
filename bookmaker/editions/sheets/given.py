"""What the projection of a sheet is given: the access list of this edition.

Nothing else of the book reaches a sheet. A recipe's formula, method, notes and cost, the house's rates, the stores and
their suppliers have no place in these values.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from bookmaker.kitchen.figures import KeepingFigure
from bookmaker.kitchen.label_figures import LabelFigure
from bookmaker.model.house import Region
from bookmaker.model.recipe import ClientText, Layer, ListPrice, Portion


@dataclass(frozen=True, slots=True)
class HouseGiven:
    """What clients may know of the house."""

    name: str
    language: str
    contact: str
    region: Region
    fahrenheit: bool
    paper: str
    cross_contact: str
    forbid_claims: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PieceGiven:
    """What one piece is: its word, its grams, and the width across which it is cut open, in millimetres."""

    word: str
    grams: Decimal | None
    width: Decimal | None


@dataclass(frozen=True, slots=True)
class PriceGiven:
    """The authored list price of the channel that sheets show, and its tax as a fraction."""

    listed: ListPrice
    tax: Decimal


@dataclass(frozen=True, slots=True)
class ProductGiven:
    """Who a product is, and what its recipe says to clients. `photo` is what the photo shows, None without one."""

    title: str
    size: str
    revision: int
    revised: date | None
    client: ClientText
    portion: Portion | None
    servings: int | None
    layers: tuple[Layer, ...]
    photo: str | None


@dataclass(frozen=True, slots=True)
class SheetGiven:
    """Everything for one sheet."""

    product: ProductGiven
    piece: PieceGiven
    label: LabelFigure
    keeping: tuple[KeepingFigure, ...]
    price: PriceGiven | None

"""Flat shapes of the trade: sheets, and what is cut from them. Lengths in millimetres."""

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Rectangle:
    """Width by depth, as written."""

    width: Decimal
    depth: Decimal


@dataclass(frozen=True, slots=True)
class Disc:
    """A round of that diameter."""

    diameter: Decimal


Shape = Rectangle | Disc

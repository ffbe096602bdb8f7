"""What a sheet of labels shows: the products' own labels, and where they stand on the paper."""

from dataclasses import dataclass
from decimal import Decimal

from bookmaker.editions.sheets.views import Frame, Mass, Words


@dataclass(frozen=True, slots=True)
class LabelView:
    """One product's label. `figures` is how high its net weight must be printed, in millimetres."""

    title: str
    size: str
    legal_name: str
    defrosted: bool
    quantities: tuple[str, ...]
    declaration: tuple[Words, ...]
    may_contain: tuple[str, ...]
    notes: tuple[str, ...]
    net: Mass | None
    figures: Decimal
    date_word: str
    temperature: Decimal | None
    words: str


@dataclass(frozen=True, slots=True)
class Grid:
    """Where labels stand on the paper, in millimetres."""

    width: Decimal
    height: Decimal
    across: int
    down: int
    left: Decimal
    top: Decimal
    gap_across: Decimal
    gap_down: Decimal


@dataclass(frozen=True, slots=True)
class LabelSheetView:
    """All labels of one size. `letters` is the least height of a small letter, in millimetres, by the `rule` named.

    `unfit` are products whose label cannot be printed because their ingredients or allergens are not all declared.
    """

    name: str
    frame: Frame
    grid: Grid
    letters: Decimal
    rule: str
    labels: tuple[LabelView, ...]
    unfit: tuple[str, ...]

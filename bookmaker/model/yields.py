"""What comes out of a batch, as the cook states it."""

from dataclasses import dataclass, field
from decimal import Decimal

from bookmaker.model.keeping import Keeping
from bookmaker.model.shapes import Rectangle, Shape
from bookmaker.problems.anchors import NOWHERE, Anchor


@dataclass(frozen=True, slots=True)
class MassYield:
    """`1.1 kg`: grams of finished product."""

    grams: Decimal


@dataclass(frozen=True, slots=True)
class PieceYield:
    """`24 buns`, `24 pieces of 46 g` (finished), `24 pieces scaled at 55 g` (raw)."""

    count: Decimal
    word: str
    finished: Decimal | None = None
    scaled: Decimal | None = None


@dataclass(frozen=True, slots=True)
class MouldYield:
    """`fills 4 pebble mould`: one piece per cavity."""

    count: Decimal
    mould: str


@dataclass(frozen=True, slots=True)
class SheetYield:
    """`1 sheet of 60 × 40 cm at 4 mm`: finished size and thickness, in millimetres."""

    count: Decimal
    size: Rectangle
    thickness: Decimal | None = None


@dataclass(frozen=True, slots=True)
class FrameYield:
    """`1 frame of bar frame`."""

    count: Decimal
    frame: str


@dataclass(frozen=True, slots=True)
class TinYield:
    """`2 tins of loaf tin 900`: one piece per tin."""

    count: Decimal
    tin: str


@dataclass(frozen=True, slots=True)
class TrayYield:
    """`3 trays`; the recipe's `tray` says how many pieces one holds."""

    count: Decimal


Yield = MassYield | PieceYield | MouldYield | SheetYield | FrameYield | TinYield | TrayYield


@dataclass(frozen=True, slots=True)
class CutSpec:
    """How a sheet or frame is cut into this recipe's own pieces; `trim` (mm) is taken off each side first."""

    shape: Shape
    trim: Decimal = Decimal(0)
    word: str = "pieces"


@dataclass(frozen=True, slots=True)
class BoilTo:
    """An end point that computes the yield: a share of dissolved solids (0.65 for 65 °Brix), or a mass in grams."""

    brix: Decimal | None = None
    grams: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Making:
    """How a component is batched, in grams of batch; `whole` means whole batches only."""

    least: Decimal | None = None
    step: Decimal | None = None
    most: Decimal | None = None
    whole: bool = False


@dataclass(frozen=True, slots=True)
class CoProduct:
    """What a batch gives beside its product.

    `grams` or `share` (of the usable mass), or neither: the rest of the cut. `worth` is the fraction of the parent's
    cost per gram that it is credited with; `keeps` its own keeping, where it differs from the parent's.
    """

    name: str
    grams: Decimal | None = None
    share: Decimal | None = None
    worth: Decimal = Decimal(0)
    keeps: tuple[Keeping, ...] = ()
    anchor: Anchor = field(default=NOWHERE, compare=False)

    @property
    def rest_of_cut(self) -> bool:
        """Whether it is what remains when the pieces are cut."""
        return self.grams is None and self.share is None

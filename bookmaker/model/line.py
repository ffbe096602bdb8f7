"""A formula line, bound: what goes into the bowl, how much of it, and what stays in the product."""

from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from bookmaker.measures.amounts import Amount
from bookmaker.model.refs import Target
from bookmaker.model.shapes import Shape
from bookmaker.problems.anchors import NOWHERE, Anchor


@dataclass(frozen=True, slots=True)
class Grams:
    """A mass. `written` is the cook's own amount where it was no mass; `by` says what turned it into one."""

    grams: Decimal
    written: Amount | None = None
    by: str = ""


@dataclass(frozen=True, slots=True)
class Percent:
    """Percent of the formula's base (100 = as much as the base)."""

    percent: Decimal


@dataclass(frozen=True, slots=True)
class Pieces:
    """A number of a component's own pieces (or of a counted packaging item)."""

    count: Decimal
    word: str = "pieces"


@dataclass(frozen=True, slots=True)
class Cut:
    """A number of shapes cut from a component that yields sheets; the offcut belongs to this recipe."""

    count: Decimal
    shape: Shape
    word: str = "pieces"


@dataclass(frozen=True, slots=True)
class Sheets:
    """A number of a component's whole sheets, frames, trays or tins."""

    count: Decimal


@dataclass(frozen=True, slots=True)
class Batches:
    """A number of a component's batches."""

    count: Decimal


@dataclass(frozen=True, slots=True)
class Unmeasured:
    """`to taste`, or `as needed` without an amount: named, never weighed or costed."""

    words: str


Quantity = Grams | Percent | Pieces | Cut | Sheets | Batches | Unmeasured


class Rest(StrEnum):
    """Where the part of a line goes that does not stay in the product."""

    BACK = "back"  # returns to stores: neither consumed nor paid for
    WASTE = "waste"  # thrown away: paid for
    AIR = "air"  # evaporates or burns off: paid for


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a formula.

    `quantity` is for all `times` together. `stays` is a fraction of it, `stays_grams` an absolute mass (at most one of
    the two is given; neither means all stays). `loss` is this line's own waste fraction on the way into the bowl's
    product.
    """

    id: str
    name: str
    target: Target
    quantity: Quantity
    times: Decimal = Decimal(1)
    preparation: str = ""
    as_bought: bool = False
    as_needed: bool = False
    low: Decimal | None = None
    high: Decimal | None = None
    stays: Decimal | None = None
    stays_grams: Decimal | None = None
    rest: Rest = Rest.WASTE
    working: Decimal | None = None
    loss: Decimal = Decimal(0)
    optional: bool = False
    alternatives: tuple[Target, ...] = ()
    at_most: Decimal | None = None
    note: str = ""
    anchor: Anchor = field(default=NOWHERE, compare=False)


class LossKind(StrEnum):
    """What leaves: water, or product."""

    MOISTURE = "moisture"
    WASTE = "waste"


LOSSES: dict[str, LossKind] = {
    **dict.fromkeys(("boil", "bake", "dry", "cook", "reduce", "roast", "fry"), LossKind.MOISTURE),
    **dict.fromkeys(("mix", "transfer", "trim", "portion", "break", "sieve", "peel", "mould"), LossKind.WASTE),
}
"""The losses a cook may name. A new one is a word here and its tests."""


@dataclass(frozen=True, slots=True)
class Loss:
    """A fraction of the mass that is in by then."""

    name: str
    share: Decimal
    anchor: Anchor = field(default=NOWHERE, compare=False)

    @property
    def kind(self) -> LossKind:
        """Whether water or product leaves."""
        return LOSSES[self.name]


class StageKind(StrEnum):
    """A stage may itself be a preferment or soaker, counted in the total formula."""

    PLAIN = ""
    PREFERMENT = "preferment"
    SOAKER = "soaker"


@dataclass(frozen=True, slots=True)
class Stage:
    """A group of lines in order of making; its losses act on all mass that is in when it ends."""

    name: str
    lines: tuple[Line, ...]
    losses: tuple[Loss, ...] = ()
    kind: StageKind = StageKind.PLAIN

"""A formula line as written: amounts read, names unbound."""

from dataclasses import dataclass
from decimal import Decimal

from bookmaker.measures.amounts import Amount
from bookmaker.model.line import Rest
from bookmaker.model.shapes import Shape
from bookmaker.problems.anchors import Anchor


@dataclass(frozen=True, slots=True)
class Words:
    """A piece of text that somebody wrote, and where."""

    text: str
    anchor: Anchor


@dataclass(frozen=True, slots=True)
class WrittenCut:
    """`24 discs of 40 mm`: how many of what shape; `word` is the cook's own."""

    count: Decimal
    word: str
    shape: Shape


@dataclass(frozen=True, slots=True)
class Vague:
    """`to taste` or `as needed`: no amount at all."""

    words: str


WrittenQuantity = Amount | WrittenCut | Vague


@dataclass(frozen=True, slots=True)
class LineText:
    """What a line's text says. For a bare count (`3 leaves gelatine`) the name still has its measure before it.

    `start`..`end` is the name within the text, `amount_end` the offset behind the amount. `low`, `high` are the ends
    of a range, in the amount's own unit.
    """

    quantity: WrittenQuantity
    name: str
    start: int
    end: int
    amount_start: int = 0
    amount_end: int = 0
    times: Decimal = Decimal(1)
    preparation: str = ""
    as_bought: bool = False
    as_needed: bool = False
    low: Decimal | None = None
    high: Decimal | None = None


@dataclass(frozen=True, slots=True)
class WrittenLine:
    """One line: its text read, and what its mapping adds. Amounts of the mapping are fractions or grams."""

    said: LineText
    anchor: Anchor
    stays: Decimal | None = None
    stays_grams: Decimal | None = None
    rest: Rest | None = None
    working: Decimal | None = None
    loss: Decimal | None = None
    optional: bool | None = None
    alternatives: tuple[Words, ...] = ()
    at_most: Decimal | None = None
    note: str = ""

    @property
    def name_anchor(self) -> Anchor:
        """Where the name stands."""
        return self.anchor.part(self.said.start, self.said.end)

    @property
    def amount_anchor(self) -> Anchor:
        """Where the amount stands."""
        return self.anchor.part(self.said.amount_start, self.said.amount_end)

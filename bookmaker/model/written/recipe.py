"""One recipe file, read: amounts and times are values, names of other things still words."""

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from bookmaker.measures.money import Money
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.keeping import Keeping
from bookmaker.model.line import Loss, StageKind
from bookmaker.model.method import Method
from bookmaker.model.recipe import ClientText, Kind, Portion, Status, Teaching
from bookmaker.model.written.line import Words, WrittenLine
from bookmaker.model.yields import BoilTo, CoProduct, CutSpec, Making, Yield
from bookmaker.problems.anchors import Anchor


@dataclass(frozen=True, slots=True)
class WrittenStage:
    """A stage as written; the empty name stands for a formula without stages."""

    name: str
    kind: StageKind
    lines: tuple[WrittenLine, ...]
    losses: tuple[Loss, ...] = ()


@dataclass(frozen=True, slots=True)
class WrittenPrice:
    """What a channel pays for one piece or portion."""

    channel: Words
    money: Money
    taxed: bool


@dataclass(frozen=True, slots=True)
class WrittenPackaging:
    """A number of something per batch, or per so many pieces."""

    name: Words
    count: Decimal
    per: Decimal | None = None


@dataclass(frozen=True, slots=True)
class WrittenLayer:
    """One layer, bottom to top, by name."""

    name: Words
    shape: str = ""
    thickness: Decimal | None = None
    holds: tuple[Words, ...] = ()
    coats: bool = False


@dataclass(frozen=True, slots=True)
class WrittenLink:
    """A link to another file of the book: its path from the book's folder, and the words in the source."""

    path: str
    written: str
    anchor: Anchor


@dataclass(frozen=True, slots=True)
class WrittenRecipe:
    """Everything that one recipe file says by itself.

    `id` is its path without `.md`. `sound` is false when the formula, the yield or a loss could not be read, so that
    nothing should be computed from it. `yields_anchor` is where this size's yield stands. `sizes` holds the recipe in
    each of its sizes, complete, with its overrides applied.
    """

    document: str
    id: str
    section: str
    title: Words
    kind: Kind
    status: Status
    yields: Yield | None
    stages: tuple[WrittenStage, ...]
    sound: bool
    yields_anchor: Anchor
    code: Words | None = None
    revision: int = 1
    revised: date | None = None
    tags: tuple[Words, ...] = ()
    aka: tuple[Words, ...] = ()
    base: Words | None = None
    batch: Decimal | None = None
    losses: tuple[Loss, ...] = ()
    tray: Decimal | None = None
    keep_back: Decimal | None = None
    boil_to: BoilTo | None = None
    cut: CutSpec | None = None
    gives: tuple[CoProduct, ...] = ()
    make: Making = Making()
    layers: tuple[WrittenLayer, ...] = ()
    packaging: tuple[WrittenPackaging, ...] = ()
    density: Decimal | None = None
    dough_temperature: Temperature | None = None
    labour_role: Words | None = None
    portion: Portion | None = None
    servings: int | None = None
    prices: tuple[WrittenPrice, ...] = ()
    client: ClientText = ClientText()
    named: tuple[Words, ...] = ()
    keeps: tuple[Keeping, ...] = ()
    cautions: tuple[Words, ...] = ()
    teaching: Teaching = Teaching()
    topics: tuple[Words, ...] = ()
    photo: Words | None = None
    photo_text: str = ""
    method: Method = Method()
    links: tuple[WrittenLink, ...] = ()
    size: str = ""
    sizes: "tuple[WrittenRecipe, ...]" = field(default=())

    @property
    def top(self) -> Anchor:
        """The document itself."""
        return Anchor(self.document)

    @property
    def lines(self) -> tuple[WrittenLine, ...]:
        """All formula lines in order."""
        return tuple(line for stage in self.stages for line in stage.lines)

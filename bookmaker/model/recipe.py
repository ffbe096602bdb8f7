"""A recipe, bound and in one size."""

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum

from bookmaker.measures.money import Money
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.keeping import Keeping
from bookmaker.model.line import Line, Loss, Stage
from bookmaker.model.method import Method
from bookmaker.model.refs import RecipeRef, StoresRef, Target
from bookmaker.model.yields import BoilTo, CoProduct, CutSpec, Making, Yield
from bookmaker.problems.anchors import NOWHERE, Anchor


class Kind(StrEnum):
    """What a recipe is in the house."""

    PRODUCT = "product"
    COMPONENT = "component"
    PREFERMENT = "preferment"
    SOAKER = "soaker"
    MOULDING = "moulding"  # not food: never on a label


class Status(StrEnum):
    """How far a recipe has come."""

    DRAFT = "draft"
    TRIAL = "trial"
    APPROVED = "approved"
    RETIRED = "retired"


class BaseKind(StrEnum):
    """What counts as 100 %."""

    FLOUR = "flour"
    ITEM = "item"
    TOTAL = "total"


@dataclass(frozen=True, slots=True)
class Base:
    """What is 100 %: all flours, the lines of `target`, or the total."""

    kind: BaseKind
    target: Target | None = None


@dataclass(frozen=True, slots=True)
class ListPrice:
    """What a channel pays for one piece or portion; `taxed` says whether the tax is in it."""

    channel: str
    money: Money
    taxed: bool


@dataclass(frozen=True, slots=True)
class Portion:
    """What one guest gets: a number of pieces, or grams."""

    pieces: Decimal | None = None
    grams: Decimal | None = None


@dataclass(frozen=True, slots=True)
class PackagingLine:
    """`count` of a packaging item per batch, or per `per` pieces."""

    target: StoresRef
    count: Decimal
    per: Decimal | None = None
    anchor: Anchor = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of a built product, bottom to top; `holds` is what it encloses, `coats` marks a coating."""

    name: str
    target: Target | None
    shape: str = ""
    thickness: Decimal | None = None
    holds: tuple[str, ...] = ()
    coats: bool = False


@dataclass(frozen=True, slots=True)
class Teaching:
    """What the workbook does with this recipe."""

    teach: bool = False
    level: int = 1
    topics: tuple[str, ...] = ()
    add: tuple[str, ...] = ()
    leave_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ClientText:
    """What a client may read about a product."""

    describe: str = ""
    serve: str = ""
    sold_as: str = ""
    named: tuple[str, ...] = ()
    defrosted: bool = False
    thaw: str = ""


@dataclass(frozen=True, slots=True)
class Recipe:
    """One recipe in one size (`ref.size` empty where it has no sizes)."""

    ref: RecipeRef
    title: str
    section: str
    kind: Kind
    yields: Yield
    stages: tuple[Stage, ...]
    base: Base
    status: Status = Status.DRAFT
    code: str = ""
    revision: int = 1
    revised: date | None = None
    tags: tuple[str, ...] = ()
    aka: tuple[str, ...] = ()
    batch: Decimal | None = None
    losses: tuple[Loss, ...] = ()
    tray: Decimal | None = None
    keep_back: Decimal | None = None
    boil_to: BoilTo | None = None
    cut: CutSpec | None = None
    gives: tuple[CoProduct, ...] = ()
    make: Making = Making()
    layers: tuple[Layer, ...] = ()
    packaging: tuple[PackagingLine, ...] = ()
    density: Decimal | None = None
    dough_temperature: Temperature | None = None
    labour_role: str = ""
    portion: Portion | None = None
    servings: int | None = None
    prices: tuple[ListPrice, ...] = ()
    client: ClientText = ClientText()
    keeps: tuple[Keeping, ...] = ()
    cautions: tuple[str, ...] = ()
    teaching: Teaching = Teaching()
    photo: str = ""
    photo_text: str = ""
    method: Method = Method()
    anchor: Anchor = field(default=NOWHERE, compare=False)

    @property
    def lines(self) -> tuple[Line, ...]:
        """All formula lines in order."""
        return tuple(line for stage in self.stages for line in stage.lines)

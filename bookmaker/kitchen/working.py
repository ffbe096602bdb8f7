"""The working of a figure: how it came about, one level at a time."""

from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.figures import Lack, PriceKey
from bookmaker.model.refs import RecipeRef, StoresRef


@dataclass(frozen=True, slots=True)
class LineSource:
    """A recipe's formula line."""

    recipe: RecipeRef
    line: str


@dataclass(frozen=True, slots=True)
class StepSource:
    """A recipe's step."""

    recipe: RecipeRef
    step: int


@dataclass(frozen=True, slots=True)
class HouseSource:
    """A setting of the house, by its key."""

    key: str


@dataclass(frozen=True, slots=True)
class FigureSource:
    """Another figure, which has a working of its own: the next level."""

    recipe: RecipeRef
    what: str


Source = LineSource | StepSource | HouseSource | FigureSource | PriceKey | StoresRef | RecipeRef


@dataclass(frozen=True, slots=True)
class Term:
    """One input of a working: `label` in words, its value and unit, where it comes from, and how it enters (`note`)."""

    label: str
    value: Decimal | None
    unit: str
    source: Source | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Working:
    """One figure's working: the rule in words, its inputs, the result, and what it lacks.

    Units are `g`, `EUR` (the house's currency code), `EUR/kg`, `%`, `min`, `pieces`, `` ...; values are exact.
    `verdict` is the result of what is no number, as a key: contains, may contain, not declared.
    """

    what: str
    of: RecipeRef
    rule: str
    terms: tuple[Term, ...]
    result: Decimal | None
    unit: str
    lacks: tuple[Lack, ...] = ()
    verdict: str = ""

"""The times of single steps: how long each lasts and when, on a ribbon of time and on the critical chain. Minutes."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from bookmaker.model.refs import RecipeRef


class TimeKind(StrEnum):
    """What a stretch of time is."""

    WORK = "work"
    TAKES = "takes"
    WAIT = "wait"


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of the recipe's own time: minutes from its start."""

    step: int
    kind: TimeKind
    start: Decimal
    end: Decimal


@dataclass(frozen=True, slots=True)
class StepTime:
    """One step at the tested batch: hands-on person-minutes, elapsed minutes, earliest start and slack.

    `loads` are what goes into one machine at once; in each of the `turns`, one after the other, go as many of them as
    there are machines.
    """

    step: int
    hands_on: Decimal
    elapsed: Decimal
    start: Decimal
    slack: Decimal
    loads: int
    turns: int
    shortest: Decimal
    longest: Decimal | None


@dataclass(frozen=True, slots=True)
class ChainLink:
    """One step on the critical chain, with its start counted from the beginning of everything."""

    recipe: RecipeRef
    step: int
    start: Decimal
    end: Decimal

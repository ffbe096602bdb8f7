"""The method: numbered steps, and the notes between them. All durations in minutes."""

from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from bookmaker.measures.durations import Span
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.prose import Blocks, Inline
from bookmaker.problems.anchors import NOWHERE, Anchor


@dataclass(frozen=True, slots=True)
class Each:
    """Hands-on minutes per piece, tray, sheet, mould or tin."""

    minutes: Decimal
    per: str


@dataclass(frozen=True, slots=True)
class Hold:
    """How long the recipe may pause after a step, and at what temperature."""

    span: Span
    at: Temperature | None = None


@dataclass(frozen=True, slots=True)
class Reading:
    """A setting or an end point as written, and the temperatures in it (`top 180 °C, bottom 160 °C, steam`)."""

    text: str
    temperatures: tuple[Temperature, ...] = ()


@dataclass(frozen=True, slots=True)
class Load:
    """How much goes in at once.

    A count of `word` (pieces, trays, sheets, moulds, tins), or `grams` with an empty word.
    """

    amount: Decimal
    word: str = ""


@dataclass(frozen=True, slots=True)
class Limit:
    """A food-safety limit with what to do when it is missed; `ccp` is its number in the house's plan, if it has one."""

    text: str
    if_missed: str = ""
    ccp: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One instruction. `number` counts through the recipe from 1; `after` holds numbers of the steps it waits for."""

    number: int
    text: tuple[Inline, ...]
    name: str = ""
    work: Decimal | None = None
    each: Each | None = None
    takes: Span | None = None
    wait: Span | None = None
    hold: Hold | None = None
    at: Reading | None = None
    to: Reading | None = None
    on: str = ""
    load: Load | None = None
    needs: int = 1
    repeat: int = 1
    uses: tuple[str, ...] = ()
    after: tuple[int, ...] = ()
    limit: Limit | None = None
    kill: bool = False
    cautions: tuple[str, ...] = ()
    anchor: Anchor = field(default=NOWHERE, compare=False)


class NoteKind(StrEnum):
    """What a block in the method is for."""

    CAUTION = "caution"
    WHY = "why"
    LOOK_FOR = "look for"
    FIX = "fix"
    NOTE = "note"
    PRIVATE = "private"  # never leaves the team book


@dataclass(frozen=True, slots=True)
class Note:
    """A block beside the steps.

    `after` is the number of the step it follows, 0 before the first; `name` names a caution.
    """

    kind: NoteKind
    content: Blocks
    after: int
    name: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """A run of steps under one heading (empty for a method without headings)."""

    heading: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Method:
    """A recipe's body: introduction, sections of steps, notes."""

    introduction: Blocks = ()
    sections: tuple[Section, ...] = ()
    notes: tuple[Note, ...] = ()

    @property
    def steps(self) -> tuple[Step, ...]:
        """All steps in order."""
        return tuple(step for section in self.sections for step in section.steps)

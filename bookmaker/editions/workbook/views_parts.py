"""What exercises are made of: sentences with values in them, tables with gaps, room to write.

Sentences are English keys that the press translates, with `%(name)s` where a value stands; values stay numbers until
they are set, so that a house's decimal sign and a test's arithmetic both get what they need.
"""

from dataclasses import dataclass
from decimal import Decimal

from bookmaker.editions.team.views import Amount


@dataclass(frozen=True, slots=True)
class Word:
    """A word of ours inside a sentence, to be translated."""

    key: str


@dataclass(frozen=True, slots=True)
class Clock:
    """A time of day in minutes after midnight; below 0 it is on a day before."""

    minutes: int


Value = Amount | Decimal | int | str | Word | Clock


@dataclass(frozen=True, slots=True)
class Say:
    """A sentence."""

    text: str
    values: tuple[tuple[str, Value], ...] = ()

    def __getitem__(self, name: str) -> Value:
        """The value of that name."""
        return dict(self.values)[name]


def say(text: str, /, **values: Value) -> Say:
    """A sentence with its values."""
    return Say(text, tuple(values.items()))


@dataclass(frozen=True, slots=True)
class Gap:
    """An empty box of a table, for the apprentice to fill."""


@dataclass(frozen=True, slots=True)
class Filled:
    """What belongs into a gap."""

    value: Value | Say


Cell = Value | Say | Gap | Filled


@dataclass(frozen=True, slots=True)
class Grid:
    """A table. The first cell of a row names it; heads are words of ours."""

    head: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    caption: Say


@dataclass(frozen=True, slots=True)
class Room:
    """A question with room for its answer: a box before `unit`, or `lines` to write on."""

    asked: Say
    unit: str = ""
    lines: int = 0


@dataclass(frozen=True, slots=True)
class Result:
    """The answer to a question: `asked` as in its `Room`."""

    asked: Say
    value: Value | Say


@dataclass(frozen=True, slots=True)
class Lettered:
    """Things with a letter each."""

    items: tuple[tuple[str, Say], ...]


Part = Say | Grid | Room | Lettered
Answer = Say | Grid | Result


@dataclass(frozen=True, slots=True)
class Exercise:
    """One exercise. Whatever its answer is computed from is printed in `task`.

    `working` leads to the answer line by line; `note` says where several answers are right, or what to mind.
    """

    kind: str
    task: tuple[Part, ...]
    answer: tuple[Answer, ...]
    working: tuple[Say, ...]
    note: Say | None = None


def without_answers(grid: Grid) -> Grid:
    """The table as the apprentice gets it."""
    rows = tuple(tuple(Gap() if isinstance(cell, Filled) else cell for cell in row) for row in grid.rows)
    return Grid(grid.head, rows, grid.caption)

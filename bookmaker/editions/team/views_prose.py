"""Prose with its links resolved to routes: what the press sets."""

from dataclasses import dataclass

from bookmaker.editions.team.views import Route


@dataclass(frozen=True, slots=True)
class Words:
    """Plain words."""

    text: str


@dataclass(frozen=True, slots=True)
class Stress:
    """Stressed words."""

    content: "tuple[Piece, ...]"
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Literal:
    """Literal text."""

    text: str


@dataclass(frozen=True, slots=True)
class PageLink:
    """A link to a page of this edition."""

    to: Route
    content: "tuple[Piece, ...]"


@dataclass(frozen=True, slots=True)
class WebLink:
    """A link that leaves the book."""

    address: str
    content: "tuple[Piece, ...]"


@dataclass(frozen=True, slots=True)
class NewLine:
    """A forced line break."""


Piece = Words | Stress | Literal | PageLink | WebLink | NewLine
Run = tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Para:
    """A paragraph."""

    content: Run


@dataclass(frozen=True, slots=True)
class Points:
    """A list."""

    items: "tuple[Prose, ...]"
    ordered: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """A table with one heading row."""

    head: tuple[Run, ...]
    rows: tuple[tuple[Run, ...], ...]


Passage = Para | Points | Grid
Prose = tuple[Passage, ...]

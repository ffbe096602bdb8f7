"""Pieces in a row: which page each starts on, blank pages before right-hand starts, where every destination is."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bookmaker.press.assembly.fragment import Description


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece in the book: the number of its first page, from 1, and whether a blank page stands before that."""

    piece: Description
    first: int
    blank: bool


def side(page: int) -> str:
    """Odd pages lie on the right."""
    return "right" if page % 2 else "left"


def impose(pieces: Sequence[Description]) -> Iterator[Placed]:
    """Give each piece its pages."""
    page = 1
    for piece in pieces:
        blank = bool(piece.start) and side(page) != piece.start
        yield Placed(piece, page + blank, blank)
        page += blank + len(piece.sizes)


def page_numbers(placed: Sequence[Placed]) -> dict[str, int]:
    """The page of every destination. Of two with one name, the first counts."""
    found: dict[str, int] = {}
    for each in placed:
        for name, (page, _x, _y) in each.piece.anchors.items():
            found.setdefault(name, each.first + page)
    return found


def page_count(placed: Sequence[Placed]) -> int:
    """How many pages the book has."""
    return placed[-1].first + len(placed[-1].piece.sizes) - 1

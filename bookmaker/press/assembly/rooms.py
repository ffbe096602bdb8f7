"""How many figures the page numbers in a piece have room for.

A piece is laid out before anyone knows the book's page numbers. But how wide they are decides where lines break, and so
it must be as many figures as there will be. The first guess goes by the length of the text, a page is seldom off by
more than one or two; where the pages then lie on the other side of 10, 100 or 1,000, pieces that name them are laid out
again. The guess depends on nothing but the book, so that the same book always comes out the same.
"""

import re
from collections.abc import Mapping, Sequence

from bookmaker.press.assembly.sheet import ROOM
from bookmaker.press.piece import Piece

FIRST, FURTHER = 2750, 4100
"""Letters of text on a recipe's first page and on each further one, with all that stands beside them."""

_ID = re.compile(r'\bid="([^"]+)"')
_LINK = re.compile(r'href="#([^"]+)"')
_TAG = re.compile(r"<[^>]*>")


class DeadLink(Exception):
    """A link that leads to no place in the book: a mistake of ours, since reading has checked the cook's."""


def guessed_pages(pieces: Sequence[Piece]) -> dict[str, int]:
    """The page of each place in the book, roughly."""
    found: dict[str, int] = {}
    page = 1
    for piece, following in zip(pieces, (*pieces[1:], None), strict=True):
        if following is not None and not piece.part and following.part == piece.name:
            page += 1 - page % 2  # a part opens on the right, as a rule
        for place in _ID.findall(piece.html):
            found.setdefault(place, page)
        page += 1 + -(-max(0, len(_TAG.sub("", piece.html)) - FIRST) // FURTHER)
    return found


def with_rooms(html: str, pages: Mapping[str, int]) -> str:
    """HTML whose links say how many figures the page that they lead to has. Raises `DeadLink`."""

    def link(found: re.Match[str]) -> str:
        if found[1] not in pages:
            raise DeadLink(f"a link leads to {found[1]!r}, which is nowhere in the book")
        return f'{found[0]} {ROOM}="{"0" * len(str(pages[found[1]]))}"'

    return _LINK.sub(link, html)


def fit(pages: Mapping[str, int], found: Mapping[str, int]) -> bool:
    """Whether the pages found have the figures that there was room for."""
    return all(len(str(pages[place])) == len(str(page)) for place, page in found.items() if place in pages)


def widened(pages: Mapping[str, int], found: Mapping[str, int]) -> dict[str, int]:
    """Room for the pages found, and nowhere less than before."""
    return {place: max(page, found.get(place, page)) for place, page in pages.items()}

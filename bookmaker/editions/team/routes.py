"""How names become pages: file stems, and names that would share one."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from bookmaker.editions.team.views import Route

# Letters that Unicode does not take apart into a base letter and a mark
_LETTERS = str.maketrans({
    "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i", "&": " and ",
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Collision:
    """Two things of the book that would get the same page."""

    first: str
    second: str
    route: Route


@lru_cache(maxsize=16384)
def fold(words: str) -> str:
    """`words` as a file stem or anchor: ASCII letters, digits and single hyphens; never empty.

    Letters of other scripts become their code points, so that two names stay apart.
    """
    plain = unicodedata.normalize("NFKD", words.lower().translate(_LETTERS))
    return re.sub(r"[^a-z0-9]+", "-", "".join(map(_ascii, plain))).strip("-") or "x"


def _ascii(character: str) -> str:
    if character.isascii():
        return character
    return f"{ord(character):x}" if character.isalnum() else "" if unicodedata.combining(character) else "-"


def fold_path(path: str) -> tuple[str, str]:
    """Folder and stem of a book path such as `breads/harbour-sourdough`, each part folded."""
    *folders, stem = path.split("/")
    return "/".join(fold(folder) for folder in folders), fold(stem)


def collisions(named: Iterable[tuple[str, Route]]) -> tuple[Collision, ...]:
    """Every name whose page another name took before it."""
    taken: dict[str, str] = {}
    found: list[Collision] = []
    for name, route in named:
        if route.key in taken:
            found.append(Collision(taken[route.key], name, route))
        else:
            taken[route.key] = name
    return tuple(found)

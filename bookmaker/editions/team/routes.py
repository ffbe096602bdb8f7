"""Where pages stand: logical routes, and how names become file stems."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, replace

# Letters that Unicode does not take apart into a base letter and a mark
_LETTERS = str.maketrans({
    "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i", "&": " and ",
})  # fmt: skip


@dataclass(frozen=True, slots=True, order=True)
class Route:
    """A page within the edition: its folder ("" for the root), its file's stem, and a place on the page.

    `key` names the page alone, for print and for caches.
    """

    folder: str
    stem: str
    place: str = ""

    @property
    def key(self) -> str:
        """The page's name without the place: folder and stem."""
        return f"{self.folder}/{self.stem}" if self.folder else self.stem

    @property
    def id(self) -> str:
        """The page's name as an anchor within one long document."""
        return self.key.replace("/", "-")

    def at(self, place: str) -> "Route":
        """A place on this page."""
        return replace(self, place=place)


class RoutesCollide(ValueError):
    """Two things of the book would get the same page."""

    def __init__(self, first: str, second: str, route: Route) -> None:
        super().__init__(f"'{first}' and '{second}' would both be written to {route.key}.html")
        self.first = first
        self.second = second
        self.route = route


def fold(words: str) -> str:
    """`words` as a file stem or anchor: ASCII letters, digits and single hyphens; never empty."""
    plain = unicodedata.normalize("NFKD", words.lower().translate(_LETTERS))
    ascii_only = plain.encode("ascii", "ignore").decode("ascii")
    return re.sub(r"[^a-z0-9]+", "-", ascii_only).strip("-") or "x"


def fold_path(path: str) -> tuple[str, str]:
    """Folder and stem of a book path such as `breads/harbour-sourdough`, each part folded."""
    *folders, stem = path.split("/")
    return "/".join(fold(folder) for folder in folders), fold(stem)


def insist_unique(named: Iterable[tuple[str, Route]]) -> None:
    """Raise `RoutesCollide` where two names share a page."""
    seen: dict[str, str] = {}
    for name, route in named:
        if route.key in seen:
            raise RoutesCollide(seen[route.key], name, route)
        seen[route.key] = name

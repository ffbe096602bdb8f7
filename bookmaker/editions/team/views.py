"""What every page of the team book is made of, and the site as a whole.

View models hold only what a page shows: numbers already rounded (a Decimal's own decimals are the ones to print) in the
unit to print, words, and logical routes. They hold nothing of the kitchen, so that the view alone decides whether a
page has changed. Words that are ours (`approved`, `no price`) are English keys that the press translates.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum


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
        return Route(self.folder, self.stem, place)


class Bound(StrEnum):
    """How a number relates to the truth."""

    EXACT = ""
    AT_LEAST = "at least"  # something is missing; the true figure is larger
    AT_MOST = "at most"  # a cost behind it is incomplete; the true figure is smaller
    UNDER = "under"  # smaller than the last decimal shown


@dataclass(frozen=True, slots=True)
class Amount:
    """A number to print, rounded; `unit` as printed (`g`, `%`, `EUR`, `EUR/kg`, `min` for durations, `°C`)."""

    value: Decimal
    unit: str = ""
    bound: Bound = Bound.EXACT


@dataclass(frozen=True, slots=True)
class Link:
    """A name, and the page it leads to if it has one."""

    name: str
    route: Route | None = None


@dataclass(frozen=True, slots=True)
class Lacking:
    """One thing that a figure lacks. `kind` is a key such as `price`; `via` the components it is reached through."""

    kind: str
    of: Link
    via: tuple[Link, ...] = ()


@dataclass(frozen=True, slots=True)
class Known:
    """A figure that may be incomplete. `amount` None: nothing is known."""

    amount: Amount | None
    lacks: tuple[Lacking, ...] = ()


@dataclass(frozen=True, slots=True)
class Time:
    """From `least` to `most` minutes; equal for a plain duration, `most` None for an open end."""

    least: Decimal
    most: Decimal | None


@dataclass(frozen=True, slots=True)
class Size:
    """A flat shape in millimetres; `depth` None for a round of diameter `width`."""

    width: Decimal
    depth: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands around every page: the house, its language (BCP 47), and the way round the book."""

    house: str
    language: str
    fahrenheit: bool
    navigation: tuple[Link, ...]
    contact: str = ""
    published_at: str = ""

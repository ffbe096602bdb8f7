"""The page that a card's code leads to, and the list of all cards: pages of the team book."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from bookmaker.editions.team.views import Link, Route


class CardState(StrEnum):
    """How a card stands to the book."""

    CURRENT = "current"
    REPLACED = "replaced"
    RETIRED = "retired"  # the recipe is not made any more
    GONE = "gone"  # the book has no recipe of this name any more


@dataclass(frozen=True, slots=True)
class CardPage:
    """Whether a card still holds.

    `issued` is when a card with this code was issued, None for never; `replaced` when a later one of the recipe was.
    `changed` are the parts of the card that are not as the book has them, as far as the register tells. `now` is the
    code that the recipe's card has in the book, `revision` and `revised` what it has there; `book` is the newest
    revision of all.
    """

    route: Route
    code: str
    state: CardState
    recipe: Link
    issued: date | None
    book: date | None
    replaced: date | None = None
    changed: tuple[str, ...] = ()
    now: Link | None = None
    revision: int = 0
    revised: date | None = None
    list: Route = Route("c", "index")


@dataclass(frozen=True, slots=True)
class CardRow:
    """A card in the list: `code` leads to its page."""

    recipe: Link
    code: Link
    state: CardState
    issued: date | None


@dataclass(frozen=True, slots=True)
class CardsPage:
    """All cards, to look one up by the code that is printed on it: those of now, then those that were issued before."""

    route: Route
    current: tuple[CardRow, ...]
    former: tuple[CardRow, ...]

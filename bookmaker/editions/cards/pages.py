"""The pages that say of a card whether it still holds: of each card of now, and of each that was ever issued."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from bookmaker.editions.cards.code import changed_parts
from bookmaker.editions.cards.views import PARTS
from bookmaker.editions.cards.views_page import CardPage, CardRow, CardsPage, CardState
from bookmaker.editions.team.views import Link, Route
from bookmaker.model.refs import RecipeRef
from bookmaker.model.register import IssuedCard, Register

FOLDER = "c"
INDEX = Route(FOLDER, "index")


@dataclass(frozen=True, slots=True)
class CardNow:
    """A recipe as the book has it: its page, and its card's code and parts; no code where it is not made any more."""

    recipe: Link
    code: str
    parts: tuple[str, ...]
    revision: int
    revised: date | None


def route_of(code: str) -> Route:
    """Where a card's page stands."""
    return Route(FOLDER, code)


def current_page(now: CardNow, issued: date | None, book: date | None) -> CardPage:
    """The page of a card that is as the book has it. `issued`: when such a card was issued last, if ever."""
    return CardPage(
        route=route_of(now.code),
        code=now.code,
        state=CardState.CURRENT,
        recipe=now.recipe,
        issued=issued,
        book=book,
        revision=now.revision,
        revised=now.revised,
    )


def former_pages(cards: Mapping[RecipeRef, CardNow], register: Register, book: date | None) -> Iterator[CardPage]:
    """The pages of cards that were issued and are not what the book has any more, each code once, the latest first."""
    current = {now.code for now in cards.values() if now.code}
    seen: set[str] = set()
    by_title = {now.recipe.name.casefold(): now for now in cards.values()}
    for record in reversed(register.cards):
        if record.code in current or record.code in seen:
            continue
        seen.add(record.code)
        # A recipe whose file was renamed is found again by its title
        now = cards.get(record.recipe) or by_title.get(_name(record).casefold())
        yield _former(record, now, register, book)


def last_issued(register: Register) -> dict[str, date]:
    """When each code was issued last."""
    return {record.code: record.on for record in register.cards}


def cards_page(cards: Mapping[RecipeRef, CardNow], former: tuple[CardPage, ...], register: Register) -> CardsPage:
    """The list of all cards."""
    issued = last_issued(register)
    rows = (
        CardRow(now.recipe, Link(now.code, route_of(now.code)), CardState.CURRENT, issued.get(now.code))
        for now in cards.values()
        if now.code
    )
    return CardsPage(
        INDEX,
        tuple(rows),
        tuple(CardRow(page.recipe, Link(page.code, page.route), page.state, page.issued) for page in former),
    )


def _former(record: IssuedCard, now: CardNow | None, register: Register, book: date | None) -> CardPage:
    later = register.card(record.recipe)
    replaced = later.on if later is not None and later.code != record.code and later.on >= record.on else None
    state = CardState.GONE if now is None else CardState.REPLACED if now.code else CardState.RETIRED
    page = CardPage(
        route=route_of(record.code),
        code=record.code,
        state=state,
        recipe=Link(_name(record)) if now is None else now.recipe,
        issued=record.on,
        book=book,
    )
    if now is None or not now.code:
        return page
    return replace(
        page,
        replaced=replaced,
        changed=changed_parts(dict(record.parts), dict(zip(PARTS, now.parts, strict=True))),
        now=Link(now.code, route_of(now.code)),
        revision=now.revision,
        revised=now.revised,
    )


def _name(record: IssuedCard) -> str:
    return f"{record.title} ({record.recipe.size})" if record.recipe.size else record.title

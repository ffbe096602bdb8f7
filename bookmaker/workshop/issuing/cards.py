"""Cards to issue, and cards in use that are not what the book says any more."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from bookmaker.editions.cards.code import code_of, parts_of
from bookmaker.editions.cards.edition import CardFigures, card_view, has_card
from bookmaker.editions.team.places import contents_of
from bookmaker.kitchen.figures import Figures
from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef
from bookmaker.model.register import IssuedCard, one_line
from bookmaker.workshop.issuing.outcome import Outcome, refused_as_later
from bookmaker.workshop.issuing.standings import CURRENT, NEVER, Standing

NO_ADDRESS = "bookmaker: cards carry no code for phones, as house.yaml does not say where the\nbook is `published at`"
"""Said where cards are printed, or looked after: their codes can still be looked up by hand."""


@dataclass(frozen=True, slots=True)
class Printed:
    """What a card's age is told by: its code, and a digest for each thing that is on it."""

    code: str
    parts: tuple[tuple[str, str], ...]


class Cards:
    """The cards of a book as they would be printed now, each worked out when somebody asks."""

    def __init__(self, book: Book, figures: Figures) -> None:
        self._book, self._figures = book, figures
        contents = contents_of(book)
        self.order = contents.in_order()
        self._places = contents.places()
        self._flows = {ref: found.flow for ref, found in figures.recipes.items()}

    def printed(self, ref: RecipeRef) -> Printed:
        """The card of one recipe."""
        own = CardFigures.of(self._figures.recipes[ref])
        view = card_view(ref, self._book, own, self._flows, self._places)
        return Printed(code_of(view), tuple(parts_of(view).items()))


def with_cards(book: Book) -> list[RecipeRef]:
    """The recipes that have a card, in the book's order."""
    return [ref for ref in contents_of(book).in_order() if has_card(book.recipes[ref].status.value)]


def changed_parts(before: IssuedCard, now: Printed) -> tuple[str, ...]:
    """What is different about a card, in the words of its parts."""
    was = dict(before.parts)
    return tuple(_SAID.get(name, name) for name, digest in now.parts if was.get(name) != digest)


_SAID = {"the rest": "something else"}
"""Words for a part whose name says nothing by itself."""


def cards_to_issue(book: Book, figures: Figures, refs: Iterable[RecipeRef], on: date, by: str) -> Iterator[Outcome]:
    """What becomes of each card that is to be issued."""
    cards, last = Cards(book, figures), book.register.last_cards()
    for ref in refs:
        recipe, name, before = book.recipes[ref], book.name(ref), last.get(ref)
        if not has_card(recipe.status.value):
            yield Outcome(ref, name, before=before, refused=("it is retired, and has no card any more",))
            continue
        now = cards.printed(ref)
        if before is not None and before.code == now.code:
            yield Outcome(ref, name, before=before)
        elif before is not None and before.on > on:
            yield refused_as_later(ref, name, before, on)
        else:
            title = one_line(recipe.title)
            record = IssuedCard(now.code, ref, title, recipe.revision, on, one_line(by), now.parts)
            changes = changed_parts(before, now) if before is not None else ()
            yield Outcome(ref, name, record, before, changes)


REPRINT, TAKE_AWAY = "reprint", "take away"


def card_standings(book: Book, figures: Figures) -> Iterator[Standing]:
    """Every card that was ever issued, and every recipe that has a card and was never issued, in the book's order."""
    cards, last = Cards(book, figures), book.register.last_cards()
    for ref in cards.order:
        before, name = last.get(ref), book.name(ref)
        if not has_card(book.recipes[ref].status.value):
            if before is not None:
                yield Standing(ref, name, TAKE_AWAY, ("the recipe is retired",), before)
        elif before is None:
            yield Standing(ref, name, NEVER)
        else:
            now = cards.printed(ref)
            same = now.code == before.code
            why = () if same else changed_parts(before, now) or ("the code alone",)
            yield Standing(ref, name, CURRENT if same else REPRINT, why, before)
    for ref, before in last.items():
        if ref not in book.recipes:
            name = f"{before.title} ({ref.size})" if ref.size else before.title
            yield Standing(ref, name, TAKE_AWAY, ("the recipe is gone",), before)

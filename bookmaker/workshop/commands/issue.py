"""`issue`: write into the book's register what is being handed out. The only command that writes into a book."""

import getpass
import json
from collections.abc import Sequence
from pathlib import Path

from bookmaker.kitchen.label_figures import CHECK
from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef
from bookmaker.model.register import one_line
from bookmaker.reading.suggest import fold
from bookmaker.reading.walk import ISSUED
from bookmaker.workshop.console import complain, say
from bookmaker.workshop.finding import NoBook, find_book
from bookmaker.workshop.issuing.cards import cards_to_issue, with_cards
from bookmaker.workshop.issuing.labels import labels_to_issue, released
from bookmaker.workshop.issuing.outcome import Outcome, outcome_record, outcome_text
from bookmaker.workshop.naming import find_recipe
from bookmaker.workshop.opening import Sound, Usage, open_sound, say_usage
from bookmaker.workshop.register_file import Busy, RegisterFile
from bookmaker.workshop.terminal.table import paragraph

CARDS, LABELS = WHAT = ("cards", "labels")
"""What can be issued."""


def run(what: str, recipes: Sequence[str], *, named: str | None, by: str | None, on: str | None, as_json: bool) -> int:
    """Issue cards or labels, all of them where no recipe is named.

    Exit code 1 for an unsound book, for whatever is refused, and where the register cannot be written; 2 for usage.
    """
    try:
        folder, who = _book(named), _signed(by)
    except Usage as wrong:
        return say_usage(wrong)
    try:
        with RegisterFile(folder, on_wait=_say_waiting) as register:
            opened = open_sound(named, on)
            if opened is None:
                return 1
            outcomes = _outcomes(what, opened, recipes, who)
            records = [each.record for each in outcomes if each.record is not None]
            if records:
                register.add(records)
    except Usage as wrong:
        return say_usage(wrong)
    except Busy:
        complain("bookmaker: somebody else is issuing from this book; nothing was issued")
        return 1
    except OSError as failed:
        complain(f"bookmaker: {folder / ISSUED} cannot be written ({failed.strerror or failed}); nothing was issued")
        return 1
    if as_json:
        say(json.dumps(outcome_record(what, outcomes, opened.on, who), ensure_ascii=False, indent=1))
    else:
        say(outcome_text(what, outcomes, opened.on, who, folder / ISSUED))
        if what == LABELS:
            say("\n" + paragraph(CHECK))
    return 1 if any(each.refused for each in outcomes) else 0


def _outcomes(what: str, opened: Sound, recipes: Sequence[str], who: str) -> list[Outcome]:
    book = opened.book
    refs = list(dict.fromkeys(ref for name in recipes for ref in _meant(book, name)))
    if what == CARDS:
        return list(cards_to_issue(book, opened.figures, refs or with_cards(book), opened.on, who))
    return list(
        labels_to_issue(
            book,
            opened.figures,
            refs or released(book),
            named=bool(refs),
            on=opened.on,
            by=who,
            sources=opened.sources,
        )
    )


def _meant(book: Book, name: str) -> list[RecipeRef]:
    """The recipe of a name: all its sizes, unless the name has one. Raises `Usage`."""
    ref = find_recipe(book, name)
    if not ref.size or fold(name).endswith(f"({fold(ref.size)})"):
        return [ref]
    return [RecipeRef(ref.id, size) for size in book.sizes[ref.id]]


def _book(named: str | None) -> Path:
    try:
        return find_book(named, Path())
    except NoBook as wrong:
        raise Usage(str(wrong)) from None


def _signed(by: str | None) -> str:
    """Who issues: as asked, else who is signed in on this machine. Raises `Usage`."""
    if by is not None:
        if not one_line(by):
            raise Usage("--by needs the name of whoever hands it out")
        return one_line(by)
    try:
        return one_line(getpass.getuser())
    except (KeyError, OSError):
        raise Usage("nobody is signed in here; say who hands it out with --by NAME") from None


def _say_waiting() -> None:
    complain("bookmaker: somebody else is issuing from this book; waiting for them")

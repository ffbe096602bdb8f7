"""`check --cards` and `check --labels`: what is in use and is not what the book says any more."""

import json
from collections.abc import Sequence

from bookmaker.workshop.console import complain, say
from bookmaker.workshop.issuing.cards import NO_ADDRESS, card_standings
from bookmaker.workshop.issuing.labels import label_standings
from bookmaker.workshop.issuing.standings import standings_record, standings_text
from bookmaker.workshop.opening import Usage, open_sound, say_usage

CARDS, LABELS = "cards", "labels"


def run(named: str | None, what: Sequence[str], *, on: str | None, as_json: bool) -> int:
    """Print what is to be printed again, sent again or taken away; exit code 1 for an unsound book."""
    try:
        opened = open_sound(named, on)
    except Usage as wrong:
        return say_usage(wrong)
    if opened is None:
        return 1
    if CARDS in what and not opened.book.house.published_at:
        complain(NO_ADDRESS)
    standings = {
        each: list((card_standings if each == CARDS else label_standings)(opened.book, opened.figures)) for each in what
    }
    if as_json:
        told = {each: standings_record(found) for each, found in standings.items()}
        say(json.dumps({"on": opened.on.isoformat(), **told}, ensure_ascii=False, indent=1))
    else:
        say("\n\n".join(standings_text(each, found) for each, found in standings.items()))
    return 0

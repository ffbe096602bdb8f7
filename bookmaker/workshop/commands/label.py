"""`label`: what a product's label says by the law of the house's region, as text for a label printer."""

import json

from bookmaker.editions.record.labels import label_record
from bookmaker.editions.record.parts import allergens
from bookmaker.kitchen.alarm import alarms_of, withheld
from bookmaker.kitchen.alarm_problems import said_of
from bookmaker.kitchen.label import NotFood, label_of
from bookmaker.kitchen.label_figures import LabelFigure
from bookmaker.model.book import Book
from bookmaker.workshop.console import complain, say
from bookmaker.workshop.naming import find_recipe
from bookmaker.workshop.opening import Usage, open_sound, say_usage
from bookmaker.workshop.terminal.figures import desk_for
from bookmaker.workshop.terminal.label import label_text
from bookmaker.workshop.terminal.table import paragraph


def run(named: str | None, recipe: str, *, on: str | None, as_json: bool) -> int:
    """Print the label; exit code 1 for an unsound book, 2 for a recipe that is none, or no food."""
    try:
        opened = open_sound(named, on)
        if opened is None:
            return 1
        ref = find_recipe(opened.book, recipe)
        label = label_of(ref, opened.book, opened.figures)
    except Usage as wrong:
        return say_usage(wrong)
    except NotFood as moulding:
        complain(f"bookmaker: {moulding} is for making moulds, and no food: it has no label")
        return 2
    _warn(opened.book, label)
    if as_json:
        record = label_record(opened.book, label) | {"allergens": allergens(opened.book, label.allergens)}
        say(json.dumps({"recipe": str(ref)} | record, ensure_ascii=False, indent=1))
        return 0
    say(label_text(desk_for(opened.book), label))
    return 0


def _warn(book: Book, label: LabelFigure) -> None:
    """Say it where a label with other allergens was handed out: whoever prints this one must know of it."""
    issued = book.register.label(label.ref)
    if issued is not None and withheld(label, issued):
        said = "; ".join(said_of(alarm, book) for alarm in alarms_of(label, issued))
        name = book.name(label.ref)
        complain(
            paragraph(
                f"bookmaker: the label of {name} issued on {issued.on.isoformat()} does not hold any more: {said}. "
                f'If that is right, issue it again: bookmaker issue labels "{name}"'
            )
        )

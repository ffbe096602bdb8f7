"""`label`: what a product's label says by the law of the house's region, as text for a label printer."""

import json

from bookmaker.editions.record.labels import label_record
from bookmaker.editions.record.parts import allergens
from bookmaker.kitchen.label import NotFood, label_of
from bookmaker.workshop.console import complain, say
from bookmaker.workshop.naming import find_recipe
from bookmaker.workshop.opening import Usage, open_sound, say_usage
from bookmaker.workshop.terminal.figures import desk_for
from bookmaker.workshop.terminal.label import label_text


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
    if as_json:
        record = label_record(opened.book, label) | {"allergens": allergens(opened.book, label.allergens)}
        say(json.dumps({"recipe": str(ref)} | record, ensure_ascii=False, indent=1))
        return 0
    say(label_text(desk_for(opened.book), label))
    return 0

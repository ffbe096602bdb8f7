"""`explain`: the working of a figure, down to the lines and the price list it rests on."""

import json

from bookmaker.editions.record.plain import lacks, number
from bookmaker.kitchen.explain import Derivation, UnknownFigure, derivation, figures_of
from bookmaker.workshop.console import complain, say
from bookmaker.workshop.naming import find_recipe
from bookmaker.workshop.opening import Usage, open_sound, say_usage
from bookmaker.workshop.terminal.explain import explain_text
from bookmaker.workshop.terminal.figures import desk_for
from bookmaker.workshop.terminal.table import paragraph


def run(named: str | None, recipe: str, figure: str | None, *, on: str | None, as_json: bool) -> int:
    """Print the derivation; exit code 1 for an unsound book, 2 for a recipe or figure that is none."""
    try:
        book = open_sound(named, on)
        if book is None:
            return 1
        ref = find_recipe(book.book, recipe)
        if figure is None:
            names = figures_of(book.book, book.figures, ref)
            say(json.dumps(names, ensure_ascii=False) if as_json else _listing(names, book.book.name(ref)))
            return 0
        derived = derivation(book.book, book.figures, ref, figure)
    except Usage as wrong:
        return say_usage(wrong)
    except UnknownFigure as unknown:
        near = " or ".join(f"'{name}'" for name in unknown.near)
        hint = f"did you mean {near}?" if near else "without a figure, explain lists what there is"
        complain(f"bookmaker: nothing called '{figure}' can be explained of {recipe}; {hint}")
        return 2
    if as_json:
        say(json.dumps(_record(derived), ensure_ascii=False, indent=1))
        return 0
    say(explain_text(desk_for(book.book), book.sources, derived))
    return 0


def _listing(names: tuple[str, ...], title: str) -> str:
    return f"{title}: figures that can be explained\n\n" + paragraph(" · ".join(names), indent=3)


def _record(derived: Derivation) -> dict[str, object]:
    working = derived.working
    return {
        "recipe": str(working.of),
        "figure": working.what,
        "result": number(working.result),
        "verdict": working.verdict,
        "unit": working.unit,
        "rule": working.rule,
        "terms": [
            {"label": term.label, "value": number(term.value), "unit": term.unit, "note": term.note}
            for term in working.terms
        ],
        "lacks": lacks(working.lacks),
        "below": [_record(below) for below in derived.below if not below.repeated],
    }

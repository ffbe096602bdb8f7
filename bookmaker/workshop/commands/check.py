"""`check`: what is wrong with the book, and what its recipes still lack."""

import json
import sys
from collections.abc import Iterator

from bookmaker.editions.record.plain import lacks
from bookmaker.kitchen.completeness import expected
from bookmaker.kitchen.label_figures import LabelFigure
from bookmaker.problems.report import json_report, text_report
from bookmaker.workshop.console import Progress, complain, say
from bookmaker.workshop.opening import Opened, Usage, open_book, say_usage
from bookmaker.workshop.terminal.figures import desk_for
from bookmaker.workshop.terminal.labels_lacking import incomplete_labels, lacking_table
from bookmaker.workshop.terminal.table import Column, table


def run(named: str | None, *, on: str | None, as_json: bool) -> int:
    """Print the report; exit code 1 when there are errors."""
    try:
        opened = open_book(named, on, Progress())
    except Usage as wrong:
        return say_usage(wrong)
    if as_json:
        say(json.dumps(_as_json(opened), ensure_ascii=False, indent=1))
    else:
        _print(opened)
    return opened.code


def _print(opened: Opened) -> None:
    report = text_report(opened.problems, opened.sources, colour=sys.stderr.isatty())
    if report:
        complain(report.rstrip())
    gaps = list(_gaps(opened))
    if gaps:
        say("What a standardised recipe would still need (never a hindrance to a trial):\n")
        say(table((Column("recipe", wraps=True), Column("status"), Column("still missing", wraps=True)), gaps))
    labels = list(_labels(opened))
    if labels and opened.book is not None:
        say(("\n" if gaps else "") + "Labels of released products that are not complete:\n")
        say(lacking_table(desk_for(opened.book), labels))
    if opened.book is not None and not opened.problems:
        say(("\n" if gaps or labels else "") + f"{len(opened.book.recipes)} recipes, nothing wrong.")


def _gaps(opened: Opened) -> Iterator[tuple[str, str, str]]:
    """Recipes with elements missing that their status leads one to expect."""
    if opened.book is None or opened.figures is None:
        return
    for ref, figures in opened.figures.recipes.items():
        recipe = opened.book.recipes[ref]
        missing = [
            element.name for element in figures.completeness if not element.present and expected(recipe.status, element)
        ]
        if missing:
            yield opened.book.name(ref), recipe.status.value, ", ".join(missing)


def _labels(opened: Opened) -> Iterator[LabelFigure]:
    """Labels that lack something, of a book that can be computed."""
    if opened.book is not None and opened.figures is not None and opened.sound:
        yield from incomplete_labels(opened.book, opened.figures)


def _as_json(opened: Opened) -> dict[str, object]:
    figures = opened.figures.recipes if opened.figures else {}
    return {
        "on": opened.on.isoformat(),
        "sound": opened.sound,
        "problems": json_report(opened.problems, opened.sources),
        "standard": {
            str(ref): {element.name: element.present for element in found.completeness}
            for ref, found in figures.items()
        },
        "labels": {
            str(label.ref): {
                "ingredients": lacks(label.declaration.lacks),
                "nutrition": lacks(label.nutrition.lacks),
            }
            for label in _labels(opened)
        },
    }

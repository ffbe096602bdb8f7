"""What `explain` prints: a figure's working, and those of its inputs below it, down to lines and price list."""

from collections.abc import Iterator, Mapping

from bookmaker.editions.team.project_working import value
from bookmaker.editions.team.rounding import lacking
from bookmaker.kitchen.explain import Derivation
from bookmaker.kitchen.figures import PriceKey
from bookmaker.kitchen.working import FigureSource, HouseSource, LineSource, Source, StepSource, Term, Working
from bookmaker.problems.anchors import Anchor, SourceMap
from bookmaker.workshop.terminal.figures import Desk
from bookmaker.workshop.terminal.table import Column, paragraph, table

Sources = Mapping[str, SourceMap]

DEEPEST = 4
"""Levels after which the indent grows no further."""


def explain_text(desk: Desk, sources: Sources, derived: Derivation) -> str:
    """The whole derivation, each level under the one that uses it."""
    return "\n\n".join(_levels(desk, sources, derived, 0))


def _levels(desk: Desk, sources: Sources, derived: Derivation, level: int) -> Iterator[str]:
    if derived.repeated:
        return
    yield _working(desk, sources, derived.working, min(level, DEEPEST) * 2)
    for below in derived.below:
        yield from _levels(desk, sources, below, level + 1)


def _working(desk: Desk, sources: Sources, working: Working, indent: int) -> str:
    pen, money = desk.pen, desk.book.house.money
    if working.result is not None:
        result = pen.amount(value(working.result, working.unit, money))
    else:
        result = pen.formats.word(working.verdict or "not known")
    if working.lacks and working.result is not None:
        result = f"at least {result}"
    out = [
        f"{' ' * indent}{desk.name(working.of)}: {working.what} = {result}",
        paragraph(working.rule, indent=indent + 2),
    ]
    if working.terms:
        columns = (Column(wraps=True), Column(right=True), Column(wraps=True))
        rows = [_term(desk, sources, term) for term in working.terms]
        out.append(table(columns, rows, indent=indent + 2))
    if working.lacks:
        out.append(paragraph("lacks: " + pen.lacks(lacking(working.lacks, desk.places)), indent=indent + 2))
    return "\n".join(out)


def _term(desk: Desk, sources: Sources, term: Term) -> tuple[str, str, str]:
    shown = ""
    if term.value is not None:
        shown = desk.pen.amount(value(term.value, term.unit, desk.book.house.money))
    where = _source(desk, sources, term.source)
    return term.label, shown, ", ".join(filter(None, (term.note, where)))


def _source(desk: Desk, sources: Sources, source: Source | None) -> str:
    """Where a term comes from: a file and line for what a cook wrote, a name for what is worked out further down."""
    match source:
        case LineSource(ref, line_id):
            line = next((line for line in desk.book.recipes[ref].lines if line.id == line_id), None)
            return _place(sources, line.anchor) if line else ""
        case StepSource(ref, number):
            return f"step {number}"
        case HouseSource(key):
            return f"house.yaml: {key}"
        case PriceKey(item):
            price = next(
                (
                    price
                    for price in desk.book.prices.get(item, ())
                    if PriceKey(price.item, price.supplier, price.code, price.since) == source
                ),
                None,
            )
            return _place(sources, price.anchor) if price else ""
        case FigureSource(_, what):
            return f"see {what}"
        case _:
            return ""


def _place(sources: Sources, anchor: Anchor) -> str:
    source = sources.get(anchor.document)
    return f"{anchor.document}:{source.place(anchor).line}" if source else anchor.document

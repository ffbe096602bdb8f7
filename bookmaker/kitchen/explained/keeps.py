"""How long a state keeps, and which part sets the limit."""

from functools import partial

from bookmaker.kitchen.explained.asked import Asked, Workings
from bookmaker.kitchen.figures import KeepingFigure
from bookmaker.kitchen.working import Term, Working
from bookmaker.model.refs import CoProductRef


def workings(asked: Asked) -> Workings:
    """`keeping` of each state."""
    return {f"keeping {state.state}": partial(_state, asked, state) for state in asked.own.keeping}


def _state(asked: Asked, state: KeepingFigure) -> Working:
    terms = [Term("as stated", state.stated, "min", asked.ref)]
    if state.limited_by is not None:
        part = state.limited_by
        source = part.recipe if isinstance(part, CoProductRef) else part
        terms.append(Term(asked.book.name(part), state.minutes, "min", source, state.because))
    elif state.because:
        terms.append(Term("the clock before freezing", state.minutes, "min", asked.ref, state.because))
    if state.part is not None:
        part = state.part
        source = part.recipe if isinstance(part, CoProductRef) else part
        why = "how old it, with its own parts, may be when it goes in; older, and this is as much shorter"
        terms.append(Term(f"age of {asked.book.name(part)}", state.part_age, "min", source, why))
    rule = "as stated, but no longer than the shortest-lived part at the same class of temperature; an estimate"
    return asked.working(f"keeping {state.state}", rule, terms, state.minutes, "min")

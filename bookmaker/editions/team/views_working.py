"""Show the working: a page per recipe, one level at a time."""

from dataclasses import dataclass

from bookmaker.editions.team.views import Amount, Known, Link, Route


@dataclass(frozen=True, slots=True)
class TermView:
    """One input: its label, value, how it enters, and where it comes from (a line, a price, another working)."""

    label: str
    value: Amount | None
    note: str
    source: Link | None


@dataclass(frozen=True, slots=True)
class WorkingView:
    """How one figure came about. `place` is its anchor on the page; `verdict` the result where it is no number."""

    place: str
    what: str
    rule: str
    terms: tuple[TermView, ...]
    result: Known
    verdict: str = ""


@dataclass(frozen=True, slots=True)
class WorkingPage:
    """All workings of a recipe."""

    route: Route
    recipe: Link
    workings: tuple[WorkingView, ...]

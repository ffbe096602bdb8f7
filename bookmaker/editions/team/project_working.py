"""Show the working: kitchen's derivations with links one level down."""

from collections.abc import Iterable
from decimal import Decimal

from bookmaker.editions.team.places import ABOUT, Places
from bookmaker.editions.team.rounding import lacking, mass, minutes, money, places_after_point, trimmed
from bookmaker.editions.team.routes import fold
from bookmaker.editions.team.views import Amount, Bound, Known, Link
from bookmaker.editions.team.views_working import TermView, WorkingPage, WorkingView
from bookmaker.kitchen.figures import LackKind, PriceKey
from bookmaker.kitchen.working import FigureSource, HouseSource, LineSource, Source, StepSource, Term, Working
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef


def working_page(ref: RecipeRef, workings: Iterable[Working], currency: str, places: Places) -> WorkingPage:
    """All workings of a recipe, each at its own place on the page."""
    return WorkingPage(
        route=places.working(ref),
        recipe=places.link(ref),
        workings=tuple(_working(working, currency, places) for working in workings),
    )


def value(number: Decimal, unit: str, currency: str) -> Amount:
    """A working's number in its unit, with one more decimal than the page shows, so that one can follow the sum."""
    match unit:
        case "g":
            return Amount(trimmed(number, 2), "g") if number < 10_000 else mass(number)
        case "min":
            return minutes(number)
        case "%":
            return Amount(trimmed(number, 2), "%")
        case _ if unit == currency:
            return money(number, currency) if number >= 1 else Amount(places_after_point(number, 4), currency)
        case _ if unit.startswith(f"{currency}/"):
            return Amount(places_after_point(number, 4 if number < 1 else 2), unit)
        case _:
            return Amount(trimmed(number, 4), unit)


def _working(working: Working, currency: str, places: Places) -> WorkingView:
    amount = None if working.result is None else value(working.result, working.unit, currency)
    if amount and any(lack.kind is not LackKind.STALE_PRICE for lack in working.lacks):
        amount = Amount(amount.value, amount.unit, Bound.AT_LEAST)
    return WorkingView(
        place=fold(working.what),
        what=working.what,
        rule=working.rule,
        terms=tuple(_term(term, working.of, currency, places) for term in working.terms),
        result=Known(amount, lacking(working.lacks, places)),
    )


def _term(term: Term, of: RecipeRef, currency: str, places: Places) -> TermView:
    return TermView(
        label=term.label,
        value=None if term.value is None else value(term.value, term.unit, currency),
        note=term.note,
        source=_source(term.source, of, places),
    )


def _source(source: Source | None, of: RecipeRef, places: Places) -> Link | None:
    """Where a term comes from. A price leads to its item's page, another figure to its working: the next level."""
    match source:
        case None:
            return None
        case LineSource(recipe):
            return Link(_name("formula", recipe, of, places), places.routes[recipe].at("formula"))
        case StepSource(recipe, step):
            name = _name(f"step {step}", recipe, of, places)
            return Link(name, places.routes[recipe].at(f"step-{step}"))
        case HouseSource(key):
            return Link(key, ABOUT.at("settings"))
        case FigureSource(recipe, what):
            return Link(_name(what, recipe, of, places), places.working(recipe, fold(what)))
        case PriceKey(item, supplier, code):
            name = " ".join(filter(None, [supplier, code]))
            return Link(name, places.routes[StoresRef(item)].at("price"))
        case StoresRef() | RecipeRef() | CoProductRef():
            return places.link(source)


def _name(what: str, recipe: RecipeRef, of: RecipeRef, places: Places) -> str:
    """On a recipe's own page the figure alone; another recipe's with its name."""
    return what if recipe == of else f"{places.names[recipe]}: {what}"

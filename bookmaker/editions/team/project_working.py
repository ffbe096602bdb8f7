"""Show the working: kitchen's derivations with links one level down."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.editions.team.places import ABOUT, Places
from bookmaker.editions.team.rounding import lacking, mass, minutes, money, places_after_point, trimmed
from bookmaker.editions.team.routes import fold
from bookmaker.editions.team.views import Amount, Bound, Known, Link, Route
from bookmaker.editions.team.views_working import TermView, WorkingPage, WorkingView
from bookmaker.kitchen.figures import LackKind, PriceKey
from bookmaker.kitchen.working import FigureSource, HouseSource, LineSource, Source, StepSource, Working
from bookmaker.model.refs import RecipeRef, StoresRef


def working_page(ref: RecipeRef, workings: Iterable[Working], currency: str, places: Places) -> WorkingPage:
    """All workings of a recipe, each at its own place on the page."""
    page = _Page(ref, currency, places, places.routes[ref], places.working(ref))
    return WorkingPage(
        route=page.working_route,
        recipe=places.link(ref),
        workings=tuple(page.working(working) for working in workings),
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


@dataclass(frozen=True, slots=True)
class _Page:
    """What all workings of one recipe have in common: whose they are, and where its two pages stand."""

    of: RecipeRef
    currency: str
    places: Places
    recipe_route: Route
    working_route: Route

    def working(self, working: Working) -> WorkingView:
        amount = None if working.result is None else value(working.result, working.unit, self.currency)
        if amount and any(lack.kind is not LackKind.STALE_PRICE for lack in working.lacks):
            amount = Amount(amount.value, amount.unit, Bound.AT_LEAST)
        return WorkingView(
            place=fold(working.what),
            what=working.what,
            rule=working.rule,
            terms=tuple(
                TermView(
                    term.label,
                    None if term.value is None else value(term.value, term.unit, self.currency),
                    term.note,
                    None if term.source is None else self.source(term.source),
                )
                for term in working.terms
            ),
            result=Known(amount, lacking(working.lacks, self.places)),
            verdict=working.verdict,
        )

    def source(self, source: Source) -> Link:
        """Where a term comes from. A price leads to its item's page, another figure to its working: the next level."""
        match source:
            case FigureSource(recipe, what) if recipe == self.of:
                return Link(what, self.working_route.at(fold(what)))
            case FigureSource(recipe, what):
                return Link(f"{self.places.names[recipe]}: {what}", self.places.working(recipe, fold(what)))
            case StoresRef() | RecipeRef():
                return self.places.link(source)
            case LineSource(recipe):
                return self._on_recipe(recipe, "formula", "formula")
            case StepSource(recipe, step):
                return self._on_recipe(recipe, f"step {step}", f"step-{step}")
            case PriceKey(item, supplier, code):
                name = " ".join(filter(None, [supplier, code]))
                return Link(name, self.places.routes[StoresRef(item)].at("price"))
            case HouseSource(key):
                return Link(key, ABOUT.at("settings"))

    def _on_recipe(self, recipe: RecipeRef, what: str, place: str) -> Link:
        """A part of the recipe's own page, or of another one, which is then named."""
        if recipe == self.of:
            return Link(what, self.recipe_route.at(place))
        return Link(f"{self.places.names[recipe]}: {what}", self.places.routes[recipe].at(place))

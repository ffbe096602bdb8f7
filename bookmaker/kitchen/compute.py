"""From a bound book to its figures: one recipe after the other, components before their users.

Each figure comes from a small pure function that receives just what it reads: the recipe, the figures of the recipes
before it, items, prices, the house. So a recipe's figures can be kept for as long as those have not changed.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from bookmaker.kitchen.allergens import allergens_of
from bookmaker.kitchen.completeness import completeness_of
from bookmaker.kitchen.cost import CostBasis, cost_of
from bookmaker.kitchen.figures import (
    AllergenFigure,
    ChosenPrice,
    CostFigure,
    Figures,
    KeepingFigure,
    MassFlow,
    RecipeFigures,
    TimeFigure,
)
from bookmaker.kitchen.findings import findings_of
from bookmaker.kitchen.flow import flow_of
from bookmaker.kitchen.keeping import keeping_of
from bookmaker.kitchen.parts import components_of
from bookmaker.kitchen.prices import choose_prices, price_findings
from bookmaker.kitchen.ties import Users, ties_of, users_of
from bookmaker.kitchen.time import time_of
from bookmaker.kitchen.total_formula import total_formula_of
from bookmaker.measures.exact import exactly
from bookmaker.model.book import Book
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef
from bookmaker.problems.problem import Problem


def compute(book: Book, on: date) -> Figures:
    """Every figure of the book on a costing date, and what was found wrong on the way."""
    with exactly():
        prices = choose_prices(book, on)
        users = users_of({ref: ties_of(recipe, book) for ref, recipe in book.recipes.items()})
        paying = {item: book.recipes[ref].title for item, ref in users.paying.items()}
        findings: list[Problem] = [*price_findings(book, prices, on, paying)]
        done = _Done()
        before = Before(book, prices, done.flows, done.times, done.costs, done.allergens, done.keeping)
        figures: dict[RecipeRef, RecipeFigures] = {}
        for ref, recipe in book.recipes.items():
            found = figures_of(recipe, before)
            done.add(found)
            findings += findings_of(recipe, found.flow, book, done.flows)
            figures[ref] = with_users(found, recipe, users)
    return Figures(on, figures, prices, users.of_items, tuple(dict.fromkeys(findings)))


@dataclass(frozen=True, slots=True)
class Before:
    """What a recipe is computed from: the book, its prices, and the figures of the recipes that stand before it."""

    book: Book
    prices: Mapping[str, ChosenPrice]
    flows: Mapping[RecipeRef, MassFlow]
    times: Mapping[RecipeRef, TimeFigure]
    costs: Mapping[RecipeRef, CostFigure]
    allergens: Mapping[RecipeRef, AllergenFigure]
    keeping: Mapping[RecipeRef, tuple[KeepingFigure, ...]]


def figures_of(recipe: Recipe, before: Before) -> RecipeFigures:
    """One recipe's figures, as yet without its users. To be called within `exactly()`."""
    book = before.book
    flow = flow_of(recipe, book, before.flows)
    time = time_of(recipe, flow, book, before.times)
    return RecipeFigures(
        ref=recipe.ref,
        flow=flow,
        total_formula=total_formula_of(recipe, flow, book, before.flows),
        cost=cost_of(recipe, flow, time, CostBasis(book, before.prices, before.costs, before.flows)),
        allergens=allergens_of(recipe, book, before.allergens),
        time=time,
        keeping=keeping_of(recipe, book, before.keeping),
        completeness=completeness_of(recipe, flow),
        components=components_of(recipe, book),
        used_in=(),
    )


def with_users(figures: RecipeFigures, recipe: Recipe, users: Users) -> RecipeFigures:
    """The figures with those who use the recipe and its co-products."""
    ref = recipe.ref
    takers = {each.name: users.of_co_products.get((ref.id, each.name), ()) for each in recipe.gives}
    return replace(figures, used_in=users.of_recipes.get(ref, ()), takers=takers)


class _Done:
    """The figures of the recipes done so far, each kind by itself, as the rules want them."""

    def __init__(self) -> None:
        self.flows: dict[RecipeRef, MassFlow] = {}
        self.times: dict[RecipeRef, TimeFigure] = {}
        self.costs: dict[RecipeRef, CostFigure] = {}
        self.allergens: dict[RecipeRef, AllergenFigure] = {}
        self.keeping: dict[RecipeRef, tuple[KeepingFigure, ...]] = {}

    def add(self, found: RecipeFigures) -> None:
        ref = found.ref
        self.flows[ref], self.times[ref], self.costs[ref] = found.flow, found.time, found.cost
        self.allergens[ref], self.keeping[ref] = found.allergens, found.keeping

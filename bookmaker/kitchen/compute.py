"""From a bound book to its figures: one recipe after the other, components before their users.

Each figure comes from a small pure function that receives just what it reads: the recipe, the figures of the recipes
before it, items, prices, the house. So a recipe's figures can be kept for as long as those have not changed.
"""

from collections.abc import Mapping
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
from bookmaker.kitchen.time import time_of
from bookmaker.kitchen.total_formula import total_formula_of
from bookmaker.measures.exact import exactly
from bookmaker.model.book import Book
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.problems.problem import Problem


def compute(book: Book, on: date) -> Figures:
    """Every figure of the book on a costing date, and what was found wrong on the way."""
    with exactly():
        prices = choose_prices(book, on)
        users = _users(book)
        so_far = _SoFar()
        findings: list[Problem] = [*price_findings(book, prices, on)]
        figures: dict[RecipeRef, RecipeFigures] = {}
        for ref, recipe in book.recipes.items():
            figures[ref] = so_far.add(recipe, book, prices, tuple(users.get(ref, ())))
            findings += findings_of(recipe, figures[ref].flow, book, so_far.flows)
    return Figures(on, figures, prices, _used_in(book), tuple(dict.fromkeys(findings)))


class _SoFar:
    """The figures of the recipes done so far, each kind by itself, as the rules want them."""

    def __init__(self) -> None:
        self.flows: dict[RecipeRef, MassFlow] = {}
        self.times: dict[RecipeRef, TimeFigure] = {}
        self.costs: dict[RecipeRef, CostFigure] = {}
        self.allergens: dict[RecipeRef, AllergenFigure] = {}
        self.keeping: dict[RecipeRef, tuple[KeepingFigure, ...]] = {}

    def add(
        self, recipe: Recipe, book: Book, prices: Mapping[str, ChosenPrice], used_in: tuple[RecipeRef, ...]
    ) -> RecipeFigures:
        """Compute one recipe, and keep its figures for those that use it."""
        flow = flow_of(recipe, book, self.flows)
        time = time_of(recipe, flow, book, self.times)
        cost = cost_of(recipe, flow, time, CostBasis(book, prices, self.costs, self.flows))
        allergens = allergens_of(recipe, book, self.allergens)
        keeping = keeping_of(recipe, book, self.keeping)
        total = total_formula_of(recipe, flow, book, self.flows)
        ref = recipe.ref
        self.flows[ref], self.times[ref], self.costs[ref] = flow, time, cost
        self.allergens[ref], self.keeping[ref] = allergens, keeping
        return RecipeFigures(
            ref=ref,
            flow=flow,
            total_formula=total,
            cost=cost,
            allergens=allergens,
            time=time,
            keeping=keeping,
            completeness=completeness_of(recipe, flow),
            components=components_of(recipe, book),
            used_in=used_in,
        )


def _users(book: Book) -> Mapping[RecipeRef, list[RecipeRef]]:
    """Which recipes draw on a recipe, or on what it gives beside its product."""
    found: dict[RecipeRef, list[RecipeRef]] = {}
    for ref, recipe in book.recipes.items():
        for part in components_of(recipe, book):
            found.setdefault(part, []).append(ref)
    return found


def _used_in(book: Book) -> Mapping[StoresRef, tuple[RecipeRef, ...]]:
    """Which recipes name a stores item in their own lines, as an alternative, or as packaging."""
    found: dict[StoresRef, list[RecipeRef]] = {}
    for ref, recipe in book.recipes.items():
        targets = [target for line in recipe.lines for target in (line.target, *line.alternatives)]
        targets += [wrap.target for wrap in recipe.packaging]
        for target in dict.fromkeys(targets):
            if isinstance(target, StoresRef):
                found.setdefault(target, []).append(ref)
    return {item: tuple(found[item]) for item in sorted(found)}

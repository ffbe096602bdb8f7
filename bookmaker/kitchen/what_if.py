"""What would happen if prices changed: the effect of any change on every product."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from bookmaker.kitchen.cost import CostBasis, cost_of
from bookmaker.kitchen.figures import CostFigure, Figures
from bookmaker.kitchen.prices import choose_prices
from bookmaker.measures.exact import ONE, exactly
from bookmaker.model.book import Book
from bookmaker.model.recipe import Kind, Status
from bookmaker.model.refs import RecipeRef
from bookmaker.model.stores import Price


@dataclass(frozen=True, slots=True)
class ByShare:
    """Every price of the item rises by this fraction (falls, when negative)."""

    share: Decimal

    def of(self, price: Price) -> Decimal:
        """The changed price of a pack. Raises `ValueError` below zero."""
        return _some(price.price * (ONE + self.share))


@dataclass(frozen=True, slots=True)
class ByAmount:
    """Every pack of the item costs this much more (less, when negative), in the pack's own currency."""

    amount: Decimal

    def of(self, price: Price) -> Decimal:
        """The changed price of a pack. Raises `ValueError` below zero."""
        return _some(price.price + self.amount)


Change = ByShare | ByAmount


@dataclass(frozen=True, slots=True)
class Effect:
    """A product's cost as it is and as it would be."""

    recipe: RecipeRef
    before: CostFigure
    after: CostFigure


def what_if(book: Book, figures: Figures, changes: Mapping[str, Change]) -> tuple[Effect, ...]:
    """The effect of changed prices (by item) on every product of the book that is not retired, changed or not.

    Prices are chosen anew: where the house buys the cheapest, a rise may send it to another supplier. Raises
    `KeyError` for an item that the stores do not have, `ValueError` for a price below zero.
    """
    with exactly():
        unknown = next((item for item in changes if item not in book.stores), None)
        if unknown is not None:
            raise KeyError(unknown)
        listed = dict(book.prices)
        for item, change in changes.items():
            listed[item] = tuple(replace(price, price=change.of(price)) for price in listed.get(item, ()))
        prices = choose_prices(replace(book, prices=listed), figures.on)
        flows = {ref: each.flow for ref, each in figures.recipes.items()}
        costs: dict[RecipeRef, CostFigure] = {}
        for ref, recipe in book.recipes.items():
            time = figures.recipes[ref].time
            costs[ref] = cost_of(recipe, flows[ref], time, CostBasis(book, prices, costs, flows))
        return tuple(
            Effect(ref, figures.recipes[ref].cost, costs[ref])
            for ref, recipe in book.recipes.items()
            if recipe.kind is Kind.PRODUCT and recipe.status is not Status.RETIRED
        )


def _some(price: Decimal) -> Decimal:
    if price < 0:
        raise ValueError("a price cannot fall below zero")
    return price

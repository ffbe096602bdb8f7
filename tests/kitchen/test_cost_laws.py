"""Laws of costing over random books."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import CostFigure, LackKind
from bookmaker.measures.exact import exactly, total
from bookmaker.model.book import Book
from bookmaker.model.house import OverheadBase
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef
from tests.support import make
from tests.support.strategies import ITEMS, books

ON = date(2026, 11, 1)
NEARLY = Decimal("1e-20")

HOUSE = make.house(overhead=Decimal("0.12"), overhead_base=OverheadBase.BOTH)

money = st.decimals("0.5", "40", places=2)
priced = st.fixed_dictionaries(dict.fromkeys(ITEMS, money))


def with_prices(book: Book, prices: dict[str, Decimal]) -> Book:
    listed = {item: (make.price(item, "1 kg", amount),) for item, amount in prices.items()}
    return replace(book, prices=listed, house=HOUSE)


def with_worth(book: Book, worth: Decimal) -> Book:
    recipes = {
        ref: replace(recipe, gives=tuple(replace(product, worth=worth) for product in recipe.gives))
        for ref, recipe in book.recipes.items()
    }
    return replace(book, recipes=recipes)


def costs(book: Book) -> dict[RecipeRef, CostFigure]:
    return {ref: figures.cost for ref, figures in compute(book, ON).recipes.items()}


def near(one: Decimal, two: Decimal) -> bool:
    with exactly():
        return abs(one - two) <= NEARLY * max(abs(one), abs(two), Decimal(1))


@given(books(), priced, st.decimals("0", "1", places=2))
def test_money_by_item_is_all_the_ingredient_money(book: Book, prices: dict[str, Decimal], worth: Decimal) -> None:
    for cost in costs(with_worth(with_prices(book, prices), worth)).values():
        assert near(total(cost.by_item.values()), cost.parts.ingredients - cost.parts.credit)


@given(books(), priced, st.decimals("0", "1", places=2))
def test_what_is_paid_is_borne_by_the_product_and_its_co_products(
    book: Book, prices: dict[str, Decimal], worth: Decimal
) -> None:
    """Ingredients of a batch = what its usable grams cost + what the users of its co-products pay for them."""
    book = with_worth(with_prices(book, prices), worth)
    for ref, recipe in list(book.recipes.items()):
        for product in recipe.gives:
            flow = compute(book, ON).recipes[ref].flow
            grams = next(each.grams for each in flow.co_products if each.ref.name == product.name)
            if not grams or not flow.usable:
                continue
            user = make.recipe("user", [make.line(grams, make.rest(ref.id, product.name))], grams)
            both = costs(replace(book, recipes={**book.recipes, user.ref: user}))
            assert near(both[ref].parts.credit, both[user.ref].parts.ingredients)


@given(books(), priced, st.integers(2, 9))
def test_ingredient_cost_is_linear(book: Book, prices: dict[str, Decimal], times: int) -> None:
    """A recipe that takes n times as much of its last component pays n times as much for it."""
    book = with_prices(book, prices)
    last = list(book.recipes)[-1]

    def of(grams: int) -> Decimal:
        user = make.recipe("user", [make.line(grams, last)], grams)
        return costs(replace(book, recipes={**book.recipes, user.ref: user}))[user.ref].parts.ingredients

    with exactly():
        assert near(of(100) * times, of(100 * times))


@given(books(), priced, st.integers(2, 9))
def test_twice_the_prices_cost_twice_as_much(book: Book, prices: dict[str, Decimal], times: int) -> None:
    once = costs(with_prices(book, prices))
    often = costs(with_prices(book, {item: amount * times for item, amount in prices.items()}))
    with exactly():
        assert all(near(cost.parts.total * times, often[ref].parts.total) for ref, cost in once.items())


@given(books(), priced, st.randoms(use_true_random=False))
def test_the_total_does_not_depend_on_the_order_of_lines(
    book: Book, prices: dict[str, Decimal], random: Random
) -> None:
    book = with_prices(book, prices)
    shuffled = replace(book, recipes={ref: _shuffled(recipe, random) for ref, recipe in book.recipes.items()})
    after = costs(shuffled)
    for ref, cost in costs(book).items():
        assert near(cost.parts.total, after[ref].parts.total)
        assert cost.lacks == after[ref].lacks


def _shuffled(recipe: Recipe, random: Random) -> Recipe:
    stages = []
    for stage in recipe.stages:
        lines = list(stage.lines)
        random.shuffle(lines)
        stages.append(replace(stage, lines=tuple(lines)))
    return replace(recipe, stages=tuple(stages))


@given(books(), priced, st.sampled_from(ITEMS))
def test_a_missing_price_is_never_silently_low(book: Book, prices: dict[str, Decimal], missing: str) -> None:
    """Whoever pays for the item, through whatever component, says that its price is missing; nobody else does."""
    full = costs(with_prices(book, prices))
    gap = costs(with_prices(book, {item: amount for item, amount in prices.items() if item != missing}))
    for ref, cost in full.items():
        pays = cost.parts.ingredients != gap[ref].parts.ingredients
        lacking = any(lack.kind is LackKind.PRICE and lack.of == missing for lack in gap[ref].lacks)
        assert lacking or not pays
        assert gap[ref].parts.ingredients <= cost.parts.ingredients
        if lacking:
            assert not gap[ref].batch.complete
            assert not gap[ref].ingredients_per_gram.complete
        else:
            assert near(cost.parts.total, gap[ref].parts.total)

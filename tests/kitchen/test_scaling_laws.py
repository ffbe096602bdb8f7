"""Laws of scaling, over random books: what is drawn is found again, through all levels, and grows in proportion."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from hypothesis import assume, given
from hypothesis import strategies as st

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import Figures
from bookmaker.kitchen.scaled import Scaled
from bookmaker.kitchen.scaling import scale
from bookmaker.kitchen.targets import MassTarget
from bookmaker.measures.exact import ZERO, exactly
from bookmaker.model.book import Book
from bookmaker.model.line import Cut, Grams, Line
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef
from bookmaker.model.yields import MassYield
from tests.support.strategies import books

CLOSE = Decimal("1e-20")
ON = date(2026, 11, 1)
grams = st.decimals(Decimal("0.1"), Decimal(100_000), places=1)


def figures_of(book: Book) -> Figures:
    figures = compute(book, ON)
    assume(
        all(
            each.flow.yields.usable.value is not None and not each.flow.yields.usable.lacks
            for each in figures.recipes.values()
        )
    )
    return figures


def last(book: Book) -> RecipeRef:
    return list(book.recipes)[-1]


def made_loosely(book: Book) -> Book:
    """The same book without whole sheets and working masses, so that demand runs down in proportion."""

    def loose(line: Line) -> Line:
        weighed = Grams(line.quantity.count) if isinstance(line.quantity, Cut) else line.quantity
        return replace(line, working=None, quantity=weighed)

    recipes = {}
    for ref, recipe in book.recipes.items():
        stages = tuple(replace(stage, lines=tuple(map(loose, stage.lines))) for stage in recipe.stages)
        gives = tuple(each for each in recipe.gives if not each.rest_of_cut)
        recipes[ref] = replace(recipe, stages=stages, yields=MassYield(Decimal(1)), cut=None, gives=gives)
    assume(all(_found(line, recipes) for recipe in recipes.values() for line in recipe.lines))
    return replace(book, recipes=recipes)


def _found(line: Line, recipes: dict[RecipeRef, Recipe]) -> bool:
    target = line.target
    return not isinstance(target, CoProductRef) or any(g.name == target.name for g in recipes[target.recipe].gives)


@given(books(), grams)
def test_each_level_conserves_mass(book: Book, target: Decimal) -> None:
    scaled = scale(book, figures_of(book), last(book), MassTarget(target))
    for made in scaled.recipes:
        with exactly():
            out = made.usable + made.kept_back + made.moisture + made.waste + made.back
            out += sum(made.co_products.values(), ZERO)
            assert abs(made.into - out) <= CLOSE * made.into
            assert abs(made.usable - made.needed - made.left_over) <= CLOSE * made.usable
            assert made.left_over >= -CLOSE * made.usable


@given(books(), grams)
def test_what_is_drawn_is_found_again(book: Book, target: Decimal) -> None:
    """Stores, seed, co-products in = product, losses, seed, co-products, returns, left-overs out, over the plan."""
    scaled = scale(book, figures_of(book), last(book), MassTarget(target))
    with exactly():
        taken = sum((line.bowl for line in scaled.draw), ZERO)
        lines = [line for made in scaled.recipes for line in made.lines]
        taken += sum((line.bowl or ZERO for line in lines if line.seed or isinstance(line.target, CoProductRef)), ZERO)
        found = scaled.own.needed
        for made in scaled.recipes:
            found += made.left_over + made.moisture + made.waste + made.back + made.kept_back
            found += sum(made.co_products.values(), ZERO)
        # working mass of a component is made, taken in hand and comes back
        found += sum(
            (
                line.drawn - (line.bowl or ZERO)
                for line in lines
                if isinstance(line.target, RecipeRef) and not line.seed
            ),
            ZERO,
        )
        assert abs(taken - found) <= CLOSE * taken


@given(books(), grams)
def test_users_get_what_they_ask_for(book: Book, target: Decimal) -> None:
    scaled = scale(book, figures_of(book), last(book), MassTarget(target))
    made = {each.ref: each for each in scaled.recipes}
    for each in scaled.recipes[:-1]:
        with exactly():
            asked = sum(
                (
                    line.drawn
                    for user in scaled.recipes
                    for line in user.lines
                    if line.target == each.ref and not line.seed
                ),
                ZERO,
            )
            assert abs(asked - each.needed) <= CLOSE * each.needed
        assert set(each.users) <= made.keys()


def drawn(scaled: Scaled) -> dict[StoresRef, Decimal]:
    return {line.item: line.bowl for line in scaled.draw}


@given(books(), grams, st.decimals(Decimal("0.1"), Decimal(10), places=1))
def test_ingredients_grow_with_the_target(book: Book, target: Decimal, times: Decimal) -> None:
    """Made exactly, twice the target takes twice of everything: so ingredient cost before batching is linear too."""
    loose = made_loosely(book)
    figures = figures_of(loose)
    once = drawn(scale(loose, figures, last(loose), MassTarget(target)))
    more = drawn(scale(loose, figures, last(loose), MassTarget(target * times)))
    with exactly():
        for item, amount in once.items():
            assert abs(amount * times - more[item]) <= CLOSE * amount * times

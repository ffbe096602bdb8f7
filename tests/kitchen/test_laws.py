"""Laws of the mass flow, over random books: conservation, linearity, independence of the order of lines."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from random import Random

from hypothesis import assume, given
from hypothesis import strategies as st

from bookmaker.kitchen.figures import MassFlow
from bookmaker.kitchen.flow import flow_of
from bookmaker.measures.exact import ZERO, exactly
from bookmaker.model.book import Book
from bookmaker.model.line import Cut, Grams, Line, Loss
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef
from tests.support.strategies import books

CLOSE = Decimal("1e-20")


def flows_of(book: Book) -> dict[RecipeRef, MassFlow]:
    flows: dict[RecipeRef, MassFlow] = {}
    with exactly():
        for ref, recipe in book.recipes.items():
            flows[ref] = flow_of(recipe, book, flows)
    return flows


def close(one: Decimal, other: Decimal, scale: Decimal) -> bool:
    with exactly():
        return abs(one - other) <= CLOSE * abs(scale)


def whole(flows: Mapping[RecipeRef, MassFlow]) -> bool:
    """Whether every recipe yields something: a piece larger than its sheet is another test's matter."""
    return all(flow.yields.usable.value is not None and not flow.yields.usable.lacks for flow in flows.values())


@given(books())
def test_mass_is_conserved_in_every_batch(book: Book) -> None:
    flows = flows_of(book)
    assume(whole(flows))
    for flow in flows.values():
        with exactly():
            out = flow.usable + flow.kept_back + flow.moisture + flow.waste + flow.back
            out += sum((given.grams for given in flow.co_products), ZERO)
        assert close(flow.into, out, flow.into)


@given(books())
def test_every_line_is_accounted_for(book: Book) -> None:
    for flow in flows_of(book).values():
        for line in flow.lines:
            if line.bowl is not None:
                with exactly():
                    parts = line.stays + line.back + line.wasted + line.air + line.offcut
                assert close(line.bowl, parts, line.bowl)
                assert min(line.stays, line.back, line.wasted, line.air, line.offcut) >= 0


def _only_waste(recipe: Recipe) -> Recipe:
    def dry(losses: tuple[Loss, ...]) -> tuple[Loss, ...]:
        return tuple(replace(loss, name="transfer") for loss in losses)

    stages = tuple(replace(stage, losses=dry(stage.losses)) for stage in recipe.stages)
    return replace(recipe, stages=stages, losses=dry(recipe.losses))


@given(books())
def test_waste_changes_no_composition(book: Book) -> None:
    """As long as only product leaves, a gram of anything is made of a gram of stores items, seed or not."""
    flows = flows_of(replace(book, recipes={ref: _only_waste(recipe) for ref, recipe in book.recipes.items()}))
    assume(whole(flows))
    for flow in flows.values():
        with exactly():
            assert close(sum(flow.content.values(), ZERO), Decimal(1), Decimal(1))


@given(books(), st.decimals(Decimal("0.01"), Decimal("0.5"), places=2))
def test_moisture_concentrates_and_takes_nothing_else(book: Book, share: Decimal) -> None:
    ref, recipe = list(book.recipes.items())[-1]
    assume(not any(line.target == ref for line in recipe.lines))
    baked = replace(recipe, losses=(*recipe.losses, Loss("bake", share)))
    before, after = flows_of(book)[ref], flows_of(replace(book, recipes={**book.recipes, ref: baked}))[ref]
    with exactly():
        for item, grams in before.content.items():
            assert close(grams / (1 - share), after.content[item], Decimal(1))


def _times(line: Line, factor: Decimal) -> Line:
    with exactly():
        match line.quantity:
            case Grams(grams):
                quantity: Grams | Cut = Grams(grams * factor)
            case Cut(count, shape, word):
                quantity = Cut(count * factor, shape, word)
            case _:
                raise AssertionError(line)
    return replace(line, quantity=quantity)


def _scaled(recipe: Recipe, factor: Decimal) -> Recipe:
    stages = tuple(replace(stage, lines=tuple(_times(line, factor) for line in stage.lines)) for stage in recipe.stages)
    return replace(recipe, stages=stages)


@given(books(), st.decimals(Decimal("0.01"), Decimal(100), places=2))
def test_a_larger_formula_flows_alike(book: Book, factor: Decimal) -> None:
    flows = flows_of(book)
    assume(whole(flows))
    ref, recipe = list(book.recipes.items())[-1]
    larger = flows_of(replace(book, recipes={**book.recipes, ref: _scaled(recipe, factor)}))[ref]
    flow = flows[ref]
    with exactly():
        for name in ("into", "back", "moisture", "waste", "out", "kept_back", "usable"):
            assert close(getattr(flow, name) * factor, getattr(larger, name), flow.into * factor), name
        for item, share in flow.content.items():
            assert close(share, larger.content[item], Decimal(1))


@given(books(), st.integers(0, 1000))
def test_the_order_of_lines_within_a_stage_does_not_matter(book: Book, seed: int) -> None:
    flows = flows_of(book)
    assume(whole(flows))
    recipes = {}
    for ref, recipe in book.recipes.items():
        stages = []
        for stage in recipe.stages:
            lines = list(stage.lines)
            Random(seed).shuffle(lines)
            stages.append(replace(stage, lines=tuple(lines)))
        recipes[ref] = replace(recipe, stages=tuple(stages))
    other = flows_of(replace(book, recipes=recipes))
    for ref, flow in flows.items():
        for name in ("into", "back", "moisture", "waste", "out", "kept_back", "usable"):
            assert close(getattr(flow, name), getattr(other[ref], name), flow.into), name
        assert flow.content.keys() == other[ref].content.keys()
        for item, share in flow.content.items():
            assert close(share, other[ref].content[item], Decimal(1))

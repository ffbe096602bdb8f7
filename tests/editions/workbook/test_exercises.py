"""Every exercise: solvable from what it prints, one answer, and figures that are the book's own."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

import pytest

from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.dice import Dice
from bookmaker.editions.workbook.exercises.every import MAKERS
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import Exercise, Filled, Gap, Grid, Lettered, Result, Room, Say
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import Figures
from bookmaker.kitchen.label import label_of
from bookmaker.measures.exact import exactly
from bookmaker.model.book import Book
from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.refs import RecipeRef
from bookmaker.model.teaching import EXERCISES, STEPS, TOPICS
from bookmaker.reading.book import read_book
from tests.contract.modules import ROOT
from tests.editions.workbook import givens
from tests.editions.workbook.solving import answers, right_orders, solve, text

SEEDS = 1000


@cache
def demo() -> tuple[Book, Figures]:
    """The demo book with its figures."""
    book = read_book(ROOT / "recipes").book
    assert book is not None
    return book, compute(book, date(2026, 11, 30))


@cache
def refs() -> tuple[RecipeRef, ...]:
    """Every recipe of the demo book, taught or not, in its first size."""
    book, _ = demo()
    return tuple(ref for ref in book.recipes if book.sized(RecipeRef(ref.id)) == ref)


def make(name: str, ref: RecipeRef, group: str = "autumn") -> Exercise | None:
    """An exercise of a recipe for a class."""
    book, figures = demo()
    with exactly():
        return MAKERS[name](Lesson(book, figures, ref, Dice(group, ref.id, name)))


def every(name: str, group: str = "autumn") -> Iterator[tuple[Recipe, Exercise]]:
    """That kind of exercise for every recipe that allows it."""
    book, _ = demo()
    for ref in refs():
        if (exercise := make(name, ref, group)) is not None:
            yield book.recipes[ref], exercise


def test_the_table_of_kinds_is_what_can_be_made() -> None:
    assert {*MAKERS} == {*EXERCISES}
    assert len(EXERCISES) > 12
    for kind in EXERCISES.values():
        assert kind.step in STEPS
        assert {*kind.topics} <= {*TOPICS}


def test_a_thousand_classes_without_a_failure() -> None:
    """Each class one recipe, all recipes in turn: every exercise comes out as an apprentice reckons it."""
    book, _ = demo()
    made: Counter[str] = Counter()
    for seed in range(SEEDS):
        ref = refs()[seed % len(refs())]
        for name in MAKERS:
            exercise = make(name, ref, f"class {seed}")
            if exercise is not None:
                made[name] += 1
                assert solve(exercise, book.recipes[ref], book) == answers(exercise), (name, ref.id, seed)
    assert {*made} == {*MAKERS}
    assert all(count >= 50 for count in made.values()), made


@pytest.mark.parametrize("name", [*MAKERS])
def test_a_wrong_answer_would_be_found(name: str) -> None:
    """The apprentice in code does not take any answer for right."""
    book, _ = demo()
    recipe, exercise = next(every(name))
    spoilt = replace(exercise, answer=tuple(_spoilt(part) for part in exercise.answer))
    assert solve(exercise, recipe, book) == answers(exercise) != answers(spoilt)


def _spoilt(part: Any) -> Any:
    if isinstance(part, Result):
        return replace(part, value=_other(part.value))
    if isinstance(part, Grid):
        rows = tuple(tuple(Filled(_other(c.value)) if isinstance(c, Filled) else c for c in row) for row in part.rows)
        return replace(part, rows=rows)
    return part


def _other(value: Any) -> Any:
    if isinstance(value, Amount):
        return replace(value, value=value.value + 1)
    return value + 1 if isinstance(value, Decimal | int) else "something else"


@pytest.mark.parametrize("name", [*MAKERS])
def test_tasks_hide_exactly_what_the_answers_tell(name: str) -> None:
    for recipe, exercise in every(name):
        gaps = [grid for grid in exercise.task if isinstance(grid, Grid) and _has(grid, Gap)]
        filled = [grid for grid in exercise.answer if isinstance(grid, Grid)]
        assert not any(isinstance(grid, Grid) and _has(grid, Filled) for grid in exercise.task)
        for empty, full in zip(gaps, filled, strict=True):
            hidden = tuple(tuple(Gap() if isinstance(c, Filled) else c for c in row) for row in full.rows)
            assert hidden == empty.rows, recipe.title
        rooms = [room.asked for room in exercise.task if isinstance(room, Room)]
        assert rooms == [result.asked for result in exercise.answer if isinstance(result, Result)]
        assert gaps or rooms


def _has(grid: Grid, kind: type) -> bool:
    return any(isinstance(cell, kind) for row in grid.rows for cell in row)


@pytest.mark.parametrize("name", [*MAKERS])
def test_every_sentence_can_be_read(name: str) -> None:
    """No value is missing, and no sign for percent stands alone."""
    for _, exercise in every(name):
        parts = [*exercise.task, *exercise.answer]
        sentences = [*(part for part in parts if isinstance(part, Say)), *exercise.working]
        sentences += [part.asked for part in parts if isinstance(part, Room | Result)]
        sentences += [part.caption for part in parts if isinstance(part, Grid)]
        sentences += [words for part in parts if isinstance(part, Lettered) for _, words in part.items]
        sentences += [exercise.note] if exercise.note else []
        for sentence in sentences:
            read = text(sentence)
            assert read
            assert "%(" not in read
            assert "%%" not in read


def test_the_same_class_gets_the_same_and_another_class_another() -> None:
    same = Counter(make(name, ref) == make(name, ref) for ref in refs() for name in MAKERS)
    assert same == {True: len(refs()) * len(MAKERS)}
    for name in MAKERS:
        pairs = [(one, make(name, recipe.ref, "spring")) for recipe, one in every(name)]
        assert any(one != other for one, other in pairs), name


def test_several_right_orders_are_said_and_one_is_not() -> None:
    book, _ = demo()
    seen = Counter[bool]()
    for recipe, exercise in every("step order"):
        right = right_orders(exercise, recipe)
        (result,) = exercise.answer
        assert isinstance(result, Result)
        assert result.value in right
        assert exercise.note is not None
        said = text(exercise.note)
        assert ("Several orders are right" in said) == (len(right) > 1), recipe.title
        if 1 < len(right) <= 6:
            listed = said.removeprefix("Several orders are right: ").removesuffix(".").split("; ")
            assert {*listed} == right
        seen[len(right) > 1] += 1
    assert seen[True]
    assert seen[False]
    assert book.recipes


def test_only_exercises_marked_so_show_money() -> None:
    book, _ = demo()
    code = book.house.money
    for name, kind in EXERCISES.items():
        shown = any(code in repr(exercise) for _, exercise in every(name))
        assert shown == kind.money, name


# --- what is printed is the book's own


@pytest.mark.parametrize("name", ["percents", "scaling"])
def test_weights_are_those_of_the_formula(name: str) -> None:
    assert sum(givens.check_weights(exercise, recipe, demo()[0]) for recipe, exercise in every(name)) > 250


def test_losses_and_what_joins_are_the_recipe_s() -> None:
    checked = 0
    for recipe, exercise in every("yield"):
        givens.check_yield(exercise, recipe)
        checked += 1
    assert checked > 40


def test_minutes_are_those_of_the_steps() -> None:
    held = (givens.check_minutes(exercise, recipe, *demo()) for recipe, exercise in every("latest start"))
    assert sum(held) > 200


def test_allergens_are_those_of_the_stores() -> None:
    book, _ = demo()
    assert sum(givens.check_allergens(exercise, book) for _, exercise in every("allergens")) > 200


def test_preferments_hold_what_they_are_fed_with() -> None:
    book, _ = demo()
    assert sum(givens.check_preferments(exercise, book) for _, exercise in every("total formula")) >= 2


def test_prices_are_those_of_the_price_list() -> None:
    book, figures = demo()
    held = sum(givens.check_prices(exercise, book, figures, recipe) for recipe, exercise in every("cost"))
    assert held > 100


def test_a_component_is_priced_at_its_ingredients() -> None:
    """What the exercise comes to is what the kitchen says that a piece's ingredients cost."""
    _, figures = demo()
    told = 0
    for recipe, exercise in every("cost"):
        per_piece = figures.recipes[recipe.ref].cost.ingredients_per_piece.value
        found = [each.value for each in exercise.answer if isinstance(each, Result)][1:]
        for answer in found if per_piece is not None and not recipe.gives else ():  # offcuts bear some of the cost
            assert isinstance(answer, Amount)
            assert per_piece is not None
            assert abs(answer.value - per_piece) <= per_piece / 50, recipe.title
            told += 1
    assert told > 20


def test_loads_and_limits_are_those_of_the_steps() -> None:
    for recipe, exercise in every("loads"):
        values = {key: value for part in exercise.task if isinstance(part, Say) for key, value in part.values}
        step = recipe.method.steps[int(str(values["step"])) - 1]
        assert step.load is not None
        assert step.takes is not None
        assert (values["per"], values["on"]) == (int(step.load.amount), step.on)
        longest = values.get("time") or values["most"]
        assert isinstance(longest, Amount)
        assert longest.value == step.takes.long_end
    for recipe, exercise in every("limits"):
        grid = next(part for part in exercise.task if isinstance(part, Grid))
        limits = {step.number: step.limit.text for step in recipe.method.steps if step.limit}
        assert all(limits[int(str(row[0]))] == row[1] for row in grid.rows)


def test_water_is_reckoned_on_the_house_s_own_scale() -> None:
    """In degrees Fahrenheit, too, everything is whole and comes out as the American form of the rule has it."""
    book, figures = demo()
    american = replace(book, house=replace(book.house, fahrenheit=True))
    made = 0
    for ref in refs():
        for group in ("one", "two", "three", "four"):
            with exactly():
                exercise = MAKERS["water temperature"](Lesson(american, figures, ref, Dice(group, ref.id)))
            if exercise is None:
                continue
            made += 1
            assert solve(exercise, book.recipes[ref], american) == answers(exercise)
            assert {room.unit for room in exercise.task if isinstance(room, Room)} == {"°F", "g"}
            needed = next(part.value for part in exercise.answer if isinstance(part, Result))
            assert isinstance(needed, Amount)
            assert needed.value == needed.value.to_integral_value()
    assert made > 12


def test_declared_quantities_are_those_of_the_label() -> None:
    """The exercise and the label law's own module come to the same, by different ways."""
    book, figures = demo()
    checked = 0
    for recipe, exercise in every("quantity declared"):
        with exactly():
            label = label_of(recipe.ref, book, figures)
        (ours,) = answers(exercise)
        assert isinstance(ours, Fraction)
        nearest = min(abs(Fraction(each.share) * 100 - ours) for each in label.quantities)
        # ours is printed to one decimal, of weights printed to a tenth of a gram
        assert nearest <= Fraction(6, 100), recipe.title
        checked += 1
    assert checked > 8


def test_ingredients_stand_as_on_the_label() -> None:
    """Where no component is named, and so none stands by itself, the label has the same order."""
    book, figures = demo()
    checked = 0
    for recipe, exercise in every("ingredient list"):
        named = {each.casefold() for each in recipe.client.named}
        components = {name.casefold() for each in book.recipes.values() for name in (each.title, *each.aka)}
        if recipe.kind is not Kind.PRODUCT or named & components:
            continue
        with exactly():
            label = label_of(recipe.ref, book, figures)
        ours = str(answers(exercise)[0]).split(", ")
        theirs = ["".join(phrase.text for phrase in each.name) for each in label.declaration.ingredients]
        common = [name for name in theirs if name in ours]
        assert [name for name in ours if name in theirs] == common, recipe.title
        checked += len(common)
    assert checked > 25

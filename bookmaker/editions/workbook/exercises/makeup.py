"""What a product is made of, down to its stores items, as exercises print it."""

from collections.abc import Iterator
from dataclasses import dataclass

from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.kitchen.allergens import item_allergens
from bookmaker.kitchen.law import in_order
from bookmaker.kitchen.parts import is_seed
from bookmaker.model.refs import RecipeRef, StoresRef, Target


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of a recipe: the recipe's title, the line's name, and what it contains where it is a stores item."""

    of: str
    name: str
    target: Target
    contains: tuple[str, ...] | None


def makeup(lesson: Lesson) -> tuple[Entry, ...] | None:
    """Every line of the recipe and of its components, each recipe once; None where an allergen was never declared, or
    a line is a co-product or has alternatives (whose ways are longer than a table can show).
    """
    if lesson.own.allergens.undeclared:
        return None
    entries = tuple(_entries(lesson, lesson.ref, {lesson.ref}))
    return None if any(entry is None for entry in entries) else tuple(entry for entry in entries if entry)


def _entries(lesson: Lesson, ref: RecipeRef, seen: set[RecipeRef]) -> Iterator[Entry | None]:
    book = lesson.book
    recipe = book.recipes[ref]
    later = []
    named: set[Target] = set()
    for line in recipe.lines:
        if is_seed(line, recipe, book):
            continue
        if line.alternatives or not isinstance(line.target, StoresRef | RecipeRef):
            yield None
            return
        target = book.sized(line.target) if isinstance(line.target, RecipeRef) else line.target
        if target in named:
            continue
        named.add(target)
        contains = None
        if isinstance(target, StoresRef):
            found = item_allergens(book.stores[target.id], book).contains
            contains = tuple(in_order(found, book.house.region))
        elif target not in seen:
            seen.add(target)
            later.append(target)
        yield Entry(recipe.title, book.name(target), target, contains)
    for part in later:
        yield from _entries(lesson, part, seen)

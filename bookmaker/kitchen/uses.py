"""Which step takes a line in: the first that names it or its stage under `uses`, else the first step of all."""

from functools import lru_cache

from bookmaker.model.book import Book
from bookmaker.model.line import Line
from bookmaker.model.method import Step
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef, StoresRef


def step_that_uses(line: Line, recipe: Recipe, book: Book) -> Step | None:
    """The step that a line goes into; None for a recipe without steps.

    `uses` may say the line's name as written, that of what it means, any other name of it, or the stage's.
    """
    steps = recipe.method.steps
    if not steps:
        return None
    names = {_folded(name) for name in (*_names(line, book), *_stages(line, recipe))}
    return next((step for step in steps if any(_folded(word) in names for word in step.uses)), steps[0])


def _names(line: Line, book: Book) -> tuple[str, ...]:
    match line.target:
        case StoresRef(id):
            return line.name, id, *book.stores[id].aka
        case RecipeRef():
            recipe = book.recipe(line.target)
            return line.name, recipe.title, *recipe.aka
        case _:
            return line.name, book.name(line.target)


def _stages(line: Line, recipe: Recipe) -> tuple[str, ...]:
    return tuple(stage.name for stage in recipe.stages if stage.name and line in stage.lines)


@lru_cache(maxsize=8192)
def _folded(name: str) -> str:
    return " ".join(name.casefold().split())

"""The words of the trade that a recipe uses."""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from bookmaker.model.book import Book, Term
from bookmaker.model.method import NoteKind
from bookmaker.model.prose import plain
from bookmaker.model.recipe import Recipe


def terms_of(recipe: Recipe, book: Book) -> tuple[Term, ...]:
    """The glossary's terms that stand in the recipe's title, topics, formula or method, in the glossary's order."""
    text = " ".join(_words(recipe)).casefold()
    return tuple(term for term in book.glossary if any(_pattern(name).search(text) for name in (term.word, *term.also)))


def _words(recipe: Recipe) -> Iterator[str]:
    yield recipe.title
    yield recipe.kind.value
    yield from recipe.teaching.topics
    for stage in recipe.stages:
        yield stage.name
        yield from _named((line.name, line.preparation) for line in stage.lines)
    method = recipe.method
    yield plain(method.introduction)
    for section in method.sections:
        yield section.heading
        yield from (plain(step.text) for step in section.steps)
    yield from (plain(note.content) for note in method.notes if note.kind is not NoteKind.PRIVATE)


def _named(pairs: Iterable[tuple[str, str]]) -> Iterator[str]:
    for pair in pairs:
        yield from pair


@lru_cache(maxsize=512)
def _pattern(name: str) -> re.Pattern[str]:
    """A word as such, not inside another one."""
    return re.compile(rf"(?<!\w){re.escape(name.casefold())}(?!\w)")

"""Values of ours as plain JSON values."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from bookmaker.kitchen.figures import Figure, Lack, Path
from bookmaker.measures.exact import published
from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef

Json = dict[str, Any]


def number(value: Decimal | None) -> int | float | None:
    """A decimal at 12 significant digits; a float holds those without change."""
    if value is None:
        return None
    cut = published(value)
    return int(cut) if cut == cut.to_integral_value() else float(cut)


def figure(value: Figure) -> int | float | Json | None:
    """A number, or what is known so far with what it lacks."""
    if not value.lacks:
        return number(value.value)
    return {"at least": number(value.value), "lacks": lacks(value.lacks)}


def what_is_left(value: Figure) -> int | float | Json | None:
    """A margin: behind an incomplete cost it is at most so much."""
    if not value.lacks:
        return number(value.value)
    return {"at most": number(value.value), "lacks": lacks(value.lacks)}


def lacks(found: Iterable[Lack]) -> list[str]:
    """Missing inputs in words, with the recipes they are reached through."""
    return [" ← ".join([f"{lack.kind.value}: {lack.of}", *(str(ref) for ref in reversed(lack.via))]) for lack in found]


def names_of(refs: Iterable[RecipeRef]) -> list[str]:
    """Recipes by id, with their size where they have one."""
    return [str(ref) for ref in refs]


def ways_of(book: Book, ways: Iterable[Path]) -> list[list[str]]:
    """Ways down to stores items, each step by the name that a cook calls it."""
    return [[book.name(target) for target in way] for way in ways]

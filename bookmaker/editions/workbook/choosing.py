"""Which exercises a lesson gets: few enough to be done, and over the whole workbook every kind that can be."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from bookmaker.editions.workbook.dice import Dice
from bookmaker.editions.workbook.exercises.every import MAKERS
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import Exercise
from bookmaker.kitchen.figures import Figures
from bookmaker.model.book import Book
from bookmaker.model.recipe import Teaching
from bookmaker.model.refs import RecipeRef
from bookmaker.model.teaching import EXERCISES

MOST = 7
"""Exercises of a lesson, but for those that the recipe adds."""

APPRENTICES = frozenset({"apprentice", "apprentices"})


@dataclass(frozen=True, slots=True)
class Chosen:
    """A lesson's exercises, easy ones first, and kinds that it adds though its data do not allow them."""

    exercises: tuple[Exercise, ...]
    impossible: tuple[str, ...]


@dataclass(slots=True)
class _Picks:
    """A lesson while it is put together: what can be made, what may come in, what is wanted so far."""

    made: Mapping[str, Exercise]
    able: list[str]
    wanted: set[str]
    impossible: tuple[str, ...]


def sees_costs(book: Book) -> bool:
    """Whether the house lets apprentices see what things cost."""
    return any(" ".join(who.casefold().split()) in APPRENTICES for who in book.house.see_costs)


def choose(refs: tuple[RecipeRef, ...], group: str, book: Book, figures: Figures) -> Mapping[RecipeRef, Chosen]:
    """The exercises of every lesson for a class.

    A lesson gets what its level and data allow, first the kinds that have come up least so far; kinds that would not
    come up at all go to the hardest lesson that can have them. `group` decides between equals, and all the numbers.
    """
    times: Counter[str] = Counter()
    money = sees_costs(book)
    picks: dict[RecipeRef, _Picks] = {}
    for ref in refs:
        teaching = book.recipes[ref].teaching
        made = _made(ref, group, book, figures, money=money)
        able = [name for name in made if name not in teaching.leave_out]
        added = [name for name in teaching.add if name in able]
        row = Dice(group, ref.id, "choice").shuffled(
            [name for name in able if name not in added and EXERCISES[name].step <= teaching.level]
        )
        wanted = {*added, *sorted(row, key=lambda name: times[name])[:MOST]}
        times.update(wanted)
        picks[ref] = _Picks(made, able, wanted, _impossible(teaching, made))
    _bring_in_the_rest(picks, times, book)
    return {
        ref: Chosen(tuple(each.made[name] for name in EXERCISES if name in each.wanted), each.impossible)
        for ref, each in picks.items()
    }


def _bring_in_the_rest(picks: Mapping[RecipeRef, "_Picks"], times: Mapping[str, int], book: Book) -> None:
    """Give kinds that no lesson's level lets in to the hardest lesson that could have them."""
    for name in EXERCISES:
        able = [ref for ref, each in picks.items() if name in each.able]
        if able and not times.get(name):
            hardest = max(able, key=lambda ref: (book.recipes[ref].teaching.level, -len(picks[ref].wanted)))
            picks[hardest].wanted.add(name)


def _made(ref: RecipeRef, group: str, book: Book, figures: Figures, *, money: bool) -> Mapping[str, Exercise]:
    """Every exercise that can be made of a recipe."""
    made = {}
    for name, kind in EXERCISES.items():
        if kind.money and not money:
            continue
        exercise = MAKERS[name](Lesson(book, figures, ref, Dice(group, ref.id, name)))
        if exercise is not None:
            made[name] = exercise
    return made


def _impossible(teaching: Teaching, made: Mapping[str, Exercise]) -> tuple[str, ...]:
    return tuple(name for name in teaching.add if name not in made and name not in teaching.leave_out)

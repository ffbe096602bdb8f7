"""Putting the steps of a method in order: where several orders are right, the answer says so."""

from collections.abc import Mapping
from itertools import pairwise

from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import Exercise, Lettered, Part, Result, Room, Say, say
from bookmaker.model.prose import plain

NAME = "step order"
LEAST, MOST = 3, 7
LISTED = 6
"""So many right orders are written out; where there are more, the answer says what must come before what."""


def make(lesson: Lesson) -> Exercise | None:
    """A run of the method's steps under letters."""
    steps = lesson.recipe.method.steps
    texts = {step.number: plain(step.text) for step in steps}
    if len(steps) < LEAST or len(set(texts.values())) < len(texts):
        return None
    start = lesson.dice.below(max(1, len(steps) - MOST + 1))
    run = [step.number for step in steps[start : start + MOST]]
    before = waits(lesson)
    shuffled = lesson.dice.shuffled(run)
    if list(shuffled) == run:
        shuffled = (*shuffled[1:], shuffled[0])
    letters = {number: chr(ord("A") + at) for at, number in enumerate(shuffled)}
    orders = right_orders(run, before)
    asked = say("Write the letters in the order of the work.")
    task: tuple[Part, ...] = (
        say("These steps of %(recipe)s are out of order.", recipe=lesson.title)
        if len(run) == len(steps)
        else say(
            "These steps of %(recipe)s, which follow each other in its method, are out of order.", recipe=lesson.title
        ),
        Lettered(tuple((letters[number], say("%(text)s", text=texts[number])) for number in shuffled)),
        Room(asked, lines=1),
    )
    rows = [" ".join(letters[number] for number in order) for order in orders]
    must = tuple(
        say("%(first)s comes before %(then)s", first=letters[one], then=letters[other])
        for other in run
        for one in sorted(before[other])
        if one in run and not any(one in before[between] for between in before[other] & set(run))
    )
    note: Say | None = None
    if len(orders) > 1:
        note = (
            say("Several orders are right: %(orders)s.", orders="; ".join(rows))
            if len(rows) <= LISTED
            else say("Several orders are right: every one in which what is said below holds.")
        )
    else:
        note = say("Each step needs the one before it, so there is one right order: that of the house's method.")
    return Exercise(NAME, task, (Result(asked, rows[0]),), must, note)


def waits(lesson: Lesson) -> Mapping[int, frozenset[int]]:
    """By step all those that must be done before it."""
    steps = lesson.recipe.method.steps
    own = {step.number: frozenset(step.after) for step in steps}
    for earlier, later in pairwise(steps):
        if not later.after:
            own[later.number] = frozenset({earlier.number})
    whole: dict[int, frozenset[int]] = {}

    def reach(number: int) -> frozenset[int]:
        if number not in whole:
            whole[number] = own[number].union(*(reach(each) for each in own[number]))
        return whole[number]

    return {number: reach(number) for number in own}


def right_orders(run: list[int], before: Mapping[int, frozenset[int]]) -> list[tuple[int, ...]]:
    """The orders of these steps in which nothing comes too early, the method's own first; at most `LISTED` + 1."""
    found: list[tuple[int, ...]] = []

    def go_on(done: tuple[int, ...], left: list[int]) -> None:
        if len(found) > LISTED:
            return
        if not left:
            found.append(done)
        for number in left:
            if not before[number] & set(left):
                go_on((*done, number), [each for each in left if each != number])

    go_on((), run)
    return found

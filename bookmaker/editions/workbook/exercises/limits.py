"""Readings judged against the limits of the method: met or missed, and what is done then."""

import re
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.editions.workbook.dice import Dice
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import (
    Exercise,
    Filled,
    Grid,
    Part,
    Result,
    Room,
    Say,
    Word,
    say,
    without_answers,
)
from bookmaker.model.method import Step

NAME = "limits"
LEAST, MOST = 4, 5

_DEGREES = r"(?P<degrees>[-−]?\d+(?:\.\d+)?)\s*°\s*(?P<scale>[CF])"
_TIME = r"(?P<time>\d+)\s*(?P<unit>h|min)"
_FORMS = (
    ("at least", re.compile(rf"(?:core|reaches)\s+{_DEGREES}")),
    ("held", re.compile(rf"reaches\s+{_DEGREES}\s+for\s+{_TIME}")),
    ("below", re.compile(rf"(?:core stays|kept|core)\s+below\s+{_DEGREES}")),
    ("within", re.compile(rf"(?:(?:core|below)\s+)?{_DEGREES}\s+within\s+{_TIME}")),
)
"""Limits that a reading can be held against. Any other wording is left to the reader of the method."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A limit understood: its form, its figures, and the scale that it is written on."""

    form: str
    degrees: Decimal
    scale: str
    minutes: int = 0


def judged(text: str) -> Judged | None:
    """A limit's text, if it is one of the forms that can be checked with one reading."""
    for form, pattern in _FORMS:
        found = pattern.fullmatch(" ".join(text.split()))
        if found:
            degrees = Decimal(found["degrees"].replace("−", "-"))
            groups = found.groupdict()
            minutes = int(groups["time"]) * (60 if groups["unit"] == "h" else 1) if groups.get("time") else 0
            # frozen through: colder is better
            kind = "at most" if form == "at least" and degrees < 0 else form
            return Judged(kind, degrees, f"°{found['scale']}", minutes)
    return None


def make(lesson: Lesson) -> Exercise | None:
    """One reading for each limit, some met and some missed."""
    steps = [step for step in lesson.recipe.method.steps if step.limit and judged(step.limit.text)]
    if not steps:
        return None
    chosen = lesson.dice.some_of(steps, MOST)
    # a method of few limits is judged on several days
    days = -(-LEAST // len(chosen))
    judged_steps = chosen * days
    # of each kind at least one, and no reading twice
    outcomes = lesson.dice.shuffled([number % 2 == 0 for number in range(len(judged_steps))])
    offs = lesson.dice.shuffled(range(2, 2 + len(judged_steps)))
    rows, working = [], []
    for step, met, off in zip(judged_steps, outcomes, offs, strict=True):
        assert step.limit is not None
        limit = judged(step.limit.text)
        assert limit is not None
        reading = _reading(limit, met, Decimal(off), lesson.dice)
        rows.append(
            (
                step.number,
                step.limit.text,
                reading,
                Filled(Word("yes") if met else Word("no")),
                Filled(say("go on") if met else _missed(step)),
            )
        )
        working.append(_why(step.number, limit, met))
    grid = Grid(
        ("Step", "Limit", "Reading", "Met?", "What do you do?"),
        tuple(rows),
        say("Readings of %(recipe)s, as they were written down", recipe=lesson.title),
    )
    task: list[Part] = [
        say("Judge each reading against the limit. What is done when one is missed stands in the method."),
        without_answers(grid),
    ]
    answer: list[Grid | Result] = [grid]
    numbered = [step for step in lesson.recipe.method.steps if step.limit and step.limit.ccp]
    if numbered:
        question = say("Which steps of this method are critical control points of the house's plan?")
        task.append(Room(question, lines=1))
        points = ", ".join(f"{step.number} (CCP {step.limit.ccp})" for step in numbered if step.limit)
        answer.append(Result(question, points))
    note = say("Write every reading down with its time and your initials. If in doubt, stop and ask your supervisor.")
    return Exercise(NAME, tuple(task), tuple(answer), tuple(working), note)


def _reading(limit: Judged, met: bool, off: Decimal, dice: Dice) -> Say:
    """A reading clearly on one side of the limit, by about `off` degrees."""
    up = met if limit.form in {"at least", "held"} else not met
    degrees = limit.degrees + off if up else limit.degrees - off
    unit = limit.scale
    match limit.form:
        case "held":
            # of the two ways to miss it, one: not hot enough, or not long enough
            seconds = limit.minutes * 60 + 20 if met else limit.minutes * 30
            if met or dice.below(2):
                return say(
                    "%(degrees)s %(unit)s, kept for %(seconds)s s",
                    degrees=limit.degrees + off,
                    unit=unit,
                    seconds=seconds,
                )
            return say(
                "%(degrees)s %(unit)s, kept for %(seconds)s s",
                degrees=limit.degrees - off,
                unit=unit,
                seconds=limit.minutes * 60 + 20,
            )
        case "within":
            late = dice.between(10, 40, 5)
            if met:
                return say(
                    "%(degrees)s %(unit)s after %(minutes)s min",
                    degrees=limit.degrees - 1,
                    unit=unit,
                    minutes=max(5, limit.minutes - late),
                )
            if dice.below(2):
                return say(
                    "%(degrees)s %(unit)s only after %(minutes)s min",
                    degrees=limit.degrees - 1,
                    unit=unit,
                    minutes=limit.minutes + late,
                )
            return say(
                "still %(degrees)s %(unit)s after %(minutes)s min",
                degrees=limit.degrees + off,
                unit=unit,
                minutes=limit.minutes,
            )
        case _:
            return say("%(degrees)s %(unit)s", degrees=degrees, unit=unit)


def _missed(step: Step) -> Say:
    assert step.limit is not None
    if step.limit.if_missed:
        return say("%(what)s", what=step.limit.if_missed)
    return say("stop, keep it apart, and ask the supervisor")


_RULES = {
    "at least": "Step %(step)s: %(degrees)s %(unit)s is the least that it must reach",
    "at most": "Step %(step)s: %(degrees)s %(unit)s is the warmest that it may be",
    "held": "Step %(step)s: %(degrees)s %(unit)s or more, for %(minutes)s min or longer",
    "below": "Step %(step)s: it must be colder than %(degrees)s %(unit)s",
    "within": "Step %(step)s: down to %(degrees)s %(unit)s or colder, after %(minutes)s min at the latest",
}


def _why(number: int, limit: Judged, met: bool) -> Say:
    text = f"{_RULES[limit.form]}: {'met' if met else 'missed'}."
    if limit.minutes:
        return say(text, step=number, degrees=limit.degrees, unit=limit.scale, minutes=limit.minutes)
    return say(text, step=number, degrees=limit.degrees, unit=limit.scale)

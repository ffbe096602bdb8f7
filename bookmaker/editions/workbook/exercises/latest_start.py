"""Counting back from a deadline to the latest start, along the longest way through the steps and the components."""

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import Clock, Exercise, Grid, Part, Result, Room, Say, Word, say
from bookmaker.kitchen.chain import Activity, schedule
from bookmaker.kitchen.figures import LackKind
from bookmaker.kitchen.uses import step_that_uses
from bookmaker.measures.exact import published

NAME = "latest start"
DAY = 1440
MOST = 14
_DEADLINES = (6 * 60, 6 * 60 + 30, 7 * 60 + 15, 8 * 60, 9 * 60 + 30, 11 * 60, 13 * 60 + 15, 15 * 60, 17 * 60 + 30)


@dataclass(frozen=True, slots=True)
class Row:
    """Something that takes time: a step by its number, or a component by its letter."""

    key: str
    what: Say
    minutes: int
    after: tuple[str, ...]


def make(lesson: Lesson) -> Exercise | None:
    """By the printed durations, in whole minutes."""
    rows = rows_of(lesson)
    if rows is None:
        return None
    deadline = lesson.dice.one_of(_DEADLINES)
    plan = schedule(Activity(row.key, Decimal(row.minutes), row.after) for row in rows)
    by_key = {row.key: row for row in rows}
    total = int(plan.end)
    start = deadline - total
    first, second = (
        say("How long is the longest way, in hours and minutes?"),
        say("When must the work begin at the latest?"),
    )
    branches = any(row.after != ((rows[at - 1].key,) if at else ()) for at, row in enumerate(rows))
    working = [
        say("The longest way: %(keys)s", keys=" → ".join(plan.chain)),
        say(
            "%(sum)s = %(total)s min, that is %(time)s",
            sum=" + ".join(str(by_key[key].minutes) for key in plan.chain),
            total=total,
            time=Amount(Decimal(total), "min"),
        ),
        say(
            "%(deadline)s − %(time)s = %(start)s",
            deadline=Clock(deadline),
            time=Amount(Decimal(total), "min"),
            start=Clock(start),
        ),
    ]
    task: tuple[Part, ...] = (
        say(
            "%(recipe)s must be ready at %(deadline)s. The minutes of a row hold its work, what it "
            "takes at its longest, and "
            "its shortest wait.",
            recipe=lesson.title,
            deadline=Clock(deadline),
        ),
        Grid(
            ("Row", "What", "Minutes", "Begins after"),
            tuple((row.key, row.what, row.minutes, ", ".join(row.after) or Word("nothing")) for row in rows),
            say("What has to be done, and after what"),
        ),
        Room(first, lines=1),
        Room(second, lines=1),
    )
    note = (
        say("What is not on the longest way may start later; begin it in time all the same.")
        if branches
        else say("Every step waits for the one before it, so the longest way is all of them.")
    )
    return Exercise(
        NAME,
        task,
        (Result(first, Amount(Decimal(total), "min")), Result(second, Clock(start))),
        tuple(working),
        note,
    )


def rows_of(lesson: Lesson) -> tuple[Row, ...] | None:
    """The components and steps with printed minutes; None where a time is missing, or there is too much of it."""
    time, recipe, book = lesson.own.time, lesson.recipe, lesson.book
    if any(lack.kind is LackKind.TIME for lack in time.lacks) or len(time.steps) < 3:
        return None
    elapsed = {step.step: _whole(step.elapsed) for step in time.steps}
    needed: dict[int, list[str]] = {}
    rows: list[Row] = []
    for line in recipe.lines:
        part = lesson.component(line)
        step = step_that_uses(line, recipe, book) if part is not None else None
        if part is None or step is None:
            continue
        what = say("%(part)s, with all that it is made of", part=book.name(part))
        known = next((row for row in rows if row.what == what), None)
        if known is None:
            known = Row(chr(ord("A") + len(rows)), what, _whole(lesson.figures.recipes[part].time.whole_total), ())
            rows.append(known)
        if known.key not in needed.setdefault(step.number, []):
            needed[step.number].append(known.key)
    before: tuple[str, ...] = ()
    for step in recipe.method.steps:
        own = tuple(str(number) for number in step.after) or before
        what = (
            say("step %(step)s, %(name)s", step=step.number, name=step.name)
            if step.name
            else say("step %(step)s", step=step.number)
        )
        rows.append(Row(str(step.number), what, elapsed[step.number], (*own, *needed.get(step.number, []))))
        before = (str(step.number),)
    return tuple(rows) if len(rows) <= MOST else None


def _whole(minutes: Decimal) -> int:
    """Rounded up to the minute; what 34 digits cannot hold of a third of a minute is forgiven."""
    return int(published(minutes).to_integral_value(ROUND_CEILING))

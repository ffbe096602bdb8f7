"""How often an oven or a machine is loaded, and how long that takes."""

from decimal import ROUND_CEILING, Decimal

from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.exercises.lesson import Lesson, whole_number
from bookmaker.editions.workbook.views_parts import Exercise, Part, Result, Room, Word, say
from bookmaker.measures.counts import counted

NAME = "loads"


def make(lesson: Lesson) -> Exercise | None:
    """For a step that takes only so many pieces, trays or moulds at once."""
    steps = [
        step
        for step in lesson.recipe.method.steps
        if step.load and step.load.word and step.takes and step.on and whole_number(step.load.amount)
    ]
    if not steps:
        return None
    step = lesson.dice.one_of(steps)
    assert step.load is not None
    assert step.takes is not None
    per, word = int(step.load.amount), step.load.word
    ready = lesson.dice.between(per + 1, per * 7)
    loads = int((Decimal(ready) / per).to_integral_value(ROUND_CEILING))
    last = ready - per * (loads - 1)
    each = step.takes.long_end
    minutes = each * loads
    questions = (
        say("How many loads are there?"),
        say("How many are in the last load, if all others are full?"),
        say("How long does it take in all, one load after the other, planned at the long end?"),
    )
    span = (
        say("A load takes %(time)s.", time=Amount(each, "min"))
        if step.takes.least == each
        else say(
            "A load takes from %(least)s to %(most)s.", least=Amount(step.takes.least, "min"), most=Amount(each, "min")
        )
    )
    task: tuple[Part, ...] = (
        say(
            "%(ready)s %(word)s of %(recipe)s are ready for step %(step)s. One %(on)s is free; it "
            "takes %(per)s at once.",
            ready=ready,
            word=Word(counted(word, ready)),
            recipe=lesson.title,
            step=step.number,
            on=step.on,
            per=per,
        ),
        span,
        Room(questions[0]),
        Room(questions[1]),
        Room(questions[2]),
    )
    answer = (
        Result(questions[0], loads),
        Result(questions[1], last),
        Result(questions[2], Amount(minutes, "min")),
    )
    working = (
        say("%(ready)s ÷ %(per)s, rounded up to whole loads: %(loads)s", ready=ready, per=per, loads=loads),
        say("Last load: %(ready)s − %(full)s × %(per)s = %(last)s", ready=ready, full=loads - 1, per=per, last=last),
        say(
            "%(loads)s × %(each)s = %(minutes)s", loads=loads, each=Amount(each, "min"), minutes=Amount(minutes, "min")
        ),
    )
    note = say("Loading, unloading and coming back to heat take time too: watch how long, and add it to your plan.")
    return Exercise(NAME, task, answer, working, note)

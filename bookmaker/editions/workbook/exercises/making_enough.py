"""How much must be mixed so that enough comes out: what is wanted ÷ (1 − loss), back along the losses."""

from decimal import Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.exercises.yield_ import KINDS, Event, events_of
from bookmaker.editions.workbook.views_parts import Exercise, Grid, Result, Room, Say, Word, say
from bookmaker.measures.exact import HUNDRED, ONE, ZERO

NAME = "making enough"


def make(lesson: Lesson) -> Exercise | None:
    """Where all of it goes into the bowl before anything is lost, or pieces are scaled raw."""
    events = events_of(lesson)
    if events is None:
        return None
    yields = lesson.flow.yields
    piece = yields.scaled or yields.piece
    losses = _losses(events, raw=yields.scaled is not None)
    if not losses or (piece is None and yields.usable.value is None):
        return None
    if piece is not None:
        # from three quarters of a batch to five
        count = max(2, int((yields.pieces or Decimal(12)) * lesson.dice.between(3, 20) / 4))
        each = trimmed(piece, 1)
        wanted = count * each
        order = (
            say(
                "%(count)s %(word)s are ordered, each scaled raw at %(each)s g.",
                count=count,
                word=_word(lesson),
                each=each,
            )
            if yields.scaled is not None
            else say(
                "%(count)s %(word)s are ordered, each of %(each)s g when it is finished.",
                count=count,
                word=_word(lesson),
                each=each,
            )
        )
        first = say("Wanted: %(count)s × %(each)s = %(wanted)s g", count=count, each=each, wanted=wanted)
    else:
        wanted = Decimal(lesson.dice.between(800, 9000, 200))
        order = say("%(wanted)s g of %(recipe)s are ordered.", wanted=wanted, recipe=lesson.title)
        first = say("Wanted: %(wanted)s g", wanted=wanted)
    mass, left = wanted, ONE
    working = [first]
    for event in reversed(losses):
        left *= ONE - event.share
        # divided once by all that is left, so that a half comes out as a half
        before = wanted / left
        working.append(
            say(
                "Before %(name)s: %(after)s ÷ (1 − %(share)s ÷ 100) = %(before)s g",
                name=Word(event.name),
                after=trimmed(mass, 1),
                share=trimmed(event.share * HUNDRED, 4),
                before=trimmed(before, 1),
            )
        )
        mass = before
    asked = say("How much must go into the bowl, to the gram?")
    rows = tuple(
        (
            Word(event.name),
            say("%(share)s %%", share=trimmed(event.share * HUNDRED, 4)),
            Word(KINDS[event.kind]) if event.kind else "",
        )
        for event in losses
    )
    task: tuple[Say | Grid | Room, ...] = (
        order,
        Grid(("Loss", "Share of what is in", "What leaves"), rows, say("Losses on the way, in this order")),
        say("Carry all figures and round only the answer."),
        Room(asked, "g"),
    )
    note = say("To take the losses on top (mass × (1 + loss)) gives too little: a loss acts on what is in the bowl.")
    return Exercise(NAME, task, (Result(asked, Amount(trimmed(mass, 0), "g")),), tuple(working), note)


def _losses(events: tuple[Event, ...], *, raw: bool) -> tuple[Event, ...]:
    """The losses between the bowl and what is ordered; none where something joins after one of them.

    Pieces scaled raw are weighed when the last loss of the first stage that has any is over.
    """
    lost = [number for number, event in enumerate(events) if event.kind is not None]
    joins = [number for number, event in enumerate(events) if event.kind is None]
    if not lost:
        return ()
    if raw:
        later = [number for number in joins if number > lost[0]]
        end = later[0] if later else len(events)
        found = tuple(event for event in events[lost[0] : end] if event.kind is not None)
        # without a stage behind it, nobody says which losses come before the scale
        return found if later else ()
    if any(number > lost[0] for number in joins):
        return ()
    return tuple(events[number] for number in lost if events[number].share > ZERO)


def _word(lesson: Lesson) -> str | Word:
    return Word(lesson.flow.yields.word or "pieces")

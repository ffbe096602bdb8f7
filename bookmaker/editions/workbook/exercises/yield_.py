"""What is left of a batch after its losses, one after the other."""

from dataclasses import dataclass
from decimal import Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.exercises.lesson import Lesson, whole_number
from bookmaker.editions.workbook.views_parts import Cell, Exercise, Grid, Result, Room, Say, Word, say
from bookmaker.measures.exact import HUNDRED, ONE, ZERO
from bookmaker.model.line import LossKind

NAME = "yield"

KINDS = {LossKind.MOISTURE: "water", LossKind.WASTE: "product"}


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happens to the mass: `joined` grams come in, or `share` of what is in is lost."""

    name: str
    joined: Decimal = ZERO
    share: Decimal = ZERO
    kind: LossKind | None = None


def events_of(lesson: Lesson) -> tuple[Event, ...] | None:
    """What happens to a batch, in order, as printed; None where the losses are not all stated as shares."""
    recipe, flow = lesson.recipe, lesson.flow
    if recipe.boil_to or recipe.cut or recipe.keep_back or recipe.gives or flow.lacks:
        return None
    losses = [loss for stage in flow.stages for loss in stage.losses] + list(flow.losses)
    if not losses or any(loss.implied for loss in losses):
        return None
    events: list[Event] = []
    for stage in flow.stages:
        if stage.joined:
            events.append(Event(stage.name, joined=trimmed(stage.joined, 0 if stage.joined >= HUNDRED else 1)))
        events += [Event(loss.name, share=loss.share, kind=loss.kind) for loss in stage.losses]
    events += [Event(loss.name, share=loss.share, kind=loss.kind) for loss in flow.losses]
    return tuple(events)


def make(lesson: Lesson) -> Exercise | None:
    """Of a class's own number of batches."""
    events = events_of(lesson)
    if events is None:
        return None
    factor = lesson.dice.one_of([Decimal(text) for text in ("0.5", "1.5", "2", "2.5", "3", "4")])
    mass = ZERO
    rows: list[tuple[Cell, ...]] = []
    working: list[Say] = []
    for event in events:
        if event.kind is None:
            joined = event.joined * factor
            name = event.name or Word("formula")
            rows.append((name, say("%(grams)s go in", grams=Amount(joined, "g"))))
            if mass:
                working.append(
                    say(
                        "%(name)s: %(before)s + %(joined)s = %(after)s g",
                        name=name,
                        before=trimmed(mass, 1),
                        joined=joined,
                        after=trimmed(mass + joined, 1),
                    )
                )
            mass += joined
            continue
        after = mass * (ONE - event.share)
        lost = say(
            "%(share)s %% of what is in leaves as %(what)s",
            share=trimmed(event.share * HUNDRED, 4),
            what=Word(KINDS[event.kind]),
        )
        rows.append((Word(event.name), lost))
        working.append(
            say(
                "%(name)s: %(before)s × (1 − %(share)s ÷ 100) = %(after)s g",
                name=Word(event.name),
                before=trimmed(mass, 1),
                share=trimmed(event.share * HUNDRED, 4),
                after=trimmed(after, 1),
            )
        )
        mass = after
    result = Amount(trimmed(mass, 0), "g")
    asked = say("How much is there at the end?")
    task: list[Say | Grid | Room] = [
        say("%(count)s × a batch of %(recipe)s is made.", count=factor, recipe=lesson.title),
        Grid(("What happens", "How much"), tuple(rows), say("From the bowl to the rack, in this order")),
        say("A loss acts on all that is in by then. Carry all figures and round only the answer, to the gram."),
        Room(asked, "g"),
    ]
    answer: list[Result] = [Result(asked, result)]
    pieces = whole_number(None if lesson.flow.yields.pieces is None else lesson.flow.yields.pieces * factor)
    if pieces and pieces > 1:
        each = say("It makes %(pieces)s pieces. What does one weigh, to a tenth of a gram?", pieces=pieces)
        task.append(Room(each, "g"))
        answer.append(Result(each, Amount(trimmed(mass / pieces, 1), "g")))
        working.append(
            say(
                "One piece: %(mass)s ÷ %(pieces)s = %(each)s g",
                mass=trimmed(mass, 1),
                pieces=pieces,
                each=trimmed(mass / pieces, 1),
            )
        )
    return Exercise(NAME, tuple(task), tuple(answer), tuple(working))

"""The quantity of a named ingredient for the label: ingoing weight ÷ the product's weight after moisture loss."""

from decimal import Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.exercises.yield_ import KINDS, Event, events_of
from bookmaker.editions.workbook.views_parts import Exercise, Grid, Part, Result, Room, Say, Word, say
from bookmaker.measures.exact import HUNDRED, ONE, ZERO, total
from bookmaker.model.line import LossKind
from bookmaker.model.refs import Target

NAME = "quantity declared"


def make(lesson: Lesson) -> Exercise | None:
    """For a product whose named ingredient stands in its own lines alone, and whose losses act on the whole of it."""
    events = _events(lesson)
    if events is None or lesson.flow.lacks:
        return None
    found = _named(lesson)
    if not found:
        return None
    name, stays = lesson.dice.one_of(found)
    lost = [number for number, event in enumerate(events) if event.kind is LossKind.MOISTURE]
    factor = Decimal(lesson.dice.between(1, 4))
    ingoing = trimmed(stays * factor, 1)
    batch = trimmed(total(each.stays for each in lesson.flow.lines) * factor, 0)
    finished = batch
    working = []
    for number in lost:
        share = trimmed(events[number].share * HUNDRED, 4)
        after = finished * (ONE - events[number].share)
        working.append(
            say(
                "After %(name)s: %(before)s × (1 − %(share)s ÷ 100) = %(after)s g",
                name=Word(events[number].name),
                before=trimmed(finished, 1),
                share=share,
                after=trimmed(after, 1),
            )
        )
        finished = after
    result = ingoing * HUNDRED / finished
    working.append(
        say(
            "%(ingoing)s ÷ %(finished)s × 100 = %(result)s %%",
            ingoing=ingoing,
            finished=trimmed(finished, 1),
            result=trimmed(result, 2),
        )
    )
    question = say("What is the quantity of %(item)s, in percent to one decimal?", item=name)
    task: tuple[Part, ...] = (
        say(
            "The label of %(recipe)s names %(item)s, so its quantity must be declared.",
            recipe=lesson.title,
            item=name,
        ),
        say(
            "What goes into the product and stays comes to %(batch)s; %(ingoing)s of it are %(item)s.",
            batch=Amount(batch, "g"),
            ingoing=Amount(ingoing, "g"),
            item=name,
        ),
        _losses(events),
        Room(question, "%"),
    )
    if result > HUNDRED:
        note = say("More than 100 %%: by the law it is then given as grams used for 100 g of the finished product.")
    else:
        note = say(
            "Only water that leaves makes the share larger; product that is lost takes its share of everything along."
        )
    return Exercise(NAME, task, (Result(question, Amount(trimmed(result, 1), "%")),), tuple(working), note)


def _events(lesson: Lesson) -> tuple[Event, ...] | None:
    """What happens to the batch; nothing where nothing is lost. None where one division does not tell the share.

    So it is where moisture leaves a part alone, or product is thrown away before the rest joins.
    """
    flow = lesson.flow
    if not flow.moisture and not any(stage.losses for stage in flow.stages) and not flow.losses:
        return ()
    events = events_of(lesson)
    if events is None:
        return None
    first = next(number for number, event in enumerate(events) if event.kind is not None)
    return None if any(event.kind is None for event in events[first:]) else events


def _named(lesson: Lesson) -> list[tuple[str, Decimal]]:
    """The named ingredients that own lines bring in, and no component: with what stays of them in a batch."""
    named = {each.casefold() for each in lesson.recipe.client.named}
    found: dict[Target, tuple[str, Decimal]] = {}
    for line, moved in zip(lesson.recipe.lines, lesson.flow.lines, strict=True):
        if line.target in found:
            name, stays = found[line.target]
            found[line.target] = name, stays + moved.stays
        elif line.name.casefold() in named:
            found[line.target] = line.name, moved.stays
    return [each for target, each in found.items() if each[1] > ZERO and not _inside(lesson, target)]


def _inside(lesson: Lesson, target: Target) -> bool:
    """Whether an ingredient comes in by a component too."""
    parts = (lesson.component(line) for line in lesson.recipe.lines)
    return any(part is not None and target in lesson.figures.recipes[part].flow.content for part in parts)


def _losses(events: tuple[Event, ...]) -> Grid | Say:
    rows = tuple(
        (Word(event.name), say("%(share)s %%", share=trimmed(event.share * HUNDRED, 4)), Word(KINDS[event.kind]))
        for event in events
        if event.kind is not None
    )
    if not rows:
        return say("Nothing is lost on the way.")
    return Grid(("Loss", "Share of what is in", "What leaves"), rows, say("Losses on the way, in this order"))

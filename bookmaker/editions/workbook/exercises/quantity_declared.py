"""The quantity of a named ingredient for the label: ingoing weight ÷ the product's weight after moisture loss."""

from decimal import Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.exercises.yield_ import KINDS, events_of
from bookmaker.editions.workbook.views_parts import Exercise, Grid, Part, Result, Room, Word, say
from bookmaker.measures.exact import HUNDRED, ONE, ZERO, total
from bookmaker.model.line import LossKind

NAME = "quantity declared"


def make(lesson: Lesson) -> Exercise | None:
    """For a product whose named ingredient stands in its own lines, and whose losses act on the whole of it."""
    named = {each.casefold() for each in lesson.recipe.client.named}
    events = events_of(lesson)
    if not named or events is None or lesson.flow.lacks:
        return None
    lost = [number for number, event in enumerate(events) if event.kind is LossKind.MOISTURE]
    joins = [number for number, event in enumerate(events) if event.kind is None]
    # moisture of a part alone, or product thrown away before the rest joins, would need more than one division
    first_loss = next(number for number, event in enumerate(events) if event.kind is not None)
    if not lost or any(number > first_loss for number in joins):
        return None
    found = [
        (line, moved)
        for line, moved in zip(lesson.recipe.lines, lesson.flow.lines, strict=True)
        if line.name.casefold() in named and moved.stays > ZERO
    ]
    if not found:
        return None
    line, moved = lesson.dice.one_of(found)
    if sum(other.target == line.target for other in lesson.recipe.lines) > 1 or _inside(lesson, line.id):
        return None
    factor = Decimal(lesson.dice.between(1, 4))
    ingoing = trimmed(moved.stays * factor, 1)
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
    question = say("What is the quantity of %(item)s, in percent to one decimal?", item=line.name)
    task: tuple[Part, ...] = (
        say(
            "The label of %(recipe)s names %(item)s, so its quantity must be declared.",
            recipe=lesson.title,
            item=line.name,
        ),
        say(
            "Into the bowl go %(batch)s in all, and %(ingoing)s of them are %(item)s.",
            batch=Amount(batch, "g"),
            ingoing=Amount(ingoing, "g"),
            item=line.name,
        ),
        Grid(
            ("Loss", "Share of what is in", "What leaves"),
            tuple(
                (
                    Word(event.name),
                    say("%(share)s %%", share=trimmed(event.share * HUNDRED, 4)),
                    Word(KINDS[event.kind]),
                )
                for event in events
                if event.kind is not None
            ),
            say("Losses on the way, in this order"),
        ),
        Room(question, "%"),
    )
    if result > HUNDRED:
        note = say("More than 100 %%: by the law it is then given as grams used for 100 g of the finished product.")
    else:
        note = say(
            "Only water that leaves makes the share larger; product that is lost takes its share of everything along."
        )
    return Exercise(NAME, task, (Result(question, Amount(trimmed(result, 1), "%")),), tuple(working), note)


def _inside(lesson: Lesson, line_id: str) -> bool:
    """Whether the named ingredient comes in by a component too."""
    target = next(line.target for line in lesson.recipe.lines if line.id == line_id)
    parts = (lesson.component(line) for line in lesson.recipe.lines if line.id != line_id)
    return any(part is not None and target in lesson.figures.recipes[part].flow.content for part in parts)

"""The practical skills that a recipe lets an apprentice show, for the supervisor to sign off."""

from collections.abc import Iterator

from bookmaker.editions.workbook.views_parts import Say, say
from bookmaker.model.book import Book
from bookmaker.model.method import NoteKind, Step
from bookmaker.model.recipe import Kind, Recipe

MACHINES = frozenset({"mixer", "oven", "hob", "sheeter", "other", "proofer", "freezer"})
"""Kinds of equipment that somebody must have been shown."""

MOST_STEPS = 5
"""Steps whose reading is signed for; a long method has more, and the first and last say most."""


def skills_of(recipe: Recipe, cautions: tuple[str, ...], book: Book) -> tuple[Say, ...]:
    """In the order of the work."""
    return tuple(dict.fromkeys(_skills(recipe, cautions, book)))


def _skills(recipe: Recipe, cautions: tuple[str, ...], book: Book) -> Iterator[Say]:
    yield say("Weighs out a batch to the step of the scale, and sets everything ready")
    if cautions:
        yield say("Says what can hurt, and what to do: %(cautions)s", cautions=", ".join(cautions))
    kinds = {machine.name: machine.kind for machine in book.house.equipment}
    machines = dict.fromkeys(step.on for step in recipe.method.steps if kinds.get(step.on) in MACHINES)
    if machines:
        yield say("Sets up, uses and cleans as shown: %(machines)s", machines=", ".join(machines))
    measured = [step for step in recipe.method.steps if step.to or step.limit]
    for step in measured[: MOST_STEPS - 1] + measured[MOST_STEPS - 1 :][-1:]:
        yield _measured(step)
    if any(note.kind is NoteKind.LOOK_FOR for note in recipe.method.notes):
        yield say("Judges by what there is to look for, and says why")
    if recipe.kind is Kind.MOULDING:
        yield say("Works apart from food, with gloves and ventilation, by the supplier's sheet")
    else:
        yield say("Names the allergens, and cleans down for the next product")
    yield say("Makes a whole batch of %(recipe)s to the house's standard", recipe=recipe.title)


def _measured(step: Step) -> Say:
    if step.limit:
        return say(
            "Step %(step)s: measures and writes down the limit, %(limit)s", step=step.number, limit=step.limit.text
        )
    assert step.to is not None
    return say("Step %(step)s: brings it to %(reading)s and shows the reading", step=step.number, reading=step.to.text)

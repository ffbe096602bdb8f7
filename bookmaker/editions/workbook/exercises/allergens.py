"""Allergens with the way by which each comes in."""

from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.exercises.makeup import Entry, makeup
from bookmaker.editions.workbook.views_parts import Answer, Cell, Exercise, Grid, Part, Result, Room, Say, Word, say
from bookmaker.kitchen.figures import Path
from bookmaker.model.refs import RecipeRef, StoresRef

NAME = "allergens"
ROWS, WAYS, ASKED = 34, 5, 3


def make(lesson: Lesson) -> Exercise | None:
    """From what each ingredient is declared to contain; cross contact is kept apart."""
    entries = makeup(lesson) if lesson.is_food else None
    if not entries or len(entries) > ROWS:
        return None
    contains = lesson.own.allergens.contains
    able = [name for name, ways in contains.items() if 0 < len(ways) <= WAYS]
    if not able:
        return None
    asked = lesson.dice.some_of(able, ASKED)
    everything = say("Which allergens does %(recipe)s contain?", recipe=lesson.title)
    task: list[Part] = [
        say(
            "The table says what goes into %(recipe)s, and what each ingredient is declared to contain.",
            recipe=lesson.title,
        ),
        Grid(
            ("Goes into", "Ingredient", "Contains"),
            tuple(_row(entry) for entry in entries),
            say("What %(recipe)s is made of", recipe=lesson.title),
        ),
        Room(everything, lines=1),
    ]
    answer: list[Answer] = [Result(everything, ", ".join(contains))]
    working: list[Say] = [say("All of them together: what stands in the last column, each once.")]
    for name in asked:
        question = say("Which ingredients bring in %(allergen)s, and by what way? Write every way.", allergen=name)
        task.append(Room(question, lines=min(3, len(contains[name]))))
        answer.append(Result(question, "; ".join(_way(name, way, lesson) for way in contains[name])))
    taken, gone = _without_a_line(lesson)
    if taken:
        question = say("If %(line)s were left out, which of these allergens would it no longer contain?", line=taken)
        task.append(Room(question, lines=1))
        answer.append(
            Result(question, ", ".join(gone) if gone else say("None: each of them comes in by another way too."))
        )
        working.append(say("Gone is only what comes in by no other line than %(line)s.", line=taken))
    note = say(
        "What it may contain by cross contact is another question: it stays, whatever is left out. "
        "Never answer a guest "
        "from memory: look at the matrix and the packet."
    )
    return Exercise(NAME, tuple(task), tuple(answer), tuple(working), note)


def _row(entry: Entry) -> tuple[Cell, ...]:
    if entry.contains is None:
        return entry.of, entry.name, Word("see its own lines")
    return entry.of, entry.name, ", ".join(entry.contains) or Word("nothing that is listed")


def _way(allergen: str, way: Path, lesson: Lesson) -> str:
    """`milk ← unsalted butter ← almond sablé`."""
    return " ← ".join((allergen, *(lesson.book.name(step) for step in reversed(way))))


def _without_a_line(lesson: Lesson) -> tuple[str, tuple[str, ...]]:
    """A line, and the allergens that come in by it alone; nothing where there are too few lines to choose from."""
    contains = lesson.own.allergens.contains
    first = {name: {way[0] for way in ways} for name, ways in contains.items()}
    lines = list(dict.fromkeys(way[0] for ways in contains.values() for way in ways))
    if len(lines) < 2:
        return "", ()
    line = lesson.dice.one_of(lines)
    assert isinstance(line, StoresRef | RecipeRef)
    return lesson.book.name(line), tuple(name for name, ways in first.items() if ways == {line})

"""Words of the trade matched with what they mean, from the house's glossary."""

import re
from string import ascii_uppercase

from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import Exercise, Filled, Grid, Lettered, Part, say, without_answers
from bookmaker.editions.workbook.vocabulary import terms_of
from bookmaker.model.book import Term
from bookmaker.model.prose import plain

NAME = "words"
LEAST, MOST = 3, 6

_SENTENCE = re.compile(r"(?<=[.!?])\s+(?=[A-Z])")


def make(lesson: Lesson) -> Exercise | None:
    """Words that the recipe itself uses, each with the first sentence of its explanation."""
    able = [term for term in terms_of(lesson.recipe, lesson.book) if _fits(term)]
    if len(able) < LEAST:
        return None
    chosen = lesson.dice.some_of(able, MOST)
    mixed = lesson.dice.shuffled(chosen)
    letters = {term.word: ascii_uppercase[at] for at, term in enumerate(mixed)}
    grid = Grid(
        ("Word", "Letter"),
        tuple((term.word, Filled(letters[term.word])) for term in chosen),
        say("Words of %(recipe)s", recipe=lesson.title),
    )
    task: tuple[Part, ...] = (
        say("Which letter belongs to which word?"),
        Lettered(tuple((letters[term.word], say("%(text)s", text=meaning(term))) for term in mixed)),
        without_answers(grid),
    )
    return Exercise(NAME, task, (grid,), (), say("The glossary at the end of this workbook has them in full."))


def meaning(term: Term) -> str:
    """The first sentence of what a term means."""
    return _SENTENCE.split(plain(term.meaning), maxsplit=1)[0]


def _fits(term: Term) -> bool:
    """Whether its sentence does not give the word away."""
    text = meaning(term).casefold()
    return bool(text) and not any(
        word.casefold() in text for name in (term.word, *term.also) for word in name.split() if len(word) > 3
    )

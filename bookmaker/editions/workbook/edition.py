"""The workbook of a class, and its answers: book and figures in, two sets of views out.

What is projected here an apprentice sees. Costs enter only by the exercises that `choosing` lets through, and private
notes not at all.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from bookmaker.editions.book.paper import on_paper
from bookmaker.editions.team import places as at
from bookmaker.editions.team.places import Contents, Places, contents_of
from bookmaker.editions.team.project_formula import formula, losses
from bookmaker.editions.team.project_method import cautions, method
from bookmaker.editions.team.project_prose import passages
from bookmaker.editions.team.project_recipe import yields
from bookmaker.editions.team.rounding import minutes
from bookmaker.editions.team.routes import fold
from bookmaker.editions.team.views import Frame, Link, Route
from bookmaker.editions.workbook.choosing import Chosen, choose
from bookmaker.editions.workbook.project_pages import glossary, progress, safety, topics
from bookmaker.editions.workbook.skills import skills_of
from bookmaker.editions.workbook.tools import tools_of
from bookmaker.editions.workbook.views import (
    AnswerPage,
    Answers,
    AnswersIndex,
    AnswerView,
    ClassesPage,
    ContentsPage,
    LessonLine,
    LessonPage,
    TaskView,
    TopicView,
    Workbook,
)
from bookmaker.editions.workbook.views_parts import Exercise
from bookmaker.editions.workbook.vocabulary import terms_of
from bookmaker.kitchen.figures import Figures
from bookmaker.measures.exact import exactly
from bookmaker.model.book import Book
from bookmaker.model.house import House
from bookmaker.model.method import Note, NoteKind
from bookmaker.model.recipe import Recipe, Status
from bookmaker.model.refs import RecipeRef
from bookmaker.model.teaching import EXERCISES, STEPS, TOPICS

FOLDER = "workbook"
"""Where the edition is published within the output folder."""

ANSWERS = "answers"
"""The answers' folder within a workbook's."""

INDEX = Route("", "index")
TOPICS_PAGE = Route("", "topics")
SAFETY = Route("", "safety")
PROGRESS = Route("", "progress")


def project(book: Book, figures: Figures, group: str) -> tuple[Workbook, Answers]:
    """One class's workbook and its answers."""
    levels = {ref: recipe.teaching.level for ref, recipe in book.recipes.items() if recipe.teaching.teach}
    contents = contents_of(book)
    return project_lessons(taught(levels, contents), contents, book, figures, group)


def project_lessons(
    refs: tuple[RecipeRef, ...], contents: Contents, book: Book, figures: Figures, group: str
) -> tuple[Workbook, Answers]:
    """The same for a book whose contents and lessons are known: only lessons and their components are looked at."""
    places = contents.places()
    with exactly():
        chosen = choose(refs, group, book, figures)
        projector = _Projector(book, figures, places, frozenset(contents.route(ref).key for ref in refs))
        lessons = tuple(projector.lesson(ref, number, chosen[ref]) for number, ref in enumerate(refs, 1))
    pages = tuple(_answers(lesson, chosen[ref]) for ref, lesson in zip(refs, lessons, strict=True))
    house = book.house
    topics_page = topics(lessons, house.region, TOPICS_PAGE)
    words = glossary(book.glossary, lessons, lambda blocks: on_paper(passages(blocks, places), projector.printed))
    workbook = Workbook(
        frame=frame(house, has_glossary=words is not None),
        group=group,
        paper=house.paper.value,
        contents=_contents(lessons, topics_page.topics),
        lessons=lessons,
        topics=topics_page,
        safety=safety(lessons, book.cautions, SAFETY),
        glossary=words,
        progress=progress(lessons, PROGRESS),
    )
    answers = Answers(_frame(house, (("Answers", INDEX),)), group, house.paper.value, AnswersIndex(INDEX, pages), pages)
    return workbook, answers


def taught(levels: Mapping[RecipeRef, int], contents: Contents) -> tuple[RecipeRef, ...]:
    """The lessons: recipes with a level (those marked for teaching), by level and then as the book has them.

    Each in its first size; none that is retired.
    """
    marked = [
        ref
        for ref in contents.in_order()
        if ref in levels
        and ref.size == (contents.sizes.get(ref.id) or ("",))[0]
        and contents.recipes[ref].status is not Status.RETIRED
    ]
    return tuple(sorted(marked, key=lambda ref: levels[ref]))


def groups(house: House) -> tuple[str, ...]:
    """The classes, each with a workbook of its own; one without a name where the house has none."""
    return house.classes or ("",)


def folder_of(group: str, house: House) -> str:
    """Where a class's workbook is published: with several classes, each in a folder of its own."""
    return f"{FOLDER}/{fold(group)}" if len(house.classes) > 1 else FOLDER


def classes_page(house: House) -> ClassesPage | None:
    """The page that leads to the classes' workbooks; None where there is but one."""
    if len(house.classes) < 2:
        return None
    return ClassesPage(_frame(house, ()), tuple((group, fold(group)) for group in house.classes))


def frame(house: House, *, has_glossary: bool) -> Frame:
    """What stands around every page of the workbook."""
    ways = [("Contents", INDEX), ("Topics", TOPICS_PAGE), ("Safety", SAFETY)]
    ways += [("Glossary", at.GLOSSARY)] if has_glossary else []
    return _frame(house, (*ways, ("Progress", PROGRESS)))


def _frame(house: House, ways: tuple[tuple[str, Route], ...]) -> Frame:
    return Frame(
        house=house.name,
        language=house.language,
        fahrenheit=house.fahrenheit,
        navigation=tuple(Link(name, route) for name, route in ways),
    )


@dataclass(frozen=True, slots=True)
class _Projector:
    book: Book
    figures: Figures
    places: Places
    printed: frozenset[str]
    """Pages that the workbook has: links to others leave their words behind."""

    def lesson(self, ref: RecipeRef, number: int, chosen: Chosen) -> LessonPage:
        book, places = self.book, self.places
        recipe, reasons = _taught(book.recipes[ref])
        own = self.figures.recipes[ref]
        route = places.routes[ref].at("")
        hazards = cautions(recipe, book, places)
        view = method(recipe, own.time, own.flow.yields.word, book, places)
        page = LessonPage(
            route=route,
            number=number,
            title=places.names[ref],
            section=places.sections[recipe.section].name,
            kind=recipe.kind.value,
            code=recipe.code,
            level=recipe.teaching.level,
            topics=(),
            introduction=view.introduction,
            why=tuple(passages(note.content, places) for note in reasons),
            words=(),
            tools=tools_of(recipe, own.flow, book.house),
            yields=yields(recipe, own.flow, book, places),
            formula=formula(recipe, own.flow, book, places),
            losses=losses(own.flow),
            cautions=hazards,
            allergens=tuple(own.allergens.contains),
            may_contain=tuple(own.allergens.may_contain),
            undeclared=bool(own.allergens.undeclared),
            hands_on=minutes(own.time.hands_on) if own.time.hands_on else None,
            total=minutes(own.time.total) if own.time.total else None,
            method=view,
            tasks=tuple(_task(exercise, number, at) for at, exercise in enumerate(chosen.exercises, 1)),
            skills=skills_of(recipe, tuple(hazard.name for hazard in hazards), book),
        )
        page = on_paper(page, self.printed)
        # links within the workbook are made when the others are gone, since they lead to places on its pages
        return replace(page, topics=tuple(self._topics(recipe)), words=tuple(self._words(recipe)))

    def _words(self, recipe: Recipe) -> Iterator[Link]:
        for term in terms_of(recipe, self.book):
            yield Link(term.word, at.GLOSSARY.at(fold(term.word)))

    def _topics(self, recipe: Recipe) -> Iterator[Link]:
        for name in recipe.teaching.topics:
            page = TOPICS_PAGE if name in TOPICS else at.GLOSSARY
            yield Link(name, page.at(fold(name)))


def _taught(recipe: Recipe) -> tuple[Recipe, tuple[Note, ...]]:
    """The recipe without what never leaves the team book, and the reasons that hold for all of it.

    A reason that follows a step stays with that step; one before the first or behind the last speaks of the whole.
    """
    public = [note for note in recipe.method.notes if note.kind is not NoteKind.PRIVATE]
    ends = (0, len(recipe.method.steps))
    reasons = tuple(note for note in public if note.kind is NoteKind.WHY and note.after in ends)
    notes = tuple(note for note in public if note not in reasons)
    return replace(recipe, method=replace(recipe.method, notes=notes)), reasons


def _task(exercise: Exercise, lesson: int, number: int) -> TaskView:
    kind = EXERCISES[exercise.kind]
    return TaskView(f"{lesson}.{number}", _place(number), kind.name, kind.asks, kind.step, kind.topics, exercise.task)


def _answers(lesson: LessonPage, chosen: Chosen) -> AnswerPage:
    answers = tuple(
        AnswerView(
            number=task.number,
            place=task.place,
            kind=task.kind,
            asks=task.asks,
            step=task.step,
            parts=exercise.answer,
            working=exercise.working,
            note=exercise.note,
        )
        for task, exercise in zip(lesson.tasks, chosen.exercises, strict=True)
    )
    return AnswerPage(lesson.route, lesson.number, lesson.title, answers, chosen.impossible)


def _place(number: int) -> str:
    return f"exercise-{number}"


def _contents(lessons: tuple[LessonPage, ...], served: tuple[TopicView, ...]) -> ContentsPage:
    levels = tuple((step, tuple(_line(each) for each in lessons if each.level == step)) for step in STEPS)
    return ContentsPage(
        route=INDEX,
        levels=tuple((step, lines) for step, lines in levels if lines),
        topics=served,
        exercises=sum(len(lesson.tasks) for lesson in lessons),
    )


def _line(lesson: LessonPage) -> LessonLine:
    topics_ = tuple(topic.name for topic in lesson.topics)
    return LessonLine(lesson.number, Link(lesson.title, lesson.route), lesson.section, len(lesson.tasks), topics_)

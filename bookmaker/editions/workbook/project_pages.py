"""The workbook's pages about all lessons together: topics, safety, glossary, progress."""

from collections.abc import Callable, Iterator, Mapping

from bookmaker.editions.team.places import GLOSSARY
from bookmaker.editions.team.project_method import caution_view
from bookmaker.editions.team.routes import fold
from bookmaker.editions.team.views import Link, Route
from bookmaker.editions.team.views_prose import Prose
from bookmaker.editions.workbook.readings import STANDARDS, reading_of
from bookmaker.editions.workbook.safety import DANGERS
from bookmaker.editions.workbook.views import (
    GlossaryView,
    HazardView,
    LessonPage,
    ProgressLine,
    ProgressPage,
    SafetyPage,
    SafetyPart,
    Served,
    TermView,
    TopicsPage,
    TopicView,
)
from bookmaker.model.book import Caution, Term
from bookmaker.model.house import Region
from bookmaker.model.prose import Blocks
from bookmaker.model.teaching import TOPICS

Lessons = tuple[LessonPage, ...]


def topics(lessons: Lessons, region: Region, route: Route) -> TopicsPage:
    """Every topic of examination, then those that recipes name besides."""
    own = sorted({topic.name for lesson in lessons for topic in lesson.topics} - {*TOPICS}, key=str.casefold)
    found = []
    for name in (*TOPICS, *own):
        examined = name in TOPICS
        reading = reading_of(name, region) if examined else None
        found.append(
            TopicView(
                name=name,
                place=fold(name),
                examined=examined,
                reading=reading.text if reading else (),
                do=reading.do if reading else (),
                sources=reading.sources if reading else (),
                exercises=tuple(_served(name, lessons)),
                recipes=tuple(
                    Link(lesson.title, lesson.route)
                    for lesson in lessons
                    if any(topic.name == name for topic in lesson.topics)
                ),
            )
        )
    return TopicsPage(route, tuple(found), STANDARDS)


def _served(topic: str, lessons: Lessons) -> Iterator[Served]:
    for lesson in lessons:
        for task in lesson.tasks:
            if topic in task.topics:
                yield Served(task.number, lesson.route.at(task.place), lesson.title, task.kind)


def safety(lessons: Lessons, cautions: Mapping[str, Caution], route: Route) -> SafetyPage:
    """The dangers of the trade; then the house's own, as far as a lesson meets them."""
    met: dict[str, list[Link]] = {}
    for lesson in lessons:
        for hazard in lesson.cautions:
            met.setdefault(hazard.name, []).append(Link(lesson.title, lesson.route))
    parts = [
        SafetyPart(danger.heading, fold(danger.heading), danger.ask, tuple(_hazards(danger.cautions, cautions, met)))
        for danger in DANGERS
    ]
    shown = {name for danger in DANGERS for name in danger.cautions}
    others = tuple(_hazards([name for name in cautions if name in met and name not in shown], cautions, met))
    if others:
        parts.append(SafetyPart("Also in this house", "also-in-this-house", (), others))
    return SafetyPage(route, tuple(part for part in parts if part.hazards))


def _hazards(
    names: tuple[str, ...] | list[str], cautions: Mapping[str, Caution], met: Mapping[str, list[Link]]
) -> Iterator[HazardView]:
    for name in names:
        if name in cautions:
            yield HazardView(caution_view(cautions[name]), tuple(met.get(name, ())))


def glossary(terms: tuple[Term, ...], lessons: Lessons, words: Callable[[Blocks], Prose]) -> GlossaryView | None:
    """Every word of the glossary in the order of the alphabet, with the lessons that use it."""
    if not terms:
        return None
    using: dict[str, list[Link]] = {}
    for lesson in lessons:
        for link in lesson.words:
            using.setdefault(link.name, []).append(Link(lesson.title, lesson.route))
    return GlossaryView(
        GLOSSARY,
        tuple(
            TermView(term.word, fold(term.word), words(term.meaning), term.also, tuple(using.get(term.word, ())))
            for term in sorted(terms, key=lambda each: each.word.casefold())
        ),
    )


def progress(lessons: Lessons, route: Route) -> ProgressPage:
    """A line for each lesson."""
    return ProgressPage(
        route,
        tuple(
            ProgressLine(
                Link(lesson.title, lesson.route),
                lesson.number,
                lesson.level,
                tuple((task.number, task.kind, task.step) for task in lesson.tasks),
                len(lesson.skills),
            )
            for lesson in lessons
        ),
    )

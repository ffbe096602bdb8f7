"""What the workbook shows. Tasks and answers are different views, so that a page of the one cannot hold the other."""

from dataclasses import dataclass

from bookmaker.editions.team.views import Amount, Frame, Link, Route
from bookmaker.editions.team.views_prose import Prose
from bookmaker.editions.team.views_recipe import CautionView, FormulaView, LossView, MethodView, YieldView
from bookmaker.editions.workbook.views_parts import Answer, Part, Say


@dataclass(frozen=True, slots=True)
class TaskView:
    """An exercise as the apprentice gets it. `number` counts through the workbook: lesson, exercise."""

    number: str
    place: str
    kind: str
    asks: str
    step: int
    topics: tuple[str, ...]
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class AnswerView:
    """The answer to the exercise of that number."""

    number: str
    place: str
    kind: str
    asks: str
    step: int
    parts: tuple[Answer, ...]
    working: tuple[Say, ...]
    note: Say | None


@dataclass(frozen=True, slots=True)
class ToolView:
    """A machine, a vessel or an instrument; `words` say which one, or what for."""

    name: str
    words: Say | None = None


@dataclass(frozen=True, slots=True)
class LessonPage:
    """A recipe to be taught: what and why, words, tools, method, exercises, and the skills to be signed off."""

    route: Route
    number: int
    title: str
    section: str
    kind: str
    code: str
    level: int
    topics: tuple[Link, ...]
    introduction: Prose
    why: tuple[Prose, ...]
    words: tuple[Link, ...]
    tools: tuple[ToolView, ...]
    yields: YieldView
    formula: FormulaView
    losses: tuple[LossView, ...]
    cautions: tuple[CautionView, ...]
    allergens: tuple[str, ...]
    may_contain: tuple[str, ...]
    undeclared: bool
    hands_on: Amount | None
    total: Amount | None
    method: MethodView
    tasks: tuple[TaskView, ...]
    skills: tuple[Say, ...]


@dataclass(frozen=True, slots=True)
class Served:
    """An exercise by its number and where it stands."""

    number: str
    route: Route
    recipe: str
    kind: str


@dataclass(frozen=True, slots=True)
class TopicView:
    """A topic: what there is to know, where that was written down, which exercises and recipes serve it.

    `examined` marks topics of examination; the others are words of the house's glossary.
    """

    name: str
    place: str
    examined: bool
    reading: tuple[Say, ...]
    do: tuple[Say, ...]
    sources: tuple[str, ...]
    exercises: tuple[Served, ...]
    recipes: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class TopicsPage:
    """All topics of examination with their reading."""

    route: Route
    topics: tuple[TopicView, ...]
    standards: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HazardView:
    """A caution, and the lessons that meet it."""

    caution: CautionView
    lessons: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class SafetyPart:
    """One kind of danger: its hazards, and what to ask before beginning."""

    heading: str
    place: str
    ask: tuple[str, ...]
    hazards: tuple[HazardView, ...]


@dataclass(frozen=True, slots=True)
class SafetyPage:
    """What can hurt, and what to do."""

    route: Route
    parts: tuple[SafetyPart, ...]


@dataclass(frozen=True, slots=True)
class TermView:
    """A word of the trade, and the lessons that use it."""

    word: str
    place: str
    meaning: Prose
    also: tuple[str, ...]
    lessons: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class GlossaryView:
    """The words of the trade."""

    route: Route
    terms: tuple[TermView, ...]


@dataclass(frozen=True, slots=True)
class ProgressLine:
    """A lesson with its exercises and how many skills there are to sign off."""

    lesson: Link
    number: int
    level: int
    exercises: tuple[tuple[str, str, int], ...]
    """Number, kind and step of each."""
    skills: int


@dataclass(frozen=True, slots=True)
class ProgressPage:
    """Where the apprentice stands."""

    route: Route
    lines: tuple[ProgressLine, ...]


@dataclass(frozen=True, slots=True)
class LessonLine:
    """A lesson in the contents."""

    number: int
    lesson: Link
    section: str
    exercises: int
    topics: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ContentsPage:
    """The first page: whose workbook, how to use it, what is in it. Lessons stand by level."""

    route: Route
    levels: tuple[tuple[int, tuple[LessonLine, ...]], ...]
    topics: tuple[TopicView, ...]
    exercises: int


@dataclass(frozen=True, slots=True)
class Workbook:
    """One class's workbook. `group` is the class's name, empty where the house has no classes."""

    frame: Frame
    group: str
    paper: str
    contents: ContentsPage
    lessons: tuple[LessonPage, ...]
    topics: TopicsPage
    safety: SafetyPage
    glossary: GlossaryView | None
    progress: ProgressPage


@dataclass(frozen=True, slots=True)
class AnswerPage:
    """The answers of one lesson."""

    route: Route
    number: int
    title: str
    answers: tuple[AnswerView, ...]
    impossible: tuple[str, ...]
    """Kinds that the recipe asks for, and its data do not allow."""


@dataclass(frozen=True, slots=True)
class AnswersIndex:
    """The first page of the answers."""

    route: Route
    pages: tuple[AnswerPage, ...]


@dataclass(frozen=True, slots=True)
class Answers:
    """The answers to one class's workbook: a document of its own."""

    frame: Frame
    group: str
    paper: str
    index: AnswersIndex
    pages: tuple[AnswerPage, ...]


@dataclass(frozen=True, slots=True)
class ClassesPage:
    """Where the workbooks of several classes are found: each with the folder that it stands in."""

    frame: Frame
    classes: tuple[tuple[str, str], ...]

"""The workbook and its answers as pages of a site: each a view, and its bytes."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from bookmaker.editions.team.views import Frame
from bookmaker.editions.workbook.views import (
    AnswerPage,
    Answers,
    AnswersIndex,
    ClassesPage,
    ContentsPage,
    GlossaryView,
    LessonPage,
    ProgressPage,
    SafetyPage,
    TopicsPage,
    Workbook,
)
from bookmaker.press.formats import Formats
from bookmaker.press.html import Shelf, environment
from bookmaker.press.laid_over import themed
from bookmaker.press.site import font_files
from bookmaker.press.workbook.sentences import Sentences, fill, is_long, leading, shape

THEME = "workbook"
"""The part of a theme that has the workbook's templates: `site` and `print` within it."""

ASSETS = "assets"
_FROM_THE_SITE = ("ledger.css", "icon.svg")

TEMPLATES: Mapping[type, str] = {
    ContentsPage: "contents.html",
    LessonPage: "lesson.html",
    TopicsPage: "topics.html",
    SafetyPage: "safety.html",
    GlossaryView: "glossary.html",
    ProgressPage: "progress.html",
    AnswersIndex: "answers.html",
    AnswerPage: "answer.html",
}


def pages(book: Workbook | Answers) -> Iterator[Any]:
    """Every page of a workbook, or of its answers: views with a route each."""
    if isinstance(book, Answers):
        yield book.index
        yield from book.pages
        return
    yield from (book.contents, *book.lessons, book.topics, book.safety)
    if book.glossary:
        yield book.glossary
    yield book.progress


@dataclass(slots=True)
class WorkbookPress:
    """A theme ready to set the pages of one workbook, or of its answers."""

    frame: Frame
    group: str
    themes: tuple[Path, ...]
    shelf: Shelf | None = None
    _templates: Any = field(init=False)

    def __post_init__(self) -> None:
        formats = Formats.of(self.frame.language, fahrenheit=self.frame.fahrenheit)
        folders = [*(theme / THEME / "site" for theme in self.themes), *(theme / THEME for theme in self.themes)]
        self._templates = environment(folders, formats, None, self.shelf)
        self._templates.filters |= spoken(formats)

    def load(self) -> None:
        """Read and compile every template now, so that copies of this process need not."""
        for name in TEMPLATES.values():
            self._templates.get_template(name)

    def set(self, view: Any) -> bytes:
        """A page's bytes: HTML in UTF-8."""
        here = next((link.route for link in self.frame.navigation if link.route == view.route), None)
        template = self._templates.get_template(TEMPLATES[type(view)])
        html: str = template.render(view=view, frame=self.frame, group=self.group, folder=view.route.folder, here=here)
        return html.encode("utf-8")

    def set_classes(self, view: ClassesPage) -> bytes:
        """The page that leads to the workbooks of several classes."""
        template = self._templates.get_template("classes.html")
        html: str = template.render(view=view, frame=view.frame, group="", folder="", here=None)
        return html.encode("utf-8")


def asset_files(themes: Sequence[Path]) -> Iterator[tuple[str, Callable[[], bytes]]]:
    """Styles, icon and fonts of one published folder, each with what makes it."""
    for name in _FROM_THE_SITE:
        yield f"{ASSETS}/{name}", themed(themes, f"site/{ASSETS}/{name}").read_bytes
    yield f"{ASSETS}/workbook.css", themed(themes, f"{THEME}/site/{ASSETS}/workbook.css").read_bytes
    yield from font_files()


def spoken(formats: Formats) -> dict[str, Callable[..., Any]]:
    """Filters that set sentences, values and cells."""
    sentences = Sentences(formats)
    return {
        "say": sentences.say,
        "clause": sentences.clause,
        "value": sentences.value,
        "plain": sentences.plain,
        "shape": shape,
        "fill": fill,
        "leading": leading,
        "is_long": is_long,
    }

"""The workbook and its answers on paper: pieces for the page engine, and what they have in common."""

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import Any

from markupsafe import Markup, escape

from bookmaker.editions.team.views import Link, Route
from bookmaker.editions.team.views_prose import Prose, Run
from bookmaker.editions.workbook.views import Answers, Workbook
from bookmaker.press import prose
from bookmaker.press.assembly.assembling import Setting
from bookmaker.press.book import tied
from bookmaker.press.formats import Formats
from bookmaker.press.html import environment
from bookmaker.press.laid_over import themed
from bookmaker.press.piece import Piece
from bookmaker.press.workbook.site import THEME, spoken


def setting(book: Workbook | Answers, themes: Sequence[Path], file: str) -> Setting:
    """What the pieces of a workbook, or of its answers, have in common."""
    return Setting(file, book.frame.language, styles(book, themes), partial(document, book, themes))


def pieces(book: Workbook | Answers, themes: Sequence[Path]) -> Iterator[Piece]:
    """A workbook, or its answers, in reading order."""
    formats = Formats.of(book.frame.language, fahrenheit=book.frame.fahrenheit)
    templates = _print_templates(formats, themes)
    word = formats.word

    def module(name: str) -> Any:
        return templates.get_template(name).make_module({"group": book.group, "frame": book.frame})

    def piece(name: str, set_by: Callable[..., str], *shown: object, part: str = "") -> Piece:
        return Piece(name, part, tied(str(set_by(*shown))))

    if isinstance(book, Answers):
        answers = module("answers.html")
        yield piece(word("Cover"), answers.cover, book)
        for page in book.pages:
            yield piece(page.title, answers.page, page, part=word("Answers"))
        return
    opening, lesson, closing = module("opening.html"), module("teaching.html"), module("closing.html")
    yield piece(word("Cover"), opening.cover, book)
    yield piece(word("Contents"), opening.contents, book)
    # what lessons name comes first: its pages have one figure, whatever the number of lessons
    if book.glossary:
        yield piece(word("Glossary"), closing.glossary, book.glossary)
    yield piece(word("Topics of examination"), closing.topics, book.topics)
    yield piece(word("Safety"), opening.safety, book.safety)
    by_route = {each.route: each for each in book.lessons}
    for level, lines in book.contents.levels:
        part = f"{word('Level')} {level}"
        yield piece(part, opening.opener, level, lines)
        for line in lines:
            view = by_route[line.lesson.route] if line.lesson.route else None
            assert view is not None
            yield piece(view.title, lesson.lesson, view, part=part)
    yield piece(word("Progress"), closing.progress, book.progress)


def document(book: Workbook | Answers, themes: Sequence[Path], body: str) -> str:
    """One HTML document with this body, which our templates have set, and its title and author."""
    formats = Formats.of(book.frame.language, fahrenheit=book.frame.fahrenheit)
    whole = Markup(body)  # noqa: S704 (our templates escape)
    template = _print_templates(formats, themes).get_template("workbook.html")
    html: str = template.render(frame=book.frame, group=book.group, pieces=whole, is_answers=isinstance(book, Answers))
    return html


def styles(book: Workbook | Answers, themes: Sequence[Path]) -> str:
    """The printed book's style sheet with the workbook's own behind it."""
    formats = Formats.of(book.frame.language, fahrenheit=book.frame.fahrenheit)
    words = {"page": formats.word("p."), "see-page": formats.word("see page")}
    spoken = "; ".join(f'--{name}: "{word}"' for name, word in words.items())
    names = (f"print/paper-{book.paper.lower()}.css", "print/book.css", f"{THEME}/print/workbook.css")
    sheets = (themed(themes, name).read_text("utf-8") for name in names)
    return "\n".join((*sheets, f":root {{ {spoken} }}"))


def _print_templates(formats: Formats, themes: Sequence[Path]) -> Any:
    """The print templates, in which the address of a page or place is its anchor in the one long document."""
    folders = [
        *(theme / THEME / "print" for theme in themes),
        *(theme / THEME for theme in themes),
        *(theme / "print" for theme in themes),
    ]

    def address(route: Route) -> str:
        return f"#{anchor(route)}"

    def link(to: Link) -> Markup:
        if to.route is None:
            return escape(to.name)
        return Markup('<a class="see" href="{}">{}</a>').format(address(to.route), to.name)

    def passages(content: Prose) -> Markup:
        return prose.passages(content, address)

    def running(content: Run) -> Markup:
        return prose.run(content, address)

    made = environment(folders, formats)
    made.filters |= {"url": address, "link": link, "prose": passages, "run": running, "anchor": anchor}
    made.filters |= spoken(formats)
    return made


def anchor(route: Route) -> str:
    """A page, or a place on it, as an anchor within the one long document."""
    return f"{route.id}-{route.place}" if route.place else route.id

"""The printed book: its view set by the print templates as a row of pieces, laid out as one PDF."""

import base64
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Any

from markupsafe import Markup, escape

from bookmaker.editions.book.views import Part, PrintedBook
from bookmaker.editions.team.views import Link, Route
from bookmaker.editions.team.views_prose import Prose, Run
from bookmaker.press import prose
from bookmaker.press.formats import NBSP, Formats
from bookmaker.press.html import environment
from bookmaker.press.images import Photo
from bookmaker.press.laid_over import themed
from bookmaker.press.pdf import to_pdf
from bookmaker.press.pictures import cutting, layers, ribbon, shares, tree
from bookmaker.press.piece import Piece

WIDE, HALF, NARROW = 590, 285, 230
"""Widths in pixels of pictures across the wide column, two in a row, and in the narrow column.

A pixel is set 0.2 mm wide everywhere, so that the pictures' 14 px letters come out at 8 pt.
"""

PHOTO_WIDTH = 1280

_WORDS = re.compile(r">[^<]+<")
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:[°%]|(?:[mk]?g|[mc]?m|m?l|s|min|h|days?|weeks?|months?)\b))")


def book_pdf(book: PrintedBook, themes: Iterable[Path], photos: Mapping[str, Photo] | None = None) -> bytes:
    """The printed book as PDF bytes."""
    folders = [theme / "print" for theme in themes]
    return to_pdf(book_html(book, folders, photos or {}), styles(book, folders))


def book_html(book: PrintedBook, folders: Sequence[Path], photos: Mapping[str, Photo]) -> str:
    """The whole book as one HTML document for the page engine."""
    return document(book, folders, "\n".join(piece.html for piece in pieces(book, folders, photos)))


def document(book: PrintedBook, folders: Sequence[Path], body: str) -> str:
    """One HTML document with this body, which our templates have set, and the book's title and author."""
    whole = Markup(body)  # noqa: S704 (our templates escape)
    return environment(folders, _formats(book)).get_template("book.html").render(book=book, pieces=whole)


def pieces(
    book: PrintedBook,
    folders: Sequence[Path],
    photos: Mapping[str, Photo],
    kept: Callable[[Route, Callable[[], str]], str] = lambda _, make: make(),
) -> Iterator[Piece]:
    """The book in reading order. `kept` may have a recipe's HTML already, by its route; else it is made."""
    formats = _formats(book)
    templates = _templates(formats, folders, photos)
    front, lists = (templates.get_template(name).module for name in ("front.html", "lists.html"))
    set_recipe = recipe_setter(book, folders, photos)
    word = formats.word

    def piece(name: str, set_by: Callable[..., str], *shown: object, part: str = "") -> Piece:
        return Piece(name, part, tied(str(set_by(*shown))))

    yield piece(word("Cover"), front.cover, book.cover)
    yield piece(word("Contents"), front.contents, book)
    yield piece(word("About the figures"), front.about, book.about)
    for part in book.parts:
        yield piece(part.heading, front.opener, part)
        for number, line in enumerate(part.contents):
            yield Piece(line.title, part.heading, kept(line.route, partial(set_recipe, part, number)))
    yield piece(word("Cautions"), lists.cautions, book.cautions)
    yield piece(word("Allergens of the products"), lists.matrix, book.allergens)
    yield piece(word("Costs of the products"), lists.costs, book.costs, book.currency)
    if book.glossary:
        yield piece(word("Glossary"), lists.glossary, book.glossary)
    for index, heading in (
        (book.by_ingredient, word("Index of ingredients")),
        (book.by_name, word("Index of recipes")),
    ):
        yield piece(heading, lists.index, index, heading)


def recipe_setter(
    book: PrintedBook, folders: Sequence[Path], photos: Mapping[str, Photo]
) -> Callable[[Part, int], str]:
    """What sets a recipe of a part, by its number there."""
    recipe = _templates(_formats(book), folders, photos).get_template("recipe.html").module.recipe
    return lambda part, number: tied(str(recipe(part.recipes[number])))


def tied(html: str) -> str:
    """The words of a document with numbers tied to their units: no line ends between 50 and °C."""
    return _WORDS.sub(lambda words: _BEFORE_UNIT.sub(NBSP, words[0]), html)


def styles(book: PrintedBook, folders: Sequence[Path]) -> str:
    """The print style sheet with the sheet for the house's paper, and the words that style sheets set."""
    words = {"page": _formats(book).word("p."), "see-page": _formats(book).word("see page")}
    spoken = "; ".join(f'--{name}: "{word}"' for name, word in words.items())
    sheets = (themed(folders, name).read_text("utf-8") for name in (f"paper-{book.paper.lower()}.css", "book.css"))
    return "\n".join((*sheets, f":root {{ {spoken} }}"))


def _formats(book: PrintedBook) -> Formats:
    return Formats.of(book.frame.language, fahrenheit=book.frame.fahrenheit)


def _templates(formats: Formats, folders: Iterable[Path], photos: Mapping[str, Photo]) -> Any:
    """The print templates, in which a page's address is its anchor in the one long document."""

    def address(route: Route) -> str:
        return "#" + route.id

    def link(to: Link) -> Markup:
        if to.route is None:
            return escape(to.name)
        return Markup('<a class="see" href="{}">{}</a>').format(address(to.route), to.name)

    def passages(content: Prose) -> Markup:
        return prose.passages(content, address)

    def running(content: Run) -> Markup:
        return prose.run(content, address)

    made = environment(folders, formats, _pictures(formats, address) | {"photo": _photos(photos)})
    made.filters |= {"url": address, "link": link, "prose": passages, "run": running}
    return made


def _photos(photos: Mapping[str, Photo]) -> Any:
    def photo(source: str) -> str:
        """The photo as an address that holds it; empty where the workshop has not made it."""
        if source not in photos:
            return ""
        sizes = photos[source].renditions
        best = next((size for size in sizes if size.width >= PHOTO_WIDTH), sizes[-1])
        return "data:image/jpeg;base64," + base64.b64encode(best.content).decode("ascii")

    return photo


def _pictures(formats: Formats, address: Any) -> dict[str, object]:
    """The pictures as the print templates call them."""

    def time_ribbon(view: Any, uid: str) -> Markup:
        return ribbon.ribbon(view, formats, uid=uid, width=WIDE)

    def composition_bar(view: Any, uid: str) -> Markup:
        return shares.composition(view, formats, uid=uid, width=HALF)

    def money_bar(view: Any, title: str, uid: str) -> Markup:
        return shares.money(view, title, formats, uid=uid, width=HALF)

    def component_tree(root: str, view: Any, uid: str) -> Markup:
        return tree.tree(root, view, formats, uid=uid, url=address, width=HALF)

    def cutting_diagram(view: Any, uid: str) -> Markup:
        return cutting.cutting(view, formats, uid=uid, width=NARROW)

    def layer_section(view: Any, uid: str) -> Markup:
        return layers.layers(view, formats, uid=uid, width=WIDE)

    return {
        "time_ribbon": time_ribbon,
        "composition_bar": composition_bar,
        "money_bar": money_bar,
        "component_tree": component_tree,
        "cutting_diagram": cutting_diagram,
        "layer_section": layer_section,
    }

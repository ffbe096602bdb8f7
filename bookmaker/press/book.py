"""The printed book: its view set by the print templates, then laid out as one PDF."""

import base64
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from markupsafe import Markup, escape

from bookmaker.editions.book.views import PrintedBook
from bookmaker.editions.team.views import Link, Route
from bookmaker.editions.team.views_prose import Prose, Run
from bookmaker.press import prose
from bookmaker.press.formats import Formats
from bookmaker.press.html import environment
from bookmaker.press.images import Photo
from bookmaker.press.pdf import to_pdf
from bookmaker.press.pictures import cutting, layers, ribbon, shares, tree

WIDE, HALF, NARROW = 590, 285, 230
"""Widths in pixels of pictures across the wide column, two in a row, and in the narrow column.

A pixel is set 0.2 mm wide everywhere, so that the pictures' 14 px letters come out at 8 pt.
"""

PHOTO_WIDTH = 1280


def book_pdf(book: PrintedBook, themes: Iterable[Path], photos: Mapping[str, Photo] | None = None) -> bytes:
    """The printed book as PDF bytes."""
    folders = [theme / "print" for theme in themes]
    return to_pdf(book_html(book, folders, photos or {}), styles(book, folders))


def styles(book: PrintedBook, folders: Sequence[Path]) -> str:
    """The print style sheet with the sheet for the house's paper, and the words that style sheets set."""
    formats = _formats(book)
    words = {"page": formats.words.gettext("p."), "see-page": formats.words.gettext("see page")}
    spoken = "; ".join(f'--{name}: "{word}"' for name, word in words.items())
    sheets = (_sheet(folders, name) for name in (f"paper-{book.paper.lower()}.css", "book.css"))
    return "\n".join((*sheets, f":root {{ {spoken} }}"))


def _sheet(folders: Iterable[Path], name: str) -> str:
    """A style sheet from the first folder that has it."""
    return next(path for folder in folders if (path := folder / name).is_file()).read_text("utf-8")


def book_html(book: PrintedBook, folders: Iterable[Path], photos: Mapping[str, Photo]) -> str:
    """The whole book as one HTML document for the page engine."""
    formats = _formats(book)

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
    return made.get_template("book.html").render(book=book, frame=book.frame)


def _formats(book: PrintedBook) -> Formats:
    return Formats.of(book.frame.language, fahrenheit=book.frame.fahrenheit)


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

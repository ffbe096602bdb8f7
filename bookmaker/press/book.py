"""The printed book: its view set by the print templates, then laid out as one PDF."""

import base64
from collections.abc import Iterable, Iterator, Mapping
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

PICTURE_WIDTH = 860
"""Pictures are drawn this many pixels wide and set to the type area: their 14 px letters come out near 8 pt."""

HALF_WIDTH = 410
"""For pictures that stand two in a row."""

PHOTO_WIDTH = 1280


def book_pdf(book: PrintedBook, themes: Iterable[Path], photos: Mapping[str, Photo] | None = None) -> bytes:
    """The printed book as PDF bytes."""
    folders = [theme / "print" for theme in themes]
    return to_pdf(book_html(book, folders, photos or {}), styles(folders, book.paper))


def styles(folders: Iterable[Path], paper: str) -> str:
    """The page size, then the print style sheet: the first folder that has one wins."""
    sheet = next(path for folder in folders if (path := folder / "book.css").is_file())
    return f"@page {{ size: {paper} }} @page wide {{ size: {paper} landscape }}\n" + sheet.read_text("utf-8")


def book_html(book: PrintedBook, folders: Iterable[Path], photos: Mapping[str, Photo]) -> str:
    """The whole book as one HTML document for the page engine."""
    formats = Formats.of(book.frame.language, fahrenheit=book.frame.fahrenheit)
    printed = frozenset(_printed(book))

    def address(route: Route) -> str:
        return "#" + anchor(route)

    def link(to: Link, name: str = "see") -> Markup:
        return _link(to, name) if to.route is not None and to.route.key in printed else escape(to.name)

    def _link(to: Link, name: str) -> Markup:
        assert to.route is not None
        return Markup('<a class="{}" href="{}">{}</a>').format(name, address(to.route), to.name)

    def passages(content: Prose) -> Markup:
        return prose.passages(content, address)

    def running(content: Run) -> Markup:
        return prose.run(content, address)

    made = environment(folders, formats, _pictures(formats, address) | {"photo": _photos(photos)})
    made.filters |= {"url": address, "anchor": anchor, "link": link, "prose": passages, "run": running}
    return made.get_template("book.html").render(book=book, frame=book.frame)


def anchor(route: Route) -> str:
    """A page's place in the one long document."""
    return f"{route.id}--{route.place}" if route.place else route.id


def _printed(book: PrintedBook) -> Iterator[str]:
    """Pages of the team book that stand in the printed one."""
    for part in book.parts:
        yield part.route.key
        yield from (recipe.route.key for recipe in part.recipes)
    pages = (book.cautions, book.allergens, book.costs, book.glossary, book.by_name, book.by_ingredient)
    yield from (page.route.key for page in pages if page)


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
        return ribbon.ribbon(view, formats, uid=uid, width=PICTURE_WIDTH)

    def composition_bar(view: Any, uid: str) -> Markup:
        return shares.composition(view, formats, uid=uid, width=PICTURE_WIDTH)

    def money_bar(view: Any, title: str, uid: str) -> Markup:
        return shares.money(view, title, formats, uid=uid, width=PICTURE_WIDTH)

    def component_tree(root: str, view: Any, uid: str) -> Markup:
        return tree.tree(root, view, formats, uid=uid, url=address, width=PICTURE_WIDTH)

    def cutting_diagram(view: Any, uid: str) -> Markup:
        return cutting.cutting(view, formats, uid=uid, width=HALF_WIDTH)

    def layer_section(view: Any, uid: str) -> Markup:
        return layers.layers(view, formats, uid=uid, width=HALF_WIDTH)

    return {
        "time_ribbon": time_ribbon,
        "composition_bar": composition_bar,
        "money_bar": money_bar,
        "component_tree": component_tree,
        "cutting_diagram": cutting_diagram,
        "layer_section": layer_section,
    }

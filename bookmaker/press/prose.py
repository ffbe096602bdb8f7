"""Prose trees as HTML."""

from collections.abc import Callable, Iterable

from markupsafe import Markup, escape

from bookmaker.editions.team.views import Route
from bookmaker.editions.team.views_prose import (
    Grid,
    Literal,
    NewLine,
    PageLink,
    Para,
    Passage,
    Piece,
    Points,
    Prose,
    Run,
    Stress,
    WebLink,
    Words,
)

Url = Callable[[Route], str]


def passages(prose: Prose, url: Url) -> Markup:
    """Block prose: paragraphs, lists, tables."""
    return Markup("\n").join(_passage(passage, url) for passage in prose)


def run(pieces: Run, url: Url) -> Markup:
    """Running words."""
    return Markup("").join(_piece(piece, url) for piece in pieces)


def _passage(passage: Passage, url: Url) -> Markup:
    match passage:
        case Para(content):
            return Markup("<p>{}</p>").format(run(content, url))
        case Points(items, ordered):
            points = Markup("").join(Markup("<li>{}</li>").format(_item(item, url)) for item in items)
            return (Markup("<ol>{}</ol>") if ordered else Markup("<ul>{}</ul>")).format(points)
        case Grid(head, rows):
            heads = _cells(head, Markup('<th scope="col">{}</th>'), url)
            body = Markup("").join(
                Markup("<tr>{}</tr>").format(_cells(row, Markup("<td>{}</td>"), url)) for row in rows
            )
            return Markup("<table><thead><tr>{}</tr></thead><tbody>{}</tbody></table>").format(heads, body)


def _item(item: Prose, url: Url) -> Markup:
    """A list item of one paragraph needs no paragraph of its own."""
    match item:
        case (Para(content),):
            return run(content, url)
        case _:
            return passages(item, url)


def _cells(cells: Iterable[Run], frame: Markup, url: Url) -> Markup:
    return Markup("").join(frame.format(run(cell, url)) for cell in cells)


def _piece(piece: Piece, url: Url) -> Markup:
    match piece:
        case Words(text):
            return escape(text)
        case Stress(content, strong):
            return (Markup("<strong>{}</strong>") if strong else Markup("<em>{}</em>")).format(run(content, url))
        case Literal(text):
            return Markup("<code>{}</code>").format(text)
        case PageLink(to, content):
            return Markup('<a href="{}">{}</a>').format(url(to), run(content, url))
        case WebLink(address, content):
            return Markup('<a href="{}" rel="noreferrer">{}</a>').format(address, run(content, url))
        case NewLine():
            return Markup("<br>")

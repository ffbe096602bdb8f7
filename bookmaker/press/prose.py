"""Prose trees as HTML."""

from collections.abc import Callable

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


def anchor(address: str, words: Markup) -> Markup:
    """Words that lead somewhere."""
    return _set(f'<a href="{escape(address)}">{words}</a>')


def passages(prose: Prose, url: Url) -> Markup:
    """Block prose: paragraphs, lists, tables."""
    return _set("\n".join(_passage(passage, url) for passage in prose))


def run(pieces: Run, url: Url) -> Markup:
    """Running words."""
    return _set("".join(_piece(piece, url) for piece in pieces))


def _passage(passage: Passage, url: Url) -> str:
    match passage:
        case Para(content):
            return f"<p>{run(content, url)}</p>"
        case Points(items, ordered):
            points = "".join(f"<li>{_item(item, url)}</li>" for item in items)
            return f"<ol>{points}</ol>" if ordered else f"<ul>{points}</ul>"
        case Grid(head, rows):
            heads = "".join(f'<th scope="col">{run(cell, url)}</th>' for cell in head)
            body = "".join(f"<tr>{''.join(f'<td>{run(cell, url)}</td>' for cell in row)}</tr>" for row in rows)
            return f"<table><thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table>"


def _item(item: Prose, url: Url) -> Markup:
    """A list item of one paragraph needs no paragraph of its own."""
    match item:
        case (Para(content),):
            return run(content, url)
        case _:
            return passages(item, url)


def _piece(piece: Piece, url: Url) -> str:
    match piece:
        case Words(text):
            return escape(text)
        case Stress(content, strong):
            return f"<strong>{run(content, url)}</strong>" if strong else f"<em>{run(content, url)}</em>"
        case Literal(text):
            return f"<code>{escape(text)}</code>"
        case PageLink(to, content):
            return anchor(url(to), run(content, url))
        case WebLink(address, content):
            return f'<a href="{escape(address)}" rel="noreferrer">{run(content, url)}</a>'
        case NewLine():
            return "<br>"


def _set(html: str) -> Markup:
    """What is set here: every word in it was escaped where it came in."""
    return Markup(html)  # noqa: S704

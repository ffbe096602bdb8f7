"""Prose: the book's tree with its recipe links resolved to routes."""

from bookmaker.editions.team import views_prose as set_as
from bookmaker.editions.team.places import Places
from bookmaker.model import prose as written


def passages(blocks: written.Blocks, places: Places) -> set_as.Prose:
    """Block prose."""
    return tuple(_passage(block, places) for block in blocks)


def run(content: tuple[written.Inline, ...], places: Places) -> set_as.Run:
    """Running words."""
    return tuple(_piece(node, places) for node in content)


def _passage(block: written.Block, places: Places) -> set_as.Passage:
    match block:
        case written.Paragraph(content):
            return set_as.Para(run(content, places))
        case written.ListBlock(items, ordered):
            return set_as.Points(tuple(passages(item, places) for item in items), ordered)
        case written.Table(head, rows):
            heads = tuple(run(cell, places) for cell in head)
            return set_as.Grid(heads, tuple(tuple(run(cell, places) for cell in row) for row in rows))


def _piece(node: written.Inline, places: Places) -> set_as.Piece:
    match node:
        case written.Text(text):
            return set_as.Words(text)
        case written.Emphasis(content, strong):
            return set_as.Stress(run(content, places), strong)
        case written.Code(text):
            return set_as.Literal(text)
        case written.RecipeLink(to, content):
            return set_as.PageLink(places.routes[to], run(content, places))
        case written.OutsideLink(address, content):
            return set_as.WebLink(address, run(content, places))
        case written.LineBreak():
            return set_as.NewLine()

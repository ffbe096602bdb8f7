"""The component tree as an indented list with elbows: it grows downwards, so that it fits a narrow page."""

from collections.abc import Iterator, Sequence

from markupsafe import Markup, escape

from bookmaker.editions.team.views import Route
from bookmaker.editions.team.views_recipe import Branch
from bookmaker.press.formats import Formats
from bookmaker.press.pictures.canvas import HAIR, Sheet, figure, rule, text
from bookmaker.press.prose import Url

_ROW, _INDENT = 26.0, 20.0


def tree(
    root: str,
    branches: Sequence[Branch],
    formats: Formats,
    *,
    uid: str,
    url: Url | None = None,
    width: float | None = None,
) -> Markup:
    """`root` and everything below it; names are links where `url` is given."""
    rows = list(_rows(branches, 1))
    sheet = Sheet(uid, _ROW * (len(rows) + 1), width)
    drawn = [text("0", 18, root, weight="600")]
    open_from: dict[int, float] = {1: 24.0}
    for number, (depth, branch) in enumerate(rows, start=1):
        top = number * _ROW
        elbow = (depth - 1) * _INDENT + 6
        drawn += [
            rule(figure(elbow), open_from[depth], figure(elbow), top + 13),
            rule(figure(elbow), top + 13, figure(elbow + 10), top + 13),
            _name(branch, elbow + 14, top + 18, formats, url),
        ]
        if branch.weight:
            drawn.append(text(sheet.x(1), top + 18, formats.amount(branch.weight), anchor="end"))
        drawn.append(rule(figure(elbow + 14), top + _ROW - 1.5, sheet.x(1), top + _ROW - 1.5, stroke=HAIR, width=0.5))
        open_from[depth] = top + 13
        open_from[depth + 1] = top + 22
    said = f"{root}: {_said(branches, formats)}."
    return sheet.drawn(formats.word("Components"), said, drawn, role="group" if url else "img")


def _rows(branches: Sequence[Branch], depth: int) -> Iterator[tuple[int, Branch]]:
    for branch in branches:
        yield depth, branch
        yield from _rows(branch.branches, depth + 1)


def _name(branch: Branch, x: float, y: float, formats: Formats, url: Url | None) -> str:
    words = branch.recipe.name + (f" ({formats.word('see above')})" if branch.again else "")
    drawn = text(figure(x), y, words)
    route: Route | None = branch.recipe.route
    return f'<a href="{escape(url(route))}">{drawn}</a>' if url and route else drawn


def _said(branches: Sequence[Branch], formats: Formats) -> str:
    return ", ".join(
        branch.recipe.name
        + (f" {formats.amount(branch.weight)}" if branch.weight else "")
        + (f" ({_said(branch.branches, formats)})" if branch.branches else "")
        for branch in branches
    )

"""How high blocks come out, as the page engine lays them out."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from bookmaker.press.assembly.boxes import page_box
from bookmaker.press.pdf import Engine

_MM = 25.4 / 96
_LONG = 9000
"""Millimetres: longer than all blocks of a card one below the other."""


class Ruler:
    """Measures blocks under one style sheet."""

    def __init__(self, styles: str, wide: float) -> None:
        self._engine = Engine(f"{styles}\n@page {{ size: {wide}mm {_LONG}mm; margin: 0 }}")

    def heights(
        self, language: str, variables: str, groups: Sequence[tuple[float, Mapping[str, str]]]
    ) -> dict[str, float]:
        """Millimetres by name of every block; `groups` are blocks with the width that they are set in.

        Rows of tables that have an id are measured too, by it. What is wider than its place has no height: it is left
        out.
        """
        body = "".join(
            f'<div style="width: {width}mm">'
            + "".join(f'<div class="block" id="{name}">{html}</div>' for name, html in blocks.items())
            + "</div>"
            for width, blocks in groups
        )
        html = f'<html lang="{language}"><body><section style="{variables}">{body}</section></body></html>'
        root = page_box(self._engine.render(html).pages[0])
        return dict(_measured(root))


def _measured(root: Any) -> Iterator[tuple[str, float]]:
    for box in _boxes(root):
        name = box.element.get("id") if getattr(box, "element", None) is not None else None
        if name and hasattr(box, "margin_height") and _widest(box) <= box.position_x + box.margin_width() + 0.5:
            yield name, box.margin_height() * _MM


def _boxes(box: Any) -> Iterator[Any]:
    yield box
    for child in getattr(box, "children", ()):
        yield from _boxes(child)


def _widest(box: Any) -> float:
    """How far to the right something stands in a box."""
    ends: Iterable[float] = (
        each.position_x + each.margin_width() for each in _boxes(box) if hasattr(each, "margin_width")
    )
    return max(ends)

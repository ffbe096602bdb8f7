"""What the page engine laid out on a page: runs of text, where links lead, page furniture, number slots."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from bookmaker.press.assembly.sheet import MARK, Unfit

_SLOT = re.compile(f"{MARK}(0+){MARK}")

_LEANS = {"right": 1.0, "end": 1.0, "center": 0.5}
"""How much of the room that a number leaves goes before it, by its line's alignment."""


@dataclass(frozen=True, slots=True)
class Run:
    """One text box as drawn.

    `mcid` numbers its marked content on the page. `slots` are the figures that each number in it has room for, and
    `link` is the anchor whose page they name. `margin` is the margin box that the run stands in (`top-left`), if any;
    `lean` how far it moves to the right there, of the room that its number leaves.
    """

    mcid: int
    text: str
    slots: tuple[int, ...]
    link: str
    margin: str
    lean: float


def runs(page: Any, marked: Mapping[Any, int]) -> list[Run]:
    """The page's runs. To be called when it has been drawn: `marked` numbers its text boxes' marked content."""
    targets = {id(box): target for _kind, target, _area, box in page.links}
    return [*_Reader(marked, targets).read(page_box(page), "", "", 0.0)]


@dataclass(frozen=True, slots=True)
class _Reader:
    marked: Mapping[Any, int]
    targets: Mapping[int, str]

    def read(self, box: Any, link: str, margin: str, lean: float) -> Iterator[Run]:
        kind = type(box).__name__
        if kind == "TextBox":
            if box in self.marked:
                # Only what a style sheet writes can be a slot, never a cook's words
                slots = _SLOT.findall(box.text) if margin or "::" in (box.element_tag or "") else ()
                yield Run(self.marked[box], box.text, tuple(map(len, slots)), link, margin, lean)
            return
        if kind == "LineBox":
            lean = _LEANS.get(box.style["text_align_all"], 0.0)
        elif kind == "MarginBox":
            margin = box.at_keyword.lstrip("@")
            if _is_painted(box):
                raise Unfit(f"the theme's print style draws a border or a ground round @{margin}")
        link = self.targets.get(id(box), link)
        for child in getattr(box, "children", ()):
            yield from self.read(child, link, margin, lean)


def page_box(page: Any) -> Any:
    """The root of a page's boxes."""
    return page._page_box  # noqa: SLF001 (the engine's own, see setter)


def has_blank_page(pages: Sequence[Any]) -> bool:
    """Whether the engine left a page blank to start on the other side."""
    return any(page_box(page).page_type.blank for page in pages)


def start(page: Any) -> str:
    """The side that a piece must start on: `left`, `right`, or empty. Raises `Unfit` where it starts no page."""
    sides = {"right": "right", "recto": "right", "left": "left", "verso": "left"}
    first = [*_first_boxes(page_box(page))]
    breaks = [box.style["break_before"] for box in first]
    for value in breaks:
        if value in sides:
            return sides[value]
    if "page" in breaks or any(box.style["page"] != "auto" for box in first):
        return ""
    raise Unfit("the theme's print style lets a recipe or a list start in the middle of a page")


def _first_boxes(box: Any) -> Iterator[Any]:
    while children := getattr(box, "children", ()):
        box = children[0]
        yield box


def _is_painted(box: Any) -> bool:
    sides = ("top", "right", "bottom", "left")
    return bool(box.background and box.background.layers) or any(getattr(box, f"border_{side}_width") for side in sides)

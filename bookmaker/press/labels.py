"""Label sheets as PDFs: every label in the largest letters that fit it, and in none smaller than the law wants."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, Decimal
from itertools import pairwise
from pathlib import Path
from typing import Any

from bookmaker.editions.labels.views import Grid, LabelSheetView, LabelView
from bookmaker.editions.sheets.views import Frame
from bookmaker.press.book import tied
from bookmaker.press.fonts import FACES, heights
from bookmaker.press.formats import Formats
from bookmaker.press.laid_over import themed
from bookmaker.press.pdf import Engine, to_pdf
from bookmaker.press.sheets.words import templates

THEME = "labels"
"""The part of a theme that sets labels."""

FACE = next(face for face in FACES if face.family == "Ledger Sans" and face.weight == 400)
"""What labels are set in: the theme's style sheet must agree."""

LARGEST = Decimal(10)
"""Points: labels with room to spare are set no larger."""

_PADDING = "2mm 2.5mm"
_STEP = Decimal("0.75")
_POINT = Decimal("25.4") / 72
_FINEST = Decimal("0.05")


@dataclass(frozen=True, slots=True)
class Placed:
    """A label on its page: how far from the left and the top, in millimetres, and its size of type in points."""

    label: LabelView
    left: Decimal
    top: Decimal
    points: Decimal
    net_points: Decimal


def least_points(letters: Decimal) -> Decimal:
    """The smallest type in which a small x is so many millimetres high."""
    return _points(letters, heights(FACE).x)


def figure_points(figures: Decimal) -> Decimal:
    """The type in which figures are so many millimetres high."""
    return _points(figures, heights(FACE).figures)


def _points(height: Decimal, share: Decimal) -> Decimal:
    return (height / share / _POINT / _FINEST).to_integral_value(ROUND_CEILING) * _FINEST


@dataclass(slots=True)
class LabelPress:
    """A theme ready to set label sheets."""

    frame: Frame
    themes: tuple[Path, ...]
    _templates: Any = field(init=False)
    _styles: str = field(init=False)

    def __post_init__(self) -> None:
        folders = [theme / THEME for theme in self.themes]
        formats = Formats.of(self.frame.language, fahrenheit=self.frame.fahrenheit)
        self._templates = templates(folders, formats, {})
        self._styles = themed(folders, "labels.css").read_text("utf-8")

    def pdf(self, sheet: LabelSheetView, fitted: Mapping[LabelView, Decimal]) -> bytes:
        """The label sheet as a PDF; `fitted` has the size of type of each label that fits (see `fit`)."""
        return to_pdf(self.written(sheet, fitted), self._all_styles(sheet))

    def written(self, sheet: LabelSheetView, fitted: Mapping[LabelView, Decimal]) -> str:
        """The document that the PDF is laid out from: what is on it, then the labels in their places."""
        misfits = [label for label in sheet.labels if label not in fitted]
        pages = list(_pages(sheet.grid, [(label, fitted[label]) for label in sheet.labels if label in fitted]))
        return tied(
            self._templates.get_template("labels.html").render(
                frame=self.frame, sheet=sheet, size=size_of(sheet.grid), pages=pages, misfits=misfits
            )
        )

    def fit(self, sheet: LabelSheetView) -> dict[LabelView, Decimal]:
        """The size of type in points that each label takes: the largest that fits. Labels that none fits are missing.

        A label is laid out alone on paper of its own size: what runs on to a second page does not fit.
        """
        engine = Engine(self._all_styles(sheet))
        found: dict[LabelView, Decimal] = {}
        for points in _sizes(least_points(sheet.letters)):
            left = [label for label in sheet.labels if label not in found]
            if not left:
                break
            placed = [Placed(label, Decimal(0), Decimal(0), points, _net_points(label, points)) for label in left]
            html = self._templates.get_template("alone.html").render(frame=self.frame, placed=placed)
            counts = _pages_of_each(engine.render(tied(html)), len(left))
            found |= {label: points for label, count in zip(left, counts, strict=True) if count == 1}
        return found

    def _all_styles(self, sheet: LabelSheetView) -> str:
        grid = sheet.grid
        return (
            f"{self._styles}\n@page {{ size: {self.frame.paper} }}\n"
            f"@page alone {{ size: {grid.width}mm {grid.height}mm; margin: {_PADDING} }}\n"
            f".label {{ width: {grid.width}mm; height: {grid.height}mm; padding: {_PADDING} }}\n"
            # alone, the room round its words is the page's: a page may break before room that has no words in it
            ".alone .label { width: auto; height: auto; padding: 0 }\n"
        )


def _sizes(least: Decimal) -> Iterator[Decimal]:
    """Sizes of type to try, the largest first, the least last."""
    size = LARGEST
    while size > least:
        yield size
        size -= _STEP
    yield least


def _pages_of_each(document: Any, count: int) -> list[int]:
    """How many pages each label took, laid out alone."""
    starts: dict[str, int] = {}
    for number, page in enumerate(document.pages):
        for name in page.anchors:
            starts.setdefault(name, number)
    firsts = [*(starts[f"label-{number}"] for number in range(1, count + 1)), len(document.pages)]
    return [after - first for first, after in pairwise(firsts)]


def _pages(grid: Grid, labels: Sequence[tuple[LabelView, Decimal]]) -> Iterator[list[Placed]]:
    """Labels row by row, page by page."""
    on_a_page = grid.across * grid.down
    for first in range(0, len(labels), on_a_page):
        yield list(_placed(grid, labels[first : first + on_a_page]))


def _placed(grid: Grid, labels: Iterable[tuple[LabelView, Decimal]]) -> Iterator[Placed]:
    for number, (label, points) in enumerate(labels):
        down, across = divmod(number, grid.across)
        left = grid.left + across * (grid.width + grid.gap_across)
        top = grid.top + down * (grid.height + grid.gap_down)
        yield Placed(label, left, top, points, _net_points(label, points))


def _net_points(label: LabelView, points: Decimal) -> Decimal:
    return max(points, figure_points(label.figures))


def size_of(grid: Grid) -> str:
    """The size of one label in words."""
    return f"{grid.width.normalize():f} × {grid.height.normalize():f} mm"

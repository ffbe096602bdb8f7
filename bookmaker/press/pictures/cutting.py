"""How shapes lie on a sheet: the cutting diagram, drawn to scale."""

from collections.abc import Iterator
from itertools import islice
from math import sqrt

from markupsafe import Markup

from bookmaker.editions.team.views_recipe import CutView
from bookmaker.press.formats import Formats
from bookmaker.press.pictures.canvas import INK, PALE, PAPER, Sheet, figure

_WIDE = 360.0


def cutting(cut: CutView, formats: Formats, *, uid: str, width: float | None = None) -> Markup:
    """The sheet with its shapes; what is grey is offcut."""
    across, deep = float(cut.sheet.width), float(cut.sheet.depth or cut.sheet.width)
    scale = (width or _WIDE) / across
    height = deep * scale
    sheet = Sheet(uid, height, width or _WIDE)
    whole = (
        f'<rect x="0.5" y="0.5" width="{figure(across * scale - 1)}" height="{figure(height - 1)}" fill="{PALE}" '
        f'stroke="{INK}" stroke-width="1"/>'
    )
    drawn = [whole, *(_shape(cut, x * scale, y * scale, w * scale, h * scale) for x, y, w, h in _places(cut))]
    said = formats.words.gettext("%(count)s %(word)s of %(shape)s from a sheet of %(sheet)s; %(used)s of it used") % {
        "count": cut.per_sheet,
        "word": cut.word,
        "shape": formats.size(cut.shape),
        "sheet": formats.size(cut.sheet),
        "used": formats.amount(cut.used),
    }
    return sheet.drawn(formats.word("Cutting diagram"), said + ".", drawn)


def _shape(cut: CutView, x: float, y: float, width: float, height: float) -> str:
    if cut.shape.depth is None:
        return (
            f'<circle cx="{figure(x + width / 2)}" cy="{figure(y + height / 2)}" r="{figure(width / 2)}" '
            f'fill="{PAPER}" stroke="{INK}" stroke-width="0.8"/>'
        )
    return (
        f'<rect x="{figure(x)}" y="{figure(y)}" width="{figure(width)}" height="{figure(height)}" fill="{PAPER}" '
        f'stroke="{INK}" stroke-width="0.8"/>'
    )


def _places(cut: CutView) -> Iterator[tuple[float, float, float, float]]:
    """Left, top, width and height of every shape in millimetres, counted from the sheet's corner."""
    width = float(cut.shape.width)
    height = float(cut.shape.depth or cut.shape.width)
    if cut.pattern == "turned grid":
        width, height = height, width
    trim = float(cut.trim)
    if cut.pattern == "turned offset rows":
        deep = float(cut.sheet.depth or cut.sheet.width) - 2 * trim
        spots: Iterator[tuple[float, float]] = (
            (y, x) for x, y in _spots(cut.down, cut.across, (height, width), deep, offset=True)
        )
    else:
        wide = float(cut.sheet.width) - 2 * trim
        offset = cut.pattern == "offset rows"
        spots = _spots(cut.across, cut.down, (width, height), wide, offset=offset)
    for x, y in islice(spots, cut.per_sheet):
        yield trim + x, trim + y, width, height


def _spots(
    across: int, down: int, shape: tuple[float, float], room: float, *, offset: bool
) -> Iterator[tuple[float, float]]:
    """Corners of shapes laid row by row; nestled rows shift by half a shape and lie closer."""
    width, height = shape
    step = height * sqrt(3) / 2 if offset else height
    for row in range(down):
        shift = width / 2 if offset and row % 2 else 0.0
        for column in range(across):
            if shift + (column + 1) * width <= room + 0.01:
                yield shift + column * width, row * step

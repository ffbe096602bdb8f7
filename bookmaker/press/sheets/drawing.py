"""A product cut open, drawn to scale where its sizes are known, and else as a scheme that says so."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from markupsafe import Markup

from bookmaker.editions.sheets.views import CrossSection, Form, Layer
from bookmaker.press.formats import NBSP, Formats
from bookmaker.press.pictures.canvas import ACCENT, INK, Sheet, figure, rule, text

WIDTH, ROOM, NUMBERS = 300.0, 240.0, 278.0
"""Pixels: the picture, what the product may take of it, and where the layers' numbers stand."""

_HIGHEST, _FINEST = 190.0, 6.0
_BARS = tuple(map(Decimal, (100, 50, 20, 10, 5, 2, 1)))
_LONGEST_BAR, _TOP, _APART = 110.0, 12.0, 19.0
_SCHEME = {"flat": 34.0, "filled": 78.0, "wall": 9.0}
_FILLS = ("pale", "paper", "dots", "slant", "rules", "back", "grid")


@dataclass(frozen=True, slots=True)
class _Cut:
    """A layer on the picture, in pixels; `wall` is the height of a shell's walls above its bottom."""

    layer: Layer
    x: float
    y: float
    width: float
    height: float
    hatch: str
    wall: float = 0.0
    thick: float = 0.0


def drawing(section: CrossSection, formats: Formats, *, uid: str) -> Markup:
    """The cut with a number at each layer, counted from the top, and a bar for the scale where there is one."""
    scale = _scale(section) if section.to_scale else None
    cuts = _placed(section.layers, scale)
    lowest = max(cut.y + cut.height for cut in cuts)
    parts = []
    if section.coats:
        parts += [_outline(cut, f'fill="none" stroke="{ACCENT}" stroke-width="7"') for cut in cuts]
    sheet = Sheet(uid, lowest + (40 if scale else 12), WIDTH)
    parts += [_outline(cut, f'fill="{sheet.fill(cut.hatch)}" stroke="{INK}" stroke-width="1"') for cut in cuts]
    parts += [inside for cut in cuts for inside in _inside(cut, sheet)]
    parts += list(_numbers(cuts))
    if scale:
        parts += _bar(scale, lowest + 20, formats)
    drawn = [str(sheet.hatches([cut.hatch for cut in cuts])), *parts]
    return sheet.drawn(formats.word("Cut through"), _said(section, formats), drawn)


def _scale(section: CrossSection) -> float:
    """Pixels to a millimetre."""
    wide = max(float(layer.width or 0) for layer in section.layers)
    high = sum(float(layer.height or 0) for layer in section.layers)
    return min(ROOM / wide, _HIGHEST / high, _FINEST)


def _placed(layers: Sequence[Layer], scale: float | None) -> list[_Cut]:
    """Layers bottom to top; what stands on a shell stands within its walls."""
    heights = [_height(layer, scale) for layer in layers]
    foot = _TOP + sum(heights)
    middle = ROOM / 2 + 8
    found: list[_Cut] = []
    limit, shell = ROOM, None
    fills = {
        name: _FILLS[number % len(_FILLS)] for number, name in enumerate(dict.fromkeys(each.name for each in layers))
    }
    for number, (layer, height) in enumerate(zip(layers, heights, strict=True)):
        width = min(float(layer.width) * scale if scale and layer.width else ROOM, limit)
        foot -= height
        hatch = fills[layer.name]
        cut = _Cut(layer, middle - width / 2, foot, width, height, hatch)
        if layer.form is Form.SHELL and shell is None:
            thick = height if scale else _SCHEME["wall"]
            shell = number
            cut = _Cut(layer, cut.x, cut.y, width, height, hatch, sum(heights[number + 1 :]), thick)
            limit = width - 2 * thick
        found.append(cut)
    return found


def _height(layer: Layer, scale: float | None) -> float:
    if scale:
        return float(layer.height or 0) * scale
    if layer.form is Form.SHELL:
        return _SCHEME["wall"]
    full = layer.inside or layer.form is not Form.SLAB
    return _SCHEME["filled" if full else "flat"]


def _outline(cut: _Cut, paint: str) -> str:
    x, y, wide, high = cut.x, cut.y, cut.width, cut.height
    match cut.layer.form:
        case Form.DOME:
            foot = figure(y + high)
            way = f"M{figure(x)} {foot}A{figure(wide / 2)} {figure(high)} 0 0 1 {figure(x + wide)} {foot}Z"
        case Form.SHELL if cut.wall:
            top, thick = y - cut.wall, cut.thick
            way = (
                f"M{figure(x)} {figure(top)}V{figure(y + high)}H{figure(x + wide)}V{figure(top)}"
                f"H{figure(x + wide - thick)}V{figure(y)}H{figure(x + thick)}V{figure(top)}Z"
            )
        case Form.PEBBLE:
            return (
                f'<rect x="{figure(x)}" y="{figure(y)}" width="{figure(wide)}" height="{figure(high)}" '
                f'rx="{figure(wide * 0.42)}" ry="{figure(high / 2)}" {paint}/>'
            )
        case _:
            way = f"M{figure(x)} {figure(y)}h{figure(wide)}v{figure(high)}h{figure(-wide)}Z"
    return f'<path d="{way}" stroke-linejoin="round" {paint}/>'


def _inside(cut: _Cut, sheet: Sheet) -> Iterator[str]:
    """What a layer encloses: dashed, because nobody states how large it is."""
    count = len(cut.layer.inside)
    for number in range(count):
        room = cut.width * 0.6 / count
        x = cut.x + cut.width * 0.2 + room * number
        yield (
            f'<rect x="{figure(x)}" y="{figure(cut.y + cut.height * 0.34)}" width="{figure(room * 0.9)}" '
            f'height="{figure(cut.height * 0.42)}" rx="{figure(min(room, cut.height) * 0.2)}" '
            f'fill="{sheet.fill("paper" if cut.hatch != "paper" else "pale")}" stroke="{INK}" stroke-width="1" '
            'stroke-dasharray="4 3"/>'
        )


def _numbers(cuts: Sequence[_Cut]) -> Iterator[str]:
    """A number beside each layer, from the top, with a line to it; numbers never touch each other."""
    last = 0.0
    for number, cut in enumerate(reversed(cuts), 1):
        at = cut.y + cut.height / 2
        stands = max(at, last + _APART) if number > 1 else at
        last = stands
        edge = cut.x + cut.width - min(6.0, cut.width / 8)
        yield rule(figure(edge), at, figure(NUMBERS - 6), stands, stroke=INK, width=0.8)
        yield f'<circle cx="{figure(edge)}" cy="{figure(at)}" r="2" fill="{INK}"/>'
        yield text(figure(NUMBERS), stands + 5, str(number))


def _bar(scale: float, y: float, formats: Formats) -> list[str]:
    bar = next((each for each in _BARS if float(each) * scale <= _LONGEST_BAR), _BARS[-1])
    begin, end = 8.0, 8.0 + float(bar) * scale
    words = f"{formats.number(bar)}{NBSP}mm"
    return [
        rule(figure(begin), y, figure(end), y, stroke=INK, width=1.6),
        *(rule(figure(x), y - 4, figure(x), y + 4, stroke=INK, width=1.6) for x in (begin, end)),
        text(figure(end + 8), y + 5, words),
    ]


def _said(section: CrossSection, formats: Formats) -> str:
    """The picture in words."""
    scale = formats.word("Drawn to scale.") if section.to_scale else formats.word("Not to scale.")
    names = ", ".join(layer.name for layer in reversed(section.layers))
    return formats.words.gettext("From the top: %s.") % names + " " + scale

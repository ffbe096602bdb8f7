"""A built product cut open: its layers bottom to top, named beside the cut."""

from collections.abc import Sequence

from markupsafe import Markup

from bookmaker.editions.team.views_recipe import LayerView
from bookmaker.press.formats import Formats
from bookmaker.press.pictures.canvas import ACCENT, HATCHES, INK, Sheet, box, figure, rule, text

_LEAST, _MOST, _USUAL, _CUT = 22.0, 90.0, 56.0, 0.42
_MILLIMETRE = 4.0


def layers(built: Sequence[LayerView], formats: Formats, *, uid: str, width: float | None = None) -> Markup:
    """Heights follow the thicknesses where they are known; what coats the whole is a heavy outline."""
    stack = [layer for layer in built if not layer.coats]
    coats = [layer for layer in built if layer.coats]
    heights = [_height(layer, stack) for layer in stack]
    top_room = 24.0 * len(coats) + 6
    sheet = Sheet(uid, top_room + sum(heights) + 8, width)
    fills = [HATCHES[(number + 2) % len(HATCHES)] for number in range(len(stack))]
    drawn = [str(sheet.hatches([*fills, "dots"]))]
    at = top_room
    for layer, height, hatch in reversed(list(zip(stack, heights, fills, strict=True))):
        drawn.append(box(sheet.x(0.02), at, sheet.x(_CUT - 0.04), height, sheet.fill(hatch)))
        middle = at + height / 2
        if layer.holds:
            inside = sheet.fill("paper" if hatch != "paper" else "pale")
            drawn.append(box(sheet.x(0.12), at + height * 0.28, sheet.x(_CUT - 0.24), height * 0.44, inside))
        drawn += _label(sheet, middle, _words(layer, formats))
        at += height
    if coats:
        drawn.append(
            f'<rect x="{sheet.x(0.005)}" y="{figure(top_room - 3)}" width="{sheet.x(_CUT - 0.01)}" '
            f'height="{figure(sum(heights) + 6)}" rx="6" fill="none" stroke="{ACCENT}" stroke-width="4"/>'
        )
    for number, layer in enumerate(coats):
        drawn += _label(sheet, 12 + number * 24, formats.words.gettext("%s coats the whole") % layer.layer.name)
    said = "; ".join(_words(layer, formats) for layer in built)
    return sheet.drawn(formats.word("Layers, bottom to top"), said + ".", drawn)


def _height(layer: LayerView, stack: Sequence[LayerView]) -> float:
    if layer.thickness is None:
        return _MOST if layer.holds else _USUAL
    thickest = max(float(other.thickness.value) for other in stack if other.thickness)
    scale = min(_MILLIMETRE, _MOST / thickest)
    return max(_LEAST, scale * float(layer.thickness.value))


def _label(sheet: Sheet, y: float, words: str) -> list[str]:
    return [
        rule(sheet.x(_CUT), y, sheet.x(_CUT + 0.04), y, stroke=INK, width=0.8),
        text(sheet.x(_CUT + 0.055), y + 5, words),
    ]


def _words(layer: LayerView, formats: Formats) -> str:
    words = [layer.layer.name]
    if layer.thickness:
        words.append(formats.amount(layer.thickness))
    if layer.shape:
        words.append(layer.shape)
    inside = formats.words.gettext(" with %s inside") % ", ".join(link.name for link in layer.holds)
    return ", ".join(words) + (inside if layer.holds else "")

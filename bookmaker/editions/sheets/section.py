"""A product cut open: what its recipe's `layers` say, with forms and sizes read out of their shapes."""

import re
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from bookmaker.editions.sheets.views import CrossSection, Form, Layer
from bookmaker.measures.exact import CONTEXT
from bookmaker.model import recipe

_SIDES = re.compile(r"(\d+(?:\.\d+)?)(?:\s*(?:×|x)\s*(\d+(?:\.\d+)?))?\s*(mm|cm|m)\b")
_MILLIMETRES = {"mm": Decimal(1), "cm": Decimal(10), "m": Decimal(1000)}

_FORMS = {"dome": Form.DOME, "domes": Form.DOME, "pebble": Form.PEBBLE, "pebbles": Form.PEBBLE, "shell": Form.SHELL}


def cross_section(layers: Iterable[recipe.Layer], width: Decimal | None) -> CrossSection | None:
    """The layers as they are cut through; None for a product that has none. `width` is the whole product's.

    To scale only where every layer's height is stated and its width is stated or follows from the whole's: a layer
    without a width of its own is as wide as the product, or as the widest layer.
    """
    layers = tuple(layers)
    found = [_layer(each) for each in layers if not each.coats]
    if not found:
        return None
    widest = max((each.width for each in found if each.width is not None), default=None)
    whole = width if width is not None and (widest is None or width >= widest) else widest
    found = [replace(each, width=whole) if each.width is None else each for each in found]
    return CrossSection(
        layers=tuple(found),
        coats=tuple(each.name for each in layers if each.coats),
        to_scale=all(each.width and each.height for each in found),
    )


def _layer(layer: recipe.Layer) -> Layer:
    words = re.findall(r"[^\W\d_]+", layer.shape.casefold())
    form = next((_FORMS[word] for word in words if word in _FORMS), Form.SLAB)
    return Layer(layer.name, form, width_in(layer.shape), layer.thickness, layer.holds)


def width_in(shape: str) -> Decimal | None:
    """The longest side that the words for a shape or a size name."""
    found = _SIDES.search(shape)
    if found is None:
        return None
    sides = [Decimal(side) for side in found.groups()[:2] if side]
    return CONTEXT.multiply(max(sides), _MILLIMETRES[found[3]])

"""How sheets say things: masses, states, dates. Both the pages and the PDFs set their templates with these."""

import re
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from markupsafe import Markup

from bookmaker.editions.sheets.views import Address, CrossSection, Mass
from bookmaker.press.formats import NBSP, Formats
from bookmaker.press.html import Shelf, environment
from bookmaker.press.sheets.drawing import drawing

THEME = "sheets"
"""The part of a theme that sets sheets."""

_BEFORE_UNIT = re.compile(r"(?<=\d) (?=[^\W\d_]|%)")

_AFTER = {
    "raw": "after it was shaped",
    "made": "after it was made",
    "baked": "after it was baked",
    "frozen": "after it was frozen",
    "thawed": "after it was thawed",
    "opened": "after it was opened",
}


def templates(folders: Iterable[Path], formats: Formats, more: Mapping[str, object], shelf: Shelf | None = None) -> Any:
    """The templates of sheets with what they call: `mass`, `after`, `page`, and the drawing."""

    def mass(amount: Mass) -> str:
        return formats.number(amount.value) + NBSP + amount.unit.value

    def after(state: str) -> str:
        return formats.word(_AFTER.get(state, state))

    def cut_through(section: CrossSection, uid: str) -> Markup:
        return drawing(section, formats, uid=uid)

    filters: dict[str, Callable[..., object]] = {
        "mass": mass,
        "after": after,
        "figure": figure,
        "page": page_path,
        "document": pdf_path,
    }
    made = environment(folders, formats, {"cut_through": cut_through, **more}, shelf)
    made.filters |= filters
    return made


def figure(printed: str) -> str:
    """A figure that the law has rounded, tied to its unit: lines may end only between two of them."""
    return _BEFORE_UNIT.sub(NBSP, printed)


def page_path(address: Address) -> str:
    """Where a page is written, within the edition's folder."""
    return f"{address.stem}.html"


def pdf_path(address: Address) -> str:
    """Where a page's PDF is written."""
    return f"{address.stem}.pdf"


def photo_path(address: Address, width: int) -> str:
    """Where one size of a photo is published: under its page's name, whatever the house calls its file."""
    return f"photos/{address.stem}-{width}.jpg"

"""Product sheets on paper: each one a document of its own, and all of them one after the other."""

import base64
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any

from markupsafe import Markup

from bookmaker.editions.sheets.views import ALL, Address, Frame, SheetView
from bookmaker.press.assembly.assembling import Setting, Shop, assemble
from bookmaker.press.book import tied
from bookmaker.press.formats import Formats
from bookmaker.press.images import Photo
from bookmaker.press.laid_over import themed
from bookmaker.press.piece import Piece
from bookmaker.press.sheets.words import THEME, pdf_path, templates

PHOTO_WIDTH = 640


@dataclass(slots=True)
class SheetPaper:
    """A theme ready to set sheets for the printer. `photos` by the address of their page."""

    frame: Frame
    themes: tuple[Path, ...]
    photos: Mapping[Address, Photo] = field(default_factory=dict)
    _folders: list[Path] = field(init=False)
    _formats: Formats = field(init=False)
    _templates: Any = field(init=False)

    def __post_init__(self) -> None:
        self._folders = [theme / THEME for theme in self.themes]
        self._formats = Formats.of(self.frame.language, fahrenheit=self.frame.fahrenheit)
        self._templates = templates(self._folders, self._formats, {"picture": self._picture})

    @property
    def styles(self) -> str:
        """The print style sheet, with the sheet for the house's paper."""
        return "\n".join(
            themed(self._folders, name).read_text("utf-8")
            for name in (f"paper-{self.frame.paper.lower()}.css", "print.css")
        )

    def piece(self, view: SheetView) -> Piece:
        """One sheet as a part of a document: it starts a page."""
        html = tied(str(self._templates.get_template("print.html").module.sheet(view, self.frame)))
        return Piece(_title(view), "", html)

    def document(self, title: str, inside: str) -> str:
        """One HTML document with sheets in it."""
        shown = {"frame": self.frame, "title": title, "sheets": Markup(inside)}  # noqa: S704 (our templates escape)
        written: str = self._templates.get_template("document.html").render(shown)
        return written

    def pdf(self, view: SheetView, shop: Shop) -> bytes:
        """One sheet as a PDF."""
        return assemble([self.piece(view)], self._setting(pdf_path(view.address), _title(view)), shop)

    def all_pdf(self, views: Sequence[SheetView], shop: Shop) -> bytes:
        """All sheets in one PDF."""
        setting = self._setting(pdf_path(ALL), self._formats.word("Product sheets"))
        return assemble([self.piece(view) for view in views], setting, shop)

    def _setting(self, file: str, title: str) -> Setting:
        return Setting(f"sheets/{file}", self.frame.language, self.styles, partial(self.document, title))

    def _picture(self, view: SheetView) -> str:
        """The sheet's photo as an address that holds it; empty without one."""
        photo = self.photos.get(view.address)
        if photo is None:
            return ""
        best = next((size for size in photo.renditions if size.width >= PHOTO_WIDTH), photo.renditions[-1])
        return "data:image/jpeg;base64," + base64.b64encode(best.content).decode("ascii")


def _title(view: SheetView) -> str:
    return f"{view.title}, {view.size}" if view.size else view.title

"""Product sheets as pages: each page, style and photo as a path and its bytes. It writes nothing."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from bookmaker.editions.sheets.views import ALL, INDEX, Address, Frame, IndexView, SheetView, WithheldView
from bookmaker.press.formats import Formats
from bookmaker.press.html import Shelf
from bookmaker.press.images import Photo
from bookmaker.press.sheets.jsonld import linked_data
from bookmaker.press.sheets.words import THEME, photo_path, templates

ASSETS = "assets"


@dataclass(frozen=True, slots=True)
class PhotoSource:
    """Where a page finds one size of its photo."""

    path: str
    width: int
    height: int


@dataclass(slots=True)
class SheetPress:
    """A theme ready to set product sheets. `photos` by the address of their page."""

    frame: Frame
    themes: tuple[Path, ...]
    photos: Mapping[Address, Photo] = field(default_factory=dict)
    shelf: Shelf | None = None
    _templates: Any = field(init=False)

    def __post_init__(self) -> None:
        formats = Formats.of(self.frame.language, fahrenheit=self.frame.fahrenheit)
        folders = [theme / THEME for theme in self.themes]
        self._templates = templates(folders, formats, {"photo": self._photo}, self.shelf)

    def load(self) -> None:
        """Read and compile every template now, so that copies of this process need not."""
        for name in ("sheet.html", "index.html", "withheld.html"):
            self._templates.get_template(name)

    def sheet(self, view: SheetView) -> bytes:
        """A product's page."""
        sizes = self._photo(view.address)
        data = linked_data(view, self.frame, sizes[-1].path if sizes else "")
        return self._set("sheet.html", view=view, linked_data=data)

    def index(self, view: IndexView) -> bytes:
        """The page that lists all sheets."""
        return self._set("index.html", view=view)

    def withheld(self, view: WithheldView) -> bytes:
        """The page that stands in for a sheet under revision."""
        return self._set("withheld.html", view=view)

    def _set(self, template: str, **shown: object) -> bytes:
        around = {"frame": self.frame, "index": INDEX, "all": ALL}
        html: str = self._templates.get_template(template).render(**around, **shown)
        return html.encode("utf-8")

    def _photo(self, address: Address) -> tuple[PhotoSource, ...]:
        """The sizes of a page's photo, smallest first; none where the workshop has not made it."""
        photo = self.photos.get(address)
        if photo is None:
            return ()
        return tuple(PhotoSource(photo_path(address, each.width), each.width, each.height) for each in photo.renditions)


def theme_files(themes: Iterable[Path]) -> Iterator[tuple[str, bytes]]:
    """Styles and icons: what the sheets' part of a theme has beside its templates."""
    found: dict[str, Path] = {}
    for theme in themes:
        folder = theme / THEME / ASSETS
        for path in sorted(folder.rglob("*")):
            if path.is_file():
                found.setdefault(path.relative_to(folder).as_posix(), path)
    for name, path in sorted(found.items()):
        yield f"{ASSETS}/{name}", path.read_bytes()


def photo_files(photos: Mapping[Address, Photo]) -> Iterator[tuple[str, bytes]]:
    """Every photo in every size."""
    for address, photo in sorted(photos.items()):
        for size in photo.renditions:
            yield photo_path(address, size.width), size.content

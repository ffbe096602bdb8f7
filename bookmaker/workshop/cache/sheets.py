"""The product sheets' views: a product's is projected anew only where something that it may show has changed."""

from collections.abc import Iterator, Mapping
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

from bookmaker.editions.sheets import gate, project
from bookmaker.editions.sheets.views import Address, Frame, IndexView, SheetView, WithheldView
from bookmaker.kitchen.alarm import withheld
from bookmaker.model.refs import RecipeRef
from bookmaker.press.images import Photo
from bookmaker.workshop.cache.kept import KeptBook
from bookmaker.workshop.cache.notes import label
from bookmaker.workshop.cache.packing import digest, digest_of, pack, recalled
from bookmaker.workshop.cache.photos import Photos

_DIGEST = 32
"""Characters of a digest, which stands before a view in the store."""


class SheetEntry(NamedTuple):
    """A product's page: what it is called, where it stands, what stands for all that it shows, and its photo's key."""

    name: str
    address: Address
    view: str
    photo: str
    released: bool


class ProductSheets:
    """The sheets of a sound book's released products, in the book's order. A sheet under revision is withheld."""

    def __init__(self, kept: KeptBook, folder: Path) -> None:
        self._kept = kept
        self._house = gate.house_given(kept.house)
        self._refs = gate.released(kept.contents.recipes, kept.contents.in_order())
        self._addresses = gate.addresses({ref: self._name(ref) for ref in self._refs})
        shown = {ref: kept.bound.entries[label(ref)].photo for ref in self._refs}
        self._sources = {ref: source for ref, source in shown.items() if source}
        self._photos = Photos(folder, self._sources.values(), kept.before.photos, kept.store)
        self._fresh: dict[RecipeRef, SheetView | WithheldView] = {}

    @cached_property
    def entries(self) -> dict[RecipeRef, SheetEntry]:
        """Every product's page, without the view itself."""
        return {ref: self._entry(ref) for ref in self._refs}

    @cached_property
    def frame(self) -> Frame:
        """What stands around every page."""
        return project.frame(self._house)

    @cached_property
    def frame_key(self) -> str:
        """What stands for the frame."""
        return digest_of(self.frame)

    @property
    def released(self) -> list[RecipeRef]:
        """The products whose sheets are published."""
        return [ref for ref, entry in self.entries.items() if entry.released]

    @property
    def key(self) -> str:
        """What stands for all that is published of the products."""
        parts = (f"{self.entries[ref].view} {self.entries[ref].photo}" for ref in self.released)
        return digest(self.frame_key, *parts)

    @property
    def index(self) -> IndexView:
        """The list of the sheets that are published."""
        return project.index_view((self.entries[ref].name, self.entries[ref].address) for ref in self.released)

    @cached_property
    def photos(self) -> Mapping[Address, Photo]:
        """The photos of the sheets that are published, by the address of their page."""
        return _Photos({self._addresses[ref]: self._sources[ref] for ref in self._with_photos}, self._photos)

    @property
    def widths(self) -> Mapping[Address, tuple[int, ...]]:
        """The widths of each photo, without the photos themselves."""
        entries = self._photos.entries
        return {self._addresses[ref]: entries[self._sources[ref]].widths for ref in self._with_photos}

    def view(self, ref: RecipeRef) -> SheetView:
        """The view of a sheet that is published."""
        view = self._view(ref)
        assert isinstance(view, SheetView)
        return view

    def withheld_view(self, ref: RecipeRef) -> WithheldView:
        """The view of the page that stands in for a sheet under revision."""
        view = self._view(ref)
        assert isinstance(view, WithheldView)
        return view

    @property
    def _with_photos(self) -> list[RecipeRef]:
        return [ref for ref in self.released if self._sources.get(ref, "") in self._photos.entries]

    def _name(self, ref: RecipeRef) -> str:
        title = self._kept.contents.recipes[ref].title
        return f"{title} ({ref.size})" if ref.size else title

    def _key(self, ref: RecipeRef) -> str:
        """The key in the store of the view of a sheet: what it was projected from, and where it stands."""
        kept, key = self._kept, label(ref)
        figures = kept.figured.entries[key].all
        said, issued = kept.labels.content(ref), kept.register.labels.get(key, "")
        own = kept.bound.entries[key].own
        made_from = digest(kept.keys.house, own, figures, said, issued, self._addresses[ref].stem)
        return f"sheet:{made_from}"

    def _entry(self, ref: RecipeRef) -> SheetEntry:
        key = self._key(ref)
        kept = self._kept.store.get(key)
        if kept is None:
            view = self._fresh[ref] = self._projected(ref)
            kept = _mark(view).encode() + pack(view)
            self._kept.store.put(key, kept)
        mark = kept[:_DIGEST].decode()
        photo = self._photos.key(self._sources.get(ref, ""))
        return SheetEntry(self._name(ref), self._addresses[ref], mark[1:], photo, mark.startswith("+"))

    def _view(self, ref: RecipeRef) -> SheetView | WithheldView:
        found = self._fresh.get(ref)
        if found is None:
            kept = self._kept.store.get(self._key(ref))
            found = recalled(kept[_DIGEST:]) if kept is not None else None
            self._fresh[ref] = found = found if found is not None else self._projected(ref)
        return found

    def _projected(self, ref: RecipeRef) -> SheetView | WithheldView:
        kept, address = self._kept, self._addresses[ref]
        said = kept.labels.label(ref)
        if withheld(said, kept.register.value.label(ref)):
            return project.withheld_view(kept.contents.recipes[ref].title, ref.size, address)
        given = gate.sheet_given(ref, kept.book, kept.figures.recipes[ref], said)
        return project.sheet_view(given, self._house, address)


def _mark(view: SheetView | WithheldView) -> str:
    """A sign for whether a sheet is published, and a digest of what its page shows."""
    return ("+" if isinstance(view, SheetView) else "-") + digest_of(view)[1:]


class _Photos(Mapping[Address, Photo]):
    """Photos by the address of their page, each fetched when it is wanted."""

    def __init__(self, sources: Mapping[Address, str], photos: Photos) -> None:
        self._sources, self._photos = sources, photos

    def __getitem__(self, address: Address) -> Photo:
        return self._photos[self._sources[address]]

    def __iter__(self) -> Iterator[Address]:
        return iter(self._sources)

    def __len__(self) -> int:
        return len(self._sources)

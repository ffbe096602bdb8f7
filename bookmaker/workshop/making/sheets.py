"""The product sheets, `sheets/`: for clients, so with a root and assets of their own that nothing leads out of."""

from collections.abc import Callable, Iterator
from functools import partial

from bookmaker.editions.sheets.views import ALL, INDEX, Address
from bookmaker.model.refs import RecipeRef
from bookmaker.press import pdf
from bookmaker.press.assembly.assembling import Shop
from bookmaker.press.sheets.paper import SheetPaper
from bookmaker.press.sheets.site import SheetPress, theme_files
from bookmaker.press.sheets.words import THEME, page_path, pdf_path, photo_path
from bookmaker.press.site import font_files
from bookmaker.workshop.building import Edition, Job, Made, nothing
from bookmaker.workshop.cache.leaf import Leaf
from bookmaker.workshop.cache.packing import digest
from bookmaker.workshop.cache.sheets import ProductSheets, SheetEntry
from bookmaker.workshop.cache.team import bytes_digest, theme_digest
from bookmaker.workshop.paper import paper_is_ready
from bookmaker.workshop.pool import spread

FOLDER = "sheets"


def product_sheets(job: Job) -> ProductSheets:
    """The sheets of the released products, as far as they are kept."""
    return ProductSheets(job.kept, job.folder)


class _Sheets:
    """The edition's files as leaves. `tell` hears what is to be said of the PDFs."""

    def __init__(self, job: Job, tell: Callable[[str], None]) -> None:
        self._sheets = sheets = job.once(product_sheets)
        self._themes = job.themes
        theme = theme_digest(job.themes, THEME)
        self._page_key = digest(sheets.frame_key, theme)
        self._pdf_key = digest(self._page_key, *pdf.system_libraries())
        self._press = SheetPress(sheets.frame, job.themes, sheets.photos, job.kept.store)
        self._paper = SheetPaper(sheets.frame, job.themes, sheets.photos)
        self._shop = Shop(spread, job.progress.say, tell, job.kept.store)

    def leaves(self) -> Iterator[Leaf]:
        """Every file of the edition."""
        yield from self._assets()
        sheets = self._sheets
        if sheets.released:  # first: it lays out what the single ones are then put together from
            yield _leaf(pdf_path(ALL), self._all, sheets.key, self._pdf_key)
        for ref, entry in sheets.entries.items():
            yield from self._published(ref, entry) if entry.released else [self._withheld(ref, entry)]
        yield _leaf(page_path(INDEX), lambda: self._press.index(sheets.index), str(sheets.index), self._page_key)

    def load(self) -> None:
        """To be called before many pages are made."""
        self._press.load()

    def _published(self, ref: RecipeRef, entry: SheetEntry) -> Iterator[Leaf]:
        shown = entry.view, entry.photo
        yield _leaf(page_path(entry.address), lambda: self._press.sheet(self._sheets.view(ref)), *shown, self._page_key)
        yield _leaf(pdf_path(entry.address), lambda: self._pdf(ref), *shown, self._pdf_key)
        for number, width in enumerate(self._sheets.widths.get(entry.address, ())):
            photo = partial(self._photo, entry.address, number)
            yield _leaf(photo_path(entry.address, width), photo, entry.photo, str(number))

    def _withheld(self, ref: RecipeRef, entry: SheetEntry) -> Leaf:
        path = page_path(entry.address)
        return _leaf(path, lambda: self._press.withheld(self._sheets.withheld_view(ref)), entry.view, self._page_key)

    def _all(self) -> bytes:
        return self._paper.all_pdf([self._sheets.view(ref) for ref in self._sheets.released], self._shop)

    def _pdf(self, ref: RecipeRef) -> bytes:
        return self._paper.pdf(self._sheets.view(ref), self._shop)

    def _photo(self, address: Address, number: int) -> bytes:
        return self._sheets.photos[address].renditions[number].content

    def _assets(self) -> Iterator[Leaf]:
        for name, content in theme_files(self._themes):
            yield _leaf(name, partial(_as_is, content), bytes_digest(content))
        for name, make in font_files():
            yield _leaf(name, make, "font", name)


def _leaf(path: str, make: Callable[[], bytes], *made_from: str) -> Leaf:
    return Leaf(f"{FOLDER}/{path}", digest(*made_from), make)


def _as_is(content: bytes) -> bytes:
    return content


def _make(job: Job) -> Made:
    job.progress.say("sheets: arranging")
    made = Made([], nothing, libraries=pdf.library_files())

    sheets = _Sheets(job, made.teller(job.progress))
    made.leaves, made.get_ready = list(sheets.leaves()), sheets.load
    return made


EDITION = Edition("sheets", _make, paper_is_ready)

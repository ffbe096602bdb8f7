"""The printed book, assembled."""

from collections.abc import Callable, Iterable, Mapping
from functools import partial
from pathlib import Path

from bookmaker.editions.book.views import PrintedBook
from bookmaker.editions.team.views import Route
from bookmaker.press.assembly.assembling import Setting, Shop, assemble
from bookmaker.press.book import document, pieces, styles
from bookmaker.press.images import Photo


def assembled_pdf(
    book: PrintedBook,
    themes: Iterable[Path],
    photos: Mapping[str, Photo],
    shop: Shop,
    kept: Callable[[Route, Callable[[], str]], str] = lambda _, make: make(),
) -> bytes:
    """The printed book as PDF bytes: the same pages as `book_pdf` makes, and the same bytes for the same book.

    `kept` may have a recipe's HTML already, by its route.
    """
    folders = [theme / "print" for theme in themes]
    setting = Setting("book.pdf", book.frame.language, styles(book, folders), partial(document, book, folders))
    return assemble([*pieces(book, folders, photos, kept)], setting, shop)

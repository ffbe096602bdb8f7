"""Whose pages an output folder holds: two books must not replace each other's there."""

import os
from pathlib import Path

from bookmaker.reading.walk import HOUSE
from bookmaker.workshop.publishing.manifest import PUBLISH_FOLDER, read_manifest
from bookmaker.workshop.publishing.refusals import AnotherBook


def way_to(book: Path, out: Path) -> str:
    """How one gets from the output folder to the book; it stays when both are moved or copied together."""
    folder = os.path.realpath(book)
    try:
        return os.path.relpath(folder, os.path.realpath(out))
    except ValueError:  # there is no way from one drive to another
        return folder


def insist_on_owner(out: Path, book: Path, house: str | None = None) -> None:
    """Raise `AnotherBook` where an edition in the output folder was published from another book than the one in `book`.

    A book whose folder was moved or renamed is still the same: no book stands where it stood, and it has its house's
    name, which is looked at when it is given. Where a book is still there, this one is another, or a copy of it.
    """
    for path in sorted((out / PUBLISH_FOLDER).glob("*.json")):
        manifest = read_manifest(out, path.stem)
        if manifest is None or "way" not in manifest.stamp:
            continue
        stamp = manifest.stamp
        if stamp["way"] == way_to(book, out) or _is_the_same(stamp["book"], book):
            continue
        if (Path(stamp["book"]) / HOUSE).is_file() or (house is not None and stamp["house"] != house):
            raise AnotherBook(out, stamp["book"])


def _is_the_same(before: str, book: Path) -> bool:
    try:
        return book.samefile(before)
    except OSError:
        return False

"""A small new book to begin with."""

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path


class AlreadyThere(ValueError):
    """The folder for the new book holds something already."""


def start_book(folder: Path) -> tuple[Path, ...]:
    """Write the starter book into `folder`/recipes and return the files written. Raises `AlreadyThere`."""
    book = folder / "recipes"
    if book.exists() and any(book.iterdir()):
        raise AlreadyThere(f"'{book}' is not empty; a new book wants a folder of its own")
    return tuple(_copy(files("bookmaker.workshop") / "starter", book))


def _copy(source: Traversable, to: Path) -> list[Path]:
    to.mkdir(parents=True, exist_ok=True)
    written: list[Path] = []
    for entry in sorted(source.iterdir(), key=lambda entry: entry.name):
        if entry.is_dir():
            written += _copy(entry, to / entry.name)
        else:
            (to / entry.name).write_bytes(entry.read_bytes())
            written.append(to / entry.name)
    return written

"""Which book is meant: the folder named, else the nearest one with a house.yaml, else `recipes/` here."""

from pathlib import Path

HOUSE_FILE = "house.yaml"


class NoBook(ValueError):
    """No book where one was looked for, in words for the person who asked."""


def find_book(named: str | None, here: Path) -> Path:
    """The book's folder. Raises `NoBook`."""
    if named is not None:
        folder = here / named
        if (folder / HOUSE_FILE).is_file():
            return folder
        if (folder / "recipes" / HOUSE_FILE).is_file():
            return folder / "recipes"
        what = "has no house.yaml" if folder.is_dir() else "is no folder"
        raise NoBook(f"'{named}' {what}; a book is a folder with a house.yaml (start one with: bookmaker start DIR)")
    for folder in (here, *here.parents):
        if (folder / HOUSE_FILE).is_file():
            return folder
    if (here / "recipes" / HOUSE_FILE).is_file():
        return here / "recipes"
    raise NoBook(
        "no house.yaml here or above, and no recipes/ folder with one; name the book, or start one: bookmaker start DIR"
    )

"""Where the things that ship with us stand: the themes and the demo book.

A wheel carries them inside the package, under `_shipped`; in a checkout they stand beside it.
"""

from pathlib import Path

import bookmaker


def themes_dir() -> Path:
    """The folder that holds one folder per theme."""
    return _shipped("themes")


def demo_book_dir() -> Path:
    """The demo book, Quillhaven Kitchen's: the folder with its house.yaml."""
    return _shipped("recipes")


def package_dir() -> Path:
    """The folder of our own program."""
    return Path(bookmaker.__file__).resolve().parent


def _shipped(name: str) -> Path:
    package = package_dir()
    inside = package / "_shipped" / name
    return inside if inside.is_dir() else package.parent / name

"""The files of a book's folder, in an order that does not depend on the disk, and what is known of them at a glance.

This is what a build that changes nothing needs of reading: it imports nothing that takes time.
"""

import os
from collections.abc import Iterator

HOUSE = "house.yaml"
CAUTIONS = "cautions.yaml"
GLOSSARY = "glossary.md"
ISSUED = "issued.csv"
PRICES = "stores/prices.csv"
STORES = "stores"
ORDERS = "orders"
IMAGES = "images"

RESERVED_FOLDERS = (STORES, ORDERS, IMAGES)


def walk(root: str, output: str | None = None) -> Iterator[tuple[str, os.DirEntry[str]]]:
    """Every file below `root` by its name relative to it, with `/`.

    Names that begin with a dot are passed over, and so is the folder `output` (a real path) into which we publish.
    Raises `OSError` for a folder that cannot be listed.
    """
    yield from _within(root, "", output, frozenset())


def _within(
    folder: str, prefix: str, output: str | None, above: frozenset[str]
) -> Iterator[tuple[str, os.DirEntry[str]]]:
    real = os.path.realpath(folder)
    if real == output or real in above:  # a folder linked into itself would never end
        return
    with os.scandir(folder) as found:
        entries = sorted(found, key=lambda entry: (entry.name.casefold(), entry.name))
    for entry in entries:
        if entry.name.startswith("."):
            continue
        if entry.is_dir():
            yield from _within(entry.path, f"{prefix}{entry.name}/", output, above | {real})
        elif entry.is_file():
            yield prefix + entry.name, entry


def is_text(name: str) -> bool:
    """Whether a file is one of those that a book is read from."""
    folder, _, last = name.rpartition("/")
    top = folder.split("/", 1)[0]
    if not folder:
        return name in (HOUSE, CAUTIONS, GLOSSARY, ISSUED)
    if top in (STORES, ORDERS):
        return last.endswith(".yaml") or name == PRICES
    return last.endswith(".md") and top not in RESERVED_FOLDERS


def mark_of(entry: os.DirEntry[str]) -> str:
    """How a file is known again without reading it: its size, its times, its number on the disk.

    Nothing for one that has just gone.
    """
    try:
        found = entry.stat()
    except OSError:
        return ""
    return f"{found.st_size} {found.st_mtime_ns} {found.st_ctime_ns} {found.st_ino}"

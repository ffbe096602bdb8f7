"""The files of a book's folder, in an order that does not depend on the disk."""

import os
from collections.abc import Iterator


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

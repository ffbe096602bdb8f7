"""What an edition was made from, and with which tool, as a stamp to be compared.

This is what a build that changes nothing needs of the cache: it imports nothing that takes time.
"""

import os
import sys
from collections.abc import Iterable, Iterator, Mapping
from hashlib import blake2b

from bookmaker.reading.walk import mark_of, walk
from bookmaker.workshop.shipped import package_dir, themes_dir

LIBRARIES = frozenset(
    {
        "brotli",
        "cffi",
        "cssselect2",
        "font_source_sans_pro",
        "font_source_serif_pro",
        "fonttools",
        "jinja2",
        "markdown_it_py",
        "markupsafe",
        "mdurl",
        "pillow",
        "pint",
        "pydantic",
        "pydantic_core",
        "pydyf",
        "pyphen",
        "pyyaml",
        "segno",
        "tinycss2",
        "tinyhtml5",
        "weasyprint",
        "zopfli",
    }
)
"""The distributions that what we make depends on, by their folded names."""

YOUNG, YOUNG_BY_COARSE_CLOCK = 0.05, 2.5
"""Seconds. A file changed so lately could be changed again without its date's telling it; the second where files are
dated by whole seconds, as on memory sticks.
"""


def tool() -> str:
    """A digest of our own program, its themes, and the libraries and the Python that it runs with."""
    return _digest((*_surroundings(), *(f"{name}\0{_content(entry.path)}" for name, entry in _program())))


def glance() -> str:
    """As `tool`, but by the looks of the program's files: the same glance means the same tool."""
    return _digest((*_surroundings(), *(f"{name}\0{mark_of(entry)}" for name, entry in _program())))


def survey(folder: str, out: str) -> str:
    """A digest of the looks of all files in a book's folder. Raises `OSError`."""
    return stamp_of({name: mark_of(entry) for name, entry in walk(folder, os.path.realpath(out))})


def stamp_of(marks: Mapping[str, str]) -> str:
    """A digest of the looks of a book's files, in the order in which they are walked."""
    return _digest(f"{name}\0{mark}" for name, mark in marks.items())


def is_young(marks: Iterable[str], began: float) -> bool:
    """Whether a file was changed so shortly before a build `began` that its looks cannot be relied on."""
    return any(not mark or began * 1e9 < _settled(*map(int, mark.split()[1:3])) for mark in marks)


def library_marks(paths: Iterable[str]) -> dict[str, str]:
    """How the system's libraries, and the folders that they lie in, are known again."""
    marks = {}
    for path in paths:
        for each in (path, os.path.dirname(path)):  # noqa: PTH120 - a folder changes when a library comes to it
            try:
                found = os.stat(each)  # noqa: PTH116
            except OSError:
                continue
            marks[each] = f"{found.st_size} {found.st_mtime_ns}"
    return marks


def _settled(modified: int, changed: int) -> float:
    """When a file's dates can be relied on, in nanoseconds: a little while after it was changed."""
    coarse = modified % 1_000_000_000 == 0
    return max(modified, changed) + (YOUNG_BY_COARSE_CLOCK if coarse else YOUNG) * 1e9


def _surroundings() -> Iterator[str]:
    yield sys.version
    for folder in sys.path:
        if folder.endswith("-packages"):
            yield from sorted(_distributions(folder))


def _distributions(folder: str) -> Iterator[str]:
    """The distributions in a folder that matter, with their versions as their folders' names have them."""
    try:
        names = os.listdir(folder)  # noqa: PTH208 - names are all that is wanted
    except OSError:
        return
    for name in names:
        if name.endswith((".dist-info", ".egg-info")):
            folded = name.lower()
            if folded.split("-", 1)[0] in LIBRARIES:
                yield folded


def _program() -> Iterator[tuple[str, os.DirEntry[str]]]:
    for folder in (str(package_dir()), str(themes_dir())):
        for name, entry in walk(folder):
            if "__pycache__/" not in name:
                yield name, entry


def _content(path: str) -> str:
    with open(path, "rb") as file:  # noqa: PTH123
        return blake2b(file.read(), digest_size=16).hexdigest()


def _digest(parts: Iterable[str]) -> str:
    return blake2b("\n".join(parts).encode("utf-8", "surrogatepass"), digest_size=16).hexdigest()

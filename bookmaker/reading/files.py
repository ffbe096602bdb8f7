"""The book's folder: which files belong to the book, and their text. Reads, never writes.

A document is a value (name, text, digest), so that what was read from it can be kept as long as its bytes are the same.
"""

import hashlib
import os
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem, Related, problem
from bookmaker.reading.suggest import near
from bookmaker.reading.walk import (
    CAUTIONS,
    GLOSSARY,
    HOUSE,
    ISSUED,
    ORDERS,
    PRICES,
    RESERVED_FOLDERS,
    STORES,
    is_text,
    mark_of,
    walk,
)

LARGEST = 2_000_000
"""Bytes. A recipe has some two thousand, the longest price list a few hundred thousand."""

LARGEST_REGISTER = 50_000_000
"""The register grows by some thousand bytes with each label that is issued, and nothing is ever taken out."""


@dataclass(frozen=True, slots=True)
class Document:
    """One text file of the book: its name relative to the book, with `/`; its text with plain line ends; its digest."""

    name: str
    text: str
    digest: str


@dataclass(frozen=True, slots=True)
class Folder:
    """What a book's folder holds.

    `other` names the files that are no text of ours: images, mostly; `marks` say how every file is known again.
    `unread` are documents that are not UTF-8, with marks in the place of what could not be read: nothing may be read
    from them, but a report can show the line.
    """

    house: Document | None = None
    cautions: Document | None = None
    glossary: Document | None = None
    prices: Document | None = None
    register: Document | None = None
    stores: tuple[Document, ...] = ()
    orders: tuple[Document, ...] = ()
    recipes: tuple[Document, ...] = ()
    other: frozenset[str] = frozenset()
    marks: Mapping[str, str] = field(default_factory=dict)
    unread: tuple[Document, ...] = ()

    @property
    def documents(self) -> tuple[Document, ...]:
        """All of them: the house's first, recipes last, each group by name."""
        single = (self.house, self.cautions, self.glossary, self.prices, self.register)
        return (*(each for each in single if each), *self.stores, *self.orders, *self.recipes)


def read_folder(root: Path, output: Path | None = None) -> tuple[Folder, list[Problem]]:
    """Everything in the book at `root`; `output` is where its editions are published, if that lies inside.

    Problems: `unreadable-file`, `not-utf8`, `too-large`, `same-name`, `misplaced-file`. A file with an
    error is left out.
    """
    problems: list[Problem] = []
    unread: list[Document] = []
    documents: dict[str, Document] = {}
    other: set[str] = set()
    marks: dict[str, str] = {}
    spelt: dict[str, str] = {}
    for name, entry in walk(str(root), str(output.resolve()) if output else None):
        marks[name] = mark_of(entry)
        first = spelt.setdefault(name.casefold(), name)
        if first != name:
            related = [Related(Anchor(first), "the other one")]
            problems.append(problem("same-name", Anchor(name), related=related, document=name, other=first))
            continue
        if not is_text(name):
            other.add(name)
            problems += _misplaced(name) or _stray_recipe(Path(entry.path), name)
            continue
        document, found = _read(entry.path, name)
        problems += found
        if document and found:
            unread.append(document)
        elif document:
            documents[name] = document
    return replace(_sort(documents, other), unread=tuple(unread), marks=marks), problems


def _misplaced(name: str) -> list[Problem]:
    """Files that a cook surely meant for the book, but whose name or place makes us pass them over."""
    folder, _, last = name.rpartition("/")
    stem, _, ending = last.rpartition(".")
    at = Anchor(name)
    if ending.lower() == "yml" and folder.split("/", 1)[0] in ("", STORES, ORDERS):
        return [problem("misplaced-file", at, document=name, why="it ends in .yml", fix=f"rename it to {stem}.yaml")]
    if not folder and ending == "yaml":
        meant = near(stem, (HOUSE.removesuffix(".yaml"), CAUTIONS.removesuffix(".yaml")))
        fix = f"rename it to {meant[0]}.yaml" if meant else "move it into stores/ if it lists what the house buys"
        return [problem("misplaced-file", at, document=name, why="no file of that name is read here", fix=fix)]
    if ending == "csv" and (not folder or folder == STORES):
        fix = f"rename it to {PRICES} if it is the price list"
        if last.casefold() == ISSUED:
            fix = f"the register lies beside {HOUSE} and is called {ISSUED}"
        return [problem("misplaced-file", at, document=name, why="no file of that name is read here", fix=fix)]
    return []


def _stray_recipe(path: Path, name: str) -> list[Problem]:
    """A recipe where none is read: at the root of the book, or under another ending."""
    folder, _, last = name.rpartition("/")
    stem, _, ending = last.rpartition(".")
    if ending.lower() not in {"md", "markdown", "txt"} or name.split("/", 1)[0] in RESERVED_FOLDERS:
        return []
    try:
        with path.open("rb") as file:
            begins = file.read(400).removeprefix(b"\xef\xbb\xbf").replace(b"\r\n", b"\n")
    except OSError:
        return []
    if not (begins.startswith(b"---\n") and b"\ntitle:" in begins):
        return []
    fix = "move it into a folder: the folder is its section" if not folder else f"rename it to {stem}.md"
    why = "recipes are read from folders below the book" if not folder else "a recipe's file ends in .md"
    return [problem("misplaced-file", Anchor(name), document=name, why=why, fix=fix)]


def _read(path: str, name: str) -> tuple[Document | None, list[Problem]]:
    anchor = Anchor(name)
    most = LARGEST_REGISTER if name == ISSUED else LARGEST
    try:
        with open(path, "rb") as file:  # noqa: PTH123 - a thousand files are opened at every build
            if (size := os.fstat(file.fileno()).st_size) > most:
                megabytes = f"{size / 1_000_000:.1f}"
                return None, [problem("too-large", anchor, document=name, size=megabytes, most=most // 1_000_000)]
            data = file.read()
    except OSError as error:
        return None, [problem("unreadable-file", anchor, document=name, why=error.strerror or str(error))]
    digest = hashlib.sha256(data).hexdigest()
    try:
        return Document(name, _plain_lines(data.decode("utf-8-sig")), digest), []
    except UnicodeDecodeError as error:
        if data[:2] in _UTF_16 or b"\0" in data[:200]:
            return None, [problem("not-utf8", anchor, document=name)]
        begin = len(_plain_lines(data[: error.start].decode("utf-8-sig")))
        document = Document(name, _plain_lines(data.decode("utf-8-sig", "replace")), digest)
        return document, [problem("not-utf8", anchor.part(begin, begin + 1), document=name)]


_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


def _plain_lines(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _sort(documents: Mapping[str, Document], other: Collection[str]) -> Folder:
    def within(folder: str) -> tuple[Document, ...]:
        return tuple(each for name, each in documents.items() if name.startswith(f"{folder}/") and name != PRICES)

    return Folder(
        house=documents.get(HOUSE),
        cautions=documents.get(CAUTIONS),
        glossary=documents.get(GLOSSARY),
        prices=documents.get(PRICES),
        register=documents.get(ISSUED),
        stores=within(STORES),
        orders=within(ORDERS),
        recipes=tuple(each for name, each in documents.items() if name.endswith(".md") and name != GLOSSARY),
        other=frozenset(other),
    )

"""Building: a book as it is kept from the last build, and an edition's files, made as far as they have to be."""

import os
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any, TypeVar

from bookmaker.problems.report import text_report
from bookmaker.workshop.cache.kept import KeptBook
from bookmaker.workshop.cache.leaf import Leaf, in_order, make_all
from bookmaker.workshop.cache.ledger import LEDGER, Ledger, PageEntry, write_ledger
from bookmaker.workshop.cache.stamp import glance, is_young, library_marks, stamp_of, tool
from bookmaker.workshop.cache.store import Store
from bookmaker.workshop.console import Progress, complain
from bookmaker.workshop.publishing.disk import Disk
from bookmaker.workshop.publishing.imprints import digest_of, holds
from bookmaker.workshop.publishing.manifest import PUBLISH_FOLDER, Manifest, read_manifest, stands
from bookmaker.workshop.publishing.owner import insist_on_owner, way_to
from bookmaker.workshop.publishing.publisher import Published, Publisher
from bookmaker.workshop.publishing.refusals import AnotherBook
from bookmaker.workshop.shipped import themes_dir

THEME = "ledger"
OWN_THEME = "theme"
"""A book's folder of this name is laid over the theme, file by file."""

T = TypeVar("T")


@dataclass(slots=True)
class Made:
    """An edition, ready to be made.

    `enter` writes what it came to into the ledger. `get_ready` is called before many leaves are made at once. What is
    `said` while its leaves are made is said again as long as it stands: `say_again` does so. `libraries` are files of
    the system that have a part in it, None where nobody knows which.
    """

    leaves: Sequence[Leaf]
    enter: Callable[[Ledger], None]
    get_ready: Callable[[], None] = lambda: None
    said: list[str] = field(default_factory=list)
    libraries: Sequence[str] | None = ()

    def teller(self, progress: Progress) -> Callable[[str], None]:
        """What leaves tell sentences to, which are said past the progress while they are made."""

        def tell(sentence: str) -> None:
            progress.clear()
            self.say_again([sentence])

        return tell

    def say_again(self, sentences: Iterable[str]) -> None:
        """Say what was said when the edition was made."""
        for sentence in sentences:
            complain(sentence)
            self.said.append(sentence)


def nothing(_ledger: Ledger) -> None:
    """For editions that have nothing to enter into the ledger."""


@dataclass(frozen=True, slots=True)
class Edition:
    """An edition by its name: `is_ready` tells, and complains, before any work; `make` says what there is to make."""

    name: str
    make: "Callable[[Job], Made]"
    is_ready: Callable[[], bool] = lambda: True


class Job:
    """A sound book, and what its editions are made with. Each takes only what it declares."""

    def __init__(self, kept: KeptBook, folder: Path, progress: Progress) -> None:
        self.kept, self.folder, self.progress = kept, folder, progress
        self.making = ""
        """The name of the edition that is being made."""
        self.themes = tuple(path for path in (folder / OWN_THEME, themes_dir() / THEME) if path.is_dir())
        self._made: dict[Callable[[Job], Any], Any] = {}

    def once(self, make: "Callable[[Job], T]") -> T:
        """Something that several editions need, made for the first of them."""
        if make not in self._made:
            self._made[make] = make(self)
        made: T = self._made[make]
        return made


class Build:
    """One build: the book opened with what is kept, then each edition published, then everything kept for the next.

    To be made when the output folder is ours alone, before the sources are read. Raises `AnotherBook`.
    """

    def __init__(self, folder: Path, on: date, out: Path, *, fresh: bool, progress: Progress) -> None:
        self._folder, self._on, self._out, self._fresh = folder, on, out, fresh
        insist_on_owner(out, folder)
        self._glance = glance()
        self._tool = self._known_tool() or tool()
        self._began = time.time()
        self._store = Store(out, self._tool, fresh=fresh)
        progress.say("reading")
        self.kept = KeptBook(folder, on, self._store, out)
        progress.clear()
        try:
            insist_on_owner(out, folder, self.kept.house.name or None)
        except AnotherBook:
            self._store.close()
            raise
        self.sound = self.kept.sound
        self.code = 1 if any(problem.is_error for problem in self.kept.problems) else 0
        self._job = Job(self.kept, folder, progress)
        self._ledger = self.kept.ledger()
        self._files = self.kept.before.set

    def report(self, *, colour: bool) -> str:
        """Everything that is wrong with the book, for people."""
        return text_report(self.kept.problems, self.kept.sources, colour=colour).rstrip()

    def publish(self, edition: Edition, publisher: Publisher) -> Published:
        """Publish one edition of a sound book. Raises `NotPublished`."""
        publisher.be_alone()
        # in a folder that nobody had published into before, another book may have been quicker
        insist_on_owner(self._out, self._folder, self.kept.house.name or None)
        self._job.making = edition.name
        made = edition.make(self._job)
        leaves = {leaf.path: leaf for leaf in made.leaves}
        before = read_manifest(self._out, edition.name)
        kept = {} if before is None or self._fresh else self._standing(before, leaves)
        if before is not None and len(kept) == len(leaves):
            made.say_again(before.stamp.get("said", ()))
        ours = before.files() if before is not None else {}
        files = {path: entry for path, entry in self._files.items() if path not in ours} | kept
        todo = in_order(leaf for path, leaf in leaves.items() if path not in kept)
        stamp = self._stamp(made)
        done = publisher.publish(
            edition.name,
            self._set(edition.name, made, todo, files),
            keep=kept,
            stamp=stamp,
            rewrite=self._fresh,
        )
        made.enter(self._ledger)
        self._files = files
        return done

    def keep(self) -> None:
        """Keep what the build came to; of a book with errors, only what was read of it."""
        if self.sound:
            self._ledger.set = self._files
            self._store.put(LEDGER, write_ledger(self._ledger))
            self.kept.let_go()
        if self._out.is_dir():
            self._store.save(self.kept.live)
        self._store.close()

    def _known_tool(self) -> str | None:
        """The tool, if the program's files look as they did when an edition was made."""
        for path in sorted((self._out / PUBLISH_FOLDER).glob("*.json")):
            manifest = read_manifest(self._out, path.stem)
            if manifest is not None and manifest.stamp.get("glance") == self._glance:
                return str(manifest.stamp["tool"])
        return None

    def _standing(self, before: Manifest, leaves: Mapping[str, Leaf]) -> dict[str, PageEntry]:
        """The files that are published as they would be made."""
        published, disk = before.files(), Disk()
        whole = stands(self._out, before)
        found = {}
        for path, leaf in leaves.items():
            entry, imprint = self._files.get(path), published.get(path)
            if (
                entry is not None
                and imprint is not None
                and entry.made_from == leaf.made_from
                and entry.content == imprint.digest
                and (whole or holds(disk, self._out / path, imprint))
            ):
                found[path] = entry
        return found

    def _set(
        self, edition: str, made: Made, leaves: Sequence[Leaf], files: dict[str, PageEntry]
    ) -> Iterator[tuple[str, bytes]]:
        """Make leaves, and enter into `files` what each came to."""
        progress = self._job.progress
        for number, (leaf, content) in enumerate(zip(leaves, make_all(leaves, made.get_ready), strict=True), 1):
            progress.say(f"{edition}: file", number, len(leaves))
            files[leaf.path] = PageEntry(leaf.made_from, digest_of(content))
            yield leaf.path, content
        progress.say(f"{edition}: publishing")

    def _stamp(self, made: Made) -> dict[str, Any]:
        """What the edition is made from; its `said` may still grow."""
        marks = self.kept.folder.marks
        stamp: dict[str, Any] = {
            "tool": self._tool,
            "glance": self._glance,
            "book": os.path.realpath(self._folder),
            "way": way_to(self._folder, self._out),
            "house": self.kept.house.name,
            "on": self._on.isoformat(),
            "code": self.code,
            "report": {"plain": self.report(colour=False), "colour": self.report(colour=True)},
            "said": made.said,
            "libraries": library_marks(made.libraries or ()),
        }
        if made.libraries is not None and not is_young(marks.values(), self._began):
            stamp["sources"] = stamp_of(marks)
        return stamp

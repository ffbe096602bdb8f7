"""Staging: new content is written beside the published files as it comes, and compared with what is there.

Nothing that is published changes here.
"""

import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from bookmaker.workshop.publishing.disk import Disk
from bookmaker.workshop.publishing.imprints import digest_of, holds, imprint_of, is_file, is_folder, unmoved
from bookmaker.workshop.publishing.journal import Step
from bookmaker.workshop.publishing.manifest import PUBLISH_FOLDER, Imprint
from bookmaker.workshop.publishing.refusals import InTheWay


@dataclass(frozen=True, slots=True)
class Staged:
    """What is to change, and what will be published then."""

    folders: tuple[str, ...]
    """To be made, upper ones first."""
    puts: tuple[Step, ...]
    first: tuple[Step, ...]
    """Files to be dropped before anything is put, because they stand where something else of ours belongs."""
    last: tuple[Step, ...]
    """Files to be dropped after."""
    files: Mapping[str, Imprint]

    @property
    def newest_ns(self) -> int:
        """When the last file was written."""
        return max((step.after.mtime_ns for step in self.puts if step.after is not None), default=0)


class Staging:
    """One publication's new content. `known` is what the edition published last."""

    def __init__(self, disk: Disk, out: Path, into: Path, known: Mapping[str, Imprint], *, rewrite: bool) -> None:
        self._disk, self._out, self._into, self._known, self._rewrite = disk, out, into, known, rewrite
        self._known_folded = {path.casefold(): path for path in known}
        self._folded: dict[str, str] = {}
        self._files: dict[str, Imprint] = {}
        self._puts: list[Step] = []
        self._strangers: list[str] = []
        self._folders_there: list[str] = []

    def add(self, path: str, content: bytes) -> None:
        """Take in one file: it is compared with what is there, and written to the working folder if it differs."""
        self._claim(path)
        digest = digest_of(content)
        found = self._disk.look(self._out / path)
        before, same = None, False
        if is_folder(found):
            self._folders_there.append(path)
        elif found is not None and path not in self._known and self._makes_room(path, found):
            pass  # ours under a name with other capitals
        elif found is not None:
            before, same = self._compare(path, found, digest, len(content))
            if before is None:
                self._strangers.append(path)
        if before is not None and same and not self._rewrite:
            self._files[path] = before
        elif not self._strangers:  # else nothing will be published, and only their names are wanted
            self._stage(path, content, before, digest)

    def keep(self, path: str) -> None:
        """Let a file of the last publication stay as it is."""
        self._claim(path)
        self._files[path] = self._known[path]

    def finish(self) -> Staged:
        """What all of it comes to. Raises `InTheWay`."""
        wanted = set(self._folded.values())
        stale = {path: imprint for path, imprint in self._known.items() if path not in wanted}
        folders = _folders_of(wanted)
        if clash := {folder.casefold() for folder in folders} & self._folded.keys():
            raise ValueError(f"published as a file and as a folder: {', '.join(sorted(clash))}")
        make = tuple(folder for folder in folders if self._is_to_be_made(folder))
        for folder in self._folders_there:
            self._strangers += self._strangers_in(folder)
        if self._strangers:
            raise InTheWay(self._out / path for path in sorted(set(self._strangers)))
        first, last = self._drops(stale, folders)
        return Staged(make, tuple(self._puts), tuple(first), tuple(last), self._files)

    def _claim(self, path: str) -> None:
        parts = path.split("/")
        if not all(parts) or {".", ".."} & set(parts) or "\\" in path or parts[0].casefold() == PUBLISH_FOLDER:
            raise ValueError(f"nothing can be published as '{path}'")
        if path.casefold() in self._folded:
            raise ValueError(f"published twice: '{self._folded[path.casefold()]}' and '{path}'")
        self._folded[path.casefold()] = path

    def _compare(self, path: str, found: os.stat_result, digest: str, size: int) -> tuple[Imprint | None, bool]:
        """What should be there before the file is put, and whether that is the same already.

        None if what is there is neither ours by our manifest, nor as good as ours because it holds the same bytes.
        """
        if not is_file(found):
            return None, False
        known = self._known.get(path)
        if known is not None and unmoved(found, known):
            return known, known.digest == digest
        if found.st_size == size and digest_of(self._disk.read(self._out / path)) == digest:
            return imprint_of(found, digest), True
        return known, False

    def _stage(self, path: str, content: bytes, before: Imprint | None, digest: str) -> None:
        number = len(self._puts)
        new = self._into / str(number)
        self._disk.write(new, content)
        written = self._disk.look(new)
        if written is None:
            raise FileNotFoundError(2, "it was removed while we were at work", str(new))
        self._files[path] = imprint_of(written, digest)
        self._puts.append(Step(number, path, before, self._files[path]))

    def _makes_room(self, path: str, found: os.stat_result) -> bool:
        """Whether what is found there is a stale file of ours, that will have gone before anything is put.

        Its name may differ in capitals, on a disk that ignores them.
        """
        name = path if path in self._known else self._known_folded.get(path.casefold())
        if name is None or self._folded.get(name.casefold()) == name:
            return False
        there = found if name == path else self._disk.look(self._out / name)
        if there is None or not os.path.samestat(there, found):
            return False
        return holds(self._disk, self._out / name, self._known[name])

    def _is_to_be_made(self, folder: str) -> bool:
        """Whether a folder is missing, or will be once a stale file of ours has made room."""
        found = self._disk.look(self._out / folder)
        if found is not None and not is_folder(found) and not self._makes_room(folder, found):
            self._strangers.append(folder)
        return not is_folder(found)

    def _strangers_in(self, folder: str) -> Iterator[str]:
        """What keeps a folder from going once our stale files in it have gone."""
        names = self._disk.names(self._out / folder)
        if not names:
            yield folder
        for name in names:
            path = f"{folder}/{name}"
            found = self._disk.look(self._out / path)
            if is_folder(found):
                yield from self._strangers_in(path)
            elif found is not None and not self._makes_room(path, found):
                yield path

    def _drops(self, stale: Mapping[str, Imprint], folders: Iterable[str]) -> tuple[list[Step], list[Step]]:
        """Stale files that are still ours: those that stand in our way, and the others."""
        first: list[Step] = []
        last: list[Step] = []
        taken = self._folded.keys() | {folder.casefold() for folder in folders}
        linked = {folder for folder in _folders_of(stale) if not is_folder(self._disk.look(self._out / folder))}
        for path, imprint in stale.items():
            above = _folders_of([path])
            if linked.isdisjoint(above) and holds(self._disk, self._out / path, imprint):
                blocking = path.casefold() in taken or any(folder.casefold() in self._folded for folder in above)
                number = len(self._puts) + len(first) + len(last)
                (first if blocking else last).append(Step(number, path, imprint, None))
        return first, last


def _folders_of(paths: Iterable[str]) -> list[str]:
    """All folders above these paths, upper ones first."""
    folders: set[str] = set()
    for path in paths:
        folder = path.rpartition("/")[0]
        while folder and folder not in folders:
            folders.add(folder)
            folder = folder.rpartition("/")[0]
    return sorted(folders, key=lambda folder: (folder.count("/"), folder))

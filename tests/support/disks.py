"""Disks for tests of publishing: quick ones, and such as die, lose power, fill up, or have no links or capitals."""

import errno
import os
import shutil
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple

from bookmaker.workshop.publishing.disk import Disk
from bookmaker.workshop.publishing.publisher import Published, Publisher

_START_NS = 1_700_000_000 * 1_000_000_000
_moments = count(1)


@contextmanager
def memory() -> Iterator[Path]:
    """A folder in memory where the system has such: thousands of small files come and go in these tests."""
    shared = Path("/dev/shm")
    with TemporaryDirectory(dir=shared if os.access(shared, os.W_OK) else None) as folder:
        yield Path(folder)


def date(path: Path) -> None:
    """Give a file the next moment of a clock on which no two files have the same."""
    moment = _START_NS + next(_moments) * 1_000_000
    os.utime(path, ns=(moment, moment))


def put(path: Path, content: bytes) -> None:
    """Write a file as somebody else would."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.unlink(missing_ok=True)
    path.write_bytes(content)
    date(path)


def files_in(out: Path) -> dict[str, bytes]:
    """All files by path but our own, in `.publish` and `.cache`."""
    found = {path.relative_to(out).as_posix(): path for path in out.rglob("*") if path.is_file()}
    return {name: path.read_bytes() for name, path in found.items() if not name.startswith((".publish/", ".cache/"))}


def publish(
    out: Path,
    edition: str,
    files: Mapping[str, bytes],
    *,
    disk: Disk | None = None,
    stamp: Mapping[str, Any] | None = None,
    rewrite: bool = False,
) -> Published:
    """Publish as a build does that finds all others done or dead."""
    with Publisher(out, disk=disk if disk is not None else QuickDisk(), patience=0) as publisher:
        return publisher.publish(edition, files.items(), stamp=stamp, rewrite=rewrite)


def recover(out: Path, disk: Disk | None = None) -> None:
    """Come after somebody who was stopped, and publish nothing."""
    with Publisher(out, disk=disk if disk is not None else QuickDisk(), patience=0):
        pass


class Change(NamedTuple):
    """An operation that changes the disk. To be stopped before another is to be stopped before the next of these."""

    operation: str
    path: Path
    target: Path | None = None
    content: bytes = b""

    def do_half(self) -> None:
        """Be stopped in the midst of it: only writing takes its time."""
        if self.operation == "write":
            self.path.write_bytes(self.content[: len(self.content) // 2])


class QuickDisk(Disk):
    """A disk that never waits, and dates its files by that clock. `meddle` sees every change before it is made."""

    def __init__(self, meddle: Callable[[Change], None] = lambda _: None) -> None:
        self._meddle = meddle
        self.slept: list[float] = []
        self.done: list[str] = []

    def before(self, change: Change) -> None:
        """Something is about to change."""
        self.done.append(change.operation)
        self._meddle(change)

    def write(self, path: Path, content: bytes) -> None:
        self.before(Change("write", path, content=content))
        super().write(path, content)
        date(path)

    def flush(self, path: Path) -> None:
        assert path.is_file()
        self.before(Change("flush", path))

    def flush_folder(self, folder: Path) -> None:
        assert folder.is_dir()
        self.before(Change("flush_folder", folder))

    def keep(self, path: Path, copy: Path) -> None:
        self.before(Change("keep", path, copy))
        super().keep(path, copy)

    def replace(self, path: Path, target: Path) -> None:
        self.before(Change("replace", path, target))
        super().replace(path, target)

    def remove(self, path: Path) -> None:
        self.before(Change("remove", path))
        super().remove(path)

    def make_folder(self, folder: Path) -> None:
        self.before(Change("make_folder", folder))
        super().make_folder(folder)

    def drop_folder(self, folder: Path) -> None:
        self.before(Change("drop_folder", folder))
        super().drop_folder(folder)

    def sleep(self, seconds: float) -> None:
        self.slept.append(seconds)

    def each(self, operation: Callable[[Path], None], paths: Iterable[Path]) -> None:
        for path in paths:
            operation(path)


class NoLinks(QuickDisk):
    """A memory stick's file system, where a file has one name."""

    def keep(self, path: Path, copy: Path) -> None:
        self.before(Change("keep", path, copy))
        shutil.copy2(path, copy)


class Died(BaseException):
    """The process is dead: it can do no more, not even clear up."""


class Mortal(QuickDisk):
    """A disk whose process dies before the change numbered `at`, or halfway through it if that writes.

    `cut_power` then lets the machine die: what was written and not flushed is lost, though the names are there.
    """

    def __init__(self, at: int, meddle: Callable[[Change], None] = lambda _: None) -> None:
        super().__init__(meddle)
        self._left = at
        self._unflushed: set[int] = set()

    def before(self, change: Change) -> None:
        super().before(change)
        self._left -= 1
        if self._left == -1:
            change.do_half()
        if self._left < 0:
            raise Died

    def write(self, path: Path, content: bytes) -> None:
        super().write(path, content)
        self._unflushed.add(path.stat().st_ino)

    def flush(self, path: Path) -> None:
        super().flush(path)
        self._unflushed.discard(path.stat().st_ino)

    def cut_power(self, out: Path) -> None:
        """Let what was not flushed be lost."""
        for path in out.rglob("*"):
            if path.is_file() and path.stat().st_ino in self._unflushed:
                path.write_bytes(b"")


class Full(QuickDisk):
    """A disk on which there is no room left from the change numbered `at`."""

    def __init__(self, at: int) -> None:
        super().__init__()
        self._left = at

    def before(self, change: Change) -> None:
        super().before(change)
        self._left -= 1
        if self._left < 0 and change.operation in {"write", "keep", "make_folder"}:
            change.do_half()
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(change.target or change.path))


class Failing(QuickDisk):
    """A disk that fails once, at the change numbered `at`."""

    def __init__(self, at: int, error: int) -> None:
        super().__init__()
        self._left, self._error = at, error

    def before(self, change: Change) -> None:
        super().before(change)
        self._left -= 1
        if self._left == -1:
            raise OSError(self._error, os.strerror(self._error), str(change.path))


class Viewer(QuickDisk):
    """A disk where a viewer has a file open for so many tries: it can be neither replaced nor moved."""

    def __init__(self, path: Path, tries: float) -> None:
        super().__init__()
        self._path, self._tries = path, tries

    def before(self, change: Change) -> None:
        super().before(change)
        if change.operation == "replace" and self._path in {change.path, change.target} and self._tries > 0:
            self._tries -= 1
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(change.path))


class NoCapitals(Mortal):
    """A disk that takes names which differ in capitals only for the same."""

    def __init__(self, root: Path, at: int = sys.maxsize) -> None:
        super().__init__(at)
        self._root = root

    def look(self, path: Path) -> os.stat_result | None:
        return super().look(self._real(path))

    def names(self, folder: Path) -> list[str]:
        return super().names(self._real(folder))

    def read(self, path: Path) -> bytes:
        return super().read(self._real(path))

    def write(self, path: Path, content: bytes) -> None:
        super().write(self._real(path), content)

    def flush(self, path: Path) -> None:
        super().flush(self._real(path))

    def flush_folder(self, folder: Path) -> None:
        super().flush_folder(self._real(folder))

    def keep(self, path: Path, copy: Path) -> None:
        super().keep(self._real(path), self._real(copy))

    def replace(self, path: Path, target: Path) -> None:
        super().replace(self._real(path), self._real(target))

    def remove(self, path: Path) -> None:
        super().remove(self._real(path))

    def make_folder(self, folder: Path) -> None:
        super().make_folder(self._real(folder))

    def drop_folder(self, folder: Path) -> None:
        super().drop_folder(self._real(folder))

    def _real(self, path: Path) -> Path:
        return self._root / str(path.relative_to(self._root)).casefold()

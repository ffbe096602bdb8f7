"""What publishing does to a disk, one method per operation, so that a test can stop it at any of them."""

import os
import shutil
import time
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path

AT_ONCE = 32
"""Flushes and removals under way at a time. Each waits for the disk, which serves many in hardly more time than one."""


class Disk:
    """The file system. All methods raise `OSError` as it comes, unless they say otherwise."""

    def look(self, path: Path) -> os.stat_result | None:
        """What stands there, or None; a link is not followed."""
        try:
            return path.lstat()
        except (FileNotFoundError, NotADirectoryError):
            return None

    def names(self, folder: Path) -> list[str]:
        """What a folder holds; nothing if there is no such folder."""
        try:
            return sorted(entry.name for entry in folder.iterdir())
        except (FileNotFoundError, NotADirectoryError):
            return []

    def read(self, path: Path) -> bytes:
        """A file's content."""
        return path.read_bytes()

    def write(self, path: Path, content: bytes) -> None:
        """Write a file of our own, which nobody reads yet."""
        path.write_bytes(content)

    def flush(self, path: Path) -> None:
        """Wait until a file's content would survive a power cut."""
        _flush(path, os.O_RDWR | getattr(os, "O_BINARY", 0))

    def flush_folder(self, folder: Path) -> None:
        """The same for the names in a folder, where the system has a way to do it."""
        if os.name != "nt":
            with suppress(OSError):  # some network file systems cannot
                _flush(folder, os.O_RDONLY)

    def keep(self, path: Path, copy: Path) -> None:
        """Let `copy` hold what `path` holds now, with its times, by a second name for it where the disk has those."""
        if self.look(copy) is not None:
            copy.unlink()
        try:
            copy.hardlink_to(path)
        except OSError:
            shutil.copy2(path, copy)
            self.flush(copy)

    def replace(self, path: Path, target: Path) -> None:
        """Give a file another name at once, in the place of whatever file has that name."""
        path.replace(target)

    def remove(self, path: Path) -> None:
        """Remove a file."""
        path.unlink()

    def make_folder(self, folder: Path) -> None:
        """Make a folder and those above it, as far as they are not there."""
        folder.mkdir(parents=True, exist_ok=True)

    def drop_folder(self, folder: Path) -> None:
        """Remove a folder that is empty."""
        folder.rmdir()

    def sleep(self, seconds: float) -> None:
        """Wait."""
        time.sleep(seconds)

    def each(self, operation: Callable[[Path], None], paths: Iterable[Path]) -> None:
        """Do one operation to many paths, in any order. The first error is raised when all are through."""
        todo = list(paths)
        if len(todo) < 2:
            for path in todo:
                operation(path)
            return
        with ThreadPoolExecutor(min(AT_ONCE, len(todo))) as pool:
            under_way = [pool.submit(operation, path) for path in todo]
        for done in under_way:
            done.result()


def _flush(path: Path, flags: int) -> None:
    handle = os.open(path, flags)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)

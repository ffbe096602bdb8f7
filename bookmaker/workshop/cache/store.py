"""The store: what builds keep for the next one, by key, in one file that may be deleted at any time.

It is never trusted. Each entry carries its own check; what is missing, damaged, or written by another version of the
tool or of its libraries is as good as never kept. There is one writer at a time, the one who publishes.
"""

import os
import sqlite3
import time
from collections.abc import Callable, Iterable
from contextlib import closing, suppress
from hashlib import blake2b
from pathlib import Path

CACHE_FOLDER = ".cache"
"""Ours within the output folder."""

FILE = "kept.sqlite"

DAYS_KEPT = 30
"""An entry that no build has used for so many days is dropped."""

UNREADABLE = (sqlite3.Error, UnicodeError)
"""What a damaged file leads to: the database finds that it is none, or holds a text that is none."""

_SCHEMA = """
CREATE TABLE kept (key TEXT PRIMARY KEY, day INTEGER NOT NULL, mark BLOB NOT NULL, content BLOB NOT NULL);
CREATE TABLE made_by (stamp TEXT NOT NULL, day INTEGER NOT NULL);
"""


class Store:
    """Entries as they were at the last save, and what has been put since.

    `stamp` stands for the tool that makes the entries: those of another one are forgotten. With `fresh` nothing is
    recalled, and the next save starts anew. `today` is a number of days.
    """

    def __init__(self, folder: Path, stamp: str, *, fresh: bool = False, today: int | None = None) -> None:
        self._path = folder / CACHE_FOLDER / FILE
        self._stamp = stamp
        self._today = int(time.time() // 86400) if today is None else today
        self._new: dict[str, bytes] = {}
        self._used: set[str] = set()
        self._dropped: set[str] = set()
        self._owner = os.getpid()
        self._inherited: sqlite3.Connection | None = None
        self._kept = None if fresh else self._opened()

    def get(self, key: str) -> bytes | None:
        """What is kept under `key`; None if there is nothing that can be relied on."""
        found = self._new.get(key)
        if found is not None or self._kept is None:
            return found
        if self._owner != os.getpid():
            # a copy of the process that opened the file must not read it through what that one has opened
            self._owner, self._inherited, self._kept = os.getpid(), self._kept, self._opened()
            return self.get(key)
        try:
            row = self._kept.execute("SELECT mark, content FROM kept WHERE key = ?", (key,)).fetchone()
        except UNREADABLE:
            self.close()
            return None
        if row is None or not isinstance(row[1], bytes) or row[0] != _mark(key, row[1]):
            return None
        self._used.add(key)
        content: bytes = row[1]
        return content

    def put(self, key: str, content: bytes) -> None:
        """Keep `content` under `key`, from the next save on in the file."""
        self._new[key] = content
        self._dropped.discard(key)

    def drop(self, key: str) -> None:
        """Let go of what nobody will ask for again, at the next save."""
        self._dropped.add(key)

    def save(self, live: Callable[[], Iterable[str]]) -> None:
        """Write what has been put. `live` are the keys that the next build may ask for without having used them now.

        A file that cannot be written stays as it is, or goes: the next build does without.
        """
        if not self._new:
            return
        try:
            self._path.parent.mkdir(parents=True, exist_ok=True)
            self._write(live)
        except OSError:
            return
        except UNREADABLE:
            with suppress(OSError):
                self._path.unlink()

    def close(self) -> None:
        """Let go of the file."""
        if self._kept is not None:
            self._kept.close()
            self._kept = None

    def _opened(self) -> sqlite3.Connection | None:
        if not _is_ours(self._path):
            return None
        try:
            found = _connect(self._path)
        except UNREADABLE:
            return None
        try:
            row = found.execute("SELECT stamp FROM made_by").fetchone()
        except UNREADABLE:
            row = None
        if row is None or row[0] != self._stamp:
            found.close()
            return None
        return found

    def _write(self, live: Callable[[], Iterable[str]]) -> None:
        begin = self._kept is None
        self.close()
        if begin:
            _begin(self._path)
        rows = [(key, self._today, _mark(key, content), content) for key, content in self._new.items()]
        with closing(_connect(self._path)) as file:
            # a cut in the middle costs the file, not a wrong entry: then the next build starts anew
            file.execute("PRAGMA synchronous = OFF")
            if begin:
                file.executescript(_SCHEMA)
                file.execute("INSERT INTO made_by VALUES (?, ?)", (self._stamp, self._today))
            file.execute("BEGIN IMMEDIATE")
            file.executemany("INSERT OR REPLACE INTO kept VALUES (?, ?, ?, ?)", rows)
            file.executemany("DELETE FROM kept WHERE key = ?", ((key,) for key in self._dropped))
            if file.execute("SELECT day FROM made_by").fetchone() != (self._today,):
                self._once_a_day(file, live())
            file.execute("COMMIT")
        self._new.clear()
        self._dropped.clear()
        self._kept = self._opened()

    def _once_a_day(self, file: sqlite3.Connection, live: Iterable[str]) -> None:
        """Note what is in use, and drop what has not been for long."""
        used = {*self._used, *live}
        file.executemany("UPDATE kept SET day = ? WHERE key = ?", ((self._today, key) for key in used))
        file.execute("DELETE FROM kept WHERE day < ?", (self._today - DAYS_KEPT,))
        file.execute("UPDATE made_by SET day = ?", (self._today,))


def _begin(path: Path) -> None:
    """An empty file that nobody else may write to, in the place of whatever is there."""
    with suppress(FileNotFoundError):
        path.unlink()
    os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))


def _is_ours(path: Path) -> bool:
    """Whether there is a file that nobody but us can have written: compiled templates are kept in it."""
    try:
        found = path.lstat()
    except OSError:
        return False
    if hasattr(os, "getuid") and (found.st_uid != os.getuid() or found.st_mode & 0o022):
        return False
    return path.is_file() and not path.is_symlink()


def _connect(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(path, timeout=1, isolation_level=None)


def _mark(key: str, content: bytes) -> bytes:
    return blake2b(content, digest_size=8, key=blake2b(key.encode("utf-8", "surrogatepass")).digest()).digest()

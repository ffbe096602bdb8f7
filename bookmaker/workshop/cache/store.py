"""The store: what builds keep for the next one, by key, in one file that may be deleted at any time.

It is never trusted. Each entry carries its own check; what is missing, damaged, or written by another version of the
tool or of its libraries is as good as never kept. There is one writer at a time, the one who publishes.
"""

import sqlite3
from collections.abc import Collection
from contextlib import closing, suppress
from hashlib import blake2b
from pathlib import Path

CACHE_FOLDER = ".cache"
"""Ours within the output folder."""

FILE = "kept.sqlite"

ROUNDS_KEPT = 20
"""An entry that no build uses any more is dropped after so many others."""

_SCHEMA = """
CREATE TABLE kept (key TEXT PRIMARY KEY, round INTEGER NOT NULL, mark BLOB NOT NULL, content BLOB NOT NULL);
CREATE TABLE made_by (stamp TEXT NOT NULL, round INTEGER NOT NULL);
"""


class Store:
    """Entries as they were at the last save, and what has been put since.

    `stamp` stands for the tool that makes the entries: those of another one are forgotten. With `fresh` nothing is
    recalled, and the next save starts anew.
    """

    def __init__(self, folder: Path, stamp: str, *, fresh: bool = False) -> None:
        self._path = folder / CACHE_FOLDER / FILE
        self._stamp = stamp
        self._new: dict[str, bytes] = {}
        self._round = 0
        self._kept = None if fresh else self._opened()

    def get(self, key: str) -> bytes | None:
        """What is kept under `key`; None if there is nothing that can be relied on."""
        found = self._new.get(key)
        if found is not None or self._kept is None:
            return found
        try:
            row = self._kept.execute("SELECT mark, content FROM kept WHERE key = ?", (key,)).fetchone()
        except sqlite3.DatabaseError:
            self._forget()
            return None
        if row is None or not isinstance(row[1], bytes) or row[0] != _mark(key, row[1]):
            return None
        content: bytes = row[1]
        return content

    def put(self, key: str, content: bytes) -> None:
        """Keep `content` under `key`, from the next save on in the file."""
        self._new[key] = content

    def save(self, live: Collection[str]) -> None:
        """Write what has been put. `live` are the keys that the next build may ask for.

        A file that cannot be written stays as it is, or goes: the next build does without.
        """
        if not self._new:
            return
        if self._kept is None:
            with suppress(OSError):
                self._path.unlink()
        with suppress(OSError, sqlite3.Error):
            self._path.parent.mkdir(parents=True, exist_ok=True)
            self._write(live)

    def close(self) -> None:
        """Let go of the file."""
        if self._kept is not None:
            self._kept.close()
            self._kept = None

    def _opened(self) -> sqlite3.Connection | None:
        if not self._path.is_file():
            return None
        try:
            found = _connect(self._path)
        except sqlite3.Error:
            return None
        try:
            row = found.execute("SELECT stamp, round FROM made_by").fetchone()
        except sqlite3.DatabaseError:
            row = None
        if row is None or row[0] != self._stamp or not isinstance(row[1], int):
            found.close()
            return None
        self._round = row[1]
        return found

    def _forget(self) -> None:
        self.close()
        self._round = 0

    def _write(self, live: Collection[str]) -> None:
        begin = self._kept is None
        self.close()
        rows = [(key, self._round + 1, _mark(key, content), content) for key, content in self._new.items()]
        with closing(_connect(self._path)) as file:
            # a cut in the middle costs the file, not a wrong entry: then the next build starts anew
            file.execute("PRAGMA synchronous = OFF")
            if begin:
                file.executescript(_SCHEMA)
                file.execute("INSERT INTO made_by VALUES (?, 0)", (self._stamp,))
            file.execute("BEGIN IMMEDIATE")
            file.execute("UPDATE made_by SET round = ?", (self._round + 1,))
            file.executemany("INSERT OR REPLACE INTO kept VALUES (?, ?, ?, ?)", rows)
            if (self._round + 1) % ROUNDS_KEPT == 0:
                self._drop_unused(file, live)
            file.execute("COMMIT")
        self._new.clear()
        self._kept = self._opened()

    def _drop_unused(self, file: sqlite3.Connection, live: Collection[str]) -> None:
        file.execute("CREATE TEMP TABLE live (key TEXT PRIMARY KEY)")
        file.executemany("INSERT OR IGNORE INTO live VALUES (?)", ((key,) for key in live))
        file.execute(
            "DELETE FROM kept WHERE round <= ? AND key NOT IN (SELECT key FROM live)", (self._round + 1 - ROUNDS_KEPT,)
        )


def _connect(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(path, timeout=1, isolation_level=None)


def _mark(key: str, content: bytes) -> bytes:
    return blake2b(content, digest_size=8, key=blake2b(key.encode("utf-8", "surrogatepass")).digest()).digest()

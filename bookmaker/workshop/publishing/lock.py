"""One writer at a time: a lock on a file, which the operating system lets go of when its holder dies."""

import os
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from threading import Lock as Mutex

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

AGAIN = 0.1
"""Seconds between two tries."""

_mutex = Mutex()
_taken: set[tuple[int, Path]] = set()
# The system's lock is a process's, not a thread's. With the process's number, because a fork copies this set and not
# the lock.


class Lock:
    """A lock by a file of its own. The file may stay; it means nothing."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._handle: int | None = None
        self._key = (0, path)

    @property
    def held(self) -> bool:
        """Whether it is ours."""
        return self._handle is not None

    def take(self, patience: float, on_wait: Callable[[], None]) -> bool:
        """Take the lock, after at most `patience` seconds; False if somebody else still has it then.

        `on_wait` is called once if it is not to be had at once. Raises `OSError` where the file cannot be made or the
        file system knows no locks.
        """
        end = time.monotonic() + patience
        waiting = False
        while not self._try():
            if not waiting:
                on_wait()
                waiting = True
            if time.monotonic() >= end:
                return False
            time.sleep(AGAIN)
        return True

    def release(self, *, remove: bool = False) -> None:
        """Let go, if it is ours; with `remove` the file goes, too, where the system lets it."""
        if self._handle is not None:
            if remove:
                with suppress(OSError):  # one that is open stays where the system wants it so
                    self._path.unlink()
            os.close(self._handle)
            self._handle = None
            with _mutex:
                _taken.discard(self._key)

    def _try(self) -> bool:
        key = (os.getpid(), self._path.resolve())
        with _mutex:
            if key in _taken:
                return False
            handle = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o666)
            locked = False
            try:
                locked = _lock(handle) and self._is_in_place(handle)
            finally:
                if not locked:
                    os.close(handle)
            if locked:
                _taken.add(key)
                self._handle, self._key = handle, key
            return locked

    def _is_in_place(self, handle: int) -> bool:
        """Whether the file that is locked still stands there: its last holder may have removed it."""
        try:
            return os.path.samestat(os.fstat(handle), self._path.stat())
        except FileNotFoundError:
            return False


def _lock(handle: int) -> bool:
    try:
        if sys.platform == "win32":
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.lockf(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):  # as the systems say that somebody else has it
        return False
    return True

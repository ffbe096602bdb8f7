"""Noticing that something changed. The one door to watchdog.

An event says only *that* something moved, never what: a burst of edits, a rename or a branch switch is followed by one
fresh look at the whole book, so that no order or loss of events can leave a page stale.
"""

import threading
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer

QUIET = 0.12
"""Seconds without an event before a burst counts as over."""

LONGEST = 1.5
"""Seconds after which a burst that does not end is looked at all the same."""

_READING_ONLY = frozenset({"opened", "closed_no_write"})


class Changes:
    """Events since the last look, and the wait for a burst to end."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._moved = threading.Condition()
        self._first: float | None = None
        self._last = 0.0
        self._closed = False

    def note(self) -> None:
        """Something moved."""
        with self._moved:
            self._last = self._clock()
            self._first = self._last if self._first is None else self._first
            self._moved.notify_all()

    def close(self) -> None:
        """No more waiting."""
        with self._moved:
            self._closed = True
            self._moved.notify_all()

    def wait(self) -> bool:
        """Wait for a burst of changes and for its end; False when closed."""
        with self._moved:
            self._moved.wait_for(lambda: self._first is not None or self._closed)
            while not self._closed and self._first is not None:
                now = self._clock()
                rest = min(self._last + QUIET, self._first + LONGEST) - now
                if rest <= 0:
                    break
                self._moved.wait(rest)
            self._first = None
            return not self._closed


class _Handler(FileSystemEventHandler):
    def __init__(self, changes: Changes, ignored: tuple[str, ...]) -> None:
        self._changes = changes
        self._ignored = ignored

    def on_any_event(self, event: FileSystemEvent) -> None:
        if event.event_type in _READING_ONLY:
            return
        paths = [str(path) for path in (event.src_path, event.dest_path) if path]
        if all(path.startswith(self._ignored) for path in paths):
            return
        self._changes.note()


@contextmanager
def watched(folders: Iterable[Path], ignored: Iterable[Path], changes: Changes) -> Iterator[None]:
    """While inside, `changes` hears of everything that moves below `folders` but not below `ignored`."""
    observer = Observer()
    handler = _Handler(changes, tuple(str(path.resolve()) for path in ignored))
    for folder in folders:
        observer.schedule(handler, str(folder.resolve()), recursive=True)
    observer.start()
    try:
        yield
    finally:
        observer.stop()
        observer.join()

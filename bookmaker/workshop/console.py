"""The terminal: progress for people, quiet in a pipe."""

import sys
from collections.abc import Callable
from time import monotonic
from typing import TextIO

_OFTEN = 0.1
"""Seconds between two changes of a line: more often nobody can read."""

_SOON = 1.0
"""Seconds before which no pace is worth telling."""


def say(text: str) -> None:
    """Print the answer to what was asked."""
    print(text)


def complain(text: str) -> None:
    """Print what is wrong, where it does not mix with an answer."""
    print(text, file=sys.stderr)


class Progress:
    """One line on a terminal's error stream that says what is being done; nothing at all elsewhere.

    `clock` counts seconds.
    """

    def __init__(self, stream: TextIO | None = None, clock: Callable[[], float] = monotonic) -> None:
        self._stream = stream if stream is not None else sys.stderr
        self._live = self._stream.isatty()
        self._clock = clock
        self._width = 0
        self._words = ""
        self._begun = self._shown = 0.0

    def say(self, words: str, done: int | None = None, total: int | None = None) -> None:
        """Show what is being done now; with `done` of `total`, how long the rest will take at the pace so far."""
        if not self._live:
            return
        now = self._clock()
        if words != self._words:
            self._words, self._begun = words, now
        elif done != total and now - self._shown < _OFTEN:
            return
        self._shown = now
        line = words
        if done is not None:
            line += f" {done}" + (f" of {total}" if total else "") + self._left(now - self._begun, done, total)
        self._stream.write("\r" + line[:79].ljust(self._width))
        self._stream.flush()
        self._width = min(79, len(line))

    def clear(self) -> None:
        """Take the line away."""
        self._words = ""
        if self._live and self._width:
            self._stream.write("\r" + " " * self._width + "\r")
            self._stream.flush()
            self._width = 0

    def _left(self, elapsed: float, done: int, total: int | None) -> str:
        if not total or done < 2 or elapsed < _SOON:
            return ""
        seconds = round(elapsed / done * (total - done))
        return f", {seconds} s left" if seconds < 100 else f", {round(seconds / 60)} min left"

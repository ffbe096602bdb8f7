"""The terminal: progress for people, quiet in a pipe."""

import sys
from typing import TextIO


def say(text: str) -> None:
    """Print the answer to what was asked."""
    print(text)


def complain(text: str) -> None:
    """Print what is wrong, where it does not mix with an answer."""
    print(text, file=sys.stderr)


class Progress:
    """One line on a terminal's error stream that says what is being done; nothing at all elsewhere."""

    def __init__(self, stream: TextIO | None = None) -> None:
        self._stream = stream if stream is not None else sys.stderr
        self._live = self._stream.isatty()
        self._width = 0

    def say(self, words: str, done: int | None = None, total: int | None = None) -> None:
        """Show what is being done now."""
        if not self._live:
            return
        line = words if done is None else f"{words} {done}" + (f" of {total}" if total else "")
        self._stream.write("\r" + line[:79].ljust(self._width))
        self._stream.flush()
        self._width = min(79, len(line))

    def clear(self) -> None:
        """Take the line away."""
        if self._live and self._width:
            self._stream.write("\r" + " " * self._width + "\r")
            self._stream.flush()
            self._width = 0

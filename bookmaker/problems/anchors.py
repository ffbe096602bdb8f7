"""Where a thing stands in the book, without line numbers.

An anchor names a document and a path into it; the line and column are worked out only when a problem is printed, so an
edit above a line neither changes what was read from it nor makes a page stale.
"""

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass, field

Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Anchor:
    """`document` relative to the book, with `/`; `path` into its tree; `start`..`end` within that node's text.

    With `end` None all of the node is meant.
    """

    document: str
    path: Path = ()
    start: int = 0
    end: int | None = None

    def at(self, *more: str | int) -> "Anchor":
        """The anchor of a node below this one."""
        return Anchor(self.document, (*self.path, *more))

    def part(self, start: int, end: int | None) -> "Anchor":
        """The same node, narrowed to a part of its text."""
        return Anchor(self.document, self.path, start, end)


NOWHERE = Anchor("")
"""For values made in tests and defaults that nobody wrote."""


@dataclass(frozen=True, slots=True)
class Place:
    """A resolved anchor: 1-based line and column, the whole line's text, and how many characters to underline."""

    document: str
    line: int
    column: int
    text: str
    length: int


@dataclass(frozen=True, slots=True)
class SourceMap:
    """One document's text and where each path of its tree stands in it, as character offsets."""

    document: str
    text: str
    spans: Mapping[Path, tuple[int, int]]
    starts: tuple[int, ...] = field(default=())

    def place(self, anchor: Anchor) -> Place:
        """Resolve an anchor; a path that is not in the document falls back to the nearest node above it."""
        path = anchor.path
        while path and path not in self.spans:
            path = path[:-1]
        begin, finish = self.spans.get(path, (0, 0))
        whole = path == anchor.path
        start = begin + anchor.start if whole else begin
        end = begin + anchor.end if whole and anchor.end is not None else finish
        line_starts = self.starts or _line_starts(self.text)
        row = bisect_right(line_starts, start) - 1
        line_from = line_starts[row]
        line = self.text[line_from:].split("\n", 1)[0].rstrip("\r")
        length = max(1, min(end - start, len(line) - (start - line_from)))
        return Place(self.document, row + 1, start - line_from + 1, line, length)


def _line_starts(text: str) -> tuple[int, ...]:
    return (0, *(index + 1 for index, character in enumerate(text) if character == "\n"))

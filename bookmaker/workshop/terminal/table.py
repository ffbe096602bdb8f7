"""Plain text tables within a given width: numbers flush right, words wrapped, nothing cut off."""

import textwrap
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

WIDTH = 80
GAP = 2
NARROWEST = 12


@dataclass(frozen=True, slots=True)
class Column:
    """A column's heading, which side it is flush with, and whether its words may wrap when room is short."""

    head: str = ""
    right: bool = False
    wraps: bool = False


def width_of(text: str) -> int:
    """Terminal cells that `text` takes: wide characters two, combining marks none."""
    return sum(
        0 if unicodedata.combining(character) else 2 if unicodedata.east_asian_width(character) in "WF" else 1
        for character in text
    )


def table(columns: Sequence[Column], rows: Sequence[Sequence[str]], *, indent: int = 0, width: int = WIDTH) -> str:
    """Rows under their headings, two spaces between columns, a rule under the headings if there are any.

    A column with neither heading nor content is left out.
    """
    filled = [index for index, column in enumerate(columns) if column.head or any(row[index] for row in rows)]
    columns, rows = [columns[index] for index in filled], [[row[index] for index in filled] for row in rows]
    columnwise = zip(*([column.head for column in columns], *rows), strict=True)
    widths = [max(width_of(cell) for cell in cells) for cells in columnwise]
    over = indent + sum(widths) + GAP * (len(widths) - 1) - width
    for index, column in enumerate(columns):
        if column.wraps and over > 0:
            kept = max(NARROWEST, widths[index] - over)
            over -= widths[index] - kept
            widths[index] = kept
    margin = " " * indent
    out: list[str] = []
    if any(column.head for column in columns):
        out += _lines([column.head for column in columns], columns, widths, margin)
        out.append(margin + (" " * GAP).join("─" * cells for cells in widths))
    for row in rows:
        out += _lines(row, columns, widths, margin)
    return "\n".join(out)


def paragraph(text: str, *, indent: int = 0, hanging: int = 0, width: int = WIDTH) -> str:
    """Words wrapped to the width; `hanging` indents all lines but the first further."""
    return textwrap.fill(
        text,
        width,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + hanging),
        break_long_words=False,
        break_on_hyphens=False,
    )


def _lines(row: Sequence[str], columns: Sequence[Column], widths: Sequence[int], margin: str) -> Iterator[str]:
    cells = [
        textwrap.wrap(cell, room, break_long_words=False, break_on_hyphens=False) or [""] if column.wraps else [cell]
        for cell, column, room in zip(row, columns, widths, strict=True)
    ]
    for level in range(max(len(cell) for cell in cells)):
        parts = []
        for cell, column, room in zip(cells, columns, widths, strict=True):
            text = cell[level] if level < len(cell) else ""
            gap = " " * max(0, room - width_of(text))
            parts.append(gap + text if column.right else text + gap)
        yield (margin + (" " * GAP).join(parts)).rstrip()

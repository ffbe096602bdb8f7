"""Comma-separated values by RFC 4180, with the place of every field: what the standard library does not keep."""

from collections.abc import Iterator
from dataclasses import dataclass

from bookmaker.measures.numbers import Unreadable


@dataclass(frozen=True, slots=True)
class Field:
    """One field's text, without its quotation marks, and its span in the document."""

    text: str
    span: tuple[int, int]


def read_rows(text: str) -> Iterator[tuple[Field, ...]]:
    """The rows that hold anything, in order. Raises `Unreadable`, with offsets into `text`, at a faulty quote."""
    at = 0
    row: list[Field] = []
    while at < len(text):
        field, at = _field(text, at)
        row.append(field)
        if at < len(text) and text[at] == ",":
            at += 1
            if at < len(text):
                continue
            row.append(Field("", (at, at)))
        if len(row) > 1 or row[0].text:
            yield tuple(row)
        row = []
        at += 1


def _field(text: str, start: int) -> tuple[Field, int]:
    """The field at `start` and the offset of what ends it (a comma, a line end, or the end)."""
    begin = start
    while begin < len(text) and text[begin] in " \t":
        begin += 1
    if begin < len(text) and text[begin] == '"':
        return _quoted(text, begin)
    end = start
    while end < len(text) and text[end] not in ",\n":
        end += 1
    bare = text[start:end].strip()
    begin = begin if bare else start
    return Field(bare, (begin, begin + len(bare))), end


def _quoted(text: str, opening: int) -> tuple[Field, int]:
    at = opening + 1
    while True:
        closing = text.find('"', at)
        if closing < 0:
            line_end = text.find("\n", opening)
            end = len(text) if line_end < 0 else line_end
            raise Unreadable(
                "a quotation mark opens here and is never closed",
                start=opening,
                end=end,
                hint="close it, or leave both quotation marks out",
            )
        if text[closing : closing + 2] == '""':
            at = closing + 2
            continue
        break
    end = closing + 1
    while end < len(text) and text[end] in " \t":
        end += 1
    if end < len(text) and text[end] not in ",\n":
        raise Unreadable(
            "a comma should follow behind the closing quotation mark",
            start=end,
            end=end + 1,
            hint='a quotation mark inside quoted text is written twice: ""',
        )
    return Field(text[opening + 1 : closing].replace('""', '"').strip(), (opening + 1, closing)), end

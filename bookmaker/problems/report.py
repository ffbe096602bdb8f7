"""Problems as text for people and as values for machines: here an anchor becomes file, line and column."""

import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from bookmaker.problems.anchors import Anchor, Place, SourceMap
from bookmaker.problems.catalogue import Severity
from bookmaker.problems.problem import Problem

WIDTH = 80

_COLOURS = {Severity.ERROR: "\x1b[1;31m", Severity.WARNING: "\x1b[1;33m", Severity.NOTE: "\x1b[1;36m"}
_BOLD, _DIM, _PLAIN = "\x1b[1m", "\x1b[2m", "\x1b[0m"

Sources = Mapping[str, SourceMap]


def in_order(problems: Iterable[Problem], sources: Sources) -> list[Problem]:
    """Problems by file and position; several at one place keep their order. The same problem is not said twice."""
    once = dict.fromkeys(problems)

    def position(each: Problem) -> tuple[str, int, int]:
        place = locate(each.anchor, sources)
        return place.document, place.line, place.column

    return sorted(once, key=position)


def locate(anchor: Anchor, sources: Sources) -> Place:
    """The anchor's place; line 0 where the document could not be read at all."""
    source = sources.get(anchor.document)
    return source.place(anchor) if source else Place(anchor.document, 0, 0, "", 0)


def text_report(problems: Iterable[Problem], sources: Sources, *, colour: bool = False, width: int = WIDTH) -> str:
    """Every problem with its line and a caret, grouped by file and in the order of the file, and a closing count.

    Without problems an empty text. `width` is what the sentences are wrapped to; the cook's own lines are cut to it.
    """
    ordered = in_order(problems, sources)
    if not ordered:
        return ""
    paint = _Paint(colour)
    blocks = ["\n".join(_block(each, sources, paint, width)) for each in ordered]
    return "\n\n".join([*blocks, summary(ordered)]) + "\n"


def summary(problems: Sequence[Problem]) -> str:
    """`2 errors and 1 warning in 2 files.`"""
    counts = []
    for severity in Severity:
        number = sum(1 for each in problems if each.severity is severity)
        if number:
            counts.append(f"{number} {severity}{'s' if number > 1 else ''}")
    files = len({each.anchor.document for each in problems})
    said = " and ".join(filter(None, (", ".join(counts[:-1]), counts[-1]))) if counts else "no problems"
    return f"{said} in {files} file{'s' if files > 1 else ''}."


def json_report(problems: Iterable[Problem], sources: Sources) -> list[dict[str, Any]]:
    """One object for each problem, in the order of the text report.

    `line` and `column` count from 1, columns in characters; `end column` is just behind the last one meant. All three
    are null where the file could not be read.
    """
    return [
        {
            "code": each.code,
            "severity": str(each.severity),
            "stops publishing": each.stops,
            **_position(each.anchor, sources),
            "message": each.message,
            "fix": each.fix,
            "related": [{**_position(other.anchor, sources), "note": other.note} for other in each.related],
        }
        for each in in_order(problems, sources)
    ]


def _position(anchor: Anchor, sources: Sources) -> dict[str, Any]:
    place = locate(anchor, sources)
    if not place.line:
        return {"file": place.document, "line": None, "column": None, "end column": None}
    end = place.column + place.length
    return {"file": place.document, "line": place.line, "column": place.column, "end column": end}


class _Paint:
    """Colours, or none."""

    def __init__(self, colour: bool) -> None:
        self.colour = colour

    def __call__(self, text: str, code: str) -> str:
        return f"{code}{text}{_PLAIN}" if self.colour and text else text


def _block(each: Problem, sources: Sources, paint: _Paint, width: int) -> Iterator[str]:
    place = locate(each.anchor, sources)
    where = _where(place)
    label = f"{each.severity}[{each.code}]"
    first, *more = _wrapped(f"{where}: {label}: {each.message}", "", width)
    yield (
        paint(where, _BOLD) + paint(first[len(where) :], _COLOURS[each.severity]) if first.startswith(where) else first
    )
    yield from more
    if place.text.strip():
        yield from _excerpt(place, paint, _COLOURS[each.severity], width)
    if each.fix:
        yield from _wrapped(each.fix, "  " if each.fix.endswith("?") else "  fix: ", width)
    for other in each.related:
        yield from _wrapped(f"{_where(locate(other.anchor, sources))} ({other.note})", "  see: ", width)


def _where(place: Place) -> str:
    return f"{place.document}:{place.line}:{place.column}" if place.line else place.document


def _wrapped(text: str, lead: str, width: int) -> list[str]:
    """Lines of at most `width` columns, the later ones indented; words are never broken."""
    lines: list[str] = []
    line, begun = lead, False
    for word in text.split():
        if begun and columns(line) + 1 + columns(word) > width:
            lines.append(line)
            line, begun = "  " if not lead.strip() else " " * len(lead), False
        line += f" {word}" if begun else word
        begun = True
    return [*lines, line]


def _excerpt(place: Place, paint: _Paint, colour: str, width: int) -> Iterator[str]:
    """The line with its number, and carets below; a long line is cut around the place."""
    gutter = f"{place.line:>5} | "
    text = place.text.replace("\t", " ")
    begin, end = place.column - 1, place.column - 1 + place.length
    text, begin, end = _cut(text, begin, end, width - len(gutter))
    before, marked = columns(text[:begin]), max(1, columns(text[begin:end]))
    yield f"{paint(gutter, _DIM)}{text}"
    yield f"{paint(' ' * (len(gutter) - 2) + '| ', _DIM)}{' ' * before}{paint('^' * marked, colour)}"


def _cut(text: str, begin: int, end: int, room: int) -> tuple[str, int, int]:
    """The part of a line that fits into `room` columns, with the place in it, and where the place is now."""
    if columns(text) <= room:
        return text.rstrip(), begin, end
    start = 0
    while columns(text[start : min(end, begin + room // 2)]) > room - 2 and start < begin:
        start += 1
    lead = "…" if start else ""
    stop = len(text)
    while columns(lead + text[start:stop]) > room - (stop < len(text)):
        stop -= 1
    shown = lead + text[start:stop] + ("…" if stop < len(text) else "")
    shift = len(lead) - start
    return shown, begin + shift, min(end, stop) + shift


def columns(text: str) -> int:
    """How many columns a terminal needs for a text: wide characters take two, combining marks none."""
    return sum(_column_width(character) for character in text)


def _column_width(character: str) -> int:
    if unicodedata.combining(character) or unicodedata.category(character) in ("Cf", "Me", "Mn"):
        return 0
    return 2 if unicodedata.east_asian_width(character) in ("W", "F") else 1

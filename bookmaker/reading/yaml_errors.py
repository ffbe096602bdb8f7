"""What goes wrong before there is a tree: tabs, stray characters, and YAML's syntax errors in a cook's words."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import yaml

from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem, problem

_INDENT_TAB = re.compile(r"^ *(\t+)[ \t]*(?=[^\s#])", re.MULTILINE)
_IDLE_TAB = re.compile(r"^[ \t]*\t[ \t]*(?=#|$)", re.MULTILINE)
_CONTROL = re.compile(r"[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
_ALIAS = re.compile(r"(?:^|(?<=[\s\[{,:-]))[*&][^\s,\]}]+")
_SWALLOWED = re.compile(
    r"[\r\n][ \t]*(?P<line>(?:[-–—•*](?=[ \t\r\n]|$)|[\d½¼¾][\d./ ½¼¾]*(?:g|kg|mg|ml|cl|dl|l|%)(?=[ \t])[ \t]+[^\W\d_])"
    r"[^\r\n]*?)[ \t]*(?=[\r\n]|$)",
    re.IGNORECASE,
)
_BRACKETS = re.compile(r"[\[{\]}]")
_DASHES = re.compile(r"^[ ]*(?:[-?] +){30}", re.MULTILINE)
_DEEPEST_BRACKETS = 200

# What PyYAML (C or Python) says, and what a cook should hear; the first match counts
_SENTENCES: tuple[tuple[str, str, str], ...] = (
    (
        "mapping values are not allowed",
        "this line has a second colon, so its text cannot be told from a key",
        'put the text in quotation marks: "…: …"',
    ),
    (
        "could not find expected ':'",
        "this line has no colon, so it is neither a key nor part of the text above",
        "write it as `key: value`, or indent it under the key it belongs to",
    ),
    ("undefined alias", "a text cannot begin with *", "put the text in quotation marks"),
    ("scanning an alias", "a text cannot begin with *", "put the text in quotation marks"),
    ("scanning an anchor", "a text cannot begin with &", "put the text in quotation marks"),
    (
        "escape character",
        "a backslash inside double quotation marks means something special",
        "use single quotation marks around the text",
    ),
    (
        "hexdecimal",
        "a backslash inside double quotation marks means something special",
        "use single quotation marks around the text",
    ),
    (
        "quoted scalar",
        "a quotation mark opens here and is never closed",
        "close it, or leave both quotation marks out",
    ),
    (
        "cannot start any token",
        "a text cannot begin with {character}",
        "put the text in quotation marks",
    ),
    ("',' or ']'", "the list that opens with [ is not closed with ]", "close it with ], with commas between the parts"),
    (
        "',' or '}'",
        "the group that opens with { is not closed with }",
        "close it with }, with commas between the parts",
    ),
    ("block collection", "this line does not stand in line with the list above it", "indent it like its neighbours"),
    (
        "sequence entries are not allowed",
        "a list cannot begin here",
        "put each `- ` on a line of its own under the key",
    ),
    ("block mapping", "this line does not stand in line with the keys above it", "indent it like its neighbours"),
    ("single document", "a line of three dashes stands inside the text", "take the --- out"),
    ("document indicator", "a line of three dashes or dots stands inside a quoted text", "close the quotation mark"),
    ("scanning a tag", "a text cannot begin with !", "put the text in quotation marks"),
    ("tag handle", "a text cannot begin with !", "put the text in quotation marks"),
    ("directive", "a line cannot begin with %", "put the text in quotation marks"),
    ("block scalar", "behind | or > the text begins on the next line, indented", "move the text down, or quote it"),
)
_LEFT_OVER = ("this is left over behind what stands before it in the line", "put the whole text in quotation marks")
_FALLBACK = (
    "this line cannot be read",
    "compare its indentation, colons, quotation marks and brackets with its neighbours",
)


def without_idle_tabs(text: str) -> str:
    """The text with spaces for tabs on lines without content: the library minds them, and a cook cannot see them."""
    return _IDLE_TAB.sub(lambda found: " " * len(found[0]), text)


def before_reading(text: str, document: str, offset: int) -> list[Problem]:
    """What makes a text not worth parsing: tabs as indentation, control characters, brackets nested without end."""
    if control := _CONTROL.search(text):
        where = Anchor(document, (), offset + control.start(), offset + control.end())
        return [problem("control-character", where, number=f"U+{ord(control[0]):04X}")]
    if tab := _INDENT_TAB.search(text):
        where = Anchor(document, (), offset + tab.start(1), offset + tab.end(1))
        others = sum(1 for _ in _INDENT_TAB.finditer(text)) - 1
        more = f" (so do {others} other lines)" if others > 1 else " (so does one other line)" if others else ""
        return [problem("tab", where, more=more)]
    depth = 0
    for bracket in _BRACKETS.finditer(text):
        depth += 1 if bracket[0] in "[{" else -1
        if depth > _DEEPEST_BRACKETS:
            return [problem("yaml-nested", Anchor(document, (), offset + bracket.start(), offset + bracket.end()))]
    if dashes := _DASHES.search(text):
        return [problem("yaml-nested", Anchor(document, (), offset + dashes.start(), offset + dashes.end()))]
    return _aliases(text, document, offset)


@dataclass(frozen=True, slots=True)
class Swallowed:
    """A line of its own that YAML folds into the text above it, and its offsets in that text."""

    text: str
    start: int
    end: int


def swallowed(text: str) -> Iterator[Swallowed]:
    """Lines behind the first of an unquoted text that begin with a dash or a weight: they were meant to stand alone."""
    for line in _SWALLOWED.finditer(text):
        yield Swallowed(line["line"], line.start("line"), line.end("line"))


def syntax(error: yaml.MarkedYAMLError, text: str, document: str, offset: int) -> Problem:
    """PyYAML's complaint as a problem of ours, at the place that a cook should look at."""
    said = f"{error.context or ''} {error.problem or ''}"
    mark: Any = error.problem_mark or error.context_mark
    # an opening quotation mark or bracket is where the cook's slip is, not the end of the file where it shows
    opened = any(words in said for words in ("quoted scalar", "',' or")) and "escape" not in said
    if opened and error.context_mark:
        mark = error.context_mark
    start = min(mark.index, max(len(text) - 1, 0))
    if "could not find expected ':'" in said and error.context_mark:
        start = int(error.context_mark.index)
    why, fix = next(((why, fix) for words, why, fix in _SENTENCES if words in said), _FALLBACK)
    if "block mapping" in said and text[:start].rsplit("\n", 1)[-1].strip():
        why, fix = _LEFT_OVER
    end = start + 1
    if "could not find expected ':'" in said:
        end = start + len(text[start:].split("\n", 1)[0].rstrip())
    character = text[start : start + 1].strip() or "this character"
    where = Anchor(document, (), offset + start, offset + max(end, start + 1))
    return problem("yaml-syntax", where, fix=fix, why=why.replace("{character}", character))


def _aliases(text: str, document: str, offset: int) -> list[Problem]:
    """YAML's references (`&name`, `*name`) can blow a small file up; a book does without them."""
    if not _ALIAS.search(text):
        return []
    try:
        events: Any = yaml.parse(text, Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))
        for event in events:
            if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
                start = event.start_mark.index
                end = start + len(re.split(r"[\s,\]}]", text[start:], maxsplit=1)[0])
                return [problem("yaml-alias", Anchor(document, (), offset + start, offset + end), sign=text[start])]
    except yaml.MarkedYAMLError:
        return []  # said better as a syntax error
    return []

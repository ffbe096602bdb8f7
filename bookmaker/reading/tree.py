"""YAML text to a small frozen tree in which every scalar is text and every node knows where it stands.

This module is the one door to PyYAML. Its resolvers are left off, so that `no` stays `no` and `12:30` is no number of
seconds; what a scalar means is for the reader of that key to say. YAML's own finesses (anchors, tags, several
documents) are refused in a sentence, not explained.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from bookmaker.problems.anchors import Anchor, Path
from bookmaker.problems.problem import Problem, Related, problem
from bookmaker.reading import yaml_errors

Span = tuple[int, int]

KEY = "\N{BULLET}key"
"""Last step of a path that points at a mapping's key instead of at its value: `anchor.at("yields", KEY)`."""

DEEPEST = 20
"""How deep lists and mappings may stand in each other; no recipe comes near it, and deeper text is a trap."""


@dataclass(frozen=True, slots=True)
class Scalar:
    """A piece of text. `span` leaves the quotation marks out; `quoted` tells `""` from nothing at all."""

    text: str
    span: Span
    quoted: bool = False


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list, in order."""

    items: "tuple[Node, ...]"
    span: Span


@dataclass(frozen=True, slots=True)
class Entry:
    """One `key: value` of a mapping."""

    key: Scalar
    value: "Node"


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys and their values, in the order written; no key stands twice."""

    entries: tuple[Entry, ...]
    span: Span

    def get(self, key: str) -> "Node | None":
        """The value of `key`, or None."""
        return next((entry.value for entry in self.entries if entry.key.text == key), None)


Node = Scalar | Sequence | Mapping


@dataclass(frozen=True, slots=True)
class Tree:
    """One document's mapping. `spans` gives every node and key its place in the whole document, for a `SourceMap`.

    The span of the path `()` is the whole text from the document's first character on, so that an anchor with the empty
    path can point at any offset.
    """

    document: str
    root: Mapping
    spans: dict[Path, Span] = field(compare=False)


def key_of(anchor: Anchor) -> Anchor:
    """The key of a mapping's value, where the anchor is the value's."""
    return anchor.at(KEY)


def compose(text: str, document: str, offset: int = 0) -> tuple[Tree | None, list[Problem]]:
    """Read `text`, which begins at `offset` of its document; no tree where the text cannot be followed at all.

    Problems: `tab`, `control-character`, `yaml-syntax`, `yaml-alias`, `yaml-tag`, `yaml-key`, `yaml-nested`,
    `swallowed-line`, `duplicate-key`, `not-a-mapping`. Text without any content is an empty mapping.
    """
    if before := yaml_errors.before_reading(text, document, offset):
        return None, before
    text = yaml_errors.without_idle_tabs(text)
    try:
        node = yaml.compose(text, Loader=_LOADER)
    except yaml.MarkedYAMLError as error:
        return None, [yaml_errors.syntax(error, text, document, offset)]
    except RecursionError:
        return None, [problem("yaml-nested", Anchor(document, (), offset, offset + 1))]
    end = offset + len(text)
    if node is None:
        return Tree(document, Mapping((), (offset, end)), {(): (0, end)}), []
    builder = _Builder(document, offset, text)
    if not isinstance(node, yaml.MappingNode):
        anchor = Anchor(document, (), offset + node.start_mark.index, offset + _trimmed(node))
        found, fix = _INSTEAD[type(node)]
        return None, [problem("not-a-mapping", anchor, found=found, fix=fix)]
    root = builder.node(node, (), 0)
    builder.spans[()] = (0, end)
    assert isinstance(root, Mapping)
    return Tree(document, root, builder.spans), builder.problems


_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)

_INSTEAD: dict[type, tuple[str, str]] = {
    yaml.SequenceNode: ("a list", "leave the dash out and put a colon behind the name"),
    yaml.ScalarNode: ("plain text", "put a colon and a space behind the key"),
}
_PLAIN_TAGS = {"tag:yaml.org,2002:str", "tag:yaml.org,2002:seq", "tag:yaml.org,2002:map"}


class _Builder:
    """Turns PyYAML's nodes into ours and notes what it cannot accept."""

    def __init__(self, document: str, offset: int, text: str) -> None:
        self.document = document
        self.offset = offset
        self.text = text
        self.spans: dict[Path, Span] = {}
        self.problems: list[Problem] = []

    def node(self, node: Any, path: Path, depth: int) -> Node:
        span = self._span(node)
        self.spans[path] = span
        if node.tag not in _PLAIN_TAGS:
            self._report("yaml-tag", node, tag=str(node.tag).replace("tag:yaml.org,2002:", "!!"))
        if depth > DEEPEST:
            self._report("yaml-nested", node)
            return Scalar("", span)
        match node:
            case yaml.ScalarNode():
                if own := self._above_swallowed(node, span):
                    self.spans[path] = own.span
                    return own
                return Scalar(node.value, span, bool(node.style))
            case yaml.SequenceNode():
                items = (self.node(item, (*path, index), depth + 1) for index, item in enumerate(node.value))
                return Sequence(tuple(items), span)
            case _:
                return Mapping(tuple(self._entries(node, path, depth)), span)

    def _entries(self, node: Any, path: Path, depth: int) -> Iterator[Entry]:
        first: dict[str, Span] = {}
        for key, value in node.value:
            if not isinstance(key, yaml.ScalarNode) or not key.value:
                self._report("yaml-key", key)
                continue
            span = self._span(key)
            if key.value in first:
                begin, end = first[key.value]
                related = Related(Anchor(self.document, (), begin, end), "the first one")
                self._report("duplicate-key", key, related=(related,), key=key.value)
                continue
            first[key.value] = span
            self.spans[(*path, key.value, KEY)] = span
            yield Entry(Scalar(key.value, span, bool(key.style)), self.node(value, (*path, key.value), depth + 1))

    def _above_swallowed(self, node: Any, span: Span) -> Scalar | None:
        """What is left of an unquoted text above a line that YAML takes for more of it, as it is indented too far."""
        written = self.text[span[0] - self.offset : span[1] - self.offset]
        if node.style or "\n" not in written:
            return None
        lines = list(yaml_errors.swallowed(written))
        for line in lines:
            where = Anchor(self.document, (), span[0] + line.start, span[0] + line.end)
            self.problems.append(problem("swallowed-line", where, line=line.text))
        if not lines:
            return None
        own = written[: lines[0].start].rstrip()
        return Scalar(" ".join(own.split()), (span[0], span[0] + len(own)))

    def _report(self, code: str, node: Any, *, related: tuple[Related, ...] = (), **words: str) -> None:
        begin, end = self._span(node)
        anchor = Anchor(self.document, (), begin, max(end, begin + 1))
        self.problems.append(problem(code, anchor, related=related, **words))

    def _span(self, node: Any) -> Span:
        start, end = node.start_mark.index, node.end_mark.index
        if not isinstance(node, yaml.ScalarNode):
            end = _trimmed(node)
        elif node.style in ("'", '"'):
            start, end = start + 1, end - 1
        return self.offset + start, self.offset + max(start, end)


def _trimmed(node: Any) -> int:
    """Where a node ends, without the blank lines and comments that PyYAML counts to a block."""
    end: int = node.end_mark.index
    if isinstance(node, yaml.ScalarNode) or node.flow_style:
        return end
    last = node
    while isinstance(last, yaml.CollectionNode) and last.value and not last.flow_style:
        last = last.value[-1][1] if isinstance(last, yaml.MappingNode) else last.value[-1]
    return int(last.end_mark.index)

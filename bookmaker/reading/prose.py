"""Markdown to our small prose tree, with the place of every part. The one door to markdown-it-py.

The library keeps line numbers for blocks and nothing for what is inside them; rules of ours note where links and
pictures begin, cut a step's braces off before the words are read, and find `::: name` containers.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from posixpath import normpath
from typing import Any
from urllib.parse import unquote

from bookmaker.model.prose import (
    Block,
    Blocks,
    Code,
    Emphasis,
    Inline,
    LineBreak,
    ListBlock,
    OutsideLink,
    Paragraph,
    RecipeLink,
    Table,
    Text,
    plain_inline,
)
from bookmaker.model.refs import RecipeRef
from bookmaker.reading.markdown_rules import BRACES, BROKEN, CONTAINER, MISPLACED, STRAY, WHOLE, parser

Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Link:
    """A link within the book: the path it leads to (from the book's folder), as written, and its place."""

    path: str
    written: str
    span: Span


@dataclass(frozen=True, slots=True)
class Braces:
    """The text between a paragraph's closing braces; `runs` maps its offsets to the document's."""

    text: str
    runs: "tuple[tuple[int, int], ...]"
    span: Span

    def place(self, start: int, end: int) -> Span:
        """Where a part of the text stands in the document."""
        last = max(end - 1, start)
        return _at(self.runs, start), _at(self.runs, last) + (end - last)


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading that splits the method."""

    level: int
    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Passage:
    """A block of prose that is no step."""

    block: Block
    span: Span


@dataclass(frozen=True, slots=True)
class StepText:
    """An item of an ordered list."""

    content: tuple[Inline, ...]
    span: Span
    braces: tuple[Braces, ...] = ()


@dataclass(frozen=True, slots=True)
class Container:
    """`::: name` and what stands in it."""

    name: str
    content: Blocks
    span: Span
    closed: bool


@dataclass(frozen=True, slots=True)
class Complaint:
    """Something in the text that we do not set: a problem code, its place, and the words of the message."""

    code: str
    span: Span
    words: tuple[tuple[str, str], ...] = ()


Part = Heading | Passage | StepText | Container


@dataclass(frozen=True, slots=True)
class Body:
    """A Markdown text taken apart, in reading order."""

    parts: tuple[Part, ...]
    links: tuple[Link, ...]
    complaints: tuple[Complaint, ...]


def read_body(text: str, document: str, offset: int = 0) -> Body:
    """Take a Markdown text apart; it begins at `offset` of its document, whose folder relative links start from."""
    lines = [
        (match.start(), match[0]) for match in re.finditer(r"[^\r\n]*(?=\r\n|\r|\n|\Z)", text) if _begins(text, match)
    ]
    source = "\n".join(line for _, line in lines).replace("\0", "\ufffd")
    walker = _Walker(document, [(offset + start, line) for start, line in lines])
    parts = tuple(walker.parts(list(parser().parse(source))))
    return Body(parts, tuple(walker.links), tuple(walker.complaints))


def read_passages(text: str, document: str, offset: int = 0) -> Body:
    """A text without steps: ordered lists are lists."""
    body = read_body(text, document, offset)
    listed = tuple(
        Passage(ListBlock(((Paragraph(part.content),),), ordered=True), part.span)
        if isinstance(part, StepText)
        else part
        for part in body.parts
    )
    return replace(body, parts=listed)


def _begins(text: str, match: re.Match[str]) -> bool:
    """Whether a match starts a line (an empty match at the end of a line does not)."""
    start = match.start()
    return start == 0 or text[start - 1] == "\n" or (text[start - 1] == "\r" and text[start : start + 1] != "\n")


def _at(runs: tuple[tuple[int, int], ...], index: int) -> int:
    begin, place = runs[0]
    for run in runs:
        if run[0] > index:
            break
        begin, place = run
    return place + index - begin


class _Walker:
    """Walks markdown-it's flat list of tokens once."""

    def __init__(self, document: str, lines: list[tuple[int, str]]) -> None:
        self.folder = document.rpartition("/")[0]
        self.lines = lines
        self.links: list[Link] = []
        self.complaints: list[Complaint] = []

    def parts(self, tokens: list[Any]) -> Iterator[Part]:
        at = 0
        while at < len(tokens):
            token = tokens[at]
            end = _closing(tokens, at)
            inside = tokens[at + 1 : end]
            match token.type:
                case "heading_open":
                    yield Heading(int(token.tag[1]), self._heading(inside[0]), self._lines_of(inside[0]))
                case "ordered_list_open":
                    yield from self._steps(inside)
                case kind if kind == f"{CONTAINER}_open":
                    yield self._container(token, inside)
                case _:
                    block = self._block(token, inside)
                    if block:
                        yield Passage(block, self._lines_of(token))
            at = end + 1

    def _heading(self, inline: Any) -> str:
        return plain_inline(self._inline(inline)).strip()

    def _container(self, token: Any, inside: list[Any]) -> Container:
        span = self._trimmed(token.map[0], token.map[0])
        return Container(token.info, self._blocks(inside), span, bool(token.meta["closed"]))

    def _steps(self, tokens: list[Any]) -> Iterator[Part]:
        """The items of an ordered list, and the containers that stand in them."""
        at = 0
        while at < len(tokens):
            end = _closing(tokens, at)
            yield from self._step(tokens[at], tokens[at + 1 : end])
            at = end + 1

    def _step(self, item: Any, tokens: list[Any]) -> Iterator[Part]:
        content: list[Inline] = []
        braces: list[Braces] = []
        containers: list[Container] = []
        at = 0
        while at < len(tokens):
            token, end = tokens[at], _closing(tokens, at)
            match token.type:
                case "paragraph_open":
                    inline = tokens[at + 1]
                    words = self._inline(inline, braces)
                    content += [LineBreak(), *words] if content and words else words
                case kind if kind == f"{CONTAINER}_open":
                    containers.append(self._container(token, tokens[at + 1 : end]))
                case "bullet_list_open" | "ordered_list_open" | "table_open" | "heading_open":
                    self.complaints.append(Complaint("step-not-plain", self._lines_of(token)))
                case _:
                    self._block(token, tokens[at + 1 : end])
            at = end + 1
        yield StepText(tuple(content), self._lines_of(item), tuple(braces))
        yield from containers

    def _blocks(self, tokens: list[Any]) -> Blocks:
        found: list[Block] = []
        at = 0
        while at < len(tokens):
            end = _closing(tokens, at)
            if tokens[at].type == "heading_open":
                self.complaints.append(Complaint("heading-in-block", self._lines_of(tokens[at])))
            elif block := self._block(tokens[at], tokens[at + 1 : end]):
                found.append(block)
            at = end + 1
        return tuple(found)

    def _block(self, token: Any, inside: list[Any]) -> Block | None:
        match token.type:
            case "paragraph_open":
                content = self._inline(inside[0], None)
                return Paragraph(content) if content else None
            case "bullet_list_open" | "ordered_list_open":
                return ListBlock(tuple(self._items(inside)), ordered=token.type == "ordered_list_open")
            case "table_open":
                return self._table(inside)
            case kind if kind == STRAY:
                self.complaints.append(Complaint("stray-block-end", self._lines_of(token)))
            case "fence" | "code_block":
                self.complaints.append(Complaint("code-block", self._lines_of(token)))
            case "blockquote_open":
                self.complaints.append(Complaint("quotation", self._lines_of(token)))
            case "html_block" if not token.content.lstrip().startswith("<!--"):
                self.complaints.append(Complaint("raw-html", self._lines_of(token)))
        return None

    def _items(self, tokens: list[Any]) -> Iterator[tuple[Block, ...]]:
        at = 0
        while at < len(tokens):
            end = _closing(tokens, at)
            yield self._blocks(tokens[at + 1 : end])
            at = end + 1

    def _table(self, tokens: list[Any]) -> Table:
        rows: list[list[tuple[Inline, ...]]] = []
        for token in tokens:
            if token.type == "tr_open":
                rows.append([])
            elif token.type == "inline":
                rows[-1].append(self._inline(token))
        head, *body = (tuple(row) for row in rows)
        return Table(head, tuple(body))

    def _inline(self, token: Any, braces: list[Braces] | None = None) -> tuple[Inline, ...]:
        """An inline token's words. Braces cut off its end go into `braces`; without such a list they are misplaced."""
        runs = self._runs(token)
        cut = token.meta.get(BRACES)
        if cut:
            start, text = cut
            found = Braces(text, _behind(runs, start + 1), (_at(runs, start), _at(runs, start + len(text) + 1) + 1))
            if braces is None:
                self.complaints.append(Complaint("braces-without-step", found.span))
            else:
                braces.append(found)
        for begin, end in token.meta.get(MISPLACED, ()):
            self.complaints.append(Complaint("braces-misplaced", (_at(runs, begin), _at(runs, end - 1) + 1)))
        if broken := token.meta.get(BROKEN):
            self.complaints.append(Complaint("braces-broken", (_at(runs, broken[0]), _at(runs, broken[1] - 1) + 1)))
        words, _ = self._nodes(token.children or [], 0, runs)
        return _tidy(words)

    def _nodes(self, tokens: list[Any], at: int, runs: tuple[tuple[int, int], ...]) -> tuple[list[Inline], int]:
        found: list[Inline] = []
        while at < len(tokens):
            token = tokens[at]
            match token.type:
                case "text" | "text_special":
                    found.append(Text(token.content))
                case "softbreak":
                    found.append(Text(" "))
                case "hardbreak":
                    found.append(LineBreak())
                case "code_inline":
                    found.append(Code(token.content))
                case "em_open" | "strong_open":
                    inside, at = self._nodes(tokens, at + 1, runs)
                    found.append(Emphasis(tuple(inside), strong=token.type == "strong_open"))
                case "link_open":
                    inside, at = self._nodes(tokens, at + 1, runs)
                    found.append(self._link(token, tuple(inside), runs))
                case "image":
                    self.complaints.append(Complaint("picture-in-text", self._marked(token, runs)))
                case "html_inline" if not token.content.startswith("<!--"):
                    self.complaints.append(Complaint("raw-html", self._marked(token, runs)))
                case kind if kind.endswith("_close"):
                    return found, at
            at += 1
        return found, at

    def _link(self, token: Any, content: tuple[Inline, ...], runs: tuple[tuple[int, int], ...]) -> Inline:
        written = unquote(str(token.attrs["href"]))
        if re.match(r"[A-Za-z][A-Za-z0-9+.-]*:|//", written):
            return OutsideLink(str(token.attrs["href"]), content)
        bare = re.split(r"[?#]", written, maxsplit=1)[0].replace("\\", "/")
        rooted = bare.lstrip("/") if bare.startswith("/") or not self.folder else f"{self.folder}/{bare}"
        path = normpath(rooted) if bare else ""
        self.links.append(Link(path, written, self._marked(token, runs)))
        return RecipeLink(RecipeRef(path.removesuffix(".md")), content)

    def _marked(self, token: Any, runs: tuple[tuple[int, int], ...]) -> Span:
        start, end = token.meta["at"]
        return _at(runs, start), _at(runs, end - 1) + 1

    def _runs(self, token: Any) -> tuple[tuple[int, int], ...]:
        """For each line of an inline text: its offset in the text, and that of the same character in the document."""
        first = token.map[0] if token.map else 0
        runs = []
        begin = 0
        for index, line in enumerate(token.meta.get(WHOLE, token.content).split("\n")):
            row = min(first + index, len(self.lines) - 1)
            place, source = self.lines[row]
            bare = line.lstrip()
            # the library strips leading white space and expands tabs there; what follows stands in the source as it is
            ahead = len(line) - len(bare)
            column = source.rstrip().rfind(bare) if bare else len(source)
            runs.append((begin, place + max(column, 0) - ahead))
            begin += len(line) + 1
        return tuple(runs)

    def _lines_of(self, token: Any) -> Span:
        first, last = token.map
        return self._trimmed(first, max(first, last - 1))

    def _trimmed(self, first: int, last: int) -> Span:
        """From the first character of one line to the last of another, blank lines at the end left out."""
        while last > first and not self.lines[last][1].strip():
            last -= 1
        start, opening = self.lines[first]
        place, closing = self.lines[last]
        return start + len(opening) - len(opening.lstrip()), place + len(closing.rstrip())


def _behind(runs: tuple[tuple[int, int], ...], start: int) -> tuple[tuple[int, int], ...]:
    """The runs of the text that begins at `start`."""
    return ((0, _at(runs, start)), *((begin - start, place) for begin, place in runs if begin > start))


def _closing(tokens: list[Any], at: int) -> int:
    """The index of the token that closes the one at `at` (itself, when it stands alone)."""
    depth = 0
    for index in range(at, len(tokens)):
        depth += tokens[index].nesting
        if depth == 0:
            return index
    return len(tokens) - 1


def _tidy(words: list[Inline]) -> tuple[Inline, ...]:
    """Neighbouring texts joined, white space at both ends taken off."""
    joined: list[Inline] = []
    for word in words:
        if isinstance(word, Text) and joined and isinstance(joined[-1], Text):
            joined[-1] = Text(joined[-1].text + word.text)
        elif not (isinstance(word, Text) and not word.text):
            joined.append(word)
    if joined and isinstance(joined[0], Text):
        joined[0] = Text(joined[0].text.lstrip())
    if joined and isinstance(joined[-1], Text):
        joined[-1] = Text(joined[-1].text.rstrip())
    return tuple(word for word in joined if word != Text(""))

"""Our additions to the Markdown parser: containers, a step's braces, and where links and pictures stand."""

import re
from functools import cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.rules_block import StateBlock
from markdown_it.rules_core import StateCore
from markdown_it.rules_inline import StateInline

CONTAINER = "container"
STRAY = "container_stray"
BRACES = "braces"
MISPLACED = "braces_misplaced"
BROKEN = "braces_broken"
WHOLE = "whole"

_OPENING = re.compile(r":{3,}[ \t]*(?P<name>[^\s:].*?)[ \t]*:*")
_CLOSING = re.compile(r":{3,}")
_TRAILING = re.compile(r"(?<!\\)\{(\s*[^\W\d_][\w-]*\s*[=:][^{}]*)\}\s*$")
_STRAY = re.compile(r"(?<!\\)\{\s*[^\W\d_][\w-]*\s*=\s*[\"'“„][^{}]*\}")
_BROKEN = re.compile(r"(?<!\\)\{|(?<!\\)\}|(?<![\w-])[^\W\d_][\w-]*\s*=\s*[\"“„]")
_LITERAL = re.compile(r"`[^`]*`|<[^<>]*>|\]\([^()]*\)")


@cache
def parser() -> MarkdownIt:
    """CommonMark with tables and our rules, without indented code: a step's second line is easily indented too far."""
    markdown = MarkdownIt("commonmark").enable("table").disable("code")
    markdown.block.ruler.before(
        "fence", CONTAINER, _container, {"alt": ["paragraph", "reference", "blockquote", "list"]}
    )
    markdown.core.ruler.after("block", BRACES, _cut_braces)
    for name in ("link", "image", "autolink", "html_inline"):
        _note_place(markdown, name)
    return markdown


def _line(state: StateBlock, row: int) -> str:
    return state.src[state.bMarks[row] + state.tShift[row] : state.eMarks[row]].rstrip()


def _container(state: StateBlock, start_line: int, end_line: int, silent: bool) -> bool:
    """`::: name` to `:::`. An unclosed block ends where the next one opens, so that one slip spoils one block."""
    first = _line(state, start_line)
    if not first.startswith(":::"):
        return False
    opening = _OPENING.fullmatch(first)
    if opening is None and not _CLOSING.fullmatch(first):
        return False
    if silent:
        return True
    if opening is None:
        token = state.push(STRAY, "", 0)
        token.map = [start_line, start_line + 1]
        state.line = start_line + 1
        return True
    row, closed = start_line + 1, False
    while row < end_line:
        outside = state.sCount[row] < state.blkIndent and not state.isEmpty(row)
        text = _line(state, row)
        if outside or (
            text.startswith(":::") and (closed := bool(_CLOSING.fullmatch(text)) or not _OPENING.fullmatch(text))
        ):
            break
        if text.startswith(":::") and _OPENING.fullmatch(text):
            break
        row += 1
    _push_inside(state, start_line, row, opening["name"], closed=closed)
    return True


def _push_inside(state: StateBlock, first: int, end: int, name: str, *, closed: bool) -> None:
    parent, line_max = state.parentType, state.lineMax
    state.parentType = CONTAINER
    # lazy continuation lines must not reach past the end
    state.lineMax = end
    token = state.push(f"{CONTAINER}_open", "div", 1)
    token.info = name
    token.meta = {"closed": closed}
    token.map = [first, end]
    state.md.block.tokenize(state, first + 1, end)
    state.push(f"{CONTAINER}_close", "div", -1)
    state.parentType, state.lineMax = parent, line_max
    state.line = end + 1 if closed else end


def _cut_braces(state: StateCore) -> None:
    """Take `{key="value"}` off the end of every paragraph before its words are read; note braces that are not whole."""
    for token in state.tokens:
        if token.type != "inline" or not _BROKEN.search(token.content):
            continue
        token.meta[WHOLE] = token.content
        if found := _TRAILING.search(token.content):
            token.meta[BRACES] = (found.start(), found[1])
            token.content = token.content[: found.start()].rstrip()
        token.meta[MISPLACED] = [stray.span() for stray in _STRAY.finditer(token.content)]
        # blanked, so that what follows keeps its place
        token.content = _STRAY.sub(lambda stray: " " * len(stray[0]), token.content)
        bare = _LITERAL.sub(lambda literal: " " * len(literal[0]), token.content)
        if broken := _BROKEN.search(bare):
            end = bare.find("\n", broken.start())
            token.meta[BROKEN] = (broken.start(), len(bare[: end if end >= 0 else None].rstrip()))


def _note_place(markdown: MarkdownIt, name: str) -> None:
    """Let a rule of the library's note where in its text the thing stood that it found."""
    rules = markdown.inline.ruler
    original: Any = next(rule.fn for rule in rules.__rules__ if rule.name == name)

    def noting(state: StateInline, silent: bool) -> bool:
        start, before = state.pos, len(state.tokens)
        found = bool(original(state, silent))
        if found and not silent:
            token = next((each for each in state.tokens[before:] if each.type not in ("text", "text_special")), None)
            if token is not None:
                token.meta["at"] = (start, state.pos)
        return found

    rules.at(name, noting)

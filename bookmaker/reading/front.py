"""A recipe file's two halves: front matter between lines of three dashes, then the body."""

import re
from dataclasses import dataclass

from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem, problem

_FENCE = re.compile(r"---[ \t]*$", re.MULTILINE)
_KEY = re.compile(r"[a-z][a-z ]*:(?:\s|$)")


@dataclass(frozen=True, slots=True)
class Halves:
    """Where the front matter and the body stand, as offsets into the document."""

    front: tuple[int, int]
    body: int


def split(document: str, text: str) -> tuple[Halves | None, list[Problem]]:
    """Find the two halves. Problems: `empty-file`, `no-front-matter`, `front-matter-open`."""
    if not text.strip():
        return None, [
            problem("empty-file", Anchor(document), document=document, fix="write a recipe, or delete the file")
        ]
    begin = len(text) - len(text.lstrip())
    opening = _FENCE.match(text, begin)
    if opening is None:
        first = text[begin:].partition("\n")[0]
        fix = "write a line of three dashes above it" if _KEY.match(first) else ""
        anchor = Anchor(document, (), begin, begin + len(first.rstrip()))
        return None, [problem("no-front-matter", anchor, fix=fix)]
    closing = next((found for found in _FENCE.finditer(text, opening.end()) if _starts_line(text, found.start())), None)
    if closing is None:
        return None, [problem("front-matter-open", Anchor(document, (), opening.start(), opening.end()))]
    return Halves((opening.end(), closing.start()), min(closing.end() + 1, len(text))), []


def _starts_line(text: str, at: int) -> bool:
    return at == 0 or text[at - 1] == "\n"

"""Reading a settings text in a test: the value, and the problems as short lines."""

from collections.abc import Callable
from typing import TypeVar

from bookmaker.problems.anchors import SourceMap
from bookmaker.problems.problem import Problem
from bookmaker.reading.tree import Tree, compose

T = TypeVar("T")


def read_text(text: str, reader: Callable[[Tree], tuple[T, list[Problem]]]) -> tuple[T, list[str]]:
    """What `reader` makes of a YAML text, and each problem as `code: what it points at: advice`."""
    tree, faults = compose(text, "d.yaml")
    assert tree is not None
    assert faults == []
    value, problems = reader(tree)
    source = SourceMap("d.yaml", text, tree.spans)
    return value, [brief(each, source) for each in problems]


def brief(found: Problem, source: SourceMap) -> str:
    """A problem in one short line."""
    place = source.place(found.anchor)
    return f"{found.code}: {place.text[place.column - 1 :][: place.length]}: {found.fix}"

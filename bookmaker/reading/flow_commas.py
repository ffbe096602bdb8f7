"""Commas inside YAML's brackets end a line of the formula, which is rarely what a cook meant by them.

`[500 g flour, sifted]` makes `sifted` a line of its own; the advice that it lacks an amount would lead astray.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from bookmaker.problems.anchors import Path
from bookmaker.problems.problem import Problem


def said_better(problems: Iterable[Problem], text: str, spans: Mapping[Path, tuple[int, int]]) -> Iterator[Problem]:
    """The problems of one file, those that come of such a comma with the advice that mends it."""
    for found in problems:
        begin, end = spans.get(found.anchor.path, (0, 0))
        if found.code == "bad-line" and "does not begin with" in found.message and _behind_comma(text, begin):
            fix = f"if '{text[begin:end]}' belongs to the line before, put that line in quotation marks"
            yield replace(found, fix=fix)
        else:
            yield found


def _behind_comma(text: str, at: int) -> bool:
    return text[:at].rstrip()[-1:] == ","

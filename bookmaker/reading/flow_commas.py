"""Commas inside YAML's brackets and braces: they end a text, which is rarely what a cook meant by them.

`{line: 400 g butter, diced, stays: 60 %}` makes `diced` a key of its own, `[500 g flour, sifted]` a line of its own.
The problems that come of it are turned into the one that a cook can mend.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from bookmaker.problems.anchors import Path
from bookmaker.problems.problem import Problem, problem


def said_better(problems: Iterable[Problem], text: str, spans: Mapping[Path, tuple[int, int]]) -> Iterator[Problem]:
    """The problems of one file, those that come of such a comma in words that say so."""
    for found in problems:
        begin, end = spans.get(found.anchor.path, (0, 0))
        if found.code == "empty-value" and end and text[end:].lstrip()[:1] in (",", "}"):
            yield problem("comma-in-braces", found.anchor, part=text[begin:end])
        elif found.code == "bad-line" and end and "does not begin with" in found.message and _behind_comma(text, begin):
            fix = f"if '{text[begin:end]}' belongs to the line before, put that line in quotation marks"
            yield replace(found, fix=fix)
        else:
            yield found


def _behind_comma(text: str, at: int) -> bool:
    return text[:at].rstrip()[-1:] == ","

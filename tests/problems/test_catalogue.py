"""One table for every kind of problem: complete, in order, and used."""

import re
from pathlib import Path
from string import Formatter
from typing import Any

import pytest

import bookmaker.reading
from bookmaker.problems.anchors import NOWHERE
from bookmaker.problems.catalogue import CATALOGUE, Entry
from bookmaker.problems.problem import Problem, problem

PACKAGE = Path(bookmaker.reading.__file__).parents[1]


def _words(message: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(message) if name}


@pytest.mark.parametrize("code", CATALOGUE)
def test_codes_are_plain_words(code: str) -> None:
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", code)


@pytest.mark.parametrize(("code", "entry"), CATALOGUE.items())
def test_entries_are_sentences_that_a_report_can_set(code: str, entry: Entry) -> None:
    assert entry.title[0].isupper()
    assert not entry.title.endswith(".")
    assert not entry.message.endswith(".")
    words: dict[str, Any] = dict.fromkeys(_words(entry.message), "x")
    made = problem(code, NOWHERE, **words)
    assert isinstance(made, Problem)
    assert made.severity is entry.severity
    assert "{" not in made.message


def test_no_entry_is_left_over() -> None:
    """Every code is written somewhere in the package besides the table."""
    sources = [path.read_text(encoding="utf-8") for path in PACKAGE.rglob("*.py") if path.name != "catalogue.py"]
    unused = [code for code in CATALOGUE if not any(f'"{code}"' in source for source in sources)]
    assert unused == []


def test_advice_of_the_place_replaces_the_usual_one() -> None:
    assert problem("empty-file", NOWHERE, document="a").fix == CATALOGUE["empty-file"].fix
    assert problem("empty-file", NOWHERE, document="a", fix="write").fix == "write"

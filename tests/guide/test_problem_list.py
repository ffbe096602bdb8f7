"""The list of problems is current and holds every code."""

import re

from bookmaker.guide.problem_list import problem_list
from bookmaker.problems.catalogue import CATALOGUE
from tests.contract.modules import ROOT


def test_the_list_is_current() -> None:
    written = (ROOT / "bookmaker" / "guide" / "problems.md").read_text(encoding="utf-8")
    assert written == problem_list(), "run: python -m bookmaker.guide"


def test_every_code_stands_once() -> None:
    made = problem_list()
    assert [code for code in CATALOGUE if made.count(f"\n| `{code}` |") != 1] == []


def test_no_blank_is_left_as_code_has_it() -> None:
    assert not re.search(r"\{\w+\}", problem_list())

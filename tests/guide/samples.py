"""What the guide shows, put where the tool would read it."""

import re
import shutil
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from bookmaker.problems.problem import Problem
from bookmaker.reading.book import Reading, read_book
from tests.contract.modules import ROOT

USUAL = {"title": "title: Sample", "yields": "yields: 1 kg", "formula": "formula: [1 kg plain flour]"}


def recipe(front: str = "", body: str = "1. Mix.") -> str:
    """A recipe file with these lines in its front matter, and those that a recipe must have."""
    missing = [line for key, line in USUAL.items() if not re.search(rf"^{key}:", front, re.MULTILINE)]
    return "\n".join(["---", *missing, front.strip("\n"), "---", body, ""])


def demo_with(folder: Path, files: Mapping[str, str]) -> Reading:
    """The demo book with more files in it, read."""
    shutil.copytree(ROOT / "recipes", folder)
    return book_of(folder, files)


def book_of(folder: Path, files: Mapping[str, str]) -> Reading:
    """Files written into a book's folder, and the book read."""
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return read_book(folder)


def said_of(problems: Iterable[Problem], document: str) -> list[str]:
    """What is wrong in one document, in words."""
    return [f"{each.code}: {each.message}" for each in problems if each.anchor.document == document]


def blocks(text: str, *languages: str) -> Iterator[str]:
    """The insides of a Markdown text's fenced blocks in these languages."""
    for found in re.finditer(r"^```([a-z]*)\n(.*?)^```$", text, re.MULTILINE | re.DOTALL):
        if found[1] in languages:
            yield found[2]

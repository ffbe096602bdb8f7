"""Books published for tests: read, computed, projected and set as the tool does it, without the workshop."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from bookmaker.editions.team.edition import project
from bookmaker.editions.team.views_overview import TeamSite
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.explain import workings_of
from bookmaker.model.book import Book
from bookmaker.press.site import render_team
from bookmaker.reading.book import read_book

ROOT = Path(__file__).parents[2]
LEDGER = ROOT / "themes" / "ledger"
DEMO = ROOT / "recipes"
TINY = ROOT / "tests" / "editions" / "tiny"
ON = date(2026, 11, 25)
"""The costing date."""


def sound_book(folder: Path) -> Book:
    """A book that has no errors."""
    reading = read_book(folder)
    errors = [problem for problem in reading.problems if problem.is_error]
    assert reading.book is not None
    assert not errors, errors
    return reading.book


def team_site(book: Book, on: date = ON) -> TeamSite:
    """The views of a book's team site."""
    figures = compute(book, on)
    return project(book, figures, {ref: workings_of(book, figures, ref) for ref in book.recipes})


def publish(site: TeamSite, folder: Path, themes: Sequence[Path] = (LEDGER,)) -> Path:
    """Write the site into a folder."""
    for path, content in render_team(site, themes):
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)
    return folder

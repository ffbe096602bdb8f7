"""Opening a book: read it, compute its figures, gather what is wrong."""

import sys
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from bookmaker.editions.team.places import contents_of
from bookmaker.kitchen.alarm import alarms_in
from bookmaker.kitchen.alarm_problems import label_problems
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import Figures
from bookmaker.model.book import Book
from bookmaker.problems.anchors import SourceMap
from bookmaker.problems.echoes import without_echoes
from bookmaker.problems.problem import Problem
from bookmaker.problems.report import text_report
from bookmaker.reading.book import read_book
from bookmaker.workshop.clock import NoDate, costing_date
from bookmaker.workshop.console import Progress, complain
from bookmaker.workshop.finding import NoBook, find_book
from bookmaker.workshop.same_pages import same_pages


class Usage(Exception):
    """The command was asked for something that cannot be; the message is for the person who typed it."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A book as far as it could be read. `book` and `figures` are None where errors left nothing to compute from."""

    folder: Path
    on: date
    book: Book | None
    figures: Figures | None
    problems: tuple[Problem, ...]
    sources: Mapping[str, SourceMap]

    @property
    def sound(self) -> bool:
        """Whether nothing stands in the way of publishing."""
        return self.book is not None and not any(problem.stops for problem in self.problems)

    @property
    def code(self) -> int:
        """The exit code of a command that reports on the book: 1 where there are errors, also of a single sheet."""
        return 0 if self.sound and not any(problem.is_error for problem in self.problems) else 1


def open_book(
    named: str | None, on: str | None, progress: Progress, *, out: Path | None = None, alarms: bool = True
) -> Opened:
    """Read and compute; with `alarms` hold what was issued against it. Raises `Usage` for no such book or date."""
    try:
        folder = find_book(named, Path())
        day = costing_date(on)
    except (NoBook, NoDate) as wrong:
        raise Usage(str(wrong)) from None
    progress.say("reading")
    reading = read_book(folder, out)
    progress.say("computing")
    figures = compute(reading.book, day) if reading.book is not None else None
    findings = figures.findings if figures is not None else ()
    shared = tuple(same_pages(contents_of(reading.book), reading.book)) if reading.book is not None else ()
    changed: tuple[Problem, ...] = ()
    if alarms and reading.book is not None and figures is not None:
        changed = label_problems(alarms_in(reading.book, figures), reading.book)
    progress.clear()
    problems = (*without_echoes(reading.problems, (*findings, *changed)), *shared)
    return Opened(folder, day, reading.book, figures, problems, reading.sources)


@dataclass(frozen=True, slots=True)
class Sound:
    """A book without errors: complete, and computed."""

    on: date
    book: Book
    figures: Figures
    sources: Mapping[str, SourceMap]


def open_sound(named: str | None, on: str | None) -> Sound | None:
    """A book to answer questions from. Where errors are in it they are printed, and there is no answer.

    A figure from a book with errors in it might be wrong in a way that nobody sees at the bench. Raises `Usage`.
    """
    opened = open_book(named, on, Progress(), alarms=False)
    if opened.book is None or opened.figures is None or not opened.sound:
        errors = [problem for problem in opened.problems if problem.stops]
        complain(text_report(errors, opened.sources, colour=sys.stderr.isatty()).rstrip())
        return None
    return Sound(opened.on, opened.book, opened.figures, opened.sources)


def say_usage(wrong: Usage) -> int:
    """Print what was wrong with the asking; exit code 2."""
    complain(f"bookmaker: {wrong}")
    return 2

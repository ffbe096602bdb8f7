"""The loop: build, tell the pages, wait for the next change."""

from collections.abc import Callable
from dataclasses import dataclass

from bookmaker.workshop.watching.folders import Changes
from bookmaker.workshop.watching.state import Board


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a build came to: `published`, or refused; `report` holds its problems and warnings as text.

    `withheld` says that some sheets were kept back while all else was published.
    """

    published: bool
    report: str
    withheld: bool = False


def follow(build: Callable[[], Outcome], changes: Changes, board: Board, tell: Callable[[Outcome], None]) -> None:
    """Build once, and again after every burst of changes, until `changes` is closed.

    A change during a build is not lost: it is noted while the build runs and leads to the next one.
    """
    while True:
        outcome = build()
        if outcome.published:
            board.published(outcome.report if outcome.withheld else "")
        else:
            board.refused(outcome.report)
        tell(outcome)
        if not changes.wait():
            return

"""`build`: publish the book."""

import sys
from collections.abc import Sequence
from pathlib import Path

from bookmaker.workshop.building import Build, Edition
from bookmaker.workshop.clock import NoDate, costing_date
from bookmaker.workshop.console import Progress, complain, say
from bookmaker.workshop.finding import NoBook, find_book
from bookmaker.workshop.lines import published_line
from bookmaker.workshop.memory import without_collecting
from bookmaker.workshop.publishing.publisher import Publisher
from bookmaker.workshop.publishing.refusals import Halfway, InTheWay, NotPublished


def run(named: str | None, out: Path, *, editions: Sequence[Edition], on: str | None, fresh: bool) -> int:
    """Build the editions asked for; exit code 1 when the book has errors, or strange files stand in the way.

    Errors of single sheets keep back those sheets alone.
    """
    progress = Progress()
    if not all(is_ready() for is_ready in dict.fromkeys(edition.is_ready for edition in editions)):
        return 1

    def waiting() -> None:
        progress.say(f"another build is publishing into '{out}'; waiting for it")

    try:
        folder, day = find_book(named, Path()), costing_date(on)
    except (NoBook, NoDate) as wrong:
        complain(f"bookmaker: {wrong}")
        return 2
    try:
        with without_collecting(), Publisher(out, on_wait=waiting) as publisher:
            build = Build(folder, day, out, fresh=fresh, progress=progress)
            try:
                return _publish(build, publisher, editions, out, progress)
            finally:
                build.keep()
    except NotPublished as stopped:
        progress.clear()
        return _stopped(stopped)


def _publish(build: Build, publisher: Publisher, editions: Sequence[Edition], out: Path, progress: Progress) -> int:
    report = build.report(colour=sys.stderr.isatty())
    if report:
        complain(report)
    if not build.sound:
        complain("\nNothing was published; what was there before is untouched.")
        return 1
    for edition in editions:
        done = build.publish(edition, publisher)
        progress.clear()
        say(published_line(edition.name, out, written=done.written, unchanged=done.unchanged, dropped=done.dropped))
        for kept in done.set_aside:
            complain(f"bookmaker: somebody had changed a published file; their version is kept as '{kept}'")
    return build.code


def _stopped(stopped: NotPublished) -> int:
    if isinstance(stopped, InTheWay):
        complain("bookmaker: these files stand where ours belong, and bookmaker did not write them:")
        for path in stopped.paths:
            complain(f"  {path}")
        complain("Move them away, or publish elsewhere with --out DIR. Nothing of this edition was changed.")
    elif isinstance(stopped, Halfway):
        complain(f"bookmaker: {stopped}")
    else:
        complain(f"bookmaker: {stopped}. Nothing of this edition was changed.")
    return 1

"""`build`: publish the book."""

import sys
from collections.abc import Sequence
from pathlib import Path

from bookmaker.press import pdf
from bookmaker.problems.report import text_report
from bookmaker.workshop.building import job_for, make
from bookmaker.workshop.console import Progress, complain, say
from bookmaker.workshop.opening import Usage, open_book, say_usage
from bookmaker.workshop.publishing.publisher import Published, Publisher
from bookmaker.workshop.publishing.refusals import Halfway, InTheWay, NotPublished


def run(named: str | None, out: Path, *, only: Sequence[str], on: str | None, fresh: bool) -> int:
    """Build the editions asked for; exit code 1 when the book's errors, or strange files, stand in the way."""
    progress = Progress()
    if "book" in only and not _can_lay_out():
        return 1

    def waiting() -> None:
        progress.say(f"another build is publishing into '{out}'; waiting for it")

    try:
        with Publisher(out, on_wait=waiting) as publisher:
            return _build(publisher, progress, named, out, only=only, on=on, fresh=fresh)
    except Usage as wrong:
        return say_usage(wrong)
    except NotPublished as stopped:
        progress.clear()
        return _stopped(stopped)


def _build(
    publisher: Publisher,
    progress: Progress,
    named: str | None,
    out: Path,
    *,
    only: Sequence[str],
    on: str | None,
    fresh: bool,
) -> int:
    opened = open_book(named, on, progress, out=out)
    report = text_report(opened.problems, opened.sources, colour=sys.stderr.isatty())
    if report:
        complain(report.rstrip())
    if opened.book is None or opened.figures is None or not opened.sound:
        complain("\nNothing was published; what was there before is untouched.")
        return 1
    job = job_for(opened.folder, opened.book, opened.figures, progress)
    for name, files in make(job, only):
        progress.say(f"{name}: publishing")
        done = publisher.publish(name, files.items(), rewrite=fresh)
        progress.clear()
        say(_line(name, out, done))
        for kept in done.set_aside:
            complain(f"bookmaker: somebody had changed a published file; their version is kept as '{kept}'")
    return 0


def _can_lay_out() -> bool:
    try:
        pdf.insist()
    except pdf.NoPdfLibrary as missing:
        complain(f"bookmaker: {missing}")
        return False
    if not pdf.subsets_fonts_fast():
        complain(
            "bookmaker: libharfbuzz-subset is not installed: fonts are cut down the slow way, PDF pages take two to\n"
            "three times as long (on Debian: apt-get install libharfbuzz-subset0)"
        )
    return True


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


def _line(name: str, out: Path, done: Published) -> str:
    where = {"team": out / "team" / "index.html", "book": out / "book.pdf", "record": out / "book.json"}[name]
    told = [f"{done.written} written" if done.written else "", f"{done.unchanged} unchanged" if done.unchanged else ""]
    told.append(f"{done.dropped} dropped" if done.dropped else "")
    return f"{where}  ({', '.join(filter(None, told))})"

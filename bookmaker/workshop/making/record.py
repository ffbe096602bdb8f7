"""The record of all figures, `book.json`."""

from bookmaker.editions.record import edition as record
from bookmaker.workshop.building import Edition, Job, Made, nothing
from bookmaker.workshop.cache.kept import KeptBook
from bookmaker.workshop.cache.leaf import Leaf


def _make(job: Job) -> Made:
    kept = job.kept
    return Made([Leaf(record.FILE, kept.all_figures, lambda: _record(kept))], nothing)


def _record(kept: KeptBook) -> bytes:
    return record.project(kept.book, kept.figures, kept.labels.label)


EDITION = Edition("record", _make)

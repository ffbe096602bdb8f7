"""The record of all figures, `book.json`."""

from bookmaker.editions.record import edition as record
from bookmaker.workshop.building import Edition, Job, Made, nothing
from bookmaker.workshop.cache.leaf import Leaf


def _make(job: Job) -> Made:
    kept = job.kept
    return Made([Leaf(record.FILE, kept.all_figures, lambda: record.project(kept.book, kept.figures))], nothing)


EDITION = Edition("record", _make)

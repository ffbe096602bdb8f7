"""The team book's site."""

from bookmaker.workshop.building import Edition, Job, Made
from bookmaker.workshop.cache.team import TeamBook


def team_book(job: Job) -> TeamBook:
    """The team book's pages, as far as they are kept."""
    job.progress.say("arranging")
    return TeamBook(job.kept, job.folder, job.themes, is_wanted=job.making == EDITION.name)


def _make(job: Job) -> Made:
    book = job.once(team_book)
    return Made(book.leaves, book.enter, book.get_ready)


EDITION = Edition("team", _make)

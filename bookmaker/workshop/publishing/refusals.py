"""Why a publication did not take place, each in a sentence for the person who built."""

from collections.abc import Iterable
from pathlib import Path


class NotPublished(Exception):
    """The publication did not take place; the edition is as it was before."""


class InTheWay(NotPublished):
    """Files that we did not write stand where ours belong."""

    def __init__(self, paths: Iterable[Path]) -> None:
        self.paths = tuple(paths)
        super().__init__(f"not written by bookmaker, and in its way: {', '.join(str(path) for path in self.paths)}")


class AnotherBook(NotPublished):
    """The output folder belongs to another book."""

    def __init__(self, out: Path, book: str) -> None:
        super().__init__(
            f"'{out}' holds what was published from another book, '{book}'; publish this one elsewhere with --out DIR, "
            f"or move '{out}' away first"
        )


class HeldOpen(NotPublished):
    """A file could not be replaced or removed, though we tried for a while."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(f"'{path}' is open in another program, or may not be written; close it and build again")


class CannotWrite(NotPublished):
    """The disk did not do what we asked of it."""

    def __init__(self, reason: OSError, path: Path) -> None:
        self.path = path
        super().__init__(f"'{path}' cannot be written: {reason.strerror or reason}")


class Busy(NotPublished):
    """Somebody else is publishing into the same folder."""

    def __init__(self, out: Path, seconds: float) -> None:
        super().__init__(
            f"another build is publishing into '{out}' and was not done after {seconds:.0f} s; build again when it is"
        )


class Halfway(NotPublished):
    """A publication could be neither completed nor taken back; the next one will do so."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(
            f"'{path}' is open in another program, or may not be written, and some files are already the new ones; "
            "close it and build again, which sets this right"
        )

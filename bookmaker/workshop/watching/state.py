"""What an open page needs to know: which build it shows, and what is wrong since."""

import threading
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Standing:
    """`build` counts the builds that were published; `problems` is the report of one that was not, or not wholly.

    `whole` says that the page shown is that of the latest build: then the problems are of sheets that it kept back.
    """

    build: int
    problems: str = ""
    whole: bool = True


class Board:
    """Where the latest standing is pinned up. Pages wait here for the next one; many may wait at once."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._standing = Standing(0)
        self._number = 0
        self._closed = False

    @property
    def latest(self) -> tuple[int, Standing]:
        """The number of the latest notice, and the notice."""
        with self._changed:
            return self._number, self._standing

    def published(self, withheld: str = "") -> None:
        """A build was published: whatever was wrong is mended, but for sheets that it kept back for a reason."""
        self._pin(Standing(self._standing.build + 1, withheld))

    def refused(self, problems: str) -> None:
        """A build was refused: the last good pages stay, with the problems over them."""
        self._pin(Standing(self._standing.build, problems, whole=False))

    def close(self) -> None:
        """Let everybody who waits go."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()

    def wait_after(self, number: int, timeout: float) -> tuple[int, Standing] | None:
        """The first notice later than `number`; None when none came in time, or the board was closed."""
        with self._changed:
            self._changed.wait_for(lambda: self._number > number or self._closed, timeout)
            return (self._number, self._standing) if self._number > number else None

    def _pin(self, standing: Standing) -> None:
        with self._changed:
            self._standing = standing
            self._number += 1
            self._changed.notify_all()

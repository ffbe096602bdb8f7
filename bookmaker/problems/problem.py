"""A mistake in the book, as a value: code, place, what is wrong and what would mend it."""

from collections.abc import Iterable
from dataclasses import dataclass

from bookmaker.problems.anchors import Anchor
from bookmaker.problems.catalogue import CATALOGUE, Severity


@dataclass(frozen=True, slots=True)
class Related:
    """Another place that belongs to the problem, and why."""

    anchor: Anchor
    note: str


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong. `message` says what and why in one sentence, `fix` what would likely mend it."""

    code: str
    anchor: Anchor
    message: str
    fix: str = ""
    related: tuple[Related, ...] = ()

    @property
    def severity(self) -> Severity:
        """How grave the catalogue holds this kind of problem."""
        return CATALOGUE[self.code].severity

    @property
    def is_error(self) -> bool:
        """Whether a command that meets it ends with exit code 1."""
        return self.severity is Severity.ERROR

    @property
    def stops(self) -> bool:
        """Whether it stops publishing: all errors do, but for those that keep back a single sheet."""
        return self.is_error and not CATALOGUE[self.code].withholds


def problem(code: str, anchor: Anchor, *, fix: str = "", related: Iterable[Related] = (), **words: object) -> Problem:
    """Make a problem from its catalogue entry: `words` fill the entry's message, `fix` replaces its usual advice."""
    entry = CATALOGUE[code]
    return Problem(code, anchor, entry.message.format(**words), fix or entry.fix, tuple(related))

"""Every kind of problem the tool can report: one table, from which the guide's list is made.

`message` is filled by `str.format`; it says what is wrong and why. `fix` is the usual advice; a place that knows better (a near
miss, a number) gives its own.
"""

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """Errors stop publishing; warnings and notes never change the exit code."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Entry:
    """One kind of problem."""

    severity: Severity
    title: str
    message: str
    fix: str = ""


CATALOGUE: dict[str, Entry] = {
    "unreadable-file": Entry(
        Severity.ERROR,
        "A file that cannot be read as text",
        "{document} is not UTF-8 text ({why})",
        "save the file as UTF-8",
    ),
}

"""Every kind of problem the tool can report: one table, from which the guide's list is made.

`message` is filled by `str.format`; it says what is wrong and why. `fix` is the usual advice; a place that knows better
(a near miss, a number) gives its own.
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
    # --- files
    "unreadable-file": Entry(
        Severity.ERROR,
        "A file that cannot be opened",
        "{document} cannot be opened ({why})",
        "check that the file is there and that you may read it",
    ),
    "not-utf8": Entry(
        Severity.ERROR,
        "A file in another text encoding",
        "{document} is not saved as UTF-8, so accents and signs such as é, × and ° cannot be told",
        "open it in your editor, choose the encoding UTF-8, and save it again",
    ),
    "too-large": Entry(
        Severity.ERROR,
        "A file too large to be part of a book",
        "{document} has {size} MB, and no text of a book has more than {most} MB",
        "check whether something else was saved under this name",
    ),
    "same-name": Entry(
        Severity.ERROR,
        "Two files whose names differ in capitals only",
        "{document} and {other} differ only in capital letters, which many computers cannot tell apart",
        "rename one of them",
    ),
    "misplaced-file": Entry(
        Severity.WARNING,
        "A file that is passed over",
        "{document} is not read: {why}",
    ),
    # --- YAML
    "tab": Entry(
        Severity.ERROR,
        "A tab where spaces belong",
        "this line is indented with a tab{more}; only spaces show which line belongs to which",
        "replace each tab with two spaces",
    ),
    "control-character": Entry(
        Severity.ERROR,
        "An invisible character",
        "an invisible control character ({number}) stands here",
        "delete it and type the text again",
    ),
    "yaml-syntax": Entry(Severity.ERROR, "A line that cannot be read", "{why}"),
    "yaml-alias": Entry(
        Severity.ERROR,
        "A text that begins with & or *",
        "a text cannot begin with {sign}: here that would mean a reference, and a book does without them",
        "put the text in quotation marks, or write it out where it is needed",
    ),
    "yaml-tag": Entry(
        Severity.ERROR,
        "A text that begins with an exclamation mark",
        "a text cannot begin with {tag}: here that would mean a type, and a book does without them",
        "put the text in quotation marks",
    ),
    "yaml-key": Entry(
        Severity.ERROR,
        "A key that is no text",
        "a key before a colon must be one piece of text",
        "write it as `key: value`",
    ),
    "yaml-nested": Entry(
        Severity.ERROR,
        "Lists within lists without end",
        "lists and groups stand inside each other deeper than any book needs",
        "check the brackets and the indentation",
    ),
    "duplicate-key": Entry(
        Severity.ERROR,
        "The same key twice",
        "'{key}' stands here a second time, and only one of the two can count",
        "keep one of them",
    ),
    "not-a-mapping": Entry(
        Severity.ERROR,
        "A file without keys",
        "lines of the form `key: value` should stand here, but this is {found}",
    ),
    "empty-file": Entry(
        Severity.ERROR,
        "An empty file",
        "{document} is empty",
        "write something into it, or delete the file",
    ),
    # --- the shape of a file
    "unknown-key": Entry(
        Severity.ERROR,
        "A key that we do not know",
        "'{key}' is no key that can stand here",
    ),
    "missing-key": Entry(
        Severity.ERROR,
        "Something that must be said",
        "'{key}' is missing{of}",
    ),
    "wrong-kind": Entry(
        Severity.ERROR,
        "Text, list or group in the wrong place",
        "'{key}' should be {wanted}, but this is {found}",
    ),
    "empty-value": Entry(
        Severity.ERROR,
        "A key with nothing behind it",
        "nothing stands behind '{key}'",
        "write its value, or take the line out",
    ),
    # --- the price list ----------------------------------------------------------------------------------------------------
    "no-price": Entry(
        Severity.WARNING,
        "An item without a price",
        "'{item}' has no price in force on {on}, and {user} uses it: what it costs is shown as 'at least'",
        "add a line to the price list",
    ),
    "old-price": Entry(
        Severity.WARNING,
        "A price that is getting old",
        "the price of '{item}' counts from {since} and is {days} days old",
        "ask the supplier, and add a line with the new date",
    ),
    "other-currency": Entry(
        Severity.WARNING,
        "A price in another currency",
        "'{item}' is priced in {found} alone, and the house counts in {house}: it is left out of every cost",
        "add a price in the currency of the house",
    ),
    "pack-without-weight": Entry(
        Severity.WARNING,
        "A pack whose weight is not known",
        "'{item}' comes in packs of {pack}, and nothing says what those weigh: it is left out of every cost",
        "give the item a density",
    ),
}

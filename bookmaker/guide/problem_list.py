"""The list of problems, from the catalogue."""

import re

from bookmaker.guide.markdown import literal, table
from bookmaker.problems.catalogue import CATALOGUE, Entry, Severity

_BLANK = re.compile(r"\{\w+\}")

_HEAD = """<!-- Made by `python -m bookmaker.guide` from bookmaker/problems/catalogue.py: change it there. -->

# What the tool may say is wrong

Every problem has a code, which stands in brackets behind its kind:

- an **error** stops publishing; what was published before stays as it was. The errors of single sheets keep back those
  sheets alone: all else is published,
- a **warning** should be looked at; the book is published all the same,
- a **note** is advice.

Each is reported once, where its cause is: not at every recipe that depends on it. In the messages here … stands for
what is at fault. The remedy is the usual one; where the tool knows a better one, such as the name that was probably
meant, it says that instead."""


def problem_list() -> str:
    """The whole list as Markdown, by severity and code."""
    return "\n\n".join([_HEAD, *(_severity(each) for each in Severity)]) + "\n"


def _severity(severity: Severity) -> str:
    rows = [
        (literal(code), entry.title, _message(entry), entry.fix)
        for code, entry in sorted(CATALOGUE.items())
        if entry.severity is severity
    ]
    return f"## {severity.capitalize()}s\n\n{table(('code', 'what it is', 'what it says', 'usual remedy'), rows)}"


def _message(entry: Entry) -> str:
    """The message with its blanks; nothing where it is all blank."""
    said = _BLANK.sub("…", entry.message)
    return said if said != "…" else ""

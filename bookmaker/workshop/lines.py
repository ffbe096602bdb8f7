"""The line that a build prints for an edition: where it is, and what was done for it."""

from pathlib import Path

ENTRANCES = {
    "team": "team/index.html",
    "book": "book.pdf",
    "record": "book.json",
    "cards": "cards/all.pdf",
    "workbook": "workbook/index.html",
    "sheets": "sheets/index.html",
    "labels": "labels",
}
"""What to open of each edition."""


def published_line(edition: str, out: Path, *, written: int = 0, unchanged: int = 0, dropped: int = 0) -> str:
    """`build/team/index.html  (3 written, 2440 unchanged)`"""
    counts = {"written": written, "unchanged": unchanged, "dropped": dropped}
    done = ", ".join(f"{count} {what}" for what, count in counts.items() if count)
    return f"{out / ENTRANCES[edition]}  ({done or 'nothing to publish'})"

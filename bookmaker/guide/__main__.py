"""`python -m bookmaker.guide`: write the guide anew, in the package it is run from."""

from pathlib import Path

from bookmaker.guide.problem_list import problem_list
from bookmaker.guide.record_layout import record_layout
from bookmaker.guide.reference import format_reference

WRITTEN = {"format.md": format_reference, "problems.md": problem_list, "record.md": record_layout}
"""The files of the guide and what makes them."""


def main() -> None:
    """Write all of them beside this module."""
    for name, make in WRITTEN.items():
        (Path(__file__).parent / name).write_text(make(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()

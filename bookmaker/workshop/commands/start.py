"""`start`: a small new book."""

import sys
from pathlib import Path

from bookmaker.workshop.starting import AlreadyThere, start_book


def run(folder: Path) -> int:
    """Write the starter book; exit code 0, or 2 where the folder is taken."""
    try:
        written = start_book(folder)
    except AlreadyThere as taken:
        print(f"bookmaker: {taken}", file=sys.stderr)
        return 2
    print(f"{len(written)} files in {folder / 'recipes'}; house.yaml is the one to change first.")
    print(f"build it:  bookmaker build {folder}")
    return 0

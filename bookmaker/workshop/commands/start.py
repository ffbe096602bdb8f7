"""`start`: a small new book."""

from pathlib import Path

from bookmaker.workshop.console import complain, say
from bookmaker.workshop.starting import AlreadyThere, start_book


def run(folder: Path) -> int:
    """Write the starter book; exit code 0, or 2 where the folder is taken."""
    try:
        written = start_book(folder)
    except AlreadyThere as taken:
        complain(f"bookmaker: {taken}")
        return 2
    say(f"{len(written)} files in {folder / 'recipes'}; house.yaml is the one to change first.")
    say(f"build it:  cd {folder} && bookmaker build")
    return 0

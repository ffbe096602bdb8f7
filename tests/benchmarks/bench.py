"""What all rows have in common: books to measure on, builds as whole processes, ratios in words."""

import json
import shutil
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from bookmaker.workshop.shipped import themes_dir
from tests.benchmarks.books import write_book
from tests.benchmarks.measuring import ROOT, Failed, Run, ratio, run, usual

ON = date(2026, 11, 30)
THEME = themes_dir() / "ledger"


@dataclass(frozen=True, slots=True)
class Bench:
    """Where measuring is done, on how many recipes, and how many pairs of each are taken.

    Generated books stand in `books`; what is made of them is in `folder`, which nothing outlives.
    """

    books: Path
    folder: Path
    recipes: int = 1000
    rounds: int = 5

    def book(self, recipes: int | None = None) -> Path:
        """A generated book; it is written when it is first asked for."""
        count = self.recipes if recipes is None else recipes
        folder = self.books / f"book-{count}"
        if not folder.exists():
            write_book(folder, count)
        return folder

    def out(self, name: str) -> Path:
        """A folder to publish into."""
        return self.folder / f"out-{name}"

    def build(self, book: Path, out: Path, *editions: str, memory: bool = False) -> Run:
        """One build as a whole process."""
        arguments = ("-m", "bookmaker", "build", str(book), "--out", str(out), "--on", ON.isoformat(), "--only")
        return run(*arguments, *(editions or ("team",)), memory=memory)

    def cold(self, book: Path, name: str, *editions: str, memory: bool = False) -> Run:
        """A build into a folder that is not there."""
        out = self.out(name)
        shutil.rmtree(out, ignore_errors=True)
        return self.build(book, out, *editions, memory=memory)


def both(runs: Sequence[Run]) -> str:
    """The medians in words."""
    middle = usual(runs)
    return f"{middle.wall:.3f} s ({middle.cpu:.3f} s of processors)"


def ratios(ours: Sequence[Run], floor: Sequence[Run]) -> str:
    """On the wall, and of processors: the second stands firm when others use the machine, too."""
    wall = ratio([each.wall for each in ours], [each.wall for each in floor])
    cpu = ratio([each.cpu for each in ours], [each.cpu for each in floor])
    return f"{wall} on the wall, {cpu} of processors"


def floor_of(*arguments: object) -> dict[str, Any]:
    """What a floor says of itself. Raises `Failed`."""
    command = [sys.executable, "-m", "tests.benchmarks.floors", *map(str, arguments)]
    done = subprocess.run(command, capture_output=True, check=False, cwd=ROOT, text=True)
    if done.returncode:
        raise Failed(done.stderr[-2000:])
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def some_recipe(book: Path) -> Path:
    """A component that others use."""
    return sorted((book / "mousses").glob("*.md"))[3]

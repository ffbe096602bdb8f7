"""`python -m tests.benchmarks [ROW ...]`: measure, and print ratios."""

import argparse
import sys
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.benchmarks import printed, rows
from tests.benchmarks.bench import Bench
from tests.benchmarks.measuring import Failed

ROWS: Mapping[str, Callable[[Bench], Iterator[str]]] = {
    "cold": rows.cold,
    "templates": rows.templates,
    "unchanged": rows.unchanged,
    "edited": rows.edited,
    "weighed": rows.weighed,
    "watch": rows.watch,
    "page": printed.page,
    "pdf": printed.pdf,
    "pdf-large": printed.pdf_large,
    "growth": rows.growth,
}
"""Every row by the name that it is asked for by."""


def main() -> int:
    """Measure the rows asked for, or all of them; exit code 1 where a build failed."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    parser.add_argument("rows", nargs="*", metavar="ROW", help=f"of {', '.join(ROWS)}; all where none is named")
    parser.add_argument("--recipes", type=int, default=1000, help="how large a book (default 1000)")
    parser.add_argument("--rounds", type=int, default=5, help="how many pairs of each (default 5)")
    parser.add_argument("--keep", type=Path, help="a folder to keep the generated books in")
    asked = parser.parse_args()
    if unknown := set(asked.rows) - ROWS.keys():
        parser.error(f"no such row: {', '.join(sorted(unknown))}")
    failed = False
    with TemporaryDirectory() as scratch:
        bench = Bench(asked.keep or Path(scratch), Path(scratch), asked.recipes, asked.rounds)
        for name, row in ROWS.items():
            if asked.rows and name not in asked.rows:
                continue
            _say(f"{name}: {row.__doc__}")
            try:
                for line in row(bench):
                    _say(f"  {line}")
            except Failed as failure:
                _say(f"  failed: {failure}")
                failed = True
    return int(failed)


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())

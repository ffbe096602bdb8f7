"""A process that builds as `watch` does, whenever it is told to: a line in, the seconds it took out."""

import contextlib
import io
import json
import sys
import time
from pathlib import Path

from bookmaker.workshop.commands import watch
from bookmaker.workshop.making.team import EDITION


def main(book: Path, out: Path, on: str) -> None:
    """Build once, then for each line read: seconds on the wall, and of processors."""
    for _ in sys.stdin:
        began, used = time.perf_counter(), time.process_time()
        with contextlib.redirect_stdout(io.StringIO()):
            outcome = watch._build(book, out, [EDITION], on)
        assert outcome.published, outcome.report
        sys.stdout.write(json.dumps([time.perf_counter() - began, time.process_time() - used]) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3])

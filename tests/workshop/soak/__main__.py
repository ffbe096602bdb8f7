"""What takes too long for every day: many killed builds, fonts and all, then many histories of an output folder.

    python -m tests.workshop.soak 300

kills three hundred, and tries ten times as many histories.
"""

import logging
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import settings
from hypothesis.stateful import run_state_machine_as_test

from tests.workshop.soak.kills import WHOLE, kill_and_build
from tests.workshop.test_publishing_histories import OutputFolder


def main() -> None:
    """Do as many as the command line says."""
    logging.basicConfig(level=logging.INFO, format="%(message)s")
    log = logging.getLogger(__name__)
    kills, seed = int(sys.argv[1]), time.time_ns()
    log.info("%d killed builds, seed %d", kills, seed)
    with TemporaryDirectory() as folder:
        midway = kill_and_build(Path(folder), kills, command=WHOLE, seed=seed)
    log.info("all was well; %d of %d were struck half-way, in the midst of a changeover", midway, kills)
    log.info("%d histories", kills * 10)
    run_state_machine_as_test(OutputFolder, settings=settings(max_examples=kills * 10, stateful_step_count=40))
    log.info("all was well")


if __name__ == "__main__":
    main()

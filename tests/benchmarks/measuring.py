"""How long whole processes take and how much memory they hold, and pairs of such figures, measured in turn."""

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True, slots=True)
class Run:
    """One run: seconds on the wall, seconds of processors in it and all its children, and the peak of memory of all of
    them together in megabytes (0 where that was not asked for, or cannot be known).
    """

    wall: float
    cpu: float
    memory: float = 0


class Failed(RuntimeError):
    """A measured command did not end well; nothing can be said about its time."""


def run(*arguments: str, memory: bool = False) -> Run:
    """Run Python with these arguments, as a person would from a shell. Raises `Failed`."""
    began = time.perf_counter()
    started = subprocess.Popen(
        [sys.executable, *arguments],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        start_new_session=True,
    )
    assert started.stderr is not None
    peak = _Peak(started.pid) if memory else None
    said = started.stderr.read()
    _, status, used = os.wait4(started.pid, 0)
    wall = time.perf_counter() - began
    started.returncode = os.waitstatus_to_exitcode(status)
    started.stderr.close()
    if peak:
        peak.stop()
    if started.returncode:
        raise Failed(said.decode(errors="replace")[-2000:])
    return Run(wall, used.ru_utime + used.ru_stime, peak.megabytes if peak else 0)


def usual(runs: Sequence[Run]) -> Run:
    """The median of each figure."""
    return Run(*(median(getattr(each, name) for each in runs) for name in ("wall", "cpu", "memory")))


@dataclass(frozen=True, slots=True)
class Ratio:
    """What is measured over its floor, pair by pair: the median, the least and the most."""

    middle: float
    least: float
    most: float

    def __str__(self) -> str:
        return f"{self.middle:.2f} ({self.least:.2f}–{self.most:.2f})"


def ratio(ours: Sequence[float], floor: Sequence[float]) -> Ratio:
    """The ratio of each pair."""
    found = sorted(mine / its for mine, its in zip(ours, floor, strict=True))
    return Ratio(median(found), found[0], found[-1])


def in_turn(rounds: int, first: Callable[[], Run], second: Callable[[], Run]) -> tuple[list[Run], list[Run]]:
    """Both, one after the other, so often: what slows the machine down meets both alike."""
    ones, others = [], []
    for _ in range(rounds):
        ones.append(first())
        others.append(second())
    return ones, others


class _Peak:
    """Watches the memory of a session's processes; what they share is counted once (proportional set size)."""

    def __init__(self, session: int) -> None:
        self.megabytes = 0.0
        self._session = session
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._watch, daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """The processes are gone."""
        self._over.set()
        self._thread.join()

    def _watch(self) -> None:
        while not self._over.wait(0.05):
            self.megabytes = max(self.megabytes, sum(map(_held, _processes(self._session))) / 1024)


def _processes(session: int) -> list[int]:
    found = []
    for each in Path("/proc").glob("[0-9]*"):
        try:
            fields = (each / "stat").read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(fields[3]) == session:
            found.append(int(each.name))
    return found


def _held(process: int) -> int:
    """Kilobytes."""
    try:
        lines = Path(f"/proc/{process}/smaps_rollup").read_text().splitlines()
    except OSError:
        return 0
    return sum(int(line.split()[1]) for line in lines if line.startswith("Pss:"))

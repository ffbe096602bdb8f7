"""Work spread over processes: in order, whatever the way to start them; errors come back, and nobody stays behind."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from multiprocessing import active_children
from multiprocessing.process import BaseProcess
from pathlib import Path

import pytest

from bookmaker.workshop.pool import FailedElsewhere, ProcessLost, spread

METHODS = ["fork", "spawn", "forkserver"]


def times(factor: int) -> Callable[[int], int]:
    return lambda number: number * factor


def with_its_process(_: None) -> Callable[[int], tuple[int, int]]:
    return lambda number: (number, os.getpid())


def calling(words: list[Callable[[], str]]) -> Callable[[int], tuple[str, int]]:
    return lambda number: (words[number](), os.getpid())


def refusing(what: int) -> Callable[[int], int]:
    def work(number: int) -> int:
        if number == what:
            raise ValueError(f"{number} is refused")
        return number

    return work


class Stubborn(Exception):
    """An exception that cannot travel."""

    def __init__(self, one: int, two: int) -> None:
        super().__init__(f"{one} and {two}")


def stubborn(_: None) -> Callable[[int], int]:
    def work(number: int) -> int:
        raise Stubborn(number, number)

    return work


def giving_functions(_: None) -> Callable[[int], object]:
    return lambda number: lambda: number


def dying(_: None) -> Callable[[int], int]:
    def work(number: int) -> int:
        if number == 50:
            os.kill(os.getpid(), signal.SIGKILL)
        return number

    return work


def sleeping(seconds: float) -> Callable[[int], int]:
    def work(number: int) -> int:
        time.sleep(seconds)
        return number

    return work


@pytest.mark.parametrize("method", METHODS)
def test_results_come_in_order(method: str) -> None:
    assert list(spread(times, 3, range(100), worth=1, workers=3, method=method)) == [3 * each for each in range(100)]


def test_several_processes_do_it() -> None:
    found = list(spread(with_its_process, None, range(200), worth=1, workers=2))
    assert [number for number, _ in found] == list(range(200))
    assert len({process for _, process in found}) == 2
    assert os.getpid() not in {process for _, process in found}


@pytest.mark.parametrize(("items", "workers"), [(9, 2), (100, 1)])
def test_little_work_is_done_here(items: int, workers: int) -> None:
    found = list(spread(with_its_process, None, range(items), worth=10, workers=workers))
    assert found == [(number, os.getpid()) for number in range(items)]


@pytest.mark.parametrize("method", METHODS)
def test_what_cannot_travel_is_worked_on_all_the_same(method: str) -> None:
    found = list(spread(calling, [lambda: "one", lambda: "two"], [0, 1] * 50, worth=1, workers=2, method=method))
    assert [word for word, _ in found] == ["one", "two"] * 50
    assert (os.getpid() in {process for _, process in found}) == (method != "fork")


def test_nothing_makes_nothing() -> None:
    assert list(spread(times, 3, [], worth=0, workers=2)) == []


@pytest.mark.parametrize("method", METHODS)
def test_an_exception_comes_out_as_it_was(method: str) -> None:
    found = spread(refusing, 70, range(100), worth=1, workers=2, method=method)
    with pytest.raises(ValueError, match="70 is refused") as caught:
        list(found)
    assert "in work" in "".join(caught.value.__notes__)
    assert left() == []


@pytest.mark.parametrize(("prepare", "said"), [(stubborn, "Stubborn"), (giving_functions, "pickle")])
def test_what_cannot_travel_is_told_by_its_traceback(
    prepare: Callable[[None], Callable[[int], object]], said: str
) -> None:
    with pytest.raises((FailedElsewhere, AttributeError)) as caught:
        list(spread(prepare, None, range(100), worth=1, workers=2))
    assert said in str(caught.value) + "".join(getattr(caught.value, "__notes__", ()))


@pytest.mark.parametrize("method", METHODS)
def test_a_killed_process_is_noticed(method: str) -> None:
    with pytest.raises(ProcessLost, match="exit code -9"):
        list(spread(dying, None, range(100), worth=1, workers=2, method=method))
    assert left() == []


def test_who_wants_no_more_leaves_nobody_behind() -> None:
    found = spread(times, 3, range(1000), worth=1, workers=2)
    assert next(found) == 0
    assert isinstance(found, Iterator)
    found.close()  # type: ignore[attr-defined]
    assert left() == []


SCRIPT = """
import sys
from bookmaker.workshop.pool import spread
from tests.workshop.test_pool import sleeping

if __name__ == "__main__":
    print("begun", flush=True)
    list(spread(sleeping, float(sys.argv[2]), range(400), worth=1, workers=2, method=sys.argv[1]))
"""


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.slow
@pytest.mark.parametrize(("how", "seconds"), [(signal.SIGINT, 60), (signal.SIGKILL, 0.03)])
def test_nobody_outlives_the_main_process(method: str, how: signal.Signals, seconds: float, tmp_path: Path) -> None:
    """Interrupted, it ends all of them at once; killed, they end with the portion that they are at."""
    script = tmp_path / "script.py"
    script.write_text(SCRIPT, "utf-8")
    started = subprocess.Popen(
        [sys.executable, str(script), method, str(seconds)],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env=os.environ | {"PYTHONPATH": str(Path(__file__).parents[2])},
        start_new_session=True,
    )
    with started:
        assert started.stdout is not None
        started.stdout.readline()
        wait_for(lambda: len(workers_of(started.pid)) >= 2)
        time.sleep(0.5)
        started.send_signal(how)
        started.wait(10)
        wait_for(lambda: workers_of(started.pid) == [])


def wait_for(done: Callable[[], bool]) -> None:
    end = time.monotonic() + 15
    while not done():
        assert time.monotonic() < end
        time.sleep(0.05)


def workers_of(session: int) -> list[int]:
    """The processes of a session besides its first one."""
    listed = subprocess.run(
        ["ps", "-o", "pid=", "-s", str(session)], capture_output=True, text=True, check=False
    ).stdout
    return [int(each) for each in listed.split() if int(each) != session]


def left() -> list[BaseProcess]:
    return active_children()

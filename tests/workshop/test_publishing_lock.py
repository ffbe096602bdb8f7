"""One writer at a time: others wait for a while, and a dead one holds nobody up."""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from threading import Thread, Timer

import pytest

from bookmaker.cli import main
from bookmaker.workshop.commands import build as build_command
from bookmaker.workshop.publishing.lock import Lock
from bookmaker.workshop.publishing.publisher import Publisher
from bookmaker.workshop.publishing.refusals import Busy
from tests.support.disks import files_in, publish
from tests.workshop.soak.kills import QUICK, build, two_books

HOLD = """
import sys
from pathlib import Path
from bookmaker.workshop.publishing.publisher import Publisher
with Publisher(Path(sys.argv[1])) as publisher:
    publisher.publish("team", [])
    print("held", flush=True)
    sys.stdin.read()
"""

HOLD_AND_FORK = """
import os, sys, time
from pathlib import Path
from bookmaker.workshop.publishing.publisher import Publisher
with Publisher(Path(sys.argv[1])) as publisher:
    publisher.publish("team", [])
    child = os.fork()
    if not child:
        time.sleep(60)
    print(child, flush=True)
    sys.stdin.read()
"""


@contextmanager
def holder(out: Path, script: str = HOLD) -> Iterator[tuple["subprocess.Popen[str]", str]]:
    """Another process that publishes into the folder until it is killed, or its input is closed; and what it says."""
    command = [sys.executable, "-c", script, str(out)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        try:
            yield process, process.stdout.readline().strip()
        finally:
            process.kill()


def test_another_process_is_waited_for_and_then_given_up(tmp_path: Path) -> None:
    waits: list[str] = []
    with (
        holder(tmp_path),
        pytest.raises(Busy, match=r"another build is publishing into '.*' and was not done after 0 s"),
        Publisher(tmp_path, patience=0.3, on_wait=lambda: waits.append("waiting")),
    ):
        pass
    assert waits == ["waiting"]


def test_a_dead_process_holds_nobody_up(tmp_path: Path) -> None:
    with holder(tmp_path) as (process, _):
        process.kill()
        process.wait()
        publish(tmp_path, "team", {"index.html": b"front"})
    assert files_in(tmp_path) == {"index.html": b"front"}


@pytest.mark.skipif(not hasattr(os, "fork"), reason="a system without fork")
def test_its_orphans_hold_nobody_up(tmp_path: Path) -> None:
    """A pool's processes may outlive a build that was killed."""
    with holder(tmp_path, HOLD_AND_FORK) as (process, said):
        orphan = int(said)
        try:
            with pytest.raises(Busy):
                publish(tmp_path, "team", {})
            process.kill()
            process.wait()
            os.kill(orphan, 0)
            publish(tmp_path, "team", {"index.html": b"front"})
        finally:
            os.kill(orphan, signal.SIGKILL)


def test_one_that_finishes_is_waited_for(tmp_path: Path) -> None:
    with holder(tmp_path) as (process, _):
        assert process.stdin is not None
        Timer(0.3, process.stdin.close).start()
        with Publisher(tmp_path, patience=30) as publisher:
            publisher.publish("team", [("index.html", b"front")])
    assert files_in(tmp_path) == {"index.html": b"front"}


def test_another_thread_is_another_writer(tmp_path: Path) -> None:
    """The system's lock is the process's; ours is the publisher's."""
    lock, other = Lock(tmp_path / "lock"), Lock(tmp_path / "lock")
    assert lock.take(0, lambda: None)
    taken: list[bool] = []
    for patience in (0, 30):
        thread = Thread(target=lambda wait: taken.append(other.take(wait, lock.release)), args=(patience,))
        thread.start()
        thread.join()
        lock.take(0, lambda: None)
    assert taken == [False, True]
    assert not lock.held
    other.release()


def test_a_lock_is_let_go_of_when_publishing_fails(tmp_path: Path) -> None:
    for _ in range(2):
        with pytest.raises(ZeroDivisionError), Publisher(tmp_path, patience=0) as publisher:
            publisher.publish("team", ((f"{1 // 0}", b"") for _ in range(1)))


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return two_books(tmp_path)[0]


def test_a_build_says_that_it_was_held_up(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "build"
    monkeypatch.setattr(build_command, "Publisher", partial(Publisher, patience=0.2))
    with holder(out):
        assert main(["build", str(book), "--out", str(out), "--only", "record", "--on", "2026-11-25"]) == 1
    caught = capsys.readouterr()
    assert caught.out == ""
    assert "another build is publishing into" in caught.err
    assert "Nothing of this edition was changed" in caught.err


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="a system without such terminals")
def test_a_build_says_on_a_terminal_what_it_waits_for(book: Path, tmp_path: Path) -> None:
    out = tmp_path / "build"
    ours, theirs = os.openpty()
    with holder(out) as (other, _):
        process = subprocess.Popen(build(QUICK, book, out), stdout=subprocess.DEVNULL, stderr=theirs)
        os.close(theirs)
        said = b""
        while b"another build is publishing into" not in said:
            said += os.read(ours, 1000)
        assert not files_in(out)
        assert other.stdin is not None
        other.stdin.close()
        assert process.wait(timeout=60) == 0
    os.close(ours)
    assert "team/index.html" in files_in(out)

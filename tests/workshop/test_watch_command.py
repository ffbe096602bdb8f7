"""`watch` as a process of its own: it builds, serves, follows edits, keeps the last good pages, and stops when told."""

import http.client
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from bookmaker.workshop.starting import start_book

PATIENCE = 60.0


@dataclass(slots=True)
class Watch:
    """A running `watch` on the starter book."""

    process: "subprocess.Popen[str]"
    book: Path
    host: str

    def ask(self, path: str) -> tuple[int, str]:
        line = http.client.HTTPConnection(self.host, timeout=PATIENCE)
        line.request("GET", path)
        answer = line.getresponse()
        content = answer.read().decode("utf-8", "replace")
        line.close()
        return answer.status, content

    def standing(self, after: int = -1) -> dict[str, object]:
        told: dict[str, object] = json.loads(self.ask(f"/.watch/next?after={after}")[1])
        return told

    def next_after(self, number: int) -> dict[str, object]:
        """The first notice later than `number`."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            told = self.standing(number)
            if isinstance(told["number"], int) and told["number"] > number:
                return told
        message = "no build followed"
        raise TimeoutError(message)


@pytest.fixture
def watch(tmp_path: Path) -> Iterator[Watch]:
    start_book(tmp_path)
    command = [sys.executable, "-m", "bookmaker", "watch", "--port", "0", "--on", "2026-11-25"]
    process = subprocess.Popen(
        command,
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(Path(__file__).parents[2]), "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    assert process.stdout is not None
    address = process.stdout.readline().split()[0]
    running = Watch(process, tmp_path / "recipes", address.removeprefix("http://").rstrip("/"))
    running.next_after(0) if running.standing()["number"] == 0 else None
    yield running
    process.kill()
    process.wait()
    process.stdout.close()


def first_number(watch: Watch) -> int:
    number = watch.standing()["number"]
    assert isinstance(number, int)
    return number


@pytest.mark.slow
def test_watch_follows_edits_and_survives_mistakes(watch: Watch) -> None:
    recipe = watch.book / "biscuits/jam-sandwich.md"
    good = recipe.read_text("utf-8")
    page = "/recipes/biscuits/jam-sandwich.html"
    assert watch.ask(page)[0] == 200

    number = first_number(watch)
    recipe.write_text(good.replace("with jam between them", "with plenty of jam between them"), "utf-8")
    told = watch.next_after(number)
    assert told["problems"] == ""
    assert "plenty of jam" in watch.ask(page)[1]

    recipe.write_text(good.replace("raspberry jam", "rasberry jam"), "utf-8")
    told = watch.next_after(int(str(told["number"])))
    assert "did you mean 'raspberry jam'?" in str(told["problems"])
    assert "plenty of jam" in watch.ask(page)[1]  # the last good page

    recipe.write_text(good, "utf-8")
    told = watch.next_after(int(str(told["number"])))
    assert told["problems"] == ""
    assert "plenty of jam" not in watch.ask(page)[1]

    # a burst: a rename, a new file, a deletion
    recipe.rename(watch.book / "biscuits/jam-round.md")
    (watch.book / "biscuits/note.md").write_text(good.replace("title: Jam sandwich biscuit", "title: Note"), "utf-8")
    (watch.book / "biscuits/note.md").unlink()
    watch.next_after(int(str(told["number"])))
    end = time.monotonic() + PATIENCE
    while watch.ask("/recipes/biscuits/jam-round.html")[0] != 200 and time.monotonic() < end:
        time.sleep(0.1)
    assert watch.ask(page)[0] == 404

    watch.process.send_signal(signal.SIGINT)
    assert watch.process.wait(PATIENCE) == 0

"""A small real build, killed at random moments while somebody reads what it publishes."""

import random
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from threading import Event, Thread

from bookmaker.workshop.publishing.publisher import Publisher
from bookmaker.workshop.starting import start_book
from tests.support.disks import files_in

WHOLE = [sys.executable, "-m", "bookmaker"]
"""The command."""

QUICK = [
    sys.executable,
    "-c",
    "import sys; from bookmaker import cli; from bookmaker.press import fonts; fonts.FACES = (); sys.exit(cli.main())",
]
"""The command, but that it packs no fonts, which takes most of a small build's time."""

EDITIONS = ("team", "record")


def build(command: list[str], book: Path, out: Path) -> list[str]:
    """The arguments that build a book into a folder."""
    return [*command, "build", str(book), "--out", str(out), "--only", *EDITIONS, "--on", "2026-11-25"]


def two_books(folder: Path) -> tuple[Path, Path]:
    """The starter book, and that book with another house and a recipe renamed."""
    one, other = folder / "one", folder / "other"
    start_book(one)
    start_book(other)
    house = other / "recipes/house.yaml"
    house.write_text(house.read_text("utf-8").replace("name: ", "name: The other "), "utf-8")
    recipes = other / "recipes/biscuits"
    text = (recipes / "jam-sandwich.md").read_text("utf-8").replace("title: Jam", "title: Thick jam")
    (recipes / "jam-sandwich.md").unlink()
    (recipes / "thick-jam-sandwich.md").write_text(text, "utf-8")
    return one / "recipes", other / "recipes"


def parts(files: Mapping[str, bytes]) -> dict[str, dict[str, bytes]]:
    """The files by edition."""
    return {
        "team": {path: content for path, content in files.items() if path.startswith("team/")},
        "record": {path: content for path, content in files.items() if not path.startswith("team/")},
    }


@dataclass
class Reader:
    """Reads all published files over and over; `torn` are those that were none of the versions there may be."""

    out: Path
    versions: tuple[Mapping[str, bytes], ...]
    read: int = 0
    torn: list[str] = field(default_factory=list)

    @contextmanager
    def reading(self) -> Iterator[None]:
        """Read until left."""
        done = Event()
        thread = Thread(target=self._read, args=(done,))
        thread.start()
        try:
            yield
        finally:
            done.set()
            thread.join()

    def _read(self, done: Event) -> None:
        always = set.intersection(*(set(version) for version in self.versions))
        paths = sorted(set().union(*self.versions))
        while not done.is_set():
            for path in paths:
                try:
                    content = (self.out / path).read_bytes()
                except FileNotFoundError:
                    if path in always:
                        self.torn.append(f"{path} was missing")
                    continue
                self.read += 1
                if content not in [version.get(path) for version in self.versions]:
                    self.torn.append(f"{path} held {len(content)} other bytes")
            time.sleep(0.001)


@dataclass(frozen=True, slots=True)
class Build:
    """A build as it usually goes, in seconds: all of it, the time from its staging to its first journal, and how long
    that one stands.
    """

    takes: float
    staging: float
    changeover: float

    @classmethod
    def timed(cls, arguments: list[str], out: Path) -> "Build":
        """Build once and watch."""
        began = time.monotonic()
        with subprocess.Popen(arguments, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as process:
            staged = _until(lambda: _is_staging(out), process)
            decided = _until(lambda: _is_changing_over(out), process)
            done = _until(lambda: not _is_changing_over(out), process)
            process.wait()
            ended = time.monotonic()
        assert process.returncode == 0
        return cls(ended - began, decided - staged, done - decided)


def _until(come: Callable[[], bool], process: "subprocess.Popen[bytes]") -> float:
    """When something came about, or the process ended. Whoever looks too seldom misses what takes milliseconds."""
    while not come() and process.poll() is None:
        pass
    return time.monotonic()


def _busily_wait(seconds: float) -> None:
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        pass


def _is_staging(out: Path) -> bool:
    return any((out / ".publish").glob("work-*"))


def _is_changing_over(out: Path) -> bool:
    return (out / ".publish/journal").exists()


def kill_at_some_moment(arguments: list[str], out: Path, usual: Build, chance: random.Random) -> bool:
    """Build and kill: at any moment, or any moment of staging, or any of the changeover, a third each.

    Whether it was struck half-way: that it left a journal.
    """
    process = subprocess.Popen(arguments, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        match chance.randrange(3):
            case 0:
                time.sleep(chance.uniform(0, usual.takes))
            case 1:
                _until(lambda: _is_staging(out), process)
                time.sleep(chance.uniform(0, usual.staging))
            case _:
                _until(lambda: _is_changing_over(out), process)
                # rather early: whoever looks is often late, and then it is over
                _busily_wait(chance.random() ** 3 * usual.changeover)
    finally:
        process.kill()
        process.wait()
    return _is_changing_over(out)


def kill_and_build(folder: Path, kills: int, *, command: list[str], seed: int) -> int:
    """Kill so many builds of a book that changes to and fro; how many were struck half-way. Raises `AssertionError`.

    What recovery alone makes of each second one is looked at too; the others are left to the next build.
    """
    chance = random.Random(seed)
    versions, book, out = two_books(folder), folder / "book", folder / "build"
    arguments = build(command, book, out)
    clean = []
    for version in versions:
        shutil.copytree(version, book)
        subprocess.run(build(command, book, folder / "clean"), check=True, capture_output=True)
        clean.append(files_in(folder / "clean"))
        shutil.rmtree(book)
    assert clean[0].keys() != clean[1].keys()
    shutil.copytree(versions[0], book)
    subprocess.run(arguments, check=True, capture_output=True)
    _change(book, versions[1])
    usual = Build.timed(arguments, out)
    (out / "team/notes.txt").write_bytes(b"somebody's")
    midway = 0
    reader = Reader(out, tuple(clean))
    with reader.reading():
        for _ in range(kills):
            is_first = parts(files_in(out))["record"] == parts(clean[0])["record"]
            _change(book, versions[1 if is_first else 0])
            midway += kill_at_some_moment(arguments, out, usual, chance)
            assert (out / "team/notes.txt").read_bytes() == b"somebody's"
            if chance.random() < 1 / 2:
                with Publisher(out):
                    now = files_in(out)
                assert now.pop("team/notes.txt") == b"somebody's"
                for edition, files in parts(now).items():
                    assert files in [parts(version)[edition] for version in clean], edition
        for version, expected in zip(versions, clean, strict=True):
            _change(book, version)
            subprocess.run(arguments, check=True, capture_output=True)
            assert files_in(out) == {**expected, "team/notes.txt": b"somebody's"}
    assert not reader.torn, reader.torn[:5]
    assert reader.read > len(clean[0])
    assert not [path for path in (out / ".publish").iterdir() if path.name.startswith(("work-", "journal"))]
    return midway


def _change(book: Path, version: Path) -> None:
    """Let the book be as that version of it."""
    shutil.rmtree(book)
    shutil.copytree(version, book)

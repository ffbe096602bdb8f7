"""A small real build, killed at random moments while somebody reads what it publishes."""

import random
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
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


def kill_at_some_moment(arguments: list[str], out: Path, takes: float, chance: random.Random) -> bool:
    """Build and kill, every third time at any moment, else while it publishes; whether that left a journal."""
    process = subprocess.Popen(arguments, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        if chance.random() < 1 / 3:
            time.sleep(chance.uniform(0, takes))
        else:
            while process.poll() is None and not any((out / ".publish").glob("work-*")):
                time.sleep(0.0005)
            time.sleep(chance.uniform(0, 0.05))
    finally:
        process.kill()
        process.wait()
    return (out / ".publish/journal").exists()


def kill_and_build(folder: Path, kills: int, *, command: list[str], seed: int) -> int:
    """Kill so many builds of two books, by turns; how many left a journal. Raises `AssertionError`.

    What recovery alone makes of each second one is looked at too; the others are left to the next build.
    """
    chance = random.Random(seed)
    books, out = two_books(folder), folder / "build"
    begin = time.monotonic()
    for book in books:
        subprocess.run(build(command, book, folder / book.parent.name / "clean"), check=True, capture_output=True)
    takes = (time.monotonic() - begin) / 2
    clean = tuple(files_in(folder / book.parent.name / "clean") for book in books)
    assert clean[0].keys() != clean[1].keys()
    subprocess.run(build(command, books[0], out), check=True, capture_output=True)
    (out / "team/notes.txt").write_bytes(b"somebody's")
    midway = 0
    reader = Reader(out, clean)
    with reader.reading():
        for number in range(kills):
            midway += kill_at_some_moment(build(command, books[(number + 1) % 2], out), out, takes, chance)
            assert (out / "team/notes.txt").read_bytes() == b"somebody's"
            if chance.random() < 1 / 2:
                with Publisher(out):
                    now = files_in(out)
                assert now.pop("team/notes.txt") == b"somebody's"
                for edition, files in parts(now).items():
                    assert files in [parts(version)[edition] for version in clean], edition
        for book, version in zip(books, clean, strict=True):
            subprocess.run(build(command, book, out), check=True, capture_output=True)
            assert files_in(out) == {**version, "team/notes.txt": b"somebody's"}
    assert not reader.torn, reader.torn[:5]
    assert reader.read > len(clean[0])
    assert not [path for path in (out / ".publish").iterdir() if path.name.startswith(("work-", "journal"))]
    return midway

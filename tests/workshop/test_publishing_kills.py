"""Real builds, killed, and two of them at once."""

import subprocess
from pathlib import Path

import pytest

from tests.support.disks import files_in
from tests.workshop.soak.kills import QUICK, build, kill_and_build, two_books


@pytest.mark.slow
def test_fifty_killed_builds(tmp_path: Path) -> None:
    """After each, what is published is whole, and at the end as if nothing had been.

    Nearly every third is struck in the midst of a changeover; each step of one is stopped by itself elsewhere.
    """
    # how many are struck half-way is up to the machine; with none, nothing would have been tried
    assert kill_and_build(tmp_path, 50, command=QUICK, seed=20261125)


def at_once(*commands: list[str]) -> list[tuple[int, str]]:
    """What builds that are begun together come to: exit codes, and what they complain of."""
    begun = [
        subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) for command in commands
    ]
    return [(process.wait(timeout=100), said) for process, said in ((each, each.communicate()[1]) for each in begun)]


def test_two_builds_at_once(tmp_path: Path) -> None:
    """One waits for the other."""
    book, out = two_books(tmp_path)[0], tmp_path / "build"
    assert at_once(build(QUICK, book, out), build(QUICK, book, out)) == [(0, ""), (0, "")]
    subprocess.run(build(QUICK, book, tmp_path / "clean"), check=True, capture_output=True)
    assert files_in(out) == files_in(tmp_path / "clean")


def test_two_books_at_once(tmp_path: Path) -> None:
    """One is published, whole; the other is refused."""
    books, out = two_books(tmp_path), tmp_path / "build"
    ended = at_once(*(build(QUICK, book, out) for book in books))
    assert sorted(code for code, _ in ended) == [0, 1]
    (said,) = (said for code, said in ended if code == 1)
    assert "holds what was published from another book" in said
    published = next(book for book, (code, _) in zip(books, ended, strict=True) if code == 0)
    subprocess.run(build(QUICK, published, tmp_path / "clean"), check=True, capture_output=True)
    assert files_in(out) == files_in(tmp_path / "clean")

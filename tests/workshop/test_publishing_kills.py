"""Real builds, killed, and two of them at once."""

import subprocess
from pathlib import Path

import pytest

from tests.support.disks import files_in
from tests.workshop.soak.kills import QUICK, build, kill_and_build, two_books


@pytest.mark.slow
def test_fifty_killed_builds(tmp_path: Path) -> None:
    """After each, what is published is whole, and at the end as if nothing had been.

    How many kills meet a publication half-way is chance; that one does is tested step by step elsewhere.
    """
    kill_and_build(tmp_path, 50, command=QUICK, seed=20261125)


def test_two_builds_at_once(tmp_path: Path) -> None:
    """One waits for the other; the result is as if one of them had built alone."""
    books = two_books(tmp_path)
    out = tmp_path / "build"
    for book in books:
        subprocess.run(build(QUICK, book, tmp_path / book.parent.name / "clean"), check=True, capture_output=True)
    both = [
        subprocess.Popen(build(QUICK, book, out), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        for book in books
    ]
    for process in both:
        _, errors = process.communicate(timeout=100)
        assert (process.returncode, errors) == (0, "")
    assert files_in(out) in [files_in(tmp_path / book.parent.name / "clean") for book in books]

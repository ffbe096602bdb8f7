"""Wrong books: each folder in `wrong` is laid over the sound book, and says exactly what should be heard about it.

`expected.txt` is the whole report. A file `absent.txt` lists files of the sound book that this one lacks.
Write the reports anew with `BOOKMAKER_WRITE_EXPECTED=1`, then read every one of them as a cook would.
"""

import os
import shutil
from datetime import date
from pathlib import Path

import pytest

from bookmaker.kitchen.compute import compute
from bookmaker.problems.echoes import without_echoes
from bookmaker.problems.report import text_report
from bookmaker.reading.book import read_book

HERE = Path(__file__).parent
SOUND = HERE / "sound"
WRONG = sorted(folder for folder in (HERE / "wrong").iterdir() if folder.is_dir())
OF_THE_CASE = ("expected.txt", "absent.txt")


def _report(folder: Path) -> str:
    reading = read_book(folder)
    findings = compute(reading.book, date(2026, 10, 5)).findings if reading.book else ()
    return text_report(without_echoes(reading.problems, findings), reading.sources)


def _laid_over(wrong: Path, folder: Path) -> Path:
    shutil.copytree(SOUND, folder)
    shutil.copytree(wrong, folder, dirs_exist_ok=True, ignore=shutil.ignore_patterns(*OF_THE_CASE))
    absent = wrong / "absent.txt"
    for name in absent.read_text(encoding="utf-8").split() if absent.exists() else ():
        (folder / name).unlink()
    return folder


def test_the_sound_book_is_sound() -> None:
    assert _report(SOUND) == ""


@pytest.mark.parametrize("wrong", WRONG, ids=lambda folder: folder.name)
def test_a_wrong_book_says_what_is_wrong(wrong: Path, tmp_path: Path) -> None:
    expected = wrong / "expected.txt"
    heard = _report(_laid_over(wrong, tmp_path / "book"))
    if os.environ.get("BOOKMAKER_WRITE_EXPECTED"):
        expected.write_text(heard, encoding="utf-8", newline="\n")
    assert heard == expected.read_text(encoding="utf-8")
    assert heard, "a wrong book must be heard"

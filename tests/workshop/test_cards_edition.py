"""The bench cards as an edition: which files there are, which are made again, and what is said."""

import hashlib
import shutil
from pathlib import Path

import pytest

from bookmaker.cli import main

pytestmark = pytest.mark.pdf

BOOK = Path(__file__).parent / "issuing"


def build(book: Path, out: Path) -> None:
    assert main(["build", str(book), "--out", str(out), "--only", "cards", "--on", "2026-11-25"]) == 0


def files(out: Path) -> dict[str, str]:
    folder = out / "cards"
    return {
        path.relative_to(folder).as_posix(): hashlib.blake2b(path.read_bytes()).hexdigest()
        for path in folder.rglob("*.pdf")
    }


@pytest.fixture
def book(tmp_path: Path) -> Path:
    shutil.copytree(BOOK, tmp_path / "book")
    return tmp_path / "book"


def test_from_first_to_last(book: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One history, as each build takes its time: made, kept, changed, and the same as made afresh."""
    out = tmp_path / "build"
    build(book, out)
    first = files(out)
    stems = ("bars/bar", "bars/trial", "creams/mousse", "moulded/pebble")
    assert first.keys() == {
        "all.pdf",
        "records.pdf",
        *(f"{stem}{end}" for stem in stems for end in (".pdf", ".record.pdf")),
    }
    assert "house.yaml does not say where the\nbook is `published at`" in capsys.readouterr().err

    (book / "stores/prices.csv").write_text(
        (book / "stores/prices.csv").read_text("utf-8").replace("18.00", "28.00"), "utf-8"
    )
    build(book, out)
    assert files(out) == first, "what things cost is on no card"
    assert "published at" in capsys.readouterr().err, "it is said as long as it is so"

    bar = book / "bars/bar.md"
    bar.write_text(bar.read_text("utf-8").replace("300 g plain flour", "310 g plain flour"), "utf-8")
    build(book, out)
    second = files(out)
    changed = {name for name in second if second[name] != first[name]}
    assert changed == {"all.pdf", "records.pdf", "bars/bar.pdf", "bars/bar.record.pdf"}

    build(book, tmp_path / "fresh")
    assert files(tmp_path / "fresh") == second, "a warm build equals a cold one, byte for byte"
    with (book / "house.yaml").open("a", encoding="utf-8") as house:
        house.write("published at: https://book.quillhaven.example/\n")
    capsys.readouterr()
    build(book, out)
    assert "published at" not in capsys.readouterr().err
    assert {name for name in second if files(out)[name] != second[name]} == {
        "all.pdf",
        *(f"{stem}.pdf" for stem in stems),
    }

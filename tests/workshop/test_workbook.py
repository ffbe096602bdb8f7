"""`build --only workbook`: what is published for apprentices and for their teacher, and what is made again when."""

import re
import shutil
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from pypdf import PdfReader

from bookmaker.cli import main
from tests.editions.workbook.test_workbook import SMALL
from tests.support.links import broken

pytestmark = pytest.mark.pdf

CANARY = "a reserve in the second jar"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    folder = tmp_path / "book"
    for name, text in SMALL.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    change(folder, "breads/loaf.md", "price: {}\n", "")
    change(folder, "breads/loaf.md", ", {x}", f", {CANARY}")
    change(folder, "house.yaml", "classes: [first, second]\n", "classes: [first]\n")
    return folder


def change(book: Path, name: str, old: str, new: str) -> None:
    file = book / name
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new), "utf-8")


def build(book: Path, out: str = "build") -> int:
    return main(["build", str(book), "--out", str(book.parent / out), "--on", "2026-11-25", "--only", "workbook"])


def published(book: Path, out: str = "build") -> dict[str, bytes]:
    root = book.parent / out / "workbook"
    return {path.relative_to(root).as_posix(): path.read_bytes() for path in root.rglob("*") if path.is_file()}


def pages(files: dict[str, bytes]) -> set[str]:
    return {name for name in files if "assets/" not in name}


def words(pdf: bytes) -> str:
    return " ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


def test_a_workbook_and_its_answers_apart(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert build(book) == 0
    files = published(book)
    assert pages(files) == {
        "index.html", "topics.html", "safety.html", "glossary.html", "progress.html", "recipes/breads/loaf.html",
        "workbook.pdf", "answers/index.html", "answers/answers.pdf", "answers/recipes/breads/loaf.html",
    }  # fmt: skip
    assert [str(link) for link in broken(book.parent / "build/workbook")] == []
    own = {name: content for name, content in files.items() if not name.startswith("answers/")}
    shutil.rmtree(book.parent / "build/workbook/answers")
    assert [str(link) for link in broken(book.parent / "build/workbook")] == []
    assert not [name for name, content in own.items() if name.endswith(".html") and b"answers/" in content]
    for name, content in files.items():
        if name.endswith(".pdf"):
            with pikepdf.open(BytesIO(content)) as document:
                assert document.Root.MarkInfo.Marked
            text = words(content)
        else:
            text = content.decode("utf-8", "replace")
        for secret in (CANARY, "43.21", "GBP"):
            assert secret not in text, name
    assert "first" in words(files["workbook.pdf"])
    assert "workbook/index.html" in capsys.readouterr().out


def test_only_what_changed_is_made_again_and_warm_equals_cold(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    build(book)
    capsys.readouterr()
    build(book)
    assert "written" not in capsys.readouterr().out
    before = published(book)
    change(book, "breads/loaf.md", "1. Mix.", "1. Mix well.")
    build(book)
    after = published(book)
    assert {name for name in after if after[name] != before[name]} >= {"recipes/breads/loaf.html", "workbook.pdf"}
    assert all(after[name] == before[name] for name in ("index.html", "safety.html", "topics.html", "progress.html"))
    change(book, "stores/prices.csv", "43.21", "44.32")
    capsys.readouterr()
    build(book)
    assert "written" not in capsys.readouterr().out
    build(book, "cold")
    assert published(book, "cold") == published(book)


def test_each_class_has_a_folder_with_numbers_of_its_own(book: Path) -> None:
    change(book, "house.yaml", "classes: [first]\n", "classes: [first, second]\n")
    assert build(book) == 0
    files = published(book)
    assert {"index.html", "first/index.html", "second/index.html", "first/answers/index.html"} <= {*files}
    assert [str(link) for link in broken(book.parent / "build/workbook")] == []
    numbers = [re.findall(r'<td class="n">([^<]*)</td>', files[f"{each}/recipes/breads/loaf.html"].decode())
               for each in ("first", "second")]  # fmt: skip
    assert numbers[0] != numbers[1]
    # one class fewer: what was the others' goes
    change(book, "house.yaml", "classes: [first, second]\n", "classes: [second]\n")
    build(book)
    now = published(book)
    assert now["recipes/breads/loaf.html"] == files["second/recipes/breads/loaf.html"]
    assert not [name for name in now if name.startswith(("first/", "second/"))]


def test_a_book_that_teaches_nothing_publishes_none(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(book, "breads/loaf.md", "teach: yes", "teach: no")
    assert build(book) == 0
    assert "nothing to publish" in capsys.readouterr().out
    assert published(book) == {}


def test_a_topic_holds_for_as_long_as_the_glossary_explains_it(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A recipe whose own file has not changed is looked at again when a word that it names goes."""

    def record() -> int:
        out = str(book.parent / "build")
        return main(["build", str(book), "--out", out, "--on", "2026-11-25", "--only", "record"])

    change(book, "breads/loaf.md", "teach: yes", "teach: {topics: [crumb]}")
    assert record() == 0
    change(book, "glossary.md", "## Crumb", "## Crumbs")
    capsys.readouterr()
    assert record() == 1
    said = capsys.readouterr().err
    assert "'crumb' is no topic" in said
    assert "did you mean 'crumbs'?" in said
    change(book, "glossary.md", "## Crumbs", "## Crumb")
    assert record() == 0

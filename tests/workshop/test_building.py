"""`start` and `build`: a new book builds at once; errors stop publishing and lose nothing."""

import json
import re
import shutil
from pathlib import Path

import pytest

from bookmaker.cli import main

ON = ["--on", "2026-11-25"]


@pytest.fixture
def started(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["start", str(tmp_path / "kitchen")]) == 0
    capsys.readouterr()
    return tmp_path / "kitchen"


def build(started: Path, *more: str) -> int:
    return main(["build", str(started), "--out", str(started / "build"), *ON, *more])


def test_a_new_book_has_nothing_wrong_with_it(started: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(started), *ON]) == 0
    assert capsys.readouterr().err == ""


def test_a_folder_that_is_taken_is_left_alone(started: Path, capsys: pytest.CaptureFixture[str]) -> None:
    house = started / "recipes/house.yaml"
    house.write_text("format: 1\nname: Mine\n")
    assert main(["start", str(started)]) == 2
    assert house.read_text() == "format: 1\nname: Mine\n"
    assert "is not empty" in capsys.readouterr().err


def test_build_publishes_the_site_and_the_record(started: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert build(started, "--only", "team", "record") == 0
    assert (started / "build/team/index.html").is_file()
    written = (started / "build/book.json").read_text("utf-8")
    record = json.loads(written)
    assert written == json.dumps(record, ensure_ascii=False, indent=1) + "\n", (
        "it is put together as one would write it"
    )
    assert record["format"] == 1
    assert [recipe["title"] for recipe in record["recipes"]] == ["Butter biscuit", "Jam sandwich biscuit"]
    assert not (started / "build/book.pdf").exists()
    caught = capsys.readouterr()
    assert caught.err == ""  # quiet in a pipe
    assert "written" in caught.out


def test_a_second_build_writes_nothing(started: Path, capsys: pytest.CaptureFixture[str]) -> None:
    build(started, "--only", "team", "record")
    capsys.readouterr()
    assert build(started, "--only", "team", "record") == 0
    assert "written" not in capsys.readouterr().out


def test_errors_stop_publishing_and_lose_nothing(started: Path, capsys: pytest.CaptureFixture[str]) -> None:
    build(started, "--only", "team")
    page = next((started / "build/team").rglob("jam-sandwich.html"))
    before = page.read_bytes()
    recipe = started / "recipes/biscuits/jam-sandwich.md"
    recipe.write_text(recipe.read_text("utf-8").replace("raspberry jam", "rasberry jam"), "utf-8")
    capsys.readouterr()
    assert build(started, "--only", "team") == 1
    caught = capsys.readouterr()
    assert "did you mean 'raspberry jam'?" in caught.err
    assert "Nothing was published" in caught.err
    assert page.read_bytes() == before


def test_a_strangers_file_in_the_way_is_named(started: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (started / "build/team").mkdir(parents=True)
    (started / "build/team/index.html").write_text("somebody's")
    assert build(started, "--only", "team") == 1
    assert "index.html" in capsys.readouterr().err
    assert (started / "build/team/index.html").read_text() == "somebody's"


def test_a_books_own_theme_is_laid_over_file_by_file(started: Path) -> None:
    own = started / "recipes/theme/site"
    own.mkdir(parents=True)
    (own / "foot.html").write_text("<footer>our own foot</footer>\n")
    assert build(started, "--only", "team") == 0
    front = (started / "build/team/index.html").read_text("utf-8")
    assert "our own foot" in front
    assert "Butter biscuit" in (started / "build/team/by-name.html").read_text("utf-8")


def test_the_same_book_gives_the_same_bytes(started: Path, tmp_path: Path) -> None:
    build(started, "--only", "team", "record")
    main(["build", str(started), "--out", str(tmp_path / "again"), "--only", "team", "record", *ON])
    ours = {path.relative_to(started / "build"): path.read_bytes() for path in files_in(started / "build")}
    again = {path.relative_to(tmp_path / "again"): path.read_bytes() for path in files_in(tmp_path / "again")}
    assert ours == again


def files_in(folder: Path) -> list[Path]:
    return sorted(
        path
        for path in folder.rglob("*")
        if path.is_file() and ".publish" not in path.parts and ".cache" not in path.parts
    )


def test_two_names_for_one_page_are_an_error(started: Path, capsys: pytest.CaptureFixture[str]) -> None:
    biscuit = (started / "recipes/biscuits/butter-biscuit.md").read_text("utf-8")
    other = biscuit.replace("title: Butter biscuit", "title: Bütter biscuit two").replace("B-01", "B-09")
    (started / "recipes/biscuits/bütter-biscuit.md").write_text(other, "utf-8")
    assert build(started, "--only", "team") == 1
    said = capsys.readouterr().err
    assert "error[same-page]" in said
    assert "biscuits/butter-biscuit.html" in said
    assert not (started / "build/team").exists()


def begin(folder: Path, name: str) -> Path:
    """The starter book of a house with this name."""
    main(["start", str(folder)])
    house = folder / "recipes/house.yaml"
    house.write_text(re.sub(r"(?m)^name: .*$", f"name: {name}", house.read_text("utf-8")), "utf-8")
    return folder / "recipes"


def publish(book: Path, out: Path) -> int:
    return main(["build", str(book), "--out", str(out), "--only", "record", *ON])


def test_another_book_is_not_published_over_this_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one, other, out = begin(tmp_path / "one", "One"), begin(tmp_path / "other", "Other"), tmp_path / "build"
    assert publish(one, out) == 0
    before = {path: path.read_bytes() for path in files_in(out)}
    capsys.readouterr()
    for _ in range(2):
        assert publish(other, out) == 1
        assert main(["build", str(other), "--out", str(out), "--only", "team", "--fresh", *ON]) == 1
    assert capsys.readouterr().err.splitlines()[0] == (
        f"bookmaker: '{out}' holds what was published from another book, '{one}'; publish this one elsewhere with "
        f"--out DIR, or move '{out}' away first. Nothing of this edition was changed."
    )
    assert {path: path.read_bytes() for path in files_in(out)} == before
    assert publish(one, out) == 0


def test_a_copy_of_a_book_is_another_book(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one, out = begin(tmp_path / "one", "One"), tmp_path / "build"
    assert publish(one, out) == 0
    shutil.copytree(one, tmp_path / "copy")
    assert publish(tmp_path / "copy", out) == 1
    assert "from another book" in capsys.readouterr().err


def test_a_book_that_was_moved_is_still_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one, out = begin(tmp_path / "one", "One"), tmp_path / "build"
    assert publish(one, out) == 0
    moved = one.rename(tmp_path / "moved")
    (moved / "house.yaml").write_text((moved / "house.yaml").read_text("utf-8") + "# moved\n", "utf-8")
    assert publish(moved, out) == 0
    assert publish(begin(tmp_path / "one", "One"), out) == 1, "the new place is taken down"
    capsys.readouterr()


def test_another_book_is_refused_where_the_first_is_gone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one, other, out = begin(tmp_path / "one", "One"), begin(tmp_path / "other", "Other"), tmp_path / "build"
    assert publish(one, out) == 0
    shutil.rmtree(one)
    assert publish(other, out) == 1
    assert "from another book" in capsys.readouterr().err
    shutil.rmtree(out)
    assert publish(other, out) == 0


def test_a_book_may_be_copied_or_moved_with_its_pages(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one = begin(tmp_path / "one", "One")
    assert publish(one, tmp_path / "one/build") == 0
    shutil.copytree(tmp_path / "one", tmp_path / "copy")
    assert publish(tmp_path / "copy/recipes", tmp_path / "copy/build") == 0
    assert capsys.readouterr().err == ""

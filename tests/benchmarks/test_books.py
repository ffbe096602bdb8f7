"""The generator of large books writes books that a cook could have written: sound, deep, different each time."""

from datetime import date
from pathlib import Path

import pytest

from bookmaker.cli import main
from bookmaker.kitchen.compute import compute
from bookmaker.model.refs import RecipeRef
from bookmaker.reading.book import read_book
from tests.benchmarks.books import write_book

RECIPES = 30


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("generated")
    write_book(folder, RECIPES)
    return folder


def test_it_is_sound_and_computes(folder: Path) -> None:
    reading = read_book(folder)
    assert reading.book is not None
    assert [(each.anchor.document, each.message) for each in reading.problems] == []
    assert len({ref.id for ref in reading.book.recipes}) == RECIPES
    figures = compute(reading.book, date(2026, 11, 30))
    assert figures.findings == ()
    lacking = {ref: figure.cost.lacks for ref, figure in figures.recipes.items() if figure.cost.lacks}
    assert lacking == {}


def test_components_stand_in_each_other(folder: Path) -> None:
    reading = read_book(folder)
    assert reading.book is not None
    figures = compute(reading.book, date(2026, 11, 30)).recipes
    depth: dict[RecipeRef, int] = {}
    for ref, figure in figures.items():
        depth[ref] = 1 + max((depth[part] for part in figure.components), default=0)
    assert max(depth.values()) >= 4


def test_it_builds(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", str(folder), "--out", str(tmp_path), "--only", "team", "--on", "2026-11-30"]) == 0
    assert capsys.readouterr().err == ""
    assert len(list((tmp_path / "team" / "recipes").rglob("*.html"))) > RECIPES


def test_a_seed_stands_for_one_book(folder: Path, tmp_path: Path) -> None:
    for name, seed in (("again", 1), ("other", 2)):
        write_book(tmp_path / name, RECIPES, seed)
    assert _texts(tmp_path / "again") == _texts(folder)
    assert _texts(tmp_path / "other") != _texts(folder)


def _texts(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): path.read_text("utf-8") for path in folder.rglob("*") if path.is_file()
    }

"""What a command is asked: which book, which date, which recipe."""

from datetime import date
from pathlib import Path

import pytest

from bookmaker.workshop.clock import NoDate, costing_date
from bookmaker.workshop.finding import NoBook, find_book


def test_a_date_given_counts() -> None:
    assert costing_date("2026-11-30") == date(2026, 11, 30)


def test_else_the_source_date_epoch(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1764547200")  # 2025-12-01T00:00:00Z
    assert costing_date(None) == date(2025, 12, 1)


def test_else_today(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    before = date.today()
    assert before <= costing_date(None) <= date.today()


@pytest.mark.parametrize("text", ["30.11.2026", "2026-02-30", "", "soon"])
def test_anything_else_is_refused_in_words(text: str) -> None:
    with pytest.raises(NoDate, match="write it as"):
        costing_date(text)


def test_an_epoch_that_is_no_number_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "yesterday")
    with pytest.raises(NoDate, match="no number of seconds"):
        costing_date(None)


@pytest.fixture
def kitchen(tmp_path: Path) -> Path:
    (tmp_path / "recipes/breads").mkdir(parents=True)
    (tmp_path / "recipes/house.yaml").write_text("format: 1\n")
    return tmp_path


def test_the_nearest_book_above(kitchen: Path) -> None:
    assert find_book(None, kitchen / "recipes/breads") == kitchen / "recipes"


def test_else_recipes_here(kitchen: Path) -> None:
    assert find_book(None, kitchen) == kitchen / "recipes"


def test_a_book_may_be_named_by_its_folder_or_the_one_above(kitchen: Path) -> None:
    assert find_book("recipes", kitchen) == kitchen / "recipes"
    assert find_book(".", kitchen) == kitchen / "recipes"


def test_no_book_is_said_in_words(kitchen: Path) -> None:
    with pytest.raises(NoBook, match=r"'recipes/breads' has no house\.yaml"):
        find_book("recipes/breads", kitchen)
    with pytest.raises(NoBook, match="'elsewhere' is no folder"):
        find_book("elsewhere", kitchen)

from pathlib import Path

import pytest

from tests.support import nu

pytestmark = pytest.mark.slow

PAGE = '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>Rye</title></head><body>{}</body></html>'


def test_errors_are_told_from_remarks(tmp_path: Path) -> None:
    (tmp_path / "breads").mkdir()
    (tmp_path / "good.html").write_text(PAGE.format("<p>Good</p>"), encoding="utf-8")
    (tmp_path / "breads" / "slash.html").write_text(PAGE.format("<p>One<br/>two</p>"), encoding="utf-8")
    (tmp_path / "breads" / "wrong.html").write_text(PAGE.format('\n<p><img src="a.png"></p>'), encoding="utf-8")
    said = nu.messages(tmp_path)
    (error,) = (message for message in said if message.kind == "error")
    assert (error.file.name, error.line) == ("wrong.html", 2)
    assert "alt" in error.text
    assert {message.file.name for message in said} == {"slash.html", "wrong.html"}
    assert nu.errors(tmp_path) == [error]


def test_an_empty_folder_is_no_success(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        nu.messages(tmp_path)

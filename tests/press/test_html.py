"""The door to the templates: relative addresses, themes laid over each other, strictness."""

from pathlib import Path

import pytest
from jinja2 import TemplateNotFound, UndefinedError

from bookmaker.editions.team.views import Route
from bookmaker.press.formats import Formats
from bookmaker.press.html import environment, relative, relative_file


@pytest.mark.parametrize(
    ("folder", "to", "address"),
    [
        ("", Route("", "index"), "index.html"),
        ("", Route("stores", "salt"), "stores/salt.html"),
        ("recipes/breads", Route("recipes/breads", "rye"), "rye.html"),
        ("recipes/breads", Route("recipes/tarts", "plum", "step-1"), "../tarts/plum.html#step-1"),
        ("recipes/breads", Route("", "index"), "../../index.html"),
        ("working/breads", Route("working", "top"), "../top.html"),
    ],
)
def test_addresses_are_relative(folder: str, to: Route, address: str) -> None:
    assert relative(folder, to) == address


def test_files_are_relative_too() -> None:
    assert relative_file("recipes/breads", "assets/ledger.css") == "../../assets/ledger.css"
    assert relative_file("", "assets/ledger.css") == "assets/ledger.css"


def lay(folder: Path, name: str, text: str) -> Path:
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")
    return folder


def test_the_first_theme_that_has_a_file_wins(tmp_path: Path) -> None:
    own = lay(tmp_path / "own", "foot.html", "ours")
    ledger = lay(tmp_path / "ledger", "foot.html", "ledger")
    lay(ledger, "page.html", '{% include "foot.html" %}')
    assert environment([own, ledger], Formats()).get_template("page.html").render() == "ours"
    assert environment([ledger], Formats()).get_template("page.html").render() == "ledger"


def test_a_name_that_nobody_gave_is_an_error(tmp_path: Path) -> None:
    page = environment([lay(tmp_path, "page.html", "{{ view.weight }}")], Formats()).get_template("page.html")
    with pytest.raises(UndefinedError):
        page.render(view={})


def test_what_is_printed_is_escaped(tmp_path: Path) -> None:
    page = environment([lay(tmp_path, "page.html", "{{ name }}")], Formats()).get_template("page.html")
    assert page.render(name="<b>") == "&lt;b&gt;"


def test_a_missing_template_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(TemplateNotFound):
        environment([tmp_path], Formats()).get_template("none.html")

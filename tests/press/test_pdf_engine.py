"""The door to the page engine: what it says where libraries are missing, and that it fetches nothing."""

import builtins
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from urllib.request import url2pathname

import pytest

from bookmaker.cli import main
from bookmaker.model.house import Paper
from bookmaker.press import pdf
from tests.support.published import LEDGER

pytestmark = pytest.mark.pdf


@pytest.fixture
def without_pango(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """As on a machine where the engine's import fails, because Pango is not there."""
    really = builtins.__import__

    def import_(name: str, *rest: Any, **more: Any) -> Any:
        if name == "weasyprint":
            raise OSError("cannot load library 'libpango-1.0-0'")
        return really(name, *rest, **more)

    pdf._weasyprint.cache_clear()
    monkeypatch.setattr(builtins, "__import__", import_)
    yield
    monkeypatch.undo()
    pdf._weasyprint.cache_clear()


@pytest.mark.usefixtures("without_pango")
def test_a_machine_without_pango_is_told_how_to_get_it() -> None:
    with pytest.raises(pdf.NoPdfLibrary) as missing:
        pdf.insist()
    said = str(missing.value)
    assert "apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0" in said
    assert "brew install pango" in said
    assert "--only team record" in said


@pytest.mark.usefixtures("without_pango")
def test_a_build_of_the_book_stops_before_any_work_without_pango(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["build", str(tmp_path / "nowhere"), "--only", "book", "--out", str(tmp_path / "out")]) == 1
    assert "bookmaker: PDF pages need the Pango library" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_the_slow_way_with_fonts_works_and_is_announced(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from weasyprint.pdf import fonts
    from weasyprint.text import ffi

    fast = pdf.to_pdf("<html lang=en><title>x</title><p>Flour", "")
    for module in (ffi, fonts):
        monkeypatch.setattr(module, "harfbuzz_subset", None)
    assert not pdf.subsets_fonts_fast()
    slow = pdf.to_pdf("<html lang=en><title>x</title><p>Flour", "")
    assert slow.startswith(b"%PDF")
    assert slow != fast
    assert main(["build", str(tmp_path / "nowhere"), "--only", "book", "--out", str(tmp_path / "out")]) == 2
    assert "libharfbuzz-subset is not installed: fonts are cut down the slow way" in capsys.readouterr().err


def test_every_face_has_its_file() -> None:
    addresses = [rule.split("url(")[1].split(")")[0] for rule in pdf.font_rules().splitlines()]
    assert len(addresses) == 5
    assert all(Path(url2pathname(urlsplit(address).path)).is_file() for address in addresses)


@pytest.mark.parametrize("address", ["https://example.com/x.png", "http://example.com/x.css"])
def test_nothing_is_fetched(address: str) -> None:
    from weasyprint.urls import FatalURLFetchingError

    with pytest.raises(FatalURLFetchingError):
        pdf.to_pdf(f'<html lang=en><title>x</title><img alt="x" src="{address}">', "")


@pytest.mark.parametrize("paper", Paper)
def test_the_theme_has_a_sheet_for_every_paper(paper: Paper) -> None:
    sheet = (LEDGER / "print" / f"paper-{paper.value.lower()}.css").read_text("utf-8")
    assert f"size: {paper.value};" in sheet
    assert f"size: {paper.value} landscape;" in sheet


def test_the_same_document_gives_the_same_bytes_and_another_another_identifier() -> None:
    one, again, other = (pdf.to_pdf(f"<html lang=en><title>{name}</title><p>x", "") for name in ("a", "a", "b"))
    assert one == again
    assert one.rsplit(b"/ID", 1)[1] != other.rsplit(b"/ID", 1)[1]

from pathlib import Path

import pytest

from tests.support.chromium import WIDTHS, Chromium

pytestmark = pytest.mark.browser

HEAD = '<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>Rye</title>'


def _page(folder: Path, body: str) -> Path:
    path = folder / "page.html"
    path.write_text(HEAD + body, encoding="utf-8")
    return path


def test_a_quiet_page(chromium: Chromium, tmp_path: Path) -> None:
    page = _page(tmp_path, "<h1>Rye</h1><script>document.querySelector('h1').textContent += ' tin'</script>")
    with chromium.visit(page, width=390) as visit:
        assert visit.page.inner_text("h1") == "Rye tin"
        assert (visit.errors, visit.outside, visit.overflow) == ([], [], 0)
        assert visit.requests == [page.as_uri()]


def test_without_scripts(chromium: Chromium, tmp_path: Path) -> None:
    page = _page(tmp_path, "<h1>Rye</h1><script>document.querySelector('h1').textContent = ''</script>")
    with chromium.visit(page, scripts=False) as visit:
        assert visit.page.inner_text("h1") == "Rye"


def test_what_goes_wrong_is_heard(chromium: Chromium, tmp_path: Path) -> None:
    body = '<img src="none.png" alt=""><script>console.error("burnt"); throw new Error("raw")</script>'
    with chromium.visit(_page(tmp_path, body)) as visit:
        said = " ".join(visit.errors)
    assert "burnt" in said
    assert "raw" in said
    assert f"not loaded: {(tmp_path / 'none.png').as_uri()}" in visit.errors


def test_the_network_is_out_of_reach_and_seen(chromium: Chromium, tmp_path: Path) -> None:
    with chromium.visit(_page(tmp_path, '<img src="http://127.0.0.1:9/a.png" alt="">')) as visit:
        assert visit.outside == ["http://127.0.0.1:9/a.png"]


def test_a_page_too_wide_is_measured(chromium: Chromium, tmp_path: Path) -> None:
    with chromium.visit(_page(tmp_path, '<div style="width: 500px; margin: 0">wide</div>'), width=390) as visit:
        assert visit.overflow >= 110


def test_paper_is_its_own_medium(chromium: Chromium, tmp_path: Path) -> None:
    page = _page(tmp_path, "<style>@media print {nav {display: none}}</style><nav>Menu</nav>")
    with chromium.visit(page, paper=True) as visit:
        assert not visit.page.is_visible("nav")


def test_pictures_at_every_width(chromium: Chromium, tmp_path: Path) -> None:
    taken = chromium.pictures(_page(tmp_path, "<h1>Rye</h1>"), tmp_path / "shots")
    assert [path.name for path in taken] == [f"page-{width}.png" for width in WIDTHS]
    assert all(path.read_bytes().startswith(b"\x89PNG") for path in taken)

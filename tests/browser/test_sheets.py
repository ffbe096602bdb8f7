"""Product sheets in a browser, opened from a folder as from a memory stick."""

from pathlib import Path

import pytest

from bookmaker.press.site import font_files
from tests.support.axe import violations
from tests.support.chromium import WIDTHS, Chromium
from tests.support.published import DEMO, sound_book
from tests.support.sheets import publish

pytestmark = pytest.mark.browser

PAGES = ["index", "apricot-pebble", "rhubarb-custard-tart-24-cm", "harbour-sourdough"]


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = publish(sound_book(DEMO), tmp_path_factory.mktemp("sheets"))
    for name, make in font_files():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(make())
    return folder


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", PAGES)
def test_a_page_opens_quietly_fits_its_window_and_keeps_no_reader_out(
    chromium: Chromium, site: Path, name: str, width: int
) -> None:
    with chromium.visit(site / f"{name}.html", width=width) as visit:
        assert visit.errors == []
        assert visit.outside == []
        assert visit.overflow <= 0
        assert violations(visit.page) == []


def test_a_screen_reader_hears_which_column_and_row_a_figure_belongs_to(chromium: Chromium, site: Path) -> None:
    with chromium.visit(site / "apricot-pebble.html", width=390) as visit:
        table = visit.page.get_by_role("table", name="Nutrition values of this product")
        assert table.get_by_role("columnheader").count() == 4
        assert table.get_by_role("rowheader", name="Salt").count() == 1
        assert table.get_by_role("row").filter(has_text="Salt").get_by_role("cell").count() == 3
        picture = visit.page.get_by_role("img", name="Cut through")
        assert picture.count() == 1


def test_a_page_is_whole_without_scripts(chromium: Chromium, site: Path) -> None:
    with chromium.visit(site / "apricot-pebble.html", scripts=False) as visit:
        assert visit.page.get_by_role("table").count() == 2
        assert visit.page.get_by_role("link", name="All product sheets").is_visible()

"""The demo book's site in a browser, opened from a folder as from a memory stick."""

from pathlib import Path

import pytest

from tests.support.chromium import WIDTHS, Chromium
from tests.support.published import DEMO, publish, sound_book, team_site

pytestmark = pytest.mark.browser

PAGES = [
    "index", "by-name", "by-ingredient", "components", "costs", "allergens", "cautions", "glossary", "about",
    "stores/index", "stores/unsalted-butter", "recipes/breads/index", "recipes/breads/harbour-sourdough",
    "recipes/moulded/apricot-pebble", "recipes/confectionery/sea-salt-caramels", "recipes/choux/raspberry-eclair",
    "working/moulded/apricot-pebble",
]  # fmt: skip


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return publish(team_site(sound_book(DEMO)), tmp_path_factory.mktemp("team"))


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", PAGES)
def test_a_page_opens_quietly_fits_its_window_and_asks_for_nothing_outside(
    chromium: Chromium, site: Path, name: str, width: int
) -> None:
    with chromium.visit(site / f"{name}.html", width=width) as visit:
        assert visit.errors == []
        assert visit.outside == []
        assert visit.overflow <= 0


@pytest.mark.parametrize("name", ["index", "by-ingredient", "components", "allergens", "costs", "cautions", PAGES[13]])
def test_links_of_navigation_and_lists_are_as_large_as_a_thumb_on_a_telephone(
    chromium: Chromium, site: Path, name: str
) -> None:
    """WCAG 2.2, 2.5.5: 44 by 44 CSS pixels; the height is what lines and lists decide."""
    with chromium.visit(site / f"{name}.html", width=390) as visit:
        small = visit.page.evaluate(
            "[...document.querySelectorAll('nav a, .house a, .foot a, summary, .filter input, .jump a, .names a, "
            ".contents a, .plain > li > a, .used a, .chain li a, .ledger tbody :is(th, td) > a, .matrix th a')]"
            ".filter(link => link.getClientRects().length && link.getBoundingClientRect().height < 44)"
            ".map(link => link.textContent.trim())"
        )
        assert small == []


def test_our_own_type_is_loaded(chromium: Chromium, site: Path) -> None:
    with chromium.visit(site / "recipes/breads/harbour-sourdough.html") as visit:
        loaded = visit.page.evaluate(
            "document.fonts.ready.then(() => [...document.fonts].filter(f => f.status === 'loaded').map(f => f.family))"
        )
        assert {family.strip('"') for family in loaded} == {"Ledger Serif", "Ledger Sans"}


def test_weights_stand_in_one_column_beside_their_ingredients(chromium: Chromium, site: Path) -> None:
    for width in WIDTHS:
        with chromium.visit(site / "recipes/breads/harbour-sourdough.html", width=width) as visit:
            edges = visit.page.evaluate(
                "[...document.querySelectorAll('.formula tbody td.w')].map(cell => {"
                " const range = document.createRange(); range.selectNodeContents(cell);"
                " return Math.round(range.getBoundingClientRect().right); })"
            )
            assert max(edges) - min(edges) <= 2, (width, edges)
            size = visit.page.evaluate("parseFloat(getComputedStyle(document.querySelector('.formula td.w')).fontSize)")
            assert size >= 18


def test_on_a_telephone_every_batch_weight_says_its_batch(chromium: Chromium, site: Path) -> None:
    with chromium.visit(site / "recipes/breads/harbour-sourdough.html", width=390) as visit:
        labels = visit.page.evaluate(
            "[...document.querySelector('.formula tr:has(.b:not(:empty)):not(:has(th.b))').querySelectorAll('.b')]"
            ".map(cell => getComputedStyle(cell, '::before').content)"
        )
        assert labels == ['"½: "', '"2: "', '"4: "']


def test_wide_tables_scroll_inside_their_own_frame_and_by_keyboard(chromium: Chromium, site: Path) -> None:
    with chromium.visit(site / "allergens.html", width=820) as visit:
        frame = visit.page.locator(".scroll").first
        assert frame.evaluate("node => node.scrollWidth > node.clientWidth")
        assert frame.get_attribute("tabindex") == "0"
        assert frame.get_attribute("aria-label")


def test_on_a_telephone_no_allergen_lies_off_the_screen(chromium: Chromium, site: Path) -> None:
    with chromium.visit(site / "allergens.html", width=390) as visit:
        frame = visit.page.locator(".scroll").first
        assert frame.evaluate("node => node.scrollWidth <= node.clientWidth")
        row = visit.page.locator("tr", has=visit.page.get_by_role("link", name="Apricot pebble", exact=True))
        nuts = row.locator("td[data-group='nuts']")
        words = " ".join(nuts.inner_text().split())
        assert words == "contains almonds may contain hazelnuts, walnuts, pistachios"
        assert nuts.evaluate("node => getComputedStyle(node, '::before').content") == '"nuts"'


def test_the_filter_hides_what_does_not_match(chromium: Chromium, site: Path) -> None:
    with chromium.visit(site / "by-name.html") as visit:
        box = visit.page.get_by_role("searchbox")
        entries = visit.page.locator("[data-filtered] > li")
        everything = entries.count()
        box.fill("sable")
        assert visit.page.locator("[data-filtered] > li:visible").all_inner_texts() == ["Almond sablé"]
        assert visit.page.locator("output").inner_text() == f"1 / {everything}"
        assert visit.page.locator("h2:visible").count() == 1
        box.fill("")
        assert visit.page.locator("[data-filtered] > li:visible").count() == everything


def test_the_filter_works_on_tables(chromium: Chromium, site: Path) -> None:
    with chromium.visit(site / "stores/index.html") as visit:
        visit.page.get_by_role("searchbox").fill("lowfield butter")
        rows = visit.page.locator("tbody > tr:visible th").all_inner_texts()
        assert rows == ["unsalted butter"]


def test_without_scripts_the_lists_are_whole_and_no_box_is_shown(chromium: Chromium, site: Path) -> None:
    with chromium.visit(site / "by-name.html", scripts=False) as visit:
        assert visit.page.locator("input:visible").count() == 0
        assert visit.page.get_by_role("link", name="Almond sablé").is_visible()


def test_the_skip_link_is_first_and_leads_to_the_page(chromium: Chromium, site: Path) -> None:
    with chromium.visit(site / "recipes/breads/harbour-sourdough.html") as visit:
        visit.page.keyboard.press("Tab")
        skip = visit.page.locator(":focus")
        assert skip.inner_text() == "Skip to the page"
        assert skip.bounding_box()["x"] >= 0  # type: ignore[index]
        visit.page.keyboard.press("Enter")
        assert visit.page.evaluate("document.activeElement.id") == "main"


def test_links_lead_from_the_front_page_to_a_recipe_and_its_working(chromium: Chromium, site: Path) -> None:
    with chromium.visit(site / "index.html", width=390) as visit:
        visit.page.get_by_role("link", name="Apricot pebble").first.click()
        assert visit.page.get_by_role("heading", level=1).inner_text() == "Apricot pebble"
        visit.page.get_by_role("link", name="Show the working").first.click()
        assert visit.page.get_by_role("heading", level=1).inner_text() == "Apricot pebble: the working"
        assert visit.errors == []


def test_on_paper_the_navigation_is_left_out(chromium: Chromium, site: Path) -> None:
    with chromium.visit(site / "recipes/breads/harbour-sourdough.html", paper=True) as visit:
        assert not visit.page.get_by_role("navigation", name="The book").is_visible()
        assert visit.page.get_by_role("heading", name="Formula", exact=True).is_visible()

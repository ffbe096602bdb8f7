"""The team book's site: what its pages say, its files, and that it is sound HTML with links that hold."""

import re
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from bookmaker.editions.team.views_overview import TeamSite
from bookmaker.press.images import Photo, Rendition
from bookmaker.press.site import SitePress, page_path, pages, photo_path, render_team
from tests.support.links import broken
from tests.support.make import book, line, pieces, recipe
from tests.support.nu import errors
from tests.support.published import LEDGER, TINY, publish, sound_book, team_site

GOLDEN = Path(__file__).parent / "golden"
"""What the tiny book's pages say, as a reader hears them; `python -m tests.press.golden` writes them anew."""


@pytest.fixture(scope="module")
def site() -> TeamSite:
    return team_site(sound_book(TINY))


@pytest.fixture(scope="module")
def folder(site: TeamSite, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return publish(site, tmp_path_factory.mktemp("team"))


def spoken(html: str) -> str:
    """The page's main part as lines of plain words."""
    main = BeautifulSoup(html, "html.parser").main
    assert main is not None
    for block in main.find_all(["p", "tr", "li", "h1", "h2", "h3", "dt", "caption", "text", "title", "desc"]):
        block.insert_before("\n")
    for cell in main.find_all(["td", "th", "dd"]):
        cell.insert_before(" | ")
    lines = (re.sub(r"[ \t]+", " ", words).strip() for words in main.get_text(" ").splitlines())
    return "\n".join(filter(None, lines)) + "\n"


@pytest.mark.parametrize(
    "name",
    ["index", "recipes/moulded/pebble", "recipes/moulded/pepper-pebble", "recipes/moulded/old-pebble",
     "stores/unsalted-butter", "allergens", "costs"],
)  # fmt: skip
def test_pages_say_what_they_did(name: str, folder: Path) -> None:
    said = spoken((folder / f"{name}.html").read_text(encoding="utf-8"))
    assert said == (GOLDEN / f"{name.replace('/', '-')}.txt").read_text(encoding="utf-8")


def test_every_link_and_anchor_holds(folder: Path) -> None:
    assert [str(each) for each in broken(folder)] == []


def test_every_page_is_valid_html(folder: Path) -> None:
    assert [str(each) for each in errors(folder)] == []


def test_the_same_book_gives_the_same_bytes(folder: Path) -> None:
    again = dict(render_team(team_site(sound_book(TINY)), [LEDGER]))
    assert {path: (folder / path).read_bytes() for path in again} == again


def test_every_page_has_one_heading_a_language_and_landmarks(folder: Path) -> None:
    for file in folder.rglob("*.html"):
        page = BeautifulSoup(file.read_text(encoding="utf-8"), "html.parser")
        assert len(page.find_all("h1")) == 1, file
        assert page.html is not None
        assert page.html["lang"] == "en"
        assert [page.find(name) is not None for name in ("header", "nav", "main", "footer")] == [True] * 4
        assert all(table.caption and table.find("th", scope=True) for table in page.find_all("table")), file


def test_nothing_empty_is_shown_as_a_heading(folder: Path) -> None:
    plain = (folder / "recipes/moulded/old-pebble.html").read_text(encoding="utf-8")
    ids = {heading.get("id") for heading in BeautifulSoup(plain, "html.parser").find_all("h2")}
    assert ids == {"yields", "formula", "method", "cost", "allergens", "more", "prices"}


def test_a_page_depends_on_its_view_the_frame_and_the_theme_alone(site: TeamSite) -> None:
    press = SitePress(site.frame, (LEDGER,))
    shuffled = SitePress(site.frame, (LEDGER,))
    ordered = {page_path(page.route): press.set(page) for page in pages(site)}
    backwards = {page_path(page.route): shuffled.set(page) for page in reversed(list(pages(site)))}
    assert ordered == backwards


def test_a_books_own_theme_is_laid_over_ours_file_by_file(site: TeamSite, tmp_path: Path) -> None:
    (tmp_path / "site" / "assets").mkdir(parents=True)
    (tmp_path / "site" / "foot.html").write_text("<footer><p>Ours</p></footer>", encoding="utf-8")
    (tmp_path / "site" / "assets" / "icon.svg").write_text("<svg/>", encoding="utf-8")
    files = dict(render_team(site, [tmp_path, LEDGER]))
    assert b"<footer><p>Ours</p></footer>" in files["index.html"]
    assert files["assets/icon.svg"] == b"<svg/>"
    assert b"A printed ledger" in files["assets/ledger.css"]


def test_photos_come_in_sizes_with_words() -> None:
    made = team_site(
        book(recipe("x", [line(1, "a")], pieces(1), photo="images/our bun.jpg", photo_text="A glossy bun"))
    )
    photo = Photo((Rendition(640, 320, b"small"), Rendition(1280, 640, b"large")))
    files = dict(render_team(made, [LEDGER], {"images/our bun.jpg": photo}))
    assert files["photos/images-our-bun-1280.jpg"] == b"large"
    image = BeautifulSoup(files["recipes/x.html"], "html.parser").img
    assert image is not None
    assert image["src"] == "../photos/images-our-bun-1280.jpg"
    assert (image["width"], image["height"], image["alt"]) == ("1280", "640", "A glossy bun")
    assert "../photos/images-our-bun-640.jpg 640w" in image["srcset"]
    without = dict(render_team(made, [LEDGER]))
    assert b"<img" not in without["recipes/x.html"]


def test_a_photo_has_one_plain_name() -> None:
    assert photo_path("images/our bun.jpg", 640) == "photos/images-our-bun-640.jpg"


def test_a_working_that_is_no_number_says_what_holds(folder: Path) -> None:
    page = BeautifulSoup((folder / "working/moulded/pebble.html").read_text(encoding="utf-8"), "html.parser")
    section = page.find(id="allergen-wheat")
    assert section is not None
    assert section.parent is not None
    result = section.parent.find("tfoot")
    assert result is not None
    assert result.get_text(" ", strip=True) == "allergen wheat contains"
    assert "not known" not in page.get_text()


def test_names_in_a_book_cannot_break_out_of_a_page() -> None:
    made = team_site(book(recipe("x", [line(1, '<img src=x onerror="a()">')], pieces(1), title="<script>a()</script>")))
    for path, content in render_team(made, [LEDGER]):
        if path.endswith(".html"):
            assert b"<script>a()" not in content
            assert b"<img src=x" not in content

"""The page that a card's code leads to, from the card's printing to its end: through the commands, and in a browser."""

import re
import shutil
import threading
from collections.abc import Callable, Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from bookmaker.cli import main
from tests.support.chromium import Chromium
from tests.support.nu import messages

BOOK = Path(__file__).parent / "issuing"
BAR = "bars/bar.md"


class Kitchen:
    """A small book, what is published of it, and what is done with it on which day."""

    def __init__(self, folder: Path) -> None:
        self.book, self.out = folder / "book", folder / "build"
        shutil.copytree(BOOK, self.book)

    def build(self, on: str = "2026-11-25") -> None:
        assert main(["build", str(self.book), "--out", str(self.out), "--only", "team", "--on", on]) == 0

    def issue(self, *recipes: str, on: str = "2026-11-25") -> None:
        assert main(["issue", "cards", *recipes, "--book", str(self.book), "--by", "night baker", "--on", on]) == 0

    def write(self, path: str, change: Callable[[str], str]) -> None:
        file = self.book / path
        file.write_text(change(file.read_text("utf-8")), "utf-8")

    def code(self, title: str) -> str:
        """The code that the list of cards gives for a recipe as it is now."""
        rows = re.findall(r'<a href="(\w{8})\.html">\1</a></th><td><a[^>]*>([^<]+)', self.page("index"))
        found: dict[str, str] = {name: code for code, name in reversed(rows)}
        return found[title]

    def page(self, code: str) -> str:
        return (self.out / "team" / "c" / f"{code}.html").read_text("utf-8")

    def says(self, code: str) -> str:
        """The words of a card's page, from its answer on."""
        main_part = self.page(code).split("<main", 1)[1].split("</main>")[0].split(">", 1)[1]
        return " ".join(re.sub(r"<[^>]+>", " ", main_part).split()).replace(" .", ".").replace(" :", ":")


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    made = Kitchen(tmp_path)
    made.write(BAR, lambda text: text.replace("status: approved", "revision: 2\nrevised: 2026-10-02\nstatus: approved"))
    return made


def thicker(text: str) -> str:
    return text.replace("300 g plain flour", "310 g plain flour")


def test_a_card_that_was_printed_but_never_issued_says_so(kitchen: Kitchen) -> None:
    kitchen.build()
    told = kitchen.says(kitchen.code("Plain bar"))
    assert "This card matches the book of 2 October 2026." in told
    assert "It was printed but never issued:" in told
    assert "revision 2 of 2 October 2026" in told


def test_an_issued_card_says_since_when(kitchen: Kitchen) -> None:
    kitchen.issue("Plain bar", on="2026-11-03")
    kitchen.build()
    told = kitchen.says(kitchen.code("Plain bar"))
    assert "This card matches the book of 2 October 2026. It was issued on 3 November 2026." in told
    assert "never issued" not in told


def test_a_changed_weight_replaces_the_card_and_a_later_one_says_when(kitchen: Kitchen) -> None:
    kitchen.issue(on="2026-11-03")
    kitchen.build()
    before, other = kitchen.code("Plain bar"), kitchen.code("Dark mousse")
    kitchen.write(BAR, thicker)
    kitchen.build()
    now = kitchen.code("Plain bar")
    assert now != before
    assert kitchen.code("Dark mousse") == other
    assert "Do not use this card. The recipe has changed since: weights." in kitchen.says(before)
    assert now in kitchen.says(before)
    assert "never issued" in kitchen.says(now)
    kitchen.issue("Plain bar", on="2026-11-20")
    kitchen.build()
    assert "Do not use this card. It was replaced on 20 November 2026: weights changed." in kitchen.says(before)
    assert "issued on 20 November 2026" in kitchen.says(now)


def test_what_was_changed_is_named(kitchen: Kitchen) -> None:
    kitchen.issue("Plain bar")
    kitchen.build()
    before = kitchen.code("Plain bar")
    kitchen.write(BAR, lambda text: text.replace("Mix and press.", "Mix, rest and press."))
    kitchen.build()
    assert "changed since: steps." in kitchen.says(before)
    kitchen.write("stores/dry.yaml", lambda text: text.replace("contains: [wheat]", "contains: [wheat, barley]", 1))
    kitchen.build()
    assert "changed since: steps, allergens." in kitchen.says(before)


def test_a_price_replaces_nothing(kitchen: Kitchen) -> None:
    kitchen.issue()
    kitchen.build()
    before = {path.name: path.read_bytes() for path in (kitchen.out / "team" / "c").iterdir()}
    kitchen.write("stores/prices.csv", lambda text: re.sub(r",(\d+)\.(\d\d),EUR", r",9\1.\2,EUR", text))
    kitchen.build()
    assert {path.name: path.read_bytes() for path in (kitchen.out / "team" / "c").iterdir()} == before


def test_a_card_goes_on_saying_that_its_recipe_is_retired_or_gone(kitchen: Kitchen) -> None:
    kitchen.issue()
    kitchen.build()
    bar, pebble = kitchen.code("Plain bar"), kitchen.code("Dark pebble")
    kitchen.write(BAR, lambda text: text.replace("status: approved", "status: retired"))
    (kitchen.book / "moulded/pebble.md").unlink()
    kitchen.build()
    assert "Do not use this card: the recipe is retired." in kitchen.says(bar)
    assert "Do not use this card: the book has no recipe of this name any more." in kitchen.says(pebble)
    assert {"retired", "gone"} <= set(re.findall(r"<td>(\w+)</td></tr>", kitchen.page("index")))


def test_a_recipe_in_another_file_keeps_its_card(kitchen: Kitchen) -> None:
    kitchen.issue()
    kitchen.build()
    bar = kitchen.code("Plain bar")
    (kitchen.book / BAR).rename(kitchen.book / "bars/flat-bar.md")
    kitchen.build()
    assert kitchen.code("Plain bar") == bar
    assert "This card matches the book" in kitchen.says(bar)
    assert "../recipes/bars/flat-bar.html" in kitchen.page(bar)
    kitchen.write("bars/flat-bar.md", thicker)
    kitchen.build()
    assert "changed since: weights." in kitchen.says(bar), "it is found again by its title"


def test_pages_are_as_a_fresh_build_makes_them(kitchen: Kitchen) -> None:
    kitchen.issue()
    kitchen.build()
    kitchen.write(BAR, thicker)
    kitchen.issue("Plain bar", on="2026-11-26")
    kitchen.write(BAR, lambda text: text.replace("310 g", "320 g"))
    kitchen.build("2026-11-27")
    warm = {path.name: path.read_bytes() for path in (kitchen.out / "team" / "c").iterdir()}
    shutil.rmtree(kitchen.out)
    kitchen.build("2026-11-27")
    assert warm == {path.name: path.read_bytes() for path in (kitchen.out / "team" / "c").iterdir()}


def test_the_pages_are_sound_html(kitchen: Kitchen) -> None:
    kitchen.issue()
    kitchen.build()
    kitchen.write(BAR, thicker)
    kitchen.build()
    assert messages(kitchen.out / "team" / "c") == []


# --- in a browser


@pytest.fixture
def replaced(kitchen: Kitchen) -> tuple[Kitchen, str]:
    """A book with a replaced card, and its code."""
    kitchen.write("house.yaml", lambda text: text + "published at: https://book.quillhaven.example/\n")
    kitchen.issue()
    kitchen.build()
    before = kitchen.code("Plain bar")
    kitchen.write(BAR, thicker)
    kitchen.build()
    return kitchen, before


@pytest.fixture
def server(replaced: tuple[Kitchen, str]) -> Iterator[str]:
    """The address that the team book is served at."""
    kitchen, _ = replaced
    handler = partial(_Quiet, directory=str(kitchen.out / "team"))
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as serving:
        thread = threading.Thread(target=serving.serve_forever, daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{serving.server_address[1]}/"
        serving.shutdown()
        thread.join()


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        pass


OLD, PERHAPS = "This copy of the book may be old.", "If you opened this page from a memory stick"


@pytest.mark.browser
def test_from_a_memory_stick_a_card_adds_that_the_copy_may_be_old(
    chromium: Chromium, replaced: tuple[Kitchen, str]
) -> None:
    kitchen, before = replaced
    for code, answer in ((before, "Do not use this card."), (kitchen.code("Plain bar"), "This card matches the book")):
        with chromium.visit(kitchen.out / "team" / "c" / f"{code}.html", width=390) as visit:
            told = visit.page.inner_text("main")
            assert answer in told
            assert OLD in told
            assert PERHAPS not in told
            assert f"https://book.quillhaven.example/c/{code}.html" in told
            assert (visit.errors, visit.outside) == ([], [])
            assert visit.overflow <= 0
            visit.page.click("text=The recipe as the book has it")
            assert visit.page.inner_text("h1").startswith("Plain bar")


@pytest.mark.browser
def test_without_scripts_the_page_says_if(chromium: Chromium, replaced: tuple[Kitchen, str]) -> None:
    kitchen, before = replaced
    with chromium.visit(kitchen.out / "team" / "c" / f"{before}.html", scripts=False) as visit:
        told = visit.page.inner_text("main")
        assert PERHAPS in told
        assert OLD not in told


@pytest.mark.browser
def test_served_the_page_says_nothing_of_copies(chromium: Chromium, replaced: tuple[Kitchen, str], server: str) -> None:
    context = chromium.browser.new_context()
    try:
        page = context.new_page()
        page.goto(f"{server}c/{replaced[1]}.html")
        told = page.inner_text("main")
        assert "Do not use this card. The recipe has changed since: weights." in told
        assert OLD not in told
        assert PERHAPS not in told
    finally:
        context.close()


def test_the_code_is_not_worked_out_anew_where_nothing_changed(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    kitchen.build()
    before = kitchen.code("Plain bar")

    def projected(*_: object) -> None:
        raise AssertionError("a card was put together anew")

    monkeypatch.setattr("bookmaker.workshop.cache.projecting.card_view", projected)
    kitchen.write("house.yaml", lambda text: text + "# a remark\n")
    kitchen.build()
    assert kitchen.code("Plain bar") == before

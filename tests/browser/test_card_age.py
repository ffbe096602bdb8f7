"""A card knows its age: its page in a browser, from issue to replacement, from files and from the house's server."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from bookmaker.cli import main
from bookmaker.reading.book import read_book
from bookmaker.workshop.watching.server import served
from bookmaker.workshop.watching.state import Board
from tests.contract.modules import ROOT
from tests.support.chromium import Chromium

pytestmark = pytest.mark.browser

OLD = "This copy of the book may be old"
Said = Callable[[str], str]


class House:
    """A small book, what it issues, and its site."""

    def __init__(self, folder: Path) -> None:
        self.book, self.out = folder / "book", folder / "out"
        shutil.copytree(ROOT / "tests" / "workshop" / "issuing", self.book)

    def swap(self, name: str, old: str, new: str) -> None:
        path = self.book / name
        text = path.read_text("utf-8")
        assert old in text
        path.write_text(text.replace(old, new), "utf-8")

    def issue(self, on: str) -> None:
        assert main(["issue", "cards", "dark mousse", "--by", "Ada", "--book", str(self.book), "--on", on]) == 0

    def build(self, on: str) -> None:
        assert main(["build", str(self.book), "--only", "team", "--out", str(self.out), "--on", on]) == 0

    @property
    def codes(self) -> list[str]:
        """The codes of the mousse's cards, as they were issued."""
        book = read_book(self.book).book
        assert book is not None
        return [card.code for card in book.register.cards]


@pytest.fixture
def house(tmp_path: Path) -> House:
    return House(tmp_path)


def from_files(house: House, chromium: Chromium, code: str) -> str:
    with chromium.visit(house.out / f"team/c/{code}.html", width=390) as visit:
        assert visit.errors == []
        assert visit.outside == []
        assert visit.overflow <= 0
        return " ".join(visit.page.inner_text("main").split())


def from_server(house: House, chromium: Chromium, code: str) -> str:
    """As a telephone sees it that has read the code on the card."""
    context = chromium.browser.new_context(viewport={"width": 390, "height": 844})
    try:
        with served(house.out / "team", Board(), 0) as address:
            page = context.new_page()
            page.goto(f"{address}c/{code}.html")
            return " ".join(page.inner_text("main").split())
    finally:
        context.close()


def test_a_card_is_current_until_its_recipe_changes_and_then_says_what_has(house: House, chromium: Chromium) -> None:
    house.issue("2026-10-02")
    house.build("2026-10-02")
    (first,) = house.codes
    for said in (from_files(house, chromium, first), from_server(house, chromium, first)):
        assert "This card matches the book" in said
        assert "It was issued on 2 October 2026" in said
    # what is opened from a file may be a copy of long ago, and says so; the house's own server is never behind
    assert OLD in from_files(house, chromium, first)
    assert OLD not in from_server(house, chromium, first)

    # a price changes nothing on a card
    house.swap("stores/prices.csv", "60.00", "66.00")
    house.build("2026-10-20")
    assert "This card matches the book" in from_files(house, chromium, first)

    house.swap("creams/mousse.md", "300 g dark", "320 g dark")
    house.build("2026-11-03")
    for said in (from_files(house, chromium, first), from_server(house, chromium, first)):
        assert "Do not use this card" in said
        assert "weights" in said
        assert "cautions" not in said

    house.issue("2026-11-04")
    house.build("2026-11-04")
    first, second = house.codes
    said = from_files(house, chromium, first)
    assert "It was replaced on 4 November 2026: weights changed" in said
    assert second in said
    assert "This card matches the book" in from_files(house, chromium, second)

    # and back: the old card is right again, whatever was issued in between
    house.swap("creams/mousse.md", "320 g dark", "300 g dark")
    house.build("2026-11-05")
    assert "This card matches the book" in from_files(house, chromium, first)
    assert "Do not use this card" in from_files(house, chromium, second)


def test_a_card_of_what_is_gone_says_so(house: House, chromium: Chromium) -> None:
    house.issue("2026-10-02")
    (code,) = house.codes
    house.swap("creams/mousse.md", "status: approved", "status: retired")
    house.build("2026-10-03")
    assert "Do not use this card" in from_files(house, chromium, code)

"""The printed book as HTML pieces, before any page is laid out."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from bookmaker.editions.book.views import PrintedBook
from bookmaker.press.book import document, pieces, styles, tied
from tests.support.paper import FOLDERS, some
from tests.support.published import TINY, sound_book, team_site


@pytest.fixture(scope="module")
def book() -> PrintedBook:
    tiny = sound_book(TINY)
    return some(team_site(tiny), tiny.house, {"Pebble", "Butter biscuit", "Pepper pebble"})


@pytest.mark.parametrize(
    ("written", "printed"),
    [
        ("<p>Bake at 160 °C for 20 min.</p>", "<p>Bake at 160\u00a0°C for 20\u00a0min.</p>"),
        ("<p>12 % of 3 kg in 2 hands</p>", "<p>12\u00a0% of 3\u00a0kg in 2 hands</p>"),
        ("<p>keeps 3 days, 1 month, 2 loaves</p>", "<p>keeps 3\u00a0days, 1\u00a0month, 2 loaves</p>"),
        ("<p>step 4 goes on; 5 garnishes, 6 minced</p>", "<p>step 4 goes on; 5 garnishes, 6 minced</p>"),
        ('<path d="M1 2 l 3 h 4"/><p title="3 g">x</p>', '<path d="M1 2 l 3 h 4"/><p title="3 g">x</p>'),
    ],
)
def test_numbers_are_tied_to_their_units_in_words_alone(written: str, printed: str) -> None:
    assert tied(written) == printed


def test_the_pieces_are_the_book_in_order(book: PrintedBook) -> None:
    made = list(pieces(book, FOLDERS, {}))
    assert [(piece.name, piece.part) for piece in made] == [
        ("Cover", ""),
        ("Contents", ""),
        ("About the figures", ""),
        ("Moulded & glazed", ""),
        ("Pebble", "Moulded & glazed"),
        ("Pepper pebble", "Moulded & glazed"),
        ("Biscuits", ""),
        ("Butter biscuit", "Biscuits"),
        ("Cautions", ""),
        ("Allergens of the products", ""),
        ("Costs of the products", ""),
        ("Glossary", ""),
        ("Index of ingredients", ""),
        ("Index of recipes", ""),
    ]


def test_without_a_glossary_there_is_no_piece_and_no_line_for_one(book: PrintedBook) -> None:
    made = list(pieces(replace(book, glossary=None), FOLDERS, {}))
    assert "Glossary" not in [piece.name for piece in made]
    assert "Glossary" not in made[1].html


def test_every_link_has_its_place_in_some_piece_and_places_are_unique(book: PrintedBook) -> None:
    html = document(book, FOLDERS, "".join(piece.html for piece in pieces(book, FOLDERS, {})))
    places = re.findall(r'\bid="([^"]+)"', html)
    assert len(places) == len(set(places))
    assert set(re.findall(r'href="#([^"]+)"', html)) <= set(places)


def test_a_draft_says_so_and_what_it_lacks(book: PrintedBook) -> None:
    pepper = next(piece.html for piece in pieces(book, FOLDERS, {}) if piece.name == "Pepper pebble")
    assert "<strong>Draft.</strong> Not yet approved" in pepper
    assert "Still missing" in pepper
    assert "at least" in pepper
    assert "No price for long pepper" in pepper


def test_notes_on_the_last_step_stand_beside_the_method_and_once(book: PrintedBook) -> None:
    pebble = next(piece.html for piece in pieces(book, FOLDERS, {}) if piece.name == "Pebble")
    beside, main = pebble.split('<div class="main">')
    assert "Frozen, it leaves the mould." in beside
    assert "Frozen, it leaves the mould." not in main


def test_a_theme_of_the_book_is_laid_over_file_by_file(book: PrintedBook, tmp_path: Path) -> None:
    (tmp_path / "paper-a4.css").write_text("@page { size: 100mm 100mm }", "utf-8")
    over = styles(book, [tmp_path, *FOLDERS])
    assert over.startswith("@page { size: 100mm 100mm }\n/* The printed book")
    assert over.endswith(':root { --page: "p."; --see-page: "see page" }')

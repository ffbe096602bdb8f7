"""Sheets of labels: letters as high as the law wants, every label whole in its place, and none that is not."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from importlib.resources import files
from io import BytesIO
from pathlib import Path

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from bookmaker.editions.labels.edition import arrange, names
from bookmaker.editions.labels.views import LabelSheetView, LabelView
from bookmaker.editions.sheets import project
from bookmaker.editions.sheets.views import Mass, MassUnit, SheetView, Words
from bookmaker.model.book import Book
from bookmaker.model.house import Region, Stickers
from bookmaker.model.refs import RecipeRef
from bookmaker.model.shapes import Rectangle
from bookmaker.press.labels import FACE, LARGEST, LabelPress, figure_points, least_points
from tests.support.boxes import Word, words_of
from tests.support.published import LEDGER, sound_book
from tests.support.sheets import CLIENTS, house_of, sheets

PEBBLE, TART = RecipeRef("moulded/harbour-pebble"), RecipeRef("tarts/pepper-tart")
MILLIMETRE = 72 / 25.4  # points


@pytest.fixture(scope="module")
def book() -> Book:
    return sound_book(CLIENTS)


@pytest.fixture(scope="module")
def views(book: Book) -> Mapping[RecipeRef, SheetView]:
    return sheets(book)


@pytest.fixture(scope="module")
def press(book: Book) -> LabelPress:
    return LabelPress(project.frame(house_of(book)), (LEDGER,))


def stickers(width: int, height: int, across: int = 2, down: int = 3, *, small_packs: bool = False) -> Stickers:
    size = Rectangle(Decimal(width), Decimal(height))
    return Stickers("some", size, across, down, Decimal(7), Decimal(9), Decimal(3), Decimal(2), small_packs)


def sheet_of(book: Book, views: list[SheetView], labels: Stickers, region: Region = Region.EU) -> LabelSheetView:
    return arrange(views, project.frame(house_of(book)), region, labels)


# --- letters


def drawn_height(points: Decimal, character: str) -> float:
    """How many millimetres high a character of the labels' face is drawn, measured on its outline."""
    font = TTFont(BytesIO((files(FACE.package) / "files" / FACE.source).read_bytes()))
    pen = BoundsPen(font.getGlyphSet())
    font.getGlyphSet()[font.getBestCmap()[ord(character)]].draw(pen)
    assert pen.bounds is not None
    height: float = pen.bounds[3] / font["head"].unitsPerEm
    return float(points) * height / MILLIMETRE


# Regulation (EU) No 1169/2011, Article 13(2): 1.2 mm; (3): 0.9 mm on packs under 80 cm². From memory
@pytest.mark.parametrize("letters", ["1.2", "0.9"])
def test_a_small_x_is_as_high_as_the_law_wants_and_no_higher(letters: str) -> None:
    height = drawn_height(least_points(Decimal(letters)), "x")
    assert float(letters) <= height < float(letters) + 0.03


@pytest.mark.parametrize("figures", ["2", "3", "4", "6"])
def test_figures_are_as_high_as_they_must_be(figures: str) -> None:
    assert float(figures) <= drawn_height(figure_points(Decimal(figures)), "1") < float(figures) + 0.03


def test_only_packs_that_are_said_to_be_small_have_smaller_letters(
    book: Book, views: Mapping[RecipeRef, SheetView]
) -> None:
    every = [*views.values()]
    found = {
        (region, small): sheet_of(book, every, stickers(60, 30, small_packs=small), region).letters
        for region in (Region.EU, Region.UK, Region.US)
        for small in (False, True)
    }
    assert found == {
        (Region.EU, False): Decimal("1.2"),
        (Region.EU, True): Decimal("0.9"),
        (Region.UK, False): Decimal("1.2"),
        (Region.UK, True): Decimal("0.9"),
        # 21 CFR 101.2(c): 1/16 inch; from memory
        (Region.US, False): Decimal("1.5875"),
        (Region.US, True): Decimal("1.5875"),
    }


# Directive 76/211/EEC, Annex I, 3.1; from memory
@pytest.mark.parametrize(("grams", "height"), [("50", 2), ("50.1", 3), ("200", 3), ("999", 4), ("1001", 6)])
def test_the_net_weights_figures_grow_with_it(
    book: Book, views: Mapping[RecipeRef, SheetView], grams: str, height: int
) -> None:
    net = Mass(Decimal(grams)) if Decimal(grams) < 1000 else Mass(Decimal(grams) / 1000, MassUnit.KILOGRAM)
    (label,) = sheet_of(book, [replace(views[PEBBLE], net=net)], stickers(60, 30)).labels
    assert label.figures == height


def test_what_is_sold_thawed_is_dated_as_thawed(book: Book, views: Mapping[RecipeRef, SheetView]) -> None:
    pebble = views[PEBBLE]
    thawed = next(state for state in pebble.keeping if state.state == "thawed")
    made = replace(thawed, state="made", date_word="best before", temperature=Decimal(18))
    for defrosted, expected in ((True, ("use by", Decimal(4))), (False, ("best before", Decimal(18)))):
        other = replace(pebble, keeping=(made, thawed), defrosted=defrosted)
        (label,) = sheet_of(book, [other], stickers(60, 30)).labels
        assert (label.date_word, label.temperature) == expected


# --- what fits


def longer(view: SheetView, count: int) -> SheetView:
    return replace(view, declaration=tuple(Words(f"{word}, ") for word in ["wheat flour", "butter"] * count))


@pytest.mark.pdf
def test_a_label_takes_the_largest_letters_that_fit_it_or_is_missing(
    book: Book, press: LabelPress, views: Mapping[RecipeRef, SheetView]
) -> None:
    pebble = views[PEBBLE]
    short, long, endless = (replace(longer(pebble, count), title=f"x{count}") for count in (1, 9, 300))
    sheet = sheet_of(book, [short, long, endless], stickers(70, 40))
    fitted = {label.title: points for label, points in press.fit(sheet).items()}
    assert set(fitted) == {"x1", "x9"}
    assert least_points(sheet.letters) <= fitted["x9"] < fitted["x1"] <= LARGEST


@pytest.mark.pdf
def test_every_word_of_every_label_is_printed_within_it(
    book: Book, press: LabelPress, views: Mapping[RecipeRef, SheetView], tmp_path: Path
) -> None:
    pebble = views[PEBBLE]
    several = [replace(longer(pebble, count), title=f"Number {count}") for count in (1, 4, 9, 14, 12, 18, 3)]
    sheet = sheet_of(book, several, stickers(80, 45))
    fitted = press.fit(sheet)
    assert set(fitted) == set(sheet.labels)
    pages = words_of(press.pdf(sheet, fitted), tmp_path)
    assert len(pages) == 3  # what is on it, six labels, one more
    for number, label in enumerate(sheet.labels):
        page, place = 1 + number // 6, number % 6
        left = 7 + (place % 2) * (80 + 3)
        top = 9 + (place // 2) * (45 + 2)
        inside = [word for word in pages[page] if _is_within(word, left, top, 80, 45)]
        assert _letters(word.text for word in inside) == _letters(_said(label, press))


def _is_within(word: Word, left: float, top: float, width: float, height: float) -> bool:
    return (
        left * MILLIMETRE <= word.left
        and word.right <= (left + width) * MILLIMETRE
        and top * MILLIMETRE <= word.top
        and word.bottom <= (top + height) * MILLIMETRE
    )


def _said(label: LabelView, press: LabelPress) -> list[str]:
    assert label.net is not None
    return [
        label.title,
        f"{label.legal_name}, defrosted",
        "Ingredients:",
        *(run.text for run in label.declaration),
        f"May contain {', '.join(label.may_contain)}.",
        f"{label.net.value} g",
        "Use by",
        "Lot",
        f"Keep at {label.temperature} °C.",
        press.frame.contact,
    ]


def _letters(words: object) -> list[str]:
    """The letters of words in any order of words: hyphens at line ends are not part of them."""
    assert not isinstance(words, str)
    return sorted("".join("".join(words).split()).replace("-", "").replace("\xad", ""))  # type: ignore[arg-type]


@pytest.mark.pdf
def test_what_does_not_fit_is_named_with_what_to_do(
    book: Book, press: LabelPress, views: Mapping[RecipeRef, SheetView], tmp_path: Path
) -> None:
    every = [longer(views[PEBBLE], 300), views[TART]]
    sheet = sheet_of(book, every, stickers(70, 40))
    (page,) = words_of(press.pdf(sheet, press.fit(sheet)), tmp_path)
    text = " ".join(word.text for word in page)
    assert "Harbour pebble: give it a larger label" in text
    assert "Not declared in full, so without a label • Pepper & cream tart" in text
    assert "check against your local food law" in text


def test_label_sheets_whose_names_come_to_the_same_are_numbered() -> None:
    found = names([replace(stickers(60, 30), name=name) for name in ("Box label", "box-label", "bag")])
    assert list(found) == ["box-label", "box-label-2", "bag"]

"""`build --only sheets labels`: what is published for clients, when, and what is never in it."""

import re
import shutil
import time
import zlib
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from PIL import Image
from pypdf import PdfReader

from bookmaker.cli import main
from bookmaker.workshop.cache.unchanged import nothing_to_do
from tests.support.links import broken
from tests.support.sheets import CLIENTS

ON = ["--on", "2026-11-25"]

pytestmark = pytest.mark.pdf


def build(book: Path, *only: str) -> int:
    return main(["build", str(book), "--out", str(book.parent / "build"), *ON, "--only", *(only or ("sheets",))])


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copytree(CLIENTS, tmp_path / "book"))


def change(book: Path, name: str, old: str, new: str) -> None:
    file = book / name
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new), "utf-8")


def published(book: Path) -> dict[str, bytes]:
    root = book.parent / "build" / "sheets"
    return {path.relative_to(root).as_posix(): path.read_bytes() for path in root.rglob("*") if path.is_file()}


def test_sheets_are_complete_in_themselves(book: Path) -> None:
    assert build(book) == 0
    files = published(book)
    assert {name for name in files if not name.startswith("assets/")} == {
        "all.pdf",
        "harbour-pebble.html",
        "harbour-pebble.pdf",
        "index.html",
        "pepper-and-cream-tart.html",
        "pepper-and-cream-tart.pdf",
    }
    assert [str(each) for each in broken(book.parent / "build/sheets")] == []
    assert "Trial tart" not in files["index.html"].decode()
    assert "Old tart" not in files["index.html"].decode()


def test_what_is_not_told_makes_nothing_anew(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    build(book, "sheets", "labels")
    before = published(book)
    capsys.readouterr()
    change(book, "stores/prices.csv", "74.00", "81.00")
    change(book, "moulded/harbour-pebble.md", "Whip and pipe onto the feet.", "Whip, and pipe onto cold feet.")
    assert build(book, "sheets", "labels") == 0
    assert "written" not in capsys.readouterr().out
    assert published(book) == before


def test_editions_with_pdfs_are_not_looked_at_again_where_nothing_changed(book: Path) -> None:
    time.sleep(0.1)  # what was changed just now might be changed again without anybody's seeing it
    build(book, "sheets", "labels")
    out = book.parent / "build"
    assert nothing_to_do(str(book), out, only=["sheets", "labels"], on="2026-11-25") == 0


def test_a_sheet_is_made_anew_where_it_says_something_else(book: Path) -> None:
    build(book)
    before = published(book)
    change(book, "moulded/harbour-pebble.md", "describe: Whipped cream", "describe: Fresh whipped cream")
    assert build(book) == 0
    after = published(book)
    assert {name for name in after if after[name] != before.get(name)} == {
        "all.pdf",
        "harbour-pebble.html",
        "harbour-pebble.pdf",
    }
    shutil.rmtree(book.parent / "build")
    build(book)
    assert published(book) == after  # as from nothing


def test_a_product_that_is_released_no_more_is_taken_away(book: Path) -> None:
    build(book)
    change(book, "moulded/harbour-pebble.md", "status: approved", "status: trial")
    assert build(book) == 0
    assert not {name for name in published(book) if "harbour-pebble" in name}


def test_without_a_released_product_there_is_an_index_that_says_so(book: Path) -> None:
    for name in ("moulded/harbour-pebble.md", "tarts/pepper-tart.md"):
        change(book, name, "status: approved", "status: draft")
    assert build(book, "sheets", "labels") == 0
    files = published(book)
    assert "No product has been released yet." in files["index.html"].decode()
    assert not [name for name in files if name.endswith(".pdf")]


# --- withheld


def issue(book: Path) -> int:
    return main(["issue", "labels", "Harbour pebble", "--book", str(book), "--by", "an inspector", *ON])


def test_a_sheet_whose_allergens_are_not_those_issued_is_withheld(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert issue(book) == 0
    assert build(book, "sheets", "labels") == 0
    before = published(book)
    change(book, "stores/pantry.yaml", "label: sugar\n  contains: []", "label: sugar\n  contains: [sesame]")
    capsys.readouterr()
    assert build(book, "sheets", "labels") == 1
    assert "sesame" in capsys.readouterr().err
    files = published(book)
    page = files["harbour-pebble.html"].decode()
    assert "This sheet is being revised." in page
    assert "kitchen@quillhaven.example" in page
    assert "Harbour pebble" not in files["index.html"].decode()
    assert "harbour-pebble.pdf" not in files
    assert not [
        name for name, content in _texts(book.parent / "build") if name.endswith(".pdf") and "Harbour pebble" in content
    ]
    assert [str(each) for each in broken(book.parent / "build/sheets")] == []
    assert issue(book) == 0
    assert build(book, "sheets", "labels") == 0
    assert "contains</strong>" in published(book)["harbour-pebble.html"].decode()
    assert published(book).keys() == before.keys()


# --- canaries

CANARY = "Zqv"
"""Begins every word that no client may read; no other text has it."""

SECRET = re.compile(CANARY + r"|(?<![\d.])(?:8173\.37|71\.83|61\.97|11\.937)(?!\d)", re.IGNORECASE)
"""A canary, or one of the numbers that the house keeps to itself."""


@pytest.fixture(scope="module")
def watched(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The clients' book with a canary in every private field, published."""
    book = Path(shutil.copytree(CLIENTS, tmp_path_factory.mktemp("canaries") / "book"))
    house = "house.yaml"
    change(book, house, "labour: {pastry cook: 24 EUR/h}", "labour: {Zqvrole: 8173.37 EUR/h}\nlabour role: Zqvrole")
    change(
        book, house, "overhead: 12 %", "staff: {Zqvname: {role: Zqvrole}}\nsee costs: [Zqvoffice]\noverhead: 61.97 %"
    )
    change(
        book, house, "food cost: 28 %", "food cost: 71.83 %\nenergy: 8173.37 EUR/kWh\nsections: {moulded: Zqvsection}"
    )
    change(book, house, "trays:", "equipment: {Zqvoven: {kind: oven, holds: 4 trays}}\ntrays:")
    pantry = (book / "stores/pantry.yaml").read_text("utf-8")
    pantry = pantry.replace("nutrition source: an example", "nutrition source: Zqvsource")
    pantry = pantry.replace(
        "plain flour:", "Zqvflour:\n  aka: [Zqvother]\n  note: Zqvnote\n  supplier sheet: 2024-08-17"
    )
    (book / "stores/Zqvpantry.yaml").write_text(pantry, "utf-8")
    (book / "stores/pantry.yaml").unlink()
    prices = (book / "stores/prices.csv").read_text("utf-8")
    prices = prices.replace("plain flour", "Zqvflour").replace("Millstone & Reed", "Zqvmill").replace("MR-1", "ZQV-1")
    (book / "stores/prices.csv").write_text(prices.replace("21.50", "8173.37"), "utf-8")
    biscuit = (book / "biscuits/butter-biscuit.md").read_text("utf-8")
    biscuit = biscuit.replace("plain flour", "Zqvflour, Zqvsifted").replace("title: Butter", "code: ZQV-7\ntitle: Zqv")
    (book / "biscuits/Zqvfile.md").write_text(biscuit.replace("bake: 10 %", "bake: 11.937 %"), "utf-8")
    (book / "biscuits/butter-biscuit.md").unlink()
    (book / "Zqvfolder").mkdir()
    pebble = (book / "moulded/harbour-pebble.md").read_text("utf-8")
    (book / "moulded/harbour-pebble.md").unlink()
    for old, new in {
        "Cream cake on butter biscuit": "Cream cake",
        "butter biscuit, disc": "Foot, disc",
        "butter biscuit": "Zqv biscuit",
        "whipping cream, cold": "whipping cream, Zqvcold",
        "yields:": "photo: images/Zqvphoto.jpg\nphoto text: A pebble\naka: [Zqvaka]\ntags: [Zqvtag]\nyields:",
        "1. Whip and pipe onto the feet.": "Zqvintroduction.\n\n## Zqvheading\n\n1. Zqvwhip and pipe.",
        'takes="2 h"': 'takes="2 h" on="Zqvoven" limit="Zqvlimit" if-missed="Zqvremedy" ccp="3"',
        "Frozen, it leaves the mould.": "Zqvwhy.\n:::\n\n::: look for\nZqvlook.\n:::\n\n::: fix\nZqvfix.",
        "Ask the baker.": "Zqvprivate.\n:::\n\n::: note\nZqvother.",
        "hotel: 2.90 EUR net": "hotel: 8173.37 EUR net",
    }.items():
        assert old in pebble
        pebble = pebble.replace(old, new)
    (book / "Zqvfolder/Zqvpebble.md").write_text(pebble, "utf-8")
    change(book, "tarts/pepper-tart.md", "layers:", "layers: [whipping cream]\n# layers:")
    for name in ("tarts/pepper-tart.md", "tarts/trial-tart.md", "tarts/old-tart.md"):
        change(book, name, "butter biscuit", "Zqv biscuit")
    change(book, "tarts/trial-tart.md", "title: Trial", "describe: Zqvtrial\ntitle: Zqvtrial")
    (book / "images").mkdir()
    exif = Image.Exif()
    exif[0x010E] = "Zqvdescription"  # ImageDescription
    exif[0x013B] = "Zqvartist"
    exif.get_ifd(0x8825)[1] = "Zqv"  # GPS
    picture = Image.new("RGB", (900, 600), "#c9b68f")
    picture.save(book / "images/Zqvphoto.jpg", exif=exif, comment=b"Zqvcomment")
    assert b"Zqvartist" in (book / "images/Zqvphoto.jpg").read_bytes()
    assert build(book, "team", "sheets", "labels") == 0
    return book.parent / "build"


def test_canaries_are_in_the_team_book(watched: Path) -> None:
    """The search below finds what is there."""
    said = "".join(content for _, content in _texts(watched / "team"))
    for word in ("Zqvwhip", "Zqvprivate", "Zqvwhy", "Zqvflour", "8173.37", "Zqvlimit", "ZQV-7", "Zqvaka"):
        assert word in said


@pytest.mark.parametrize("folder", ["sheets", "labels"])
def test_no_client_file_holds_a_canary(watched: Path, folder: str) -> None:
    found = [
        (name, content[max(seen.start() - 30, 0) : seen.end() + 30])
        for name, content in _texts(watched / folder)
        if (seen := SECRET.search(content))
    ]
    assert found == []


def test_no_client_file_is_named_after_a_secret(watched: Path) -> None:
    names = [
        path.relative_to(watched).as_posix() for part in ("sheets", "labels") for path in (watched / part).rglob("*")
    ]
    assert "sheets/photos/harbour-pebble-640.jpg" in names
    assert not [name for name in names if CANARY.lower() in name.lower()]


def test_photos_carry_pixels_alone(watched: Path) -> None:
    photos = sorted((watched / "sheets/photos").iterdir())
    assert photos
    for path in photos:
        with Image.open(path) as photo:
            assert not photo.getexif()
            assert set(photo.info) <= {
                "jfif",
                "jfif_version",
                "jfif_unit",
                "jfif_density",
                "progressive",
                "progression",
            }


def _texts(root: Path) -> Iterator[tuple[str, str]]:
    """Everything that can be read in the files of a folder, packed or not."""
    for path in sorted(root.rglob("*")):
        if path.is_file():
            content = path.read_bytes()
            yield path.name, content.decode("latin-1")
            yield path.name, content.decode("utf-8", "replace")
            if path.suffix == ".pdf":
                yield from ((path.name, text) for text in _in_pdf(content))


def _in_pdf(content: bytes) -> Iterator[str]:
    """A PDF's words as a reader sees them, its metadata, and every object and stream unpacked."""
    reader = PdfReader(BytesIO(content))
    for page in reader.pages:
        yield "".join(page.extract_text().split("\n"))
        yield page.extract_text()
    yield repr(reader.metadata)
    with pikepdf.open(BytesIO(content)) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Stream):
                try:
                    packed = thing.read_bytes()
                except (pikepdf.PdfError, zlib.error):
                    packed = thing.read_raw_bytes()
                yield packed.decode("latin-1")
                yield packed.decode("utf-16-be", "replace")
            yield repr(thing)

"""README's pictures, taken of the demo book: `python -m tests.guide.pictures` writes them anew.

They are no fixtures: letters come out a little differently on every machine, so nothing compares them.
"""

import subprocess
import tempfile
from pathlib import Path

from PIL import Image
from pypdf import PdfReader
from pypdf.generic import Destination

from bookmaker.cli import main as main_command
from tests.contract.modules import ROOT
from tests.support.chromium import Chromium, started

FOLDER = ROOT / ".readme"
ON = "2026-11-30"

SITE_RECIPE = "recipes/moulded/apricot-pebble.html"
PRINTED_RECIPE = "Sea-salt caramel bonbon"

COLOURS = 64
"""Enough for type on paper, and a quarter of the bytes."""


def main() -> None:
    """Build the demo book and take both pictures."""
    with tempfile.TemporaryDirectory() as place, started() as chromium:
        out = Path(place)
        main_command(["build", str(ROOT / "recipes"), "--out", str(out), "--only", "team", "book", "--on", ON])
        FOLDER.mkdir(exist_ok=True)
        _save(_of_the_site(chromium, out), "recipe-page")
        _save(_of_the_book(out), "book-page")


def _of_the_site(chromium: Chromium, out: Path) -> Path:
    picture = out / "site.png"
    with chromium.visit(out / "team" / SITE_RECIPE, width=1120) as visit:
        visit.page.set_viewport_size({"width": 1120, "height": 1000})
        visit.page.screenshot(path=str(picture))
    return picture


def _of_the_book(out: Path) -> Path:
    book = PdfReader(out / "book.pdf")
    entries = [entry for entry in _flat(book.outline) if entry.title == PRINTED_RECIPE]
    number = str((book.get_destination_page_number(entries[0]) or 0) + 1)
    picture = out / "page"
    command = ["pdftoppm", "-f", number, "-l", number, "-r", "84", "-png", "-singlefile"]
    subprocess.run([*command, str(out / "book.pdf"), str(picture)], check=True)
    return picture.with_suffix(".png")


def _flat(outline: object) -> list[Destination]:
    if isinstance(outline, Destination):
        return [outline]
    return [entry for each in outline for entry in _flat(each)] if isinstance(outline, list) else []


def _save(picture: Path, name: str) -> None:
    """With fewer colours; a page of the book gets an edge, as it would be white on white."""
    with Image.open(picture) as image:
        page = image.convert("RGB")
    framed = Image.new("RGB", (page.width + 2, page.height + 2), (170, 170, 170))
    framed.paste(page, (1, 1))
    framed.quantize(COLOURS).save(FOLDER / f"{name}.png", optimize=True)


if __name__ == "__main__":
    main()

"""Product sheets set: what the pages say, to people and to machines, and the PDFs made of them."""

import json
import re
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from bs4 import BeautifulSoup
from pypdf import PdfReader

from bookmaker.editions.sheets import project
from bookmaker.editions.sheets.views import Address, CrossSection, Form, Layer, SheetView
from bookmaker.editions.sheets.views import Photo as PhotoView
from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef
from bookmaker.press.assembly.assembling import Shop
from bookmaker.press.formats import Formats
from bookmaker.press.images import Photo, Rendition
from bookmaker.press.sheets.drawing import drawing
from bookmaker.press.sheets.paper import SheetPaper
from bookmaker.press.sheets.site import SheetPress
from bookmaker.workshop.pool import spread
from tests.press.test_site import GOLDEN, spoken
from tests.support.nu import messages
from tests.support.published import DEMO, LEDGER, sound_book
from tests.support.sheets import CLIENTS, house_of, publish, sheets

PEBBLE, TART = RecipeRef("moulded/harbour-pebble"), RecipeRef("tarts/pepper-tart")
SHEETS = {"harbour-pebble": PEBBLE, "pepper-and-cream-tart": TART}


@pytest.fixture(scope="module")
def book() -> Book:
    return sound_book(CLIENTS)


@pytest.fixture(scope="module")
def views(book: Book) -> Mapping[RecipeRef, SheetView]:
    return sheets(book)


@pytest.fixture(scope="module")
def press(book: Book) -> SheetPress:
    return SheetPress(project.frame(house_of(book)), (LEDGER,))


def set_page(press: SheetPress, view: SheetView) -> str:
    return press.sheet(view).decode("utf-8")


def data_in(html: str) -> Any:
    script = BeautifulSoup(html, "html.parser").find("script", type="application/ld+json")
    assert script is not None
    assert script.string is not None
    return json.loads(script.string)


# --- for people


@pytest.mark.parametrize("name", SHEETS)
def test_pages_say_what_they_did(name: str, press: SheetPress, views: Mapping[RecipeRef, SheetView]) -> None:
    said = spoken(set_page(press, views[SHEETS[name]]))
    assert said == (GOLDEN / f"sheet-{name}.txt").read_text("utf-8")


def test_every_page_of_the_demo_is_valid_html(tmp_path: Path) -> None:
    demo = sound_book(DEMO)
    folder = publish(demo, tmp_path)
    withheld = SheetPress(project.frame(house_of(demo)), (LEDGER,)).withheld(
        project.withheld_view("Apricot pebble", "", Address("withheld"))
    )
    (folder / "withheld.html").write_bytes(withheld)
    assert len([*folder.glob("*.html")]) > 20
    assert [str(each) for each in messages(folder)] == []


@pytest.mark.parametrize("name", SHEETS)
def test_every_page_says_what_to_check_and_whom_to_ask(
    name: str, press: SheetPress, views: Mapping[RecipeRef, SheetView]
) -> None:
    html = set_page(press, views[SHEETS[name]])
    said = "Calculated from recipe data; check against your local food law and your suppliers&#39; specifications."
    assert said in html
    assert "Quillhaven Kitchen, Old Rope Walk, Quillhaven · kitchen@quillhaven.example" in html


def test_tables_can_be_read_by_ear(press: SheetPress, views: Mapping[RecipeRef, SheetView]) -> None:
    page = BeautifulSoup(set_page(press, views[PEBBLE]), "html.parser")
    tables = page.find_all("table")
    assert len(tables) == 2
    for table in tables:
        assert table.caption is not None
        assert table.caption.get_text(strip=True)
        heads = table.select("thead th")
        assert {th.get("scope") for th in heads} == {"col"}
        assert all(th.get_text(strip=True) for th in heads)
        for row in table.select("tbody tr"):
            assert [th.get("scope") for th in row.find_all("th")] == ["row"]
            assert len(row.find_all(["th", "td"])) == len(heads)


def test_allergens_are_bold_in_the_ingredients(press: SheetPress, views: Mapping[RecipeRef, SheetView]) -> None:
    page = BeautifulSoup(set_page(press, views[PEBBLE]), "html.parser")
    declaration = page.find("p", class_="declaration")
    assert declaration is not None
    bold = {each.get_text() for each in declaration.find_all("strong")}
    assert bold == {run.text for run in views[PEBBLE].declaration if run.allergen}
    assert {"milk", "wheat"} <= bold


def test_a_photo_is_found_under_the_products_own_name(press: SheetPress, views: Mapping[RecipeRef, SheetView]) -> None:
    view = views[PEBBLE]
    with_photo = replace(view, photo=PhotoView("A pebble, cut open"))
    photo = Photo((Rendition(640, 480, b"small"), Rendition(1280, 960, b"large")))
    other = SheetPress(press.frame, press.themes, {view.address: photo})
    page = BeautifulSoup(set_page(other, with_photo), "html.parser")
    image = page.find("img")
    assert image is not None
    assert (image["src"], image["alt"]) == ("photos/harbour-pebble-1280.jpg", "A pebble, cut open")
    assert data_in(set_page(other, with_photo))["image"] == "photos/harbour-pebble-1280.jpg"


def test_a_withheld_sheet_says_so_and_nothing_else(press: SheetPress) -> None:
    html = press.withheld(project.withheld_view("Harbour pebble", "", Address("harbour-pebble"))).decode("utf-8")
    assert "This sheet is being revised." in html
    assert "kitchen@quillhaven.example" in html
    assert not re.search(r"<table|ld\+json|\.pdf|Ingredients", html)


# --- for machines

# Which properties a type has, on schema.org's pages of that name (version 29, 2025)
THING = {"name", "alternateName", "description", "image"}
TERMS = {
    "Product": THING | {"manufacturer", "weight", "additionalProperty", "offers"},
    "MenuItem": THING | {"nutrition", "offers", "suitableForDiet"},
    "NutritionInformation": {
        "servingSize", "calories", "fatContent", "saturatedFatContent", "carbohydrateContent", "sugarContent",
        "fiberContent", "proteinContent", "sodiumContent",
    },
    "Organization": THING,
    "QuantitativeValue": {"value", "unitCode"},
    "PropertyValue": {"name", "value"},
    "Offer": {"priceSpecification"},
    "UnitPriceSpecification": {"price", "priceCurrency", "valueAddedTaxIncluded"},
}  # fmt: skip


def unknown_terms(data: Any) -> list[str]:
    match data:
        case list():
            return [each for part in data for each in unknown_terms(part)]
        case dict():
            kinds = data["@type"] if isinstance(data["@type"], list) else [data["@type"]]
            known = set().union(*(TERMS[kind] for kind in kinds)) | {"@type", "@context"}
            return [*(set(data) - known), *(each for part in data.values() for each in unknown_terms(part))]
        case _:
            return []


def test_linked_data_uses_terms_of_the_open_vocabulary_as_it_defines_them(
    press: SheetPress, views: Mapping[RecipeRef, SheetView]
) -> None:
    data = data_in(set_page(press, views[PEBBLE]))
    assert data["@context"] == "https://schema.org"
    assert unknown_terms(data) == []
    assert data["@type"] == ["Product", "MenuItem"]
    assert data["name"] == "Harbour pebble"
    assert data["suitableForDiet"] == ["https://schema.org/VegetarianDiet"]
    assert data["offers"]["priceSpecification"] == {
        "@type": "UnitPriceSpecification",
        "price": "4.40",
        "priceCurrency": "EUR",
        "valueAddedTaxIncluded": True,
    }
    properties = {each["name"]: each["value"] for each in data["additionalProperty"]}
    assert properties["Contains allergens"] == "wheat, milk"
    assert properties["May contain"] == "almonds, hazelnuts"
    assert re.fullmatch(r"\d+ kcal", data["nutrition"]["calories"])
    assert re.fullmatch(r"\d+ mg", data["nutrition"]["sodiumContent"])
    assert re.fullmatch(r"[\d.]+ g", data["nutrition"]["fatContent"])


def test_machines_hear_of_what_is_not_known(press: SheetPress, views: Mapping[RecipeRef, SheetView]) -> None:
    data = data_in(set_page(press, views[TART]))
    assert unknown_terms(data) == []
    assert "nutrition" not in data
    assert "suitableForDiet" not in data
    properties = {each["name"]: each["value"] for each in data["additionalProperty"]}
    assert properties["Allergen information"] == "not known for every ingredient"
    assert "Ingredients" not in properties


def test_no_words_end_the_script_or_begin_another(press: SheetPress, views: Mapping[RecipeRef, SheetView]) -> None:
    words = 'Crisp </script><script>alert("x")</script> & soft <!-- so \u2028 it is'
    html = set_page(press, replace(views[PEBBLE], describe=words, title="A <b>pebble</b>"))
    assert html.count("<script") == 1
    assert "\u2028" not in html.split("</script>")[0]
    data = data_in(html)
    assert data["description"] == words
    assert data["name"] == "A <b>pebble</b>"
    assert "<b>pebble" not in html


# --- the drawing


def section(*layers: Layer, to_scale: bool = True) -> CrossSection:
    return CrossSection(layers, (), to_scale)


def layer(width: str, height: str, form: Form = Form.SLAB) -> Layer:
    return Layer(f"{form} {width}", form, Decimal(width), Decimal(height), ())


def rectangles(svg: str) -> list[tuple[float, float]]:
    """Width and height of every slab that is drawn."""
    return [(float(w), float(h)) for w, h in re.findall(r'd="M[\d.]+ [\d.]+h([\d.]+)v([\d.]+)h-', svg)]


def test_layers_are_drawn_to_one_scale_in_both_directions() -> None:
    svg = str(drawing(section(layer("40", "4"), layer("60", "30")), Formats(), uid="x"))
    low, high = rectangles(svg)
    assert high[0] / low[0] == pytest.approx(60 / 40, rel=1e-3)
    assert high[1] / low[1] == pytest.approx(30 / 4, rel=1e-2)
    assert high[0] / high[1] == pytest.approx(60 / 30, rel=1e-3)


def test_the_bar_is_as_long_as_it_says() -> None:
    svg = str(drawing(section(layer("60", "30")), Formats(), uid="x"))
    ((width, _),) = rectangles(svg)
    bar = re.search(r'<line x1="([\d.]+)" y1="[\d.]+" x2="([\d.]+)"[^>]*stroke-width="1.6"/>', svg)
    words = re.search(r">(\d+)\xa0mm<", svg)
    assert bar is not None
    assert words is not None
    assert float(bar[2]) - float(bar[1]) == pytest.approx(int(words[1]) * width / 60, rel=1e-3)


def test_a_scheme_has_no_bar_and_says_that_it_has_no_scale() -> None:
    svg = str(drawing(section(Layer("x", Form.SLAB, None, None, ()), to_scale=False), Formats(), uid="x"))
    assert "mm<" not in svg
    assert "Not to scale." in svg


def test_what_stands_in_a_shell_stands_within_its_walls() -> None:
    svg = str(drawing(section(layer("80", "3", Form.SHELL), layer("80", "12")), Formats(), uid="x"))
    ((width, _),) = rectangles(svg)
    shell = re.search(r'd="M([\d.]+) [\d.]+V[\d.]+H([\d.]+)V', svg)
    assert shell is not None
    whole = float(shell[2]) - float(shell[1])
    assert width == pytest.approx(whole * (80 - 2 * 3) / 80, rel=1e-3)


def test_numbers_of_thin_layers_do_not_touch() -> None:
    svg = str(drawing(section(*(layer("240", "2") for _ in range(6))), Formats(), uid="x"))
    stand = [float(y) for y in re.findall(r'<text x="278" y="([\d.]+)"', svg)]
    assert len(stand) == 6
    assert all(after - before >= 18 for before, after in pairwise(stand))


# --- the PDFs


class Shelf(dict[str, bytes]):
    """A store."""

    def put(self, key: str, content: bytes) -> None:
        self[key] = content


@pytest.fixture(scope="module")
def made(book: Book, views: Mapping[RecipeRef, SheetView]) -> dict[str, bytes]:
    """One sheet's PDF twice, from nothing and from what is kept, and the PDF of all sheets."""
    paper, shelf = SheetPaper(project.frame(house_of(book)), (LEDGER,)), Shelf()
    said: list[str] = []
    shop = Shop(spread, lambda *_: None, said.append, shelf)
    alone = Shop(spread, lambda *_: None, said.append, None)
    every = paper.all_pdf([*views.values()], shop)
    found = {"all": every, "kept": paper.pdf(views[PEBBLE], shop), "anew": paper.pdf(views[PEBBLE], alone)}
    assert said == []
    return found


@pytest.mark.pdf
def test_a_sheets_pdf_is_a_function_of_its_document(made: Mapping[str, bytes]) -> None:
    assert made["kept"] == made["anew"]


@pytest.mark.pdf
def test_a_sheet_is_one_tagged_page_that_says_what_the_web_page_says(
    made: Mapping[str, bytes], views: Mapping[RecipeRef, SheetView]
) -> None:
    reader = PdfReader(BytesIO(made["kept"]))
    (page,) = reader.pages
    words = " ".join(page.extract_text().split())
    view = views[PEBBLE]
    assert view.nutrition is not None
    for said in (
        "Harbour pebble",
        "Cream cake on butter biscuit, defrosted",
        "4.40 EUR",
        "Nuts are handled in one open kitchen.",
        "Calculated from recipe data; check against your local food law and your suppliers' specifications.",
        *(f"{line.name} {line.per_100.split(' / ')[0]}" for line in view.nutrition.lines),
    ):
        assert said.replace("\xa0", " ") in words.replace("\xa0", " ")
    assert reader.metadata is not None
    assert (reader.metadata.title, reader.metadata.author) == ("Harbour pebble", "Quillhaven Kitchen")
    with pikepdf.open(BytesIO(made["kept"])) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert str(pdf.Root.Lang) == "en"
        assert pdf.check_pdf_syntax() == []


@pytest.mark.pdf
def test_all_sheets_are_in_one_document_each_on_its_own_page(made: Mapping[str, bytes]) -> None:
    reader = PdfReader(BytesIO(made["all"]))
    titles = [page.extract_text() for page in reader.pages]
    assert len(titles) == 2
    assert "Harbour pebble" in titles[0]
    assert "Pepper & cream tart" in titles[1]
    assert [str(each["/Title"]) for each in reader.outline if isinstance(each, dict)] == [
        "Harbour pebble",
        "Pepper & cream tart",
    ]

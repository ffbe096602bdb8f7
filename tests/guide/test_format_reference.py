"""The format reference is current and complete, and everything that it shows can be read."""

import re
from collections.abc import Iterable, Iterator
from datetime import date
from pathlib import Path
from typing import get_args

import pytest

from bookmaker.guide import examples
from bookmaker.guide.examples import Example
from bookmaker.guide.lists import FILLINGS
from bookmaker.guide.reference import format_reference, places
from bookmaker.kitchen.compute import compute
from bookmaker.model.yields import Yield
from bookmaker.reading.book import Reading
from bookmaker.reading.house import read_house
from bookmaker.reading.prices import read_pack
from bookmaker.reading.steps import ATTRIBUTES
from bookmaker.reading.stores import read_stores
from bookmaker.reading.tree import compose
from bookmaker.reading.yields import read_yield
from tests.contract.modules import ROOT
from tests.guide.samples import blocks, book_of, demo_with, recipe, said_of

REFERENCE = format_reference()


def test_the_reference_is_current() -> None:
    written = (ROOT / "bookmaker" / "guide" / "format.md").read_text(encoding="utf-8")
    assert written == REFERENCE, "run: python -m bookmaker.guide"


def test_every_list_has_its_place() -> None:
    assert sorted(places()) == sorted(FILLINGS)


def test_links_inside_the_reference_lead_somewhere() -> None:
    headings = {
        re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-")
        for heading in re.findall(r"^#+ (.*)$", REFERENCE, re.MULTILINE)
    }
    assert set(re.findall(r"\]\(#([^)]+)\)", REFERENCE)) <= headings


def test_every_form_of_a_yield_is_shown() -> None:
    assert {type(read_yield(each.text)) for each in examples.YIELDS} == set(get_args(Yield))


# --- every example in a recipe of its own, in the demo book

LAYERED = (
    "formula: [1 sheet almond sablé, 1 kg sweet tart dough, 1 kg honey mousse, 1 kg apricot heart, 1 kg dark glaze]"
)
STAGED = "formula: {Mix: 1 kg plain flour, Wash: 50 g egg wash}"


def _fronts(what: str, shown: Iterable[Example], front: str) -> Iterator[tuple[str, str]]:
    for each in shown:
        yield f"{what}: {each.text}", recipe(front.replace("HERE", each.text))


def _bodies(what: str, shown: Iterable[Example], key: str) -> Iterator[tuple[str, str]]:
    for each in shown:
        yield f"{what}: {each.text}", recipe(body=f'1. Go on. {{{key}="{each.text}"}}')


def _attributes() -> Iterator[tuple[str, str]]:
    for name, each in ATTRIBUTES.items():
        written = {"limit": "4 °C within 2 h", "if-missed": "discard"}
        limit = "".join(f' {key}="{text}"' for key, text in written.items() if key != name)
        body = f'1. Boil. {{name="boil"}}\n2. Chill. {{name="chilled"}}\n3. Go on. {{{name}="{each.example}"{limit}}}'
        yield f"step: {name}", recipe(STAGED, body.replace("chilled", "chill" if name == "after" else "chilled"))


def _shown_in_blocks() -> Iterator[tuple[str, str]]:
    for text in blocks(REFERENCE, "markdown"):
        if text.startswith("---"):
            yield text.splitlines()[1], text
        elif not text.startswith("##"):
            yield text.splitlines()[0], recipe(body=text)
    for text in blocks(REFERENCE, "yaml"):
        if text.startswith("# in a recipe"):
            yield f"in a recipe: {text.splitlines()[1]} {len(text)}", recipe(text)


SAMPLES = dict(
    [
        *_fronts("line", examples.LINES, "formula: ['HERE', 1 kg plain flour]"),
        *_fronts("yields", examples.YIELDS, "yields: HERE\ntray: 24 pieces"),
        *_fronts("cut", examples.CUTS, "yields: 1 sheet of 60 × 40 cm\ncut: HERE"),
        *_fronts("to", examples.END_POINTS, "to: HERE"),
        *_fronts("layer", examples.LAYERS, f"{LAYERED}\nlayers: ['HERE']"),
        *_fronts("packaging", examples.PACKAGING, "yields: 24 pieces\npackaging: [HERE]"),
        *_fronts("price", examples.PRICES, "price: {tea room: HERE}"),
        *_fronts("portion", examples.PORTIONS, "portion: HERE"),
        *_fronts("keeps", examples.KEEPING, "keeps:\n  frozen: HERE"),
        *_bodies("takes", examples.DURATIONS, "takes"),
        *_bodies("at", examples.READINGS, "at"),
        *_bodies("to", examples.READINGS, "to"),
        *_attributes(),
        *_shown_in_blocks(),
    ]
)
"""Recipe files by what they show."""

NUMBERS = {name: number for number, name in enumerate(SAMPLES)}


def _file(name: str) -> str:
    return f"samples/{NUMBERS[name]:03}.md"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Reading:
    """The demo book with every sample in it."""
    files = {
        _file(name): text.replace("title: Sample", f"title: Sample {NUMBERS[name]}") for name, text in SAMPLES.items()
    }
    return demo_with(tmp_path_factory.mktemp("demo") / "book", files)


@pytest.mark.parametrize("name", SAMPLES)
def test_what_is_shown_of_a_recipe_can_be_read(name: str, demo: Reading) -> None:
    assert said_of(demo.problems, _file(name)) == []


WHOLE = [name for name in SAMPLES if name.startswith("title: ")]


def test_there_are_whole_recipes() -> None:
    assert len(WHOLE) >= 3


@pytest.mark.parametrize("name", WHOLE)
def test_whole_recipes_have_figures_without_contradictions(name: str, demo: Reading) -> None:
    assert demo.book is not None
    figures = compute(demo.book, date(2026, 11, 30))
    assert said_of(figures.findings, _file(name)) == []
    (found,) = (figure for ref, figure in figures.recipes.items() if ref.id == _file(name).removesuffix(".md"))
    assert found.flow.usable > 0


# --- the other files


def test_the_other_files_shown_make_a_book(tmp_path: Path) -> None:
    files = {text.split("\n", 1)[0].removeprefix("# "): text for text in blocks(REFERENCE, "yaml")}
    files = {name: text for name, text in files.items() if name.endswith(".yaml")}
    assert files.keys() == {"house.yaml", "cautions.yaml", "stores/dairy.yaml"}
    files["stores/prices.csv"] = next(blocks(REFERENCE, "csv"))
    files["glossary.md"] = next(text for text in blocks(REFERENCE, "markdown") if text.startswith("## "))
    reading = book_of(tmp_path / "book", files)
    assert [f"{each.anchor.document}: {each.message}" for each in reading.problems] == []
    assert reading.book is not None
    assert len(reading.book.prices["salted butter"]) == 2
    assert reading.book.glossary[0].also == ("panada",)


@pytest.mark.parametrize("shown", examples.PACKS, ids=lambda each: each.text)
def test_packs_can_be_read(shown: Example) -> None:
    assert read_pack(shown.text)


@pytest.mark.parametrize("shown", examples.MADE_OF, ids=lambda each: each.text)
def test_parts_can_be_read(shown: Example) -> None:
    tree, _ = compose(f"couverture: {{made of: [{shown.text}]}}", "stores/samples.yaml")
    assert tree is not None
    (item,), problems = read_stores(tree)
    assert problems == []
    assert len(item.made_of) == 1


@pytest.mark.parametrize("shown", examples.HOLDS, ids=lambda each: each.text)
def test_what_equipment_holds_can_be_read(shown: Example) -> None:
    tree, _ = compose(f"format: 1\nname: A\nequipment: {{rack: {{kind: other, holds: {shown.text}}}}}", "house.yaml")
    assert tree is not None
    house, problems = read_house(tree)
    assert problems == []
    assert house is not None
    assert len(house.equipment[0].holds) == 1

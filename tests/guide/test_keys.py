"""Every key that the format reference shows can be written as its example is, and means by default what is said."""

from dataclasses import fields
from enum import StrEnum
from typing import Any

import pytest

from bookmaker.guide.keys import DOCUMENTS, is_required
from bookmaker.kitchen.flow import flow_of
from bookmaker.measures.units import Spoons
from bookmaker.model.book import Book
from bookmaker.model.house import (
    EQUIPMENT_KINDS,
    Additives,
    Choose,
    Compounds,
    House,
    OverheadBase,
    Packed,
    Paper,
    Region,
)
from bookmaker.model.line import Rest
from bookmaker.model.recipe import Kind, Status
from bookmaker.model.stores import FromList, StoresItem, StoresKind
from bookmaker.problems.problem import Problem
from bookmaker.reading.book import Documents, bind_book
from bookmaker.reading.cautions import read_cautions
from bookmaker.reading.files import Document
from bookmaker.reading.house import read_house
from bookmaker.reading.keeping import STATES
from bookmaker.reading.prices import read_prices
from bookmaker.reading.recipe import RecipeDocument, written_recipe
from bookmaker.reading.shape import key_for
from bookmaker.reading.stores import DIETS, read_stores
from bookmaker.reading.tree import compose

Keys = dict[str, str]

PLACES: dict[str, tuple[str, ...]] = {
    "recipe": (),
    "line": ("formula", "-"),
    "co-product": ("gives", "tide bar offcuts"),
    "size": ("sizes", "8 cm"),
    "make": ("make",),
    "teach": ("teach",),
    "exercises": ("teach", "exercises"),
    "item": ("salted butter",),
    "nutrition": ("salted butter", "nutrition"),
    "additive": ("salted butter", "additive"),
    "article": ("salted butter", "articles", "Lowfield Dairy LD-9"),
    "price": (),
    "house": (),
    "price rule": ("prices",),
    "channel": ("channels", "tea room"),
    "equipment": ("equipment", "deck oven"),
    "mould": ("moulds", "pebble mould"),
    "tin": ("tins", "tart ring"),
    "flat": ("frames", "bar frame"),
    "staff": ("staff", "night baker"),
    "cards": ("cards",),
    "labels": ("labels",),
    "stickers": ("labels", "stickers", "small"),
    "caution": ("dry ice",),
}
"""Where the keys of each kind of document stand; a dash for an entry of a list."""

HOUSE = {
    "house", "price rule", "channel", "equipment", "mould", "tin", "flat", "staff", "cards", "labels", "stickers",
}  # fmt: skip
RECIPES = {"recipe", "line", "co-product", "size", "make", "teach", "exercises"}
STORES = {"item", "nutrition", "additive", "article"}

BESIDE: dict[tuple[str, str], Keys] = {
    ("recipe", "cut"): {"yields": "1 sheet of 60 × 40 cm"},
    ("recipe", "gives"): {"yields": "1 sheet of 60 × 40 cm", "cut": "30 × 80 mm"},
    ("recipe", "status"): {"code": "QB-99"},
    ("line", "rest"): {"stays": "60 %"},
    ("size", "cut"): {"yields": "1 sheet of 60 × 40 cm"},
    ("item", "nutrition"): {"nutrition source": "the mill"},
    ("item", "labelled as"): {"articles": "{Millstone & Reed MR-114: {contains: [milk]}}"},
    ("house", "labels"): {"channels": "{tea room: {tax: 10 %}}"},
    ("house", "labour role"): {"labour": "{pastry cook: 21.50 EUR/h}"},
    ("price rule", "choose"): {"preferred": "[Lowfield Dairy]"},
    ("tin", "height"): {"diameter": "24 cm"},
    ("stickers", "left"): {"size": "65 × 30 mm"},
    ("stickers", "gap across"): {"size": "65 × 30 mm"},
}
"""Keys that another makes no sense without."""

ABOVE: dict[str, Keys] = {
    "recipe": {"title": "Sample", "formula": "[1 kg plain flour]"},
    "line": {"title": "Sample", "yields": "1 kg"},
    "co-product": {
        "title": "Sample",
        "yields": "1 sheet of 60 × 40 cm",
        "cut": "30 × 80 mm",
        "formula": "[1 kg plain flour]",
    },
    "labels": {"format": "1", "name": "Sample", "channels": "{tea room: {tax: 10 %}}"},
    "size": {
        "title": "Sample",
        "yields": "1 kg",
        "formula": "[1 kg sweet paste]",
        "losses": "{bake: 9 %}",
        "packaging": "[1 tart box]",
    },
}
"""Keys of the whole document that the examples rest on."""

SIMPLE_BODY = '1. Mix. {name="bake" takes="12 min"}'


def _meta(name: str) -> dict[str, dict[str, Any]]:
    return {key_for(each.name): dict(each.metadata) for each in fields(DOCUMENTS[name])}


def _required(name: str) -> Keys:
    found = {key_for(each.name): each.metadata["example"] for each in fields(DOCUMENTS[name]) if is_required(each)}
    return {key: text for key, text in found.items() if key not in _above(name)}


def _yaml(place: tuple[str, ...], keys: Keys) -> str:
    lines: list[str] = []
    indent = ""
    for step in place:
        if step == "-":
            first, *others = [f"{key}: {text}" for key, text in keys.items()]
            return "\n".join([*lines, f"  - {first}", *(f"    {other}" for other in others)]) + "\n"
        lines.append(f"{indent}{step}:")
        indent += "  "
    return "\n".join([*lines, *(f"{indent}{key}: {text}" for key, text in keys.items())]) + "\n"


def _document(name: str, keys: Keys) -> str:
    above = _above(name)
    if not PLACES[name]:
        return _yaml((), above | keys)
    return (_yaml((), above) if above else "") + _yaml(PLACES[name], keys)


def _above(name: str) -> Keys:
    if name in HOUSE:
        return ABOVE.get(name, {"format": "1", "name": "Sample"})
    usual = ABOVE["recipe"] | {"yields": "1 kg"} if name in RECIPES else {}
    return ABOVE.get(name, usual)


def _recipe(text: str) -> RecipeDocument:
    return written_recipe("samples/sample.md", f"---\n{text}---\n{SIMPLE_BODY}\n")


def _read(name: str, keys: Keys) -> tuple[object, list[Problem]]:
    """What the tool makes of a document with these keys, and what is wrong with it."""
    if name == "price":
        row = _required("price") | keys
        text = f"{','.join(row)}\n{','.join(row.values())}\n"
        listed, problems = read_prices(Document("stores/prices.csv", text, ""))
        return listed.prices, problems
    text = _document(name, keys)
    if name in RECIPES:
        read = _recipe(text)
        return read.recipe, list(read.problems)
    tree, problems = compose(text, "sample.yaml")
    assert tree is not None
    if name == "caution":
        value, more = read_cautions(tree)
        return value, [*problems, *more]
    reader: Any = read_stores if name in STORES else read_house
    value, more = reader(tree)
    return value, [*problems, *more]


EXAMPLES = [(name, key) for name in DOCUMENTS for key, meta in _meta(name).items() if meta["example"]]


def test_every_kind_of_document_has_a_place() -> None:
    assert PLACES.keys() == DOCUMENTS.keys()


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_key_says_what_it_means(name: str) -> None:
    assert [key for key, meta in _meta(name).items() if not (meta["doc"] and meta["example"])] == []


@pytest.mark.parametrize(("name", "key"), EXAMPLES)
def test_examples_of_keys_can_be_read(name: str, key: str) -> None:
    example = {key: _meta(name)[key]["example"]}
    value, problems = _read(name, _required(name) | _always(name) | BESIDE.get((name, key), {}) | example)
    assert [f"{each.code}: {each.message}" for each in problems if each.is_error] == []
    assert value


def _always(name: str) -> Keys:
    return {"yields": "1 kg"} if name == "recipe" else {}


# --- what holds without a key


def _defaults(name: str) -> Keys:
    return {key: meta["without"] for key, meta in _meta(name).items() if meta["without"]}


def _without(name: str) -> Keys:
    """A document with no key that has a default: the required ones, and one that has none where all may be missing."""
    always = _required(name) | _always(name)
    if always or not PLACES[name]:
        return always
    key = next(key for key, meta in _meta(name).items() if not meta["without"])
    return {key: _meta(name)[key]["example"]}


@pytest.mark.parametrize("name", [name for name in DOCUMENTS if _defaults(name) and name not in RECIPES])
def test_a_key_left_out_means_its_default(name: str) -> None:
    short, _ = _read(name, _without(name))
    long, problems = _read(name, _without(name) | _defaults(name))
    assert problems == []
    assert long == short


@pytest.mark.parametrize("name", [name for name in sorted(RECIPES) if _defaults(name)])
def test_a_key_of_a_recipe_left_out_means_its_default(name: str) -> None:
    short, long = (_bound(name, keys) for keys in (_without(name), _without(name) | _defaults(name)))
    (one,), (other,) = short.recipes.values(), long.recipes.values()
    assert flow_of(one, short, {}) == flow_of(other, long, {})
    if name != "line":  # that all of a line stays may be said in two ways
        assert one == other


def _bound(name: str, keys: Keys) -> Book:
    names = ("plain flour", "dark couverture", "sweet paste")
    items = tuple(StoresItem(each, each) for each in names)
    read = _recipe(_document(name, keys))
    book, problems = bind_book(Documents(house=House("Sample"), stores=[items], recipes=[read]))
    assert [each.message for each in (*read.problems, *problems)] == []
    assert book is not None
    return book


# --- words listed in a key's description

CHOICES: dict[tuple[str, str], tuple[str, ...] | type[StrEnum]] = {
    ("recipe", "kind"): Kind,
    ("recipe", "status"): Status,
    ("recipe", "keeps"): STATES,
    ("line", "rest"): Rest,
    ("item", "kind"): StoresKind,
    ("item", "diet"): DIETS,
    ("item", "exempt from list"): FromList,
    ("labels", "compounds"): Compounds,
    ("labels", "additives"): Additives,
    ("labels", "packed"): Packed,
    ("house", "region"): Region,
    ("house", "paper"): Paper,
    ("house", "spoons"): Spoons,
    ("house", "overhead"): OverheadBase,
    ("price rule", "choose"): Choose,
    ("equipment", "kind"): EQUIPMENT_KINDS,
}


@pytest.mark.parametrize(("name", "key"), CHOICES)
def test_a_key_names_all_its_words(name: str, key: str) -> None:
    said = _meta(name)[key]["doc"].lower()
    assert [word for word in CHOICES[name, key] if word.lower() not in said] == []

"""The description of the record is current, and names what is in it."""

import json
import re
from datetime import date
from typing import Any

import pytest

from bookmaker.editions.record.edition import KEYS, project
from bookmaker.guide.record_layout import record_layout
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.label import label_of
from bookmaker.reading.book import read_book
from tests.contract.modules import ROOT

WHAT_IT_IS = {"id", "size", "title", "kind", "status", "code", "revision", "revised"}
"""Keys of a recipe that say which it is; `note` says that all of it is calculated."""


@pytest.fixture(scope="module")
def record() -> dict[str, Any]:
    book = read_book(ROOT / "recipes").book
    assert book is not None
    figures = compute(book, date(2026, 11, 30))
    found: dict[str, Any] = json.loads(project(book, figures, lambda ref: label_of(ref, book, figures)))
    return found


def test_the_description_is_current() -> None:
    written = (ROOT / "bookmaker" / "guide" / "record.md").read_text(encoding="utf-8")
    assert written == record_layout(), "run: python -m bookmaker.guide"


def _described(prefix: str) -> set[str]:
    found = {re.sub(r"^recipes\[\]\.", "", key) for key in KEYS if key.startswith("recipes[].") is bool(prefix)}
    return {word for key in found for word in key.split(", ")}


def test_every_key_of_the_whole_is_described(record: dict[str, Any]) -> None:
    assert record.keys() - {"note"} == _described("")


def test_every_key_of_a_recipe_is_described(record: dict[str, Any]) -> None:
    assert {key for recipe in record["recipes"] for key in recipe} - WHAT_IT_IS == _described("recipes[].")


def test_products_have_a_label_and_nothing_else_has(record: dict[str, Any]) -> None:
    assert {recipe["kind"] for recipe in record["recipes"] if recipe["label"]} == {"product"}
    assert all(recipe["label"] for recipe in record["recipes"] if recipe["kind"] == "product")

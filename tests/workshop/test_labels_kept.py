"""Labels in the record follow every edit that they depend on: a warm build's record is a fresh one's, byte for byte."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from bookmaker.cli import main

ON = ["--on", "2026-11-25"]
PANTRY, HOUSE = "recipes/stores/pantry.yaml", "recipes/house.yaml"
BISCUIT, SANDWICH = "recipes/biscuits/butter-biscuit.md", "recipes/biscuits/jam-sandwich.md"


def build(kitchen: Path, out: str, *more: str) -> bytes:
    assert main(["build", str(kitchen), "--out", str(kitchen / out), "--only", "record", *ON, *more]) == 0
    return (kitchen / out / "book.json").read_bytes()


def text_of(record: bytes) -> str:
    label = next(each["label"] for each in json.loads(record)["recipes"] if each["label"])
    return str(label["ingredients"]["text"])


def swap(path: str, old: str, new: str) -> Callable[[Path], None]:
    def edit(kitchen: Path) -> None:
        text = (kitchen / path).read_text("utf-8")
        assert old in text
        (kitchen / path).write_text(text.replace(old, new, 1), "utf-8")

    return edit


EDITS = {
    "a label name": (swap(PANTRY, "label: butter", "label: sweet cream butter"), "sweet cream butter (MILK)"),
    "made of": (
        swap(PANTRY, "  label: raspberry jam\n", "  label: raspberry jam\n  made of: [raspberries, sugar]\n"),
        "raspberry jam (raspberries, sugar)",
    ),
    "an additive": (
        swap(PANTRY, "  label: salt\n", "  label: salt\n  additive: {class: raising agent, number: E500}\n"),
        "raising agent: salt",
    ),
    "how components are listed": (
        swap(HOUSE, "paper: A4", "labels: {compounds: nested}\npaper: A4"),
        "butter biscuit (WHEAT flour",
    ),
    "what is named": (swap(SANDWICH, "portion: 1 piece", "portion: 1 piece\nnamed: [raspberry jam]"), "jam 17 %"),
    "a weight of a component": (swap(BISCUIT, "5 g fine salt", "50 g fine salt"), "WHEAT flour, butter (MILK)"),
}


@pytest.mark.parametrize("edit", EDITS)
def test_a_warm_record_is_a_fresh_one(edit: str, tmp_path: Path) -> None:
    change, says = EDITS[edit]
    kitchen = tmp_path / "kitchen"
    assert main(["start", str(kitchen)]) == 0
    before = build(kitchen, "build")
    change(kitchen)
    after = build(kitchen, "build")
    assert after != before
    assert says in text_of(after)
    assert build(kitchen, "fresh", "--fresh") == after


def test_the_legal_name_of_a_component_reaches_its_users(tmp_path: Path) -> None:
    kitchen = tmp_path / "kitchen"
    assert main(["start", str(kitchen)]) == 0
    swap(HOUSE, "paper: A4", "labels: {compounds: nested}\npaper: A4")(kitchen)
    assert "butter biscuit (" in text_of(build(kitchen, "build"))
    swap(BISCUIT, "cautions: [hot trays]", "sold as: Shortbread\ncautions: [hot trays]")(kitchen)
    warm = build(kitchen, "build")
    assert "Shortbread (" in text_of(warm)
    assert build(kitchen, "fresh", "--fresh") == warm

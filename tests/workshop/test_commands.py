"""The commands on the demo book and on wrong ones: what they print, and the exit code they end with."""

import json
import shutil
from collections.abc import Sequence
from pathlib import Path

import pytest

from bookmaker.cli import main
from bookmaker.workshop.shipped import demo_book_dir
from bookmaker.workshop.terminal.table import width_of

ON = ["--on", "2026-11-25"]
DEMO = ["--book", str(demo_book_dir())]


def lines_of(asked: Sequence[str], capsys: pytest.CaptureFixture[str], code: int = 0) -> list[str]:
    assert main(asked) == code
    return capsys.readouterr().out.splitlines()


ANSWERS = [
    ["weigh", "apricot pebble", "--for", "130 pieces"],
    ["weigh", "harbour sourdough"],
    ["weigh", "sea-salt caramel bonbon", "--for", "400 pieces"],
    ["weigh", "rhubarb custard tart (8 cm)", "--for", "30 pieces"],
    ["weigh", "milk brioche bun", "--for", "use up 2.5 kg unsalted butter"],
    ["cost"],
    ["cost", "apricot pebble"],
    ["cost", "tea ganache bonbon"],
    ["cost", "--if", "unsalted butter: +12 %"],
    ["cost", "apricot pebble", "--for", "130 pieces"],
    ["cost", "tea ganache bonbon", "--for", "2 moulds"],
    ["label", "apricot pebble"],
    ["label", "rhubarb custard tart (8 cm)"],
    ["explain", "apricot pebble"],
    ["explain", "apricot pebble", "cost"],
    ["explain", "harbour sourdough", "hydration"],
]


@pytest.mark.parametrize("asked", ANSWERS, ids=" ".join)
def test_answers_fit_eighty_columns(asked: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    shown = lines_of([*asked, *DEMO, *ON], capsys)
    assert len(shown) > 3
    assert [line for line in shown if width_of(line) > 80] == []


@pytest.mark.parametrize("asked", ANSWERS, ids=" ".join)
def test_answers_for_machines_are_json(asked: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*asked, *DEMO, *ON, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)


def test_weigh_prints_components_before_their_users_and_what_is_left_over(capsys: pytest.CaptureFixture[str]) -> None:
    shown = "\n".join(lines_of(["weigh", "apricot pebble", "--for", "130 pieces", *DEMO, *ON], capsys))
    order = [shown.index(f". {name}") for name in ("Vanilla anglaise", "Honey mousse", "Apricot pebble")]
    assert order == sorted(order)
    # 130 pieces in moulds of 24 are 6 moulds, 144 pieces
    assert "makes 144" in shown
    assert "14 left over" in shown
    assert "144 discs" in shown


def test_weigh_warns_of_what_the_stores_bring_and_names_every_limit(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["weigh", "pastry cream", *DEMO, *ON]
    shown = " ".join(" ".join(lines_of(asked, capsys)).split())
    # the recipe does not name it: the cornflour of the stores brings it along
    assert "! flour dust (Vanilla pastry cream). " in shown
    assert ", critical control point 1: reaches 92 °C for 2 min. If missed: " in shown
    assert ", critical control point 2: 5 °C within 2 h. If missed: " in shown


def test_weigh_conserves_mass_to_the_gram(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["weigh", "apricot pebble", "--for", "400 pieces", "--json", *DEMO, *ON]) == 0
    record = json.loads(capsys.readouterr().out)
    for made in record["recipes"]:
        out = sum(made[key] for key in ("usable", "moisture", "waste", "back", "kept back"))
        out += sum(made["co-products"].values())
        assert made["into"] == pytest.approx(out, abs=1e-3), made["title"]
        assert made["usable"] == pytest.approx(made["needed"] + made["left over"], abs=1e-3), made["title"]


def test_cost_of_a_recipe_adds_up(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["cost", "apricot pebble", "--json", *DEMO, *ON]) == 0
    record = json.loads(capsys.readouterr().out)
    parts = record["parts"]
    kinds = ("ingredients", "labour", "energy", "packaging", "overhead")
    assert parts["total"] == pytest.approx(sum(parts[kind] for kind in kinds) - parts["credit"])
    assert record["batch"] == pytest.approx(parts["total"])


def test_explain_leads_down_to_the_price_list(capsys: pytest.CaptureFixture[str]) -> None:
    shown = "\n".join(lines_of(["explain", "apricot pebble", "cost", *DEMO, *ON], capsys))
    assert "stores/prices.csv:" in shown
    assert "creams/honey-mousse.md:" in shown


def test_an_allergen_is_explained_by_what_holds_and_not_as_unknown(capsys: pytest.CaptureFixture[str]) -> None:
    shown = lines_of(["explain", "apricot pebble", "allergen milk", *DEMO, *ON], capsys)
    assert shown[0] == "Apricot pebble: allergen milk = contains"
    assert not [line for line in shown if "not known" in line]
    shown = lines_of(["explain", "apricot pebble", "may contain hazelnuts", *DEMO, *ON], capsys)
    assert shown[0] == "Apricot pebble: may contain hazelnuts = may contain"


def test_a_label_sets_allergens_in_capitals_and_says_to_check_it(capsys: pytest.CaptureFixture[str]) -> None:
    shown = " ".join(" ".join(lines_of(["label", "apricot pebble", *DEMO, *ON], capsys)).split())
    assert "Ingredients: cream (MILK), " in shown
    assert "WHEAT flour" in shown
    assert "contains wheat, eggs, soybeans, milk, almonds may contain " in shown
    assert "we cannot promise that any product is free from them." in shown
    assert "of which saturates" in shown
    assert "Calculated from recipe data; check against your local food law and your suppliers' specifications." in shown
    assert "written down on 2026-11-25" in shown


def test_a_label_for_machines_has_the_exact_figures(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["label", "apricot pebble", "--json", *DEMO, *ON]) == 0
    record = json.loads(capsys.readouterr().out)
    assert list(record["allergens"]["contains"]) == ["wheat", "eggs", "soybeans", "milk", "almonds"]
    energy = next(row for row in record["nutrition"]["rows"] if row["key"] == "energy")
    grams = {row["key"]: row["exact"] for row in record["nutrition"]["rows"]}
    factors = {"fat": 37, "carbohydrate": 17, "protein": 17, "fibre": 8}
    assert energy["exact"] == pytest.approx(sum(grams[key] * by for key, by in factors.items()))


def test_what_a_label_lacks_is_said_and_nothing_looks_like_zero(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book = tmp_path / "book"
    shutil.copytree(demo_book_dir(), book)
    eggs = book / "stores" / "dairy-eggs.yaml"
    text = eggs.read_text("utf-8")
    begin = text.index("egg yolk:\n")
    end = text.index("\n\n", begin)
    eggs.write_text(text[:begin] + "egg yolk:\n  aka: [egg yolks, yolk, yolks]\n" + text[end:], "utf-8")
    shown = lines_of(["label", "apricot pebble", "--book", str(book), *ON], capsys)
    flat = " ".join(" ".join(shown).split())
    assert "Not fit to print: allergens not declared by egg yolk." in flat
    assert "not declared egg yolk: nothing here is free from anything" in flat
    assert "Incomplete: no nutrition data for egg yolk." in flat
    assert [line.split()[-1] for line in shown if line.startswith(("fat ", "protein ", "salt "))] == ["missing"] * 3


def test_missing_prices_are_never_silently_low(capsys: pytest.CaptureFixture[str]) -> None:
    shown = "\n".join(lines_of(["cost", "tea ganache bonbon", *DEMO, *ON], capsys))
    assert "at least" in shown
    assert "no price for long pepper" in shown
    # what a price leaves over a cost that is at least so much is at most so much: 12.40 ÷ 1.1 less 35.43 ÷ 9 boxes
    assert "≤ 7.34 EUR" in shown
    assert "Prices of a portion of 8 pieces" in shown


def test_a_house_without_rates_says_that_labour_is_not_costed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book = tmp_path / "book"
    shutil.copytree(demo_book_dir(), book)
    for path in (book / "house.yaml", *book.rglob("*.md")):
        kept = [
            line for line in path.read_text("utf-8").splitlines(keepends=True) if not line.startswith("labour role:")
        ]
        path.write_text("".join(kept), "utf-8")
    house = (book / "house.yaml").read_text("utf-8")
    begin = house.index("labour:")
    (book / "house.yaml").write_text(house[:begin] + house[house.index("overhead:", begin) :], "utf-8")
    shown = "\n".join(lines_of(["cost", "apricot pebble", "--book", str(book), *ON], capsys))
    assert "Labour is not costed" in shown


REFUSED = [
    (["weigh", "aprico peble", *DEMO], "did you mean 'Apricot pebble'?"),
    (["weigh", "apricot pebble", "--for", "1,5 kg", *DEMO], "decimal point"),
    (["weigh", "apricot pebble", "--for", "12 loaves", *DEMO], "12 loaves"),
    (["cost", "--if", "butter", *DEMO], "is no price change"),
    (["cost", "--for", "3 batches", *DEMO], "goes with one recipe"),
    (["cost", "apricot pebble", "--for", "some", *DEMO], "some"),
    (["cost", "--if", "unsalted buter: +3 %", *DEMO], "did you mean 'unsalted butter'?"),
    (["cost", "--if", "unsalted butter: -130 %", *DEMO], "below zero"),
    (["explain", "apricot pebble", "hydrationn", *DEMO], "can be explained"),
    (["label", "pebble mould casting", *DEMO], "is for making moulds, and no food: it has no label"),
    (["label", "aprico peble", *DEMO], "did you mean 'Apricot pebble'?"),
    (["cost", "--on", "tomorrow", *DEMO], "is no date"),
    (["check", "no/such/folder"], "is no folder"),
]


@pytest.mark.parametrize(
    ("asked", "said"), REFUSED, ids=lambda value: " ".join(value) if isinstance(value, list) else ""
)
def test_what_cannot_be_asked_is_said_in_one_line(
    asked: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(asked) == 2
    caught = capsys.readouterr()
    assert said in caught.err
    assert caught.out == ""


def test_usage_errors_end_with_two(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["weight"])
    assert stopped.value.code == 2
    assert "weigh" in capsys.readouterr().err


@pytest.fixture
def broken(tmp_path: Path) -> Path:
    book = tmp_path / "book"
    shutil.copytree(demo_book_dir(), book)
    mousse = book / "creams/honey-mousse.md"
    mousse.write_text(mousse.read_text("utf-8").replace("whipping cream", "wipping cream"), "utf-8")
    return book


def test_check_says_what_is_wrong_and_ends_with_one(broken: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(broken), *ON]) == 1
    said = capsys.readouterr().err
    assert "creams/honey-mousse.md:" in said
    assert "whipping cream" in said
    assert "^" in said


def test_check_for_machines(broken: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(broken), "--json", *ON]) == 1
    record = json.loads(capsys.readouterr().out)
    assert record["sound"] is False
    errors = [each for each in record["problems"] if each["severity"] == "error"]
    assert {each["file"] for each in errors} == {"creams/honey-mousse.md"}
    assert all(each["line"] > 0 and each["column"] > 0 for each in errors)


@pytest.mark.parametrize("asked", [["weigh", "apricot pebble"], ["cost"], ["explain", "apricot pebble"]], ids=" ".join)
def test_a_book_with_errors_gives_no_figures(
    broken: Path, asked: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*asked, "--book", str(broken), *ON]) == 1
    caught = capsys.readouterr()
    assert caught.out == ""
    assert "error" in caught.err


def test_the_demo_book_is_sound(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(demo_book_dir()), *ON]) == 0
    assert "error" not in capsys.readouterr().err

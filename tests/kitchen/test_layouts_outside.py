"""Sheets and cuts against printed layouts (tests/reference/layouts.yaml names each source)."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.cuts import cut_sheet
from bookmaker.kitchen.figures import CutFlow
from bookmaker.kitchen.scaling import scale
from bookmaker.kitchen.targets import PieceTarget
from bookmaker.measures.exact import published
from bookmaker.model.shapes import Disc, Rectangle, Shape
from bookmaker.model.yields import TrayYield
from tests.support import make
from tests.support.reference import cases

CASES = cases("layouts")


def rectangle(sides: list[str]) -> Rectangle:
    return Rectangle(Decimal(sides[0]), Decimal(sides[1]))


def cut(sheet: Rectangle, shape: Shape) -> CutFlow:
    found = cut_sheet(sheet, shape)
    assert found is not None
    return found


def about(expected: Any, case: dict[str, Any]) -> Any:
    return pytest.approx(float(expected), abs=float(case.get("tolerance_value", "1e-12")))


@pytest.mark.parametrize("case", [c for c in CASES.values() if "cut" in c["given"]], ids=lambda c: c["id"])
def test_a_pan_divided_into_equal_pieces_leaves_nothing(case: dict[str, Any]) -> None:
    pan, (down, across) = rectangle(case["given"]["pan_in"]), case["given"]["cut"]
    piece = Rectangle(pan.width / Decimal(down), pan.depth / Decimal(across))
    found = cut(pan, piece)
    assert found.per_sheet == int(case["expect"]["pieces"])
    assert float(found.used_share) == pytest.approx(1)
    assert float(piece.width * piece.depth) == about(case["expect"]["piece_area_in2"], case)


@pytest.mark.parametrize("case", [c for c in CASES.values() if c["id"].startswith("grid-")], ids=lambda c: c["id"])
def test_the_better_orientation_is_taken(case: dict[str, Any]) -> None:
    given, expect = case["given"], case["expect"]
    # what the blade takes between two pieces is once more than needed: add it to the sheet as well
    gap = Decimal(given.get("gap_cm", "0"))
    sheet, piece = rectangle(given["sheet_cm"]), rectangle(given["piece_cm"])
    found = cut(Rectangle(sheet.width + gap, sheet.depth + gap), Rectangle(piece.width + gap, piece.depth + gap))
    assert found.per_sheet == int(expect["best"]) == found.across * found.down
    turned = int(expect["orientation_2"]) > int(expect["orientation_1"])
    assert found.pattern == ("turned grid" if turned else "grid")
    if "waste_pct_best" in expect:
        # printed to two places
        assert float(100 * (1 - found.used_share)) == pytest.approx(float(expect["waste_pct_best"]), abs=0.005)


def test_ten_by_ten_discs() -> None:
    """Square rows hold 100, offset rows 105, and the best known simple mixture 106, which is not claimed."""
    rows, offset, mixed = (CASES[f"circles-10x10-{name}"] for name in ("square", "hex", "mixed"))
    found = cut(rectangle(offset["given"]["rectangle"]), Disc(Decimal(offset["given"]["diameter"])))
    assert found.per_sheet == int(offset["expect"]["count"]) > int(rows["expect"]["count"])
    assert (found.pattern, found.across, found.down) == ("offset rows", 10, int(offset["expect"]["rows"]))
    assert found.per_sheet < int(mixed["expect"]["best_known_simple"])


def test_few_rows_are_better_square() -> None:
    case = CASES["circles-width8-four-rows"]
    width, disc = Decimal(case["given"]["width"]), Disc(2 * Decimal(case["given"]["radius"]))
    square, offset = case["expect"]["square"], case["expect"]["hexagonal"]
    found = cut(Rectangle(width, Decimal(square["height"])), disc)
    assert (found.pattern, found.per_sheet) == ("square rows", int(square["count"]))
    # a strip just as high as four nestled rows holds those four, and no five rows
    tight = cut(Rectangle(width, Decimal(offset["height"]) + Decimal("0.0001")), disc)
    assert (tight.pattern, tight.per_sheet, tight.down) == ("offset rows", int(offset["count"]), 4)


def test_discs_of_eight_on_a_tray() -> None:
    case = CASES["circles-tart-60x40-8"]
    found = cut(rectangle(case["given"]["sheet_cm"]), Disc(Decimal(case["given"]["diameter_cm"])))
    assert found.per_sheet == int(case["expect"]["best"])
    assert found.pattern == "turned offset rows"


def test_coverage_of_square_rows() -> None:
    case = CASES["density-square"]
    found = cut(Rectangle(Decimal(30), Decimal(20)), Disc(Decimal(10)))
    assert found.pattern == "square rows"
    assert float(100 * found.used_share) == about(case["expect"]["pct"], case)


def test_coverage_of_offset_rows_in_the_limit() -> None:
    case = CASES["density-hex"]
    found = cut(Rectangle(Decimal(100_000), Decimal(100_000)), Disc(Decimal(1)))
    assert float(100 * found.used_share) == about(case["expect"]["pct"], case)


@pytest.mark.parametrize("name", ["cut-biscuits-50", "cut-biscuits-54"])
def test_printed_rows_of_rounds_fit(name: str) -> None:
    case = CASES[name]
    found = cut(rectangle(case["given"]["pan_in"]), Disc(Decimal(case["given"]["cutter_in"])))
    assert found.per_sheet >= int(case["expect"].get("square_grid_max", case["expect"]["pieces"]))


PANS = CASES["pans-needed"]


@pytest.mark.parametrize(("per_pan", "pans"), list(zip(PANS["given"]["per_pan"], PANS["expect"]["pans"], strict=True)))
def test_whole_pans_are_made(per_pan: str, pans: str) -> None:
    recipe = make.recipe("biscuits", [make.line(1000, "dough")], TrayYield(Decimal(1)), tray=per_pan)
    book = make.book(recipe)
    portions = Decimal(PANS["given"]["portions"])
    scaled = scale(book, compute(book, date(2026, 11, 1)), recipe.ref, PieceTarget(portions))
    assert scaled.own.plan.factor == int(pans)
    assert published(scaled.own.left_over_pieces or Decimal(0)) == int(pans) * int(per_pan) - portions

"""How much to make, as a cook says it."""

from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.targets import (
    BatchTarget,
    MassTarget,
    PieceTarget,
    ScaleTarget,
    Stock,
    UseUpTarget,
    VesselTarget,
    parse_target,
)
from bookmaker.measures.numbers import Unreadable
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import StoresRef
from bookmaker.model.shapes import Rectangle
from bookmaker.model.yields import CutSpec, MouldYield, SheetYield, TinYield, TrayYield, Yield
from tests.support import make

SHEET = SheetYield(Decimal(1), Rectangle(Decimal(600), Decimal(400)))
CREAM = make.recipe(
    "cream", [make.line(800, "milk"), make.line(200, "unsalted butter")], 1000, title="Pastry cream", aka=("custard",)
)


def read(text: str, yields: Yield | int = 1000, **more: Any) -> ScaleTarget:
    cake: Recipe = make.recipe(
        "cake", [make.line(500, "flour"), make.line(500, CREAM.ref)], yields, title="Cake", **more
    )
    butter = make.item("unsalted butter", aka=("butter",))
    return parse_target(text, make.book(CREAM, cake, stores=[butter]), cake)


@pytest.mark.parametrize(
    ("text", "yields", "target"),
    [
        ("12 kg", 1000, MassTarget(Decimal(12_000))),
        ("1 1/2 kg", 1000, MassTarget(Decimal(1500))),
        (" 3 batches ", 1000, BatchTarget(Decimal(3))),
        ("1/2 batch", 1000, BatchTarget(Decimal("0.5"))),
        ("130 pieces", make.pieces(24, "buns"), PieceTarget(Decimal(130))),
        ("130 buns", make.pieces(24, "buns"), PieceTarget(Decimal(130))),
        ("1 bun", make.pieces(24, "buns"), PieceTarget(Decimal(1))),
        ("130", make.pieces(24, "buns"), PieceTarget(Decimal(130))),
        ("4 moulds", MouldYield(Decimal(1), "pebble"), VesselTarget(Decimal(4), "mould")),
        ("130 pieces", MouldYield(Decimal(1), "pebble"), PieceTarget(Decimal(130))),
        ("3 tins", TinYield(Decimal(2), "loaf tin"), VesselTarget(Decimal(3), "tin")),
        ("1 sheet", SHEET, VesselTarget(Decimal(1), "sheet")),
        ("use up 2.5 kg butter", 1000, UseUpTarget((Stock(Decimal(2500), StoresRef("unsalted butter")),))),
        ("Use up 2.5 kg Unsalted  Butter", 1000, UseUpTarget((Stock(Decimal(2500), StoresRef("unsalted butter")),))),
        ("use up 800 g pastry cream", 1000, UseUpTarget((Stock(Decimal(800), CREAM.ref),))),
        (
            "use up 800 g custard, 1 kg flour",
            1000,
            UseUpTarget((Stock(Decimal(800), CREAM.ref), Stock(Decimal(1000), StoresRef("flour")))),
        ),
    ],
)
def test_what_is_understood(text: str, yields: Yield | int, target: ScaleTarget) -> None:
    assert read(text, yields) == target


def test_trays_where_the_recipe_says_what_one_holds() -> None:
    assert read("3 trays", make.pieces(24, "buns"), tray=12) == VesselTarget(Decimal(3), "tray")


def test_pieces_on_trays() -> None:
    assert read("90", TrayYield(Decimal(3)), tray=30) == PieceTarget(Decimal(90))


def test_pieces_of_a_sheet_that_is_cut() -> None:
    cut = CutSpec(Rectangle(Decimal(30), Decimal(80)), word="bars")
    assert read("90 bars", SHEET, cut=cut) == PieceTarget(Decimal(90))


@pytest.mark.parametrize(
    ("text", "yields", "why", "hint"),
    [
        ("130 pieces", 1000, "Cake is not made in pieces", "write 12 kg, 3 batches or use up 2.5 kg of something"),
        ("130 pieces", SHEET, "Cake is not made in pieces", "2 sheets"),
        ("130", 1000, "Cake is not made in pieces", "12 kg"),
        ("4 moulds", 1000, "Cake is not made in moulds", "12 kg"),
        ("4 trays", make.pieces(24, "buns"), "Cake is not made in trays", "130 buns"),
        ("6 loaves", make.pieces(24, "buns"), "Cake comes in buns", "write 6 buns"),
        ("plenty", 1000, "'plenty' does not say how much to make", "12 kg"),
        ("12 kg or so", 1000, "'12 kg or so' does not say how much to make", "12 kg"),
        ("2 l", 1000, "'2 l' does not say how much to make", "12 kg"),
        ("24 spoons", make.pieces(24, "buns"), "'24 spoons' does not say how much to make", "130 buns"),
        ("1,5 kg", 1000, "1,5: numbers take a decimal point, not a comma", "write 1.5"),
        ("0 kg", 1000, "an amount must be more than zero", ""),
        ("use up 2.5 kg buter", 1000, "Cake uses no 'buter'", "did you mean butter?"),
        ("use up 2.5 kg concrete", 1000, "Cake uses no 'concrete'", ""),
        ("use up butter", 1000, "'butter' is no weight of something", "write use up 2.5 kg butter"),
        ("use up 3 butter", 1000, "'3 butter' is no weight of something", "write use up 2.5 kg butter"),
    ],
)
def test_what_is_refused(text: str, yields: Yield | int, why: str, hint: str) -> None:
    with pytest.raises(Unreadable) as refused:
        read(text, yields)
    assert refused.value.why == why
    assert hint in refused.value.hint

"""Cutting sheets, and counting what a recipe is made in."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.kitchen.cuts import cut_sheet
from bookmaker.kitchen.flow import flow_of
from bookmaker.kitchen.parts import count_of, sources_of
from bookmaker.measures.exact import exactly
from bookmaker.model.house import Flat, Mould
from bookmaker.model.line import Cut
from bookmaker.model.shapes import Disc, Rectangle
from bookmaker.model.yields import CoProduct, CutSpec, FrameYield, MouldYield, SheetYield, TinYield, TrayYield
from tests.support import make

SHEET = Rectangle(Decimal(600), Decimal(400))
lengths = st.decimals(Decimal(5), Decimal(700), places=1)


def test_a_rim_is_taken_off_first() -> None:
    found = cut_sheet(SHEET, Rectangle(Decimal(30), Decimal(80)), Decimal(5))
    assert found is not None
    # 590 × 390: 19 × 4 = 76 straight, 7 × 13 = 91 turned; the share is of the whole sheet
    assert [found.per_sheet, found.across, found.down, found.pattern] == [91, 7, 13, "turned grid"]
    assert found.used_share == Decimal("0.91")


def test_the_rim_goes_off_both_sides() -> None:
    # ten of 59.5 would fit into 595, and into 590 nine
    found = cut_sheet(SHEET, Rectangle(Decimal("59.5"), Decimal(390)), Decimal(5))
    assert found is not None
    assert found.per_sheet == 9


@pytest.mark.parametrize(
    ("shape", "trim"), [(Disc(Decimal(401)), 0), (Rectangle(Decimal(601), Decimal(10)), 0), (Disc(Decimal(10)), 200)]
)
def test_nothing_fits(shape: Any, trim: int) -> None:
    assert cut_sheet(SHEET, shape, Decimal(trim)) is None


def test_the_plainest_of_equal_patterns_is_taken() -> None:
    square = cut_sheet(SHEET, Rectangle(Decimal(50), Decimal(50)))
    one_row = cut_sheet(Rectangle(Decimal(600), Decimal(45)), Disc(Decimal(40)))
    assert square is not None
    assert one_row is not None
    assert [square.pattern, one_row.pattern, one_row.per_sheet] == ["grid", "square rows", 15]


@given(lengths, lengths, lengths)
def test_pieces_never_take_more_than_the_sheet(width: Decimal, depth: Decimal, size: Decimal) -> None:
    sheet = Rectangle(width, depth)
    for shape in (Disc(size), Rectangle(size, size / 2)):
        with exactly():
            found, turned = cut_sheet(sheet, shape), cut_sheet(Rectangle(depth, width), shape)
        # a sheet turned on the table holds as many
        assert (found.per_sheet if found else 0) == (turned.per_sheet if turned else 0)
        if found is not None:
            assert 0 < found.used_share <= 1
            assert found.per_sheet <= found.across * found.down


@given(lengths, lengths, st.decimals(Decimal(5), Decimal(100), places=1))
def test_offset_rows_stay_on_the_sheet(width: Decimal, depth: Decimal, diameter: Decimal) -> None:
    """Every disc is laid out where the pattern says; none overlaps another or the edge."""
    found = cut_sheet(Rectangle(width, depth), Disc(diameter))
    if found is None or "offset" not in found.pattern:
        return
    long_side, rows = (found.across, found.down) if found.pattern == "offset rows" else (found.down, found.across)
    along, over = (width, depth) if found.pattern == "offset rows" else (depth, width)
    pitch = diameter * Decimal(3).sqrt() / 2
    assert diameter + (rows - 1) * pitch <= over
    even = (rows + 1) // 2
    shorter = (found.per_sheet - even * long_side) // (rows // 2)
    assert shorter in {long_side, long_side - 1}
    assert found.per_sheet == even * long_side + rows // 2 * shorter
    assert long_side * diameter <= along
    assert shorter * diameter + diameter / 2 <= along


@pytest.mark.parametrize(
    ("yields", "more", "counts"),
    [
        (make.pieces(24, "buns"), {"tray": 12}, {"pieces": 24, "buns": 24, "trays": 2, "sheets": None, "tins": None}),
        (make.pieces(24, "buns"), {}, {"trays": None, "moulds": None}),
        (MouldYield(Decimal(2), "pebble"), {}, {"moulds": 2, "pieces": 48, "tins": None}),
        (TinYield(Decimal(3), "loaf"), {}, {"tins": 3, "pieces": 3, "mould": None}),
        (TrayYield(Decimal(3)), {"tray": 20}, {"trays": 3, "pieces": 60}),
        (SheetYield(Decimal(2), SHEET), {}, {"sheets": 2, "trays": 2, "pieces": None}),
        (
            FrameYield(Decimal(1), "bar frame"),
            {"cut": CutSpec(Rectangle(Decimal(60), Decimal(40)))},
            {"frames": 1, "pieces": 100},
        ),
        (1000, {}, {"pieces": None, "trays": None, "spoons": None}),
    ],
)
def test_what_a_batch_counts(yields: Any, more: dict[str, Any], counts: dict[str, int | None]) -> None:
    recipe = make.recipe("r", [make.line(1000, "dough")], yields, **more)
    house = make.house(moulds=(Mould("pebble", 24, Decimal(62)),), frames=(Flat("bar frame", SHEET),))
    with exactly():
        flow = flow_of(recipe, make.book(recipe, own=house), {})
        assert {word: count_of(word, recipe, flow) for word in counts} == counts


def test_a_co_product_consists_of_its_parent_or_of_the_sheets_that_were_cut() -> None:
    base = make.recipe("base", [make.line(1000, "dough")], SheetYield(Decimal(1), SHEET))
    line = make.line(Cut(Decimal(24), Disc(Decimal(40))), base.ref)
    dome = make.recipe(
        "dome",
        [line, make.line(1, "a")],
        make.pieces(24),
        gives=(CoProduct("offcuts"), CoProduct("drips", grams=Decimal(1))),
    )
    book = make.book(base, dome)
    assert sources_of(make.rest("dome", "offcuts"), book) == (base.ref,)
    assert sources_of(make.rest("dome", "drips"), book) == (dome.ref,)

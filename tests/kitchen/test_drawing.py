"""The draw list tells pieces only where every line of an item counts them."""

from datetime import date
from decimal import Decimal

import pytest

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.scaling import scale
from bookmaker.kitchen.targets import BatchTarget
from bookmaker.model.line import Line, Pieces
from bookmaker.model.refs import RecipeRef
from tests.support import make

COUNTED = make.line(Pieces(Decimal(3)), "egg", id="a")
WEIGHED = make.line("100", "egg", id="b")


@pytest.mark.parametrize(
    ("lines", "pieces"),
    [
        ([COUNTED], Decimal(6)),
        ([COUNTED, make.line(Pieces(Decimal(1)), "egg", id="c")], Decimal(8)),
        ([COUNTED, WEIGHED], None),
        ([WEIGHED, COUNTED], None),
        ([WEIGHED], None),
    ],
    ids=["counted", "counted twice", "then weighed", "weighed first", "weighed"],
)
def test_pieces_of_an_item(lines: list[Line], pieces: Decimal | None) -> None:
    book = make.book(make.recipe("cake", lines, "100"), stores=[make.item("egg", measures=(("piece", Decimal(50)),))])
    scaled = scale(book, compute(book, date(2026, 11, 1)), RecipeRef("cake"), BatchTarget(Decimal(2)))
    assert [line.pieces for line in scaled.draw] == [pieces]

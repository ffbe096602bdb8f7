"""Anchors resolve to lines and columns only when asked."""

import pytest

from bookmaker.problems.anchors import Anchor, Place, SourceMap

TEXT = "one\r\ntwo: three\n\nlast"
SOURCE = SourceMap("a", TEXT, {(): (0, len(TEXT)), ("two",): (10, 15)})


@pytest.mark.parametrize(
    ("anchor", "line", "column", "length"),
    [
        (Anchor("a", ("two",)), 2, 6, 5),
        (Anchor("a", ("two",), 1, 3), 2, 7, 2),
        (Anchor("a", ("two", "below", 3), 1, 3), 2, 6, 5),
        (Anchor("a", ("elsewhere",)), 1, 1, 3),
        (Anchor("a", (), 17, 18), 4, 1, 1),
        (Anchor("a", (), len(TEXT), len(TEXT)), 4, 5, 1),
        (Anchor("a", (), 5, 19), 2, 1, 10),
    ],
)
def test_places(anchor: Anchor, line: int, column: int, length: int) -> None:
    place = SOURCE.place(anchor)
    assert (place.line, place.column, place.length) == (line, column, length)


def test_a_place_has_its_whole_line_without_line_ends() -> None:
    assert SOURCE.place(Anchor("a")) == Place("a", 1, 1, "one", 3)


def test_an_empty_document_has_a_first_line() -> None:
    assert SourceMap("e", "", {(): (0, 0)}).place(Anchor("e")) == Place("e", 1, 1, "", 1)


def test_below_and_part() -> None:
    anchor = Anchor("a").at("formula", 2).part(3, 5)
    assert anchor == Anchor("a", ("formula", 2), 3, 5)
    assert anchor.at("x") == Anchor("a", ("formula", 2, "x"))

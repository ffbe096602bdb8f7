"""Sheets cut into pieces: how many shapes fit, in which pattern, and how much of the sheet they take.

Grids are laid in the better of two orientations; discs in the better of square and offset rows, offset rows running
either way. Both are honest lower bounds: mixed patterns can fit one or two discs more (Sillke, *Packing circles*,
gives 106 discs of diameter 1 in a square of 10 where offset rows hold 105), but nobody cuts that way at a bench.
"""

from decimal import Decimal

from bookmaker.kitchen.figures import CutFlow
from bookmaker.model.shapes import Disc, Rectangle, Shape

PI = Decimal("3.141592653589793238462643383279503")
NO_TRIM = Decimal(0)


def cut_sheet(sheet: Rectangle, shape: Shape, trim: Decimal = NO_TRIM) -> CutFlow | None:
    """How `shape` comes out of one sheet after `trim` mm are taken off each side; None where not even one fits."""
    width, depth = sheet.width - 2 * trim, sheet.depth - 2 * trim
    if width <= 0 or depth <= 0:
        return None
    if isinstance(shape, Disc):
        best = _discs(width, depth, shape.diameter)
        area = PI * shape.diameter * shape.diameter / 4
    else:
        best = _grid(width, depth, shape)
        area = shape.width * shape.depth
    pattern, per_sheet, across, down = best
    if not per_sheet:
        return None
    return CutFlow(shape, per_sheet, across, down, pattern, per_sheet * area / (sheet.width * sheet.depth))


Pattern = tuple[str, int, int, int]
"""Name, pieces, pieces across the width, pieces (or rows) down the depth."""


def _grid(width: Decimal, depth: Decimal, piece: Rectangle) -> Pattern:
    straight = int(width // piece.width), int(depth // piece.depth)
    turned = int(width // piece.depth), int(depth // piece.width)
    if turned[0] * turned[1] > straight[0] * straight[1]:
        return "turned grid", turned[0] * turned[1], *turned
    return "grid", straight[0] * straight[1], *straight


def _discs(width: Decimal, depth: Decimal, diameter: Decimal) -> Pattern:
    across, down = int(width // diameter), int(depth // diameter)
    found = [("square rows", across * down, across, down)]
    if across and down:
        count, row, rows = _offset_rows(width, depth, diameter)
        found.append(("offset rows", count, row, rows))
        count, row, rows = _offset_rows(depth, width, diameter)
        found.append(("turned offset rows", count, rows, row))
    # max() keeps the first of equals: the plainest pattern wins a tie
    return max(found, key=lambda pattern: pattern[1])


def _offset_rows(along: Decimal, over: Decimal, diameter: Decimal) -> tuple[int, int, int]:
    """Rows nestled into each other: how many discs, discs in the long row, rows."""
    row = int(along // diameter)
    rows = 1 + int((over - diameter) // (diameter * Decimal(3).sqrt() / 2))
    shorter = row if along >= row * diameter + diameter / 2 else row - 1
    return (rows + 1) // 2 * row + rows // 2 * shorter, row, rows

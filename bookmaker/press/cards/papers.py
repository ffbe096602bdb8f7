"""The papers that cards are printed on, and the sizes of type that they may be set in.

Lengths in millimetres, type in points. How small type may be is common practice, no source: weights and steps are read
at arm's length (some 60 cm) with wet hands, an A5 card nearer; key figures are read from two metres, where figures 8 mm
high are seen under about a quarter of a degree. Weights are never below 14 pt on A4 and Letter.
"""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Type:
    """Sizes of type. `tested` are the weights of the tested batch, `others` those of the other columns."""

    tested: float
    others: float
    names: float
    steps: float
    small: float
    key: float
    title: float


@dataclass(frozen=True, slots=True)
class CardPaper:
    """A sheet on its long side, and where things stand on it.

    `edge` is the distance of the marked edges from the paper's, which printers leave white and a pouch seals; `strip`
    their width, `gap` the white beside them. `gutter` stands between the two columns. `module` is the side of one
    square of the code: phones read 0.6 mm from 30 cm (common practice, no source). `box_width` and `box_height` are the
    box for a reading. `levels` go from large to small;
    the last one is the floor. On one side type goes down to `one_side` of them: before it gets that small, the back
    is used.
    """

    width: float
    height: float
    edge: float
    strip: float
    gap: float
    gutter: float
    head: float
    figures: float
    back_head: float
    module: float
    box_width: float
    box_height: float
    levels: tuple[Type, ...]
    one_side: int

    @property
    def left(self) -> float:
        """Where the type area begins."""
        return self.edge + self.strip + self.gap

    @property
    def content(self) -> float:
        """The width of the type area."""
        return self.width - 2 * self.left

    @property
    def column(self) -> float:
        """The width of a column."""
        return (self.content - self.gutter) / 2

    @property
    def names(self) -> float:
        """The least that is left for names beside the weights: less, and words would be cut to pieces."""
        return self.column * 0.3

    @property
    def plate(self) -> float:
        """The length of the plate on an edge that has the section's name."""
        return round(self.height * 0.36)

    @property
    def side_height(self) -> float:
        """The height of a side in a document: a hair less than the paper's, so that rounding begins no page."""
        return self.height - 0.1

    @property
    def top(self) -> float:
        """Where the type area begins, from above."""
        return self.edge + 2

    @property
    def front_top(self) -> float:
        """Where the columns of the front begin, below the key figures."""
        return self.top + self.head + self.figures

    @property
    def back_top(self) -> float:
        """Where the columns of the back begin."""
        return self.top + self.back_head

    @property
    def bottom(self) -> float:
        """Where the type area ends."""
        return self.height - self.edge - 2


_LARGE = (
    Type(24, 20, 17, 16.5, 12, 42, 32),
    Type(21, 18, 15.5, 15, 11.5, 42, 32),
    Type(19, 16.5, 14.5, 14, 11, 40, 30),
    Type(17, 15.5, 13.5, 13, 10.5, 40, 30),
    Type(16, 14.5, 12.5, 12, 10, 38, 28),
    Type(15, 14, 12, 11.5, 9.5, 36, 26),
    Type(14, 14, 11.5, 11, 9, 32, 26),
)

_SMALL = (
    Type(17, 14, 12, 12, 9, 30, 22),
    Type(15, 13, 11, 11, 8.6, 30, 22),
    Type(13.5, 12, 10.4, 10.2, 8.3, 29, 21),
    Type(12.5, 11.2, 9.8, 9.6, 8, 28, 20),
    Type(11.5, 10.6, 9.2, 9.1, 7.7, 27, 19),
    Type(11, 10, 8.8, 8.7, 7.4, 26, 18),
    Type(10.5, 10, 8.5, 8.4, 7.2, 22, 18),
)

PAPERS: Mapping[str, CardPaper] = {
    "A4": CardPaper(297, 210, 4, 8, 4.5, 7, 21, 27.5, 14, 0.8, 24, 9, _LARGE, 5),
    "Letter": CardPaper(279.4, 215.9, 4.5, 8, 4.5, 7, 21, 27.5, 14, 0.8, 24, 9, _LARGE, 5),
    "A5": CardPaper(210, 148, 4, 5.5, 3, 5, 15, 20.5, 10, 0.6, 18, 7, _SMALL, 5),
}
"""By the words that the house writes. ISO 216 and ANSI/ASME Y14.1 sizes."""

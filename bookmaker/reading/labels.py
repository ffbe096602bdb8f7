"""What the house decides about labels: the ingredient list, the price on product sheets, the label sheets."""

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal

from bookmaker.measures.exact import ZERO
from bookmaker.measures.numbers import Unreadable
from bookmaker.model.house import Additives, Compounds, LabelRules, Packed, Paper, Stickers
from bookmaker.model.shapes import Rectangle
from bookmaker.model.written.house import WrittenLabels, WrittenStickers
from bookmaker.problems.anchors import Anchor
from bookmaker.reading.flat import take_length, take_rectangle
from bookmaker.reading.tree import key_of
from bookmaker.reading.values import Values

SMALL_PACK = Decimal(8000)
"""Square millimetres: the largest side of a pack on which letters may be smaller (Regulation (EU) No 1169/2011,
Article 13(3)).
"""

_NONE = re.compile(r"\s*0+(?:\.0+)?\s*(?:mm|cm)?\s*")


def read_labels(
    written: WrittenLabels, channels: Sequence[str], paper: Paper, anchor: Anchor, values: Values
) -> LabelRules:
    """The house's rules for labels. `channels` are its ways of selling, of which one may be on sheets."""
    compounds = values.choice(
        written.compounds, anchor.at("compounds"), "way with components", list(Compounds), Compounds.MERGED
    )
    additives = values.choice(
        written.additives, anchor.at("additives"), "way with additives", list(Additives), Additives.NAMES
    )
    packed = values.choice(written.packed, anchor.at("packed"), "place of packing", list(Packed), Packed.ELSEWHERE)
    return LabelRules(
        compounds=Compounds(compounds),
        additives=Additives(additives),
        packed=Packed(packed),
        price=values.choice(written.price, anchor.at("price"), "channel", channels, ""),
        stickers=tuple(_stickers(written, paper, anchor.at("stickers"), values)),
    )


def _stickers(written: WrittenLabels, paper: Paper, anchor: Anchor, values: Values) -> Iterator[Stickers]:
    """Label sheets; one whose size cannot be read, or that does not fit the paper, is reported and left out."""
    for name, each in written.stickers.items():
        at = anchor.at(name)
        size = values.value("bad-size", _size, each.size, at.at("size"))
        across, down = values.number_of(each.across, at.at("across")), values.number_of(each.down, at.at("down"))
        small = values.is_yes(each.small_packs, at.at("small packs"))
        (left, gap_across), (top, gap_down) = _margins(each, at, values)
        if size is None:
            continue
        if small and size.width * size.depth >= SMALL_PACK:
            why = f"a label of {each.size} does not go on a pack whose largest side is under 80 cm²"
            values.report("bad-size", at.at("small packs"), why=why, fix="leave `small packs` out")
        left = _begin(paper.sheet.width, across * size.width + (across - 1) * gap_across, left)
        top = _begin(paper.sheet.depth, down * size.depth + (down - 1) * gap_down, top)
        if left is None or top is None:
            why = f"{across} × {down} labels of this size take more room than {paper.value} paper has"
            fix = f"measure again: the paper is {paper.sheet.width} × {paper.sheet.depth} mm"
            values.report("bad-size", key_of(at), why=why, fix=fix)
            continue
        yield Stickers(name, size, across, down, left, top, gap_across, gap_down, small)


def _margins(written: WrittenStickers, at: Anchor, values: Values) -> list[tuple[Decimal | None, Decimal]]:
    """Across and down: where the first label stands, if it is said, and the gap between two."""
    found = []
    for edge, gap in (("left", "gap across"), ("top", "gap down")):
        begin, between = (
            values.value("bad-amount", _distance, getattr(written, key.replace(" ", "_")), at.at(key))
            for key in (edge, gap)
        )
        found.append((begin, between or ZERO))
    return found


def _begin(paper: Decimal, grid: Decimal, stated: Decimal | None) -> Decimal | None:
    """Where a row of labels begins on the paper, in the middle unless it is stated; None where it ends beyond it."""
    begin = (paper - grid) / 2 if stated is None else stated
    return begin if begin >= 0 and begin + grid <= paper else None


def _distance(text: str) -> Decimal:
    """A length in millimetres that may be none at all: `0 mm`."""
    if _NONE.fullmatch(text):
        return ZERO
    taken = take_length(text)
    if text[taken.end :].strip():
        raise Unreadable(f"'{text.strip()}' is no length", end=len(text), hint="write it as 5 mm")
    return taken.mm


def _size(text: str) -> Rectangle:
    taken = take_rectangle(text)
    if taken is None or text[taken[1] :].strip():
        raise Unreadable(f"'{text}' is no size of a label", end=len(text), hint="write it as 70 × 37 mm")
    return taken[0]

"""Parts of a whole as one hatched bar over a ruled list: composition by weight, and where the money goes."""

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from bookmaker.editions.team.views_money import CostPart, MoneyShare
from bookmaker.editions.team.views_recipe import Share
from bookmaker.press.formats import NBSP, Formats
from bookmaker.press.pictures.canvas import HATCHES, Sheet, box, rule, text

_BAR, _ROW = 30.0, 24.0


@dataclass(frozen=True, slots=True)
class Part:
    """One part: its name, its amount in words, and its percent of the whole as number and in words."""

    name: str
    amount: str
    percent: float
    percent_words: str


def composition(shares: Sequence[Share], formats: Formats, *, uid: str, width: float | None = None) -> Markup:
    """What the batch is made of by weight."""
    parts = [
        Part(share.part.name, formats.amount(share.amount), float(share.percent), formats.number(share.percent))
        for share in shares
    ]
    return _bar(parts, formats.word("Composition by weight"), uid=uid, width=width)


def money(
    shares: Sequence[MoneyShare | CostPart], title: str, formats: Formats, *, uid: str, width: float | None = None
) -> Markup:
    """Where the money goes: stores items, or kinds of cost."""
    parts = [
        Part(
            share.item.name if isinstance(share, MoneyShare) else formats.word(share.name),
            formats.amount(share.amount),
            float(share.percent),
            formats.number(share.percent),
        )
        for share in shares
    ]
    return _bar(parts, title, uid=uid, width=width)


def _bar(parts: Sequence[Part], title: str, *, uid: str, width: float | None) -> Markup:
    sheet = Sheet(uid, _BAR + 10 + _ROW * len(parts), width)
    fills = [HATCHES[min(number, len(HATCHES) - 1)] for number in range(len(parts))]
    whole = sum(part.percent for part in parts) or 1.0
    drawn = [str(sheet.hatches(fills))]
    at = 0.0
    for part, hatch in zip(parts, fills, strict=True):
        share = part.percent / whole
        drawn.append(box(sheet.x(at), 0.5, sheet.x(share), _BAR - 1, sheet.fill(hatch)))
        at += share
    for number, (part, hatch) in enumerate(zip(parts, fills, strict=True)):
        top = _BAR + 10 + number * _ROW
        drawn += [
            box("1", top + 4, "22", 14, sheet.fill(hatch)),
            text("32", top + 16, part.name),
            text(sheet.x(1), top + 16, f"{part.amount} · {part.percent_words}{NBSP}%", anchor="end"),
            rule("0", top + _ROW - 0.5, sheet.x(1), top + _ROW - 0.5),
        ]
    said = "; ".join(f"{part.name}: {part.amount}, {part.percent_words} %" for part in parts)
    return sheet.drawn(title, said + ".", drawn)

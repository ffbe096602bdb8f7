"""The time ribbon: a recipe's own time drawn to scale, work, takes and wait told apart by hatching and by words."""

from collections.abc import Sequence
from decimal import Decimal

from markupsafe import Markup

from bookmaker.editions.team.views import Amount
from bookmaker.editions.team.views_recipe import StretchView, TimeView
from bookmaker.press.formats import Formats
from bookmaker.press.pictures.canvas import HAIR, INK, Sheet, box, figure, rule, text

HATCH_OF = {"work": "solid", "takes": "slant", "wait": "paper"}
_TICKS = (5, 10, 15, 30, 60, 120, 240, 360, 720, 1440, 2880, 5760, 10080, 20160, 43200)
_LANE, _GAP, _NUMBERS, _AXIS, _KEY = 26.0, 8.0, 32.0, 24.0, 24.0
_LANE_HEIGHT = _NUMBERS + _LANE + _GAP


def ribbon(time: TimeView, formats: Formats, *, uid: str, width: float | None = None) -> Markup:
    """One lane per chain of steps; a step's number stands above its first stretch where there is room."""
    lanes = _lanes(time.stretches)
    count = max(lanes, default=0) + 1
    total = float(max((stretch.end for stretch in time.stretches), default=1)) or 1.0
    axis = count * _LANE_HEIGHT
    sheet = Sheet(uid, axis + _AXIS + _KEY, width)
    drawn = [str(sheet.hatches(HATCH_OF.values()))]
    for stretch, lane in zip(time.stretches, lanes, strict=True):
        start, length = float(stretch.start) / total, float(stretch.end - stretch.start) / total
        top = lane * _LANE_HEIGHT + _NUMBERS
        drawn.append(box(sheet.x(start), top, sheet.x(length), _LANE, sheet.fill(HATCH_OF[stretch.kind])))
    drawn += _numbers(sheet, time.stretches, lanes, total)
    drawn += _axis(sheet, axis, total, formats)
    drawn += _key(sheet, axis + _AXIS, formats)
    said = "; ".join(
        f"{formats.word('step')} {stretch.step} {formats.word(stretch.kind)} "
        f"{formats.duration(stretch.end - stretch.start)}"
        for stretch in time.stretches
    )
    return sheet.drawn(formats.word("Time, to scale"), said + ".", drawn)


def _lanes(stretches: Sequence[StretchView]) -> list[int]:
    """The first lane that is free when a stretch begins; a step stays in its lane."""
    free: list[tuple[float, int]] = []
    found: list[int] = []
    for stretch in stretches:
        start, end = float(stretch.start), float(stretch.end)
        lane = next((at for at, (until, _) in enumerate(free) if until <= start), len(free))
        if lane == len(free):
            free.append((end, stretch.step))
        free[lane] = (end, stretch.step)
        found.append(lane)
    return found


def _numbers(sheet: Sheet, stretches: Sequence[StretchView], lanes: Sequence[int], total: float) -> list[str]:
    """Each step's number over the middle of its time; in a second row, then not at all, where there is no room."""
    spans: dict[tuple[int, int], tuple[float, float]] = {}
    for stretch, lane in zip(stretches, lanes, strict=True):
        start, end = float(stretch.start) / total, float(stretch.end) / total
        known = spans.get((lane, stretch.step))
        spans[lane, stretch.step] = (min(start, known[0]), max(end, known[1])) if known else (start, end)
    room = 18 / sheet.narrowest
    last: dict[tuple[int, int], float] = {}
    drawn = []
    for (lane, step), (start, end) in sorted(spans.items(), key=lambda entry: sum(entry[1])):
        middle = (start + end) / 2
        row = next((row for row in (0, 1) if middle - last.get((lane, row), -1.0) >= room), None)
        if row is None:
            continue
        last[lane, row] = middle
        top = lane * _LANE_HEIGHT + _NUMBERS
        drawn.append(text(sheet.x(middle), top - 4 - row * 14, str(step), anchor="middle", size=13))
        if row:
            drawn.append(rule(sheet.x(middle), top - 15, sheet.x(middle), top, stroke=HAIR, width=0.8))
    return drawn


def _axis(sheet: Sheet, top: float, total: float, formats: Formats) -> list[str]:
    fits = max(2, int(sheet.narrowest // 56))
    step = next((tick for tick in _TICKS if total / tick <= fits), int(total / fits) + 1)
    drawn = [rule("0", top, sheet.x(1), top, stroke=INK)]
    at = 0
    while at <= total:
        share = at / total
        drawn.append(rule(sheet.x(share), top, sheet.x(share), top + 5, stroke=INK))
        anchor = "start" if at == 0 else "end" if share > 0.94 else "middle"
        label = "0" if at == 0 else formats.amount(Amount(Decimal(at), "min"))
        drawn.append(text(sheet.x(share), top + 18, label, anchor=anchor, size=12.5))
        at += step
    return drawn


def _key(sheet: Sheet, top: float, formats: Formats) -> list[str]:
    drawn: list[str] = []
    for number, (kind, hatch) in enumerate(HATCH_OF.items()):
        left = 1 + number * 90
        drawn += [
            box(figure(left), top + 6, "20", 13, sheet.fill(hatch), stroke=INK if hatch != "paper" else HAIR),
            text(figure(left + 26), top + 17, formats.word(kind), size=13),
        ]
    return drawn

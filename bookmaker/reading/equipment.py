"""The part of `house.yaml` that can be touched: machines, moulds, tins, frames, trays; and who works with them."""

import re
from collections.abc import Mapping
from decimal import Decimal, localcontext

from bookmaker.measures.amounts import parse_amount
from bookmaker.measures.counts import VESSEL_WORDS, singular
from bookmaker.measures.exact import CONTEXT
from bookmaker.measures.numbers import Unreadable, take_number
from bookmaker.measures.units import Dimension
from bookmaker.model.house import EQUIPMENT_KINDS, Equipment, Flat, Holds, Mould, Staff, Tin
from bookmaker.model.shapes import Rectangle
from bookmaker.model.written.house import WrittenEquipment, WrittenFlat, WrittenMould, WrittenStaff, WrittenTin
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Related
from bookmaker.reading.flat import take_rectangle
from bookmaker.reading.suggest import did_you_mean, fold
from bookmaker.reading.tree import key_of
from bookmaker.reading.values import Values

MINUTES_A_DAY = 1440
_MOST_KILOWATTS = Decimal(500)
_MOST_MILLILITRES = Decimal(100_000)
_MOST_MILLIMETRES = Decimal(5_000)
"""Beyond these a machine, a cavity, a tin, a frame or a tray is a slip of the pen (common practice, no source)."""
_HELD_WORDS = (*VESSEL_WORDS, "mould", "moulds", "piece", "pieces", "loaf", "loaves", "bun", "buns")
_CLOCK = re.compile(r"\s*(\d{1,2}):(\d{2})\s*\.\.\s*(\d{1,2}):(\d{2})\s*")


def read_equipment(written: Mapping[str, WrittenEquipment], anchor: Anchor, values: Values) -> tuple[Equipment, ...]:
    """Machines and places to work."""
    _twice(written, anchor, values)
    found = []
    for name, each in written.items():
        at = anchor.at(name)
        kind = values.choice(each.kind, at.at("kind"), "kind of equipment", EQUIPMENT_KINDS, "other")
        takes = values.names(each.holds, at.at("holds"))
        holds = (values.value("bad-amount", _holds, words.text, words.anchor) for words in takes)
        power = values.value("bad-amount", _kilowatts, each.power, at.at("power"))
        count = values.number_of(each.count, at.at("count"))
        found.append(Equipment(name, kind, count, tuple(each for each in holds if each), power))
    return tuple(found)


def read_moulds(written: Mapping[str, WrittenMould], anchor: Anchor, values: Values, *, us: bool) -> tuple[Mould, ...]:
    """Moulds with cavities; one whose cavities or volume cannot be read is reported and left out."""
    _twice(written, anchor, values)
    found = []
    for name, each in written.items():
        at = anchor.at(name)
        cavities = values.number_of(each.cavities, at.at("cavities"), 0)
        volume = values.base(each.volume, at.at("volume"), Dimension.VOLUME, us=us, most=_MOST_MILLILITRES)
        fill = values.share(each.fill, at.at("fill"))
        contact = values.choice(each.food_contact, at.at("food contact"), "word for food contact", ("declared",), "")
        if cavities and volume:
            full = Decimal(1) if fill is None else fill
            found.append(Mould(name, cavities, volume, full, bool(contact), each.made_of, key_of(at)))
    return tuple(found)


def read_tins(written: Mapping[str, WrittenTin], anchor: Anchor, values: Values, *, us: bool) -> tuple[Tin, ...]:
    """Tins and rings."""
    _twice(written, anchor, values)
    found = []
    for name, each in written.items():
        at = anchor.at(name)
        volume = values.base(each.volume, at.at("volume"), Dimension.VOLUME, us=us, most=_MOST_MILLILITRES)
        diameter = values.base(each.diameter, at.at("diameter"), Dimension.LENGTH, most=_MOST_MILLIMETRES)
        height = values.base(each.height, at.at("height"), Dimension.LENGTH, most=_MOST_MILLIMETRES)
        if not each.volume and not each.diameter:
            fix = "add `volume: …`, or `diameter: …` and `height: …`"
            values.report("missing-key", key_of(at), key="volume", of=f" from '{name}'", fix=fix)
        found.append(Tin(name, volume, diameter, height))
    return tuple(found)


def read_flats(written: Mapping[str, WrittenFlat], anchor: Anchor, what: str, values: Values) -> tuple[Flat, ...]:
    """Frames or trays; one whose size cannot be read is reported and left out. `what` is `frame` or `tray`."""
    _twice(written, anchor, values)
    found = []
    for name, each in written.items():
        at = anchor.at(name)
        size = values.value("bad-size", lambda text: _size(text, what), each.size, at.at("size"))
        height = values.base(each.height, at.at("height"), Dimension.LENGTH, most=_MOST_MILLIMETRES)
        if size:
            found.append(Flat(name, size, height))
    return tuple(found)


def read_staff(
    written: Mapping[str, WrittenStaff], roles: list[str], anchor: Anchor, values: Values
) -> tuple[Staff, ...]:
    """Who works when. A role without a rate is reported where the house has rates at all."""
    found = []
    spelt = {fold(role): role for role in roles}
    for name, each in written.items():
        at = anchor.at(name)
        role = spelt.get(fold(each.role), each.role)
        if each.role and roles and fold(each.role) not in spelt:
            fix = did_you_mean(each.role, roles) or f"add its rate under `labour`: {each.role}: 20 EUR/h"
            values.report("unknown-role", at.at("role"), role=each.role, fix=fix)
        hours = values.value("bad-hours", _hours, each.hours, at.at("hours")) or (0, MINUTES_A_DAY)
        found.append(Staff(name, role, values.number_of(each.people, at.at("people")), *hours))
    return tuple(found)


def _twice(written: Mapping[str, object], anchor: Anchor, values: Values) -> None:
    """Names that differ only in case, spacing or accents are one name to a cook."""
    first: dict[str, str] = {}
    for name in written:
        known = first.setdefault(fold(name), name)
        if known != name:
            related = [Related(key_of(anchor.at(known)), "the first one")]
            values.report("duplicate-key", key_of(anchor.at(name)), key=name, related=related)


def _size(text: str, what: str) -> Rectangle:
    taken = take_rectangle(text)
    if taken is None or text[taken[1] :].strip():
        raise Unreadable(f"'{text}' is no size of a {what}", end=len(text), hint="write it as 60 × 40 cm")
    if max(taken[0].width, taken[0].depth) > _MOST_MILLIMETRES:
        raise Unreadable(f"no {what} measures {text.strip()}", end=len(text), hint="check the numbers and their unit")
    return taken[0]


def _holds(text: str) -> Holds:
    amount = parse_amount(text, Dimension.MASS, Dimension.COUNT)
    if amount.dimension is Dimension.MASS:
        return Holds(amount.in_base())
    if amount.unit.lower() not in _HELD_WORDS:
        raise Unreadable(
            f"'{text}' does not say what fits in", end=len(text), hint="write it as 8 kg, 6 trays or 4 sheets"
        )
    return Holds(amount.number, singular(amount.unit))


def _kilowatts(text: str) -> Decimal:
    taken = take_number(text)
    unit = text[taken.end :].strip().lower() if taken else ""
    if taken is None or unit not in ("kw", "w"):
        raise Unreadable(f"'{text}' is no electric power", end=len(text), hint="write it as 12 kW")
    with localcontext(CONTEXT):
        found = taken.value if unit == "kw" else taken.value / 1000
    if found > _MOST_KILOWATTS:
        hint = f"did you mean {taken.value} W?" if unit == "kw" else "check the number and its unit"
        raise Unreadable(f"no machine of a kitchen draws {text.strip()}", end=len(text), hint=hint)
    return found


def _hours(text: str) -> tuple[int, int]:
    """Minutes after midnight; an end at or before the start is on the next day."""
    found = _CLOCK.fullmatch(text)
    numbers = [int(part) for part in found.groups()] if found else []
    if not numbers or max(numbers[0], numbers[2]) > 24 or max(numbers[1], numbers[3]) > 59:
        raise Unreadable(f"'{text}' are no working hours", end=len(text), hint="write them as 06:00..14:30")
    start, end = numbers[0] * 60 + numbers[1], numbers[2] * 60 + numbers[3]
    return start, end if end > start else end + MINUTES_A_DAY

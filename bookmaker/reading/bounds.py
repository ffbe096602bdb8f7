"""What no kitchen reaches: settings, end points, temperatures of keeping and times beyond which a number is a slip.

The bounds are wide, and common practice without a source: they catch a digit, a sign or a unit too many, and judge no
recipe. Nothing is colder than absolute zero (BIPM, The International System of Units: −273.15 °C).
"""

import re
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.measures.durations import SPELLINGS
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.temperatures import ABSOLUTE_ZERO, Temperature, WrittenReading, find_readings

CHECK = "check the number, its sign and its scale"

_OF_A_WHOLE = re.compile(r"(?P<number>\d+(?:\.\d+)?)\s*(?P<unit>%|°?\s*Brix\b)", re.IGNORECASE)
_NUMBER = re.compile(r"[-−]?\d+(?:\.\d+)?")


@dataclass(frozen=True, slots=True)
class Bounds:
    """Degrees Celsius that can be, the usual ones among them, and what is said of any other reading, `{said}`."""

    least: int
    most: int
    usual_least: int
    usual_most: int
    beyond: str

    def holds(self, reading: Temperature) -> bool:
        """Whether a reading can be."""
        return self.least <= reading.celsius <= self.most

    def is_usual(self, reading: Temperature) -> bool:
        """Whether a reading is one that a cook may well have meant."""
        return self.usual_least <= reading.celsius <= self.usual_most


SETTING = Bounds(-200, 600, -45, 300, "nothing in a kitchen is set to {said}")
END_POINT = Bounds(-200, 300, -40, 200, "nothing that a kitchen makes comes to {said}")
HELD = Bounds(-90, 120, -45, 100, "nothing waits at {said}")
KEPT = Bounds(-90, 60, -45, 30, "nothing keeps at {said}")
DOUGH = Bounds(-5, 80, 10, 40, "no dough comes to {said}")


def check_reading(text: str, bounds: Bounds, *, offset: int = 0) -> None:
    """Every temperature in `text` within its bounds, no °Brix and no percent over 100. Raises `Unreadable`.

    `offset` is where the text stands in that of which the place is told.
    """
    for found in find_readings(text):
        if not bounds.holds(found.temperature):
            said = text[found.start : found.end].strip()
            why = bounds.beyond.format(said=said)
            if found.temperature.celsius < ABSOLUTE_ZERO:
                why = f"nothing is colder than -273.15 °C, and this says {said}"
            raise Unreadable(
                why, start=offset + found.start, end=offset + found.end, hint=_meant(text, found, bounds) or CHECK
            )
    for share in _OF_A_WHOLE.finditer(text):
        if Decimal(share["number"]) > 100:
            unit = "%" if share["unit"] == "%" else "°Brix"
            what = (
                "more than all of it" if unit == "%" else "more than all of it: °Brix are percent of what is dissolved"
            )
            raise Unreadable(
                f"{share['number']} {unit} is {what}",
                start=offset + share.start(),
                end=offset + share.end(),
                hint=_tenth(share["number"], unit),
            )


def _tenth(number: str, unit: str) -> str:
    smaller = Decimal(number) / 10
    return f"did you mean {_plain(smaller)} {unit}?" if smaller <= 100 else f"write at most 100 {unit}"


def _meant(text: str, found: WrittenReading, bounds: Bounds) -> str:
    """The usual reading of which this one is likely a slip: a digit too many, the other scale, a sign too many."""
    number = _NUMBER.match(text, found.start)
    assert number is not None
    written = Decimal(number[0].replace("−", "-"))
    for value, scale in (
        (written / 10, found.fahrenheit),
        (written, not found.fahrenheit),
        (-written, found.fahrenheit),
    ):
        reading = Temperature.from_fahrenheit(value) if scale else Temperature(value)
        if bounds.is_usual(reading):
            return f"did you mean {_plain(value)} °{'F' if scale else 'C'}?"
    return ""


@dataclass(frozen=True, slots=True)
class OfAMachine:
    """Degrees Celsius to which a kind of machine is set."""

    least: int
    most: int


MACHINES = {
    "oven": OfAMachine(20, 320),
    "cold": OfAMachine(-40, 25),
    "freezer": OfAMachine(-200, 5),
    "proofer": OfAMachine(-25, 70),
}
"""By kind of equipment: an oven from drying to a hot deck, cold places down to a blast chiller, a freezer down to
nitrogen, a prover from retarding to proving (common practice, no source). Beyond these it is worth a second look."""


def unlikely_setting(text: str, kind: str) -> tuple[str, str]:
    """The reading in a setting that a machine of this kind is hardly set to, and likely advice; empty where none is."""
    machine = MACHINES.get(kind)
    for found in find_readings(text) if machine else ():
        assert machine is not None
        if not machine.least <= found.temperature.celsius <= machine.most:
            usual = Bounds(machine.least, machine.most, machine.least, machine.most, "")
            return text[found.start : found.end].strip(), _other_scale(text, found, usual) or CHECK
    return "", ""


def _other_scale(text: str, found: WrittenReading, bounds: Bounds) -> str:
    """A machine's reading is within what can be: the other scale is the likelier slip (350 °C for 350 °F)."""
    number = _NUMBER.match(text, found.start)
    assert number is not None
    value = Decimal(number[0].replace("−", "-"))
    other = Temperature(value) if found.fahrenheit else Temperature.from_fahrenheit(value)
    if bounds.is_usual(other) and value > 0:
        return f"did you mean {_plain(value)} °{'C' if found.fahrenheit else 'F'}?"
    return _meant(text, found, bounds)


_CORE = re.compile(r"\bcore\s", re.IGNORECASE)
_HOT = 40


def misses_limit(to: str, limit: str) -> bool:
    """Whether a step that heats the core ends below the core temperature that its limit asks for."""
    ends, asked = (next(find_readings(text), None) if _CORE.search(text) else None for text in (to, limit))
    return ends is not None and asked is not None and _HOT < ends.temperature.celsius < asked.temperature.celsius


_LONG_TIME = re.compile(r"(?P<number>\d+)\s*(?P<unit>[a-z]+)\s*$", re.IGNORECASE)
_SMALLER = {"year": "days", "month": "days", "week": "days", "day": "h", "h": "min"}


def check_minutes(text: str, found: Decimal, most: Decimal, what: str) -> Decimal:
    """A duration that is not longer than anybody works, bakes or waits. Raises `Unreadable`."""
    if found <= most:
        return found
    slip = _LONG_TIME.search(text)
    smaller = _SMALLER.get(SPELLINGS.get(slip["unit"].lower(), "")) if slip else None
    hint = f"did you mean {slip['number']} {smaller}?" if slip and smaller else "check the number and its unit"
    raise Unreadable(f"{text.strip()} is longer than {what}", end=len(text), hint=hint)


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"

"""A page's drawing instructions, with holes for what merging fills in.

Text is drawn run by run, each in a marked-content sequence (ISO 32000-1, 14.6) like

    /Span <</MCID 2>> BDC … BT 1 0 0 -1 194 102 Tm /DTYXXY 10.1 Tf [<078e002b>9<0475>] TJ ET EMC

In it, a slot's figures become a hole. Page furniture becomes artifacts, outside the tags; what only left or only right
pages have can be left out; and a folio that is not set to the left gets a hole for its horizontal place (`194`).
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from bookmaker.press.assembly.boxes import Run
from bookmaker.press.assembly.figures import Figures

_RUN = re.compile(rb"/Span\n<</MCID (\d+)>>\nBDC\n(.*?\n)EMC\n", re.DOTALL)
_ARTIFACT = b"/Artifact\n<</Type /Pagination>>\nBDC\n"
_PLACE = re.compile(rb"1 0 0 -1 (-?[\d.]+) -?[\d.]+ Tm\n")
_FONT = re.compile(rb"/(\w+) ([\d.]+) Tf\n")
_NOTHING = rb">-?0\.0(?:<|(?=\]))"
"""How the engine shows a slot's marks: glyphs closed, no advance, glyphs opened again."""
_SLOT = _NOTHING + rb"(%b)(?:%b|>-?\d+<)*" + _NOTHING


@dataclass(frozen=True, slots=True)
class Slot:
    """A number to fill in: the page of `target`, or the page it stands on if empty.

    It has `room` for so many of the `figures` by number; a figure is `width` pixels wide.
    """

    target: str
    figures: int
    room: int
    width: float


@dataclass(frozen=True, slots=True)
class Hole:
    """Something to put into the content at `at`.

    `number`: the glyphs of slot `slot`. `place`: the number `x`, and of the room that slot leaves `lean` more.
    `side`: nothing, but on pages of the other side than `side` all up to `until` is left out.
    """

    at: int
    kind: Literal["number", "place", "side"]
    slot: int = 0
    x: float = 0.0
    lean: float = 0.0
    side: str = ""
    until: int = 0


@dataclass(frozen=True, slots=True)
class Content:
    """A page's instructions, its holes in order, its slots."""

    text: bytes
    holes: Sequence[Hole]
    slots: Sequence[Slot]


def cut(stream: Sequence[Any], runs: Sequence[Run], sides: Mapping[str, str], figures: Figures) -> Content:
    """The content of one of the engine's streams."""
    return _Cutter(runs, sides, figures).cut(stream)


class _Cutter:
    def __init__(self, runs: Sequence[Run], sides: Mapping[str, str], figures: Figures) -> None:
        self._runs = {run.mcid: run for run in runs}
        self._sides = sides
        self._figures = figures
        self._out = bytearray()
        self._holes: list[Hole] = []
        self._slots: list[Slot] = []

    def cut(self, stream: Sequence[Any]) -> Content:
        text = b"\n".join(map(_data, stream)) + b"\n"
        at = 0
        for found in _RUN.finditer(text):
            self._keep(text[at : found.start()])
            self._cut_run(self._runs.pop(int(found[1])), found)
            at = found.end()
        self._keep(text[at:])
        lost = [run.text for run in self._runs.values() if run.slots or run.margin]
        assert not lost, f"the page engine drew {lost} where it is not looked for"
        return Content(bytes(self._out), self._holes, self._slots)

    def _keep(self, text: bytes) -> None:
        # The engine notes kerning of less than a thousandth of an em, as 0: half of all bytes
        self._out += text.replace(b">0<", b"")

    def _cut_run(self, run: Run, found: re.Match[bytes]) -> None:
        side = self._sides.get(run.margin, "")
        start, first = len(self._out), len(self._holes)
        self._keep(_ARTIFACT if run.margin else found[0][: found.start(2) - found.start()])
        self._cut_text(run, found[2])
        self._keep(b"EMC\n")
        if side:
            self._holes.insert(first, Hole(start, "side", side=side, until=len(self._out)))

    def _cut_text(self, run: Run, text: bytes) -> None:
        if run.slots and run.margin and run.lean:
            place = _PLACE.search(text)
            assert place, f"the page engine set {run.text!r} without a place"
            self._keep(text[: place.start(1)])
            self._holes.append(Hole(len(self._out), "place", slot=len(self._slots), x=float(place[1]), lean=run.lean))
            text = text[place.end(1) :]
        at = 0
        for slot, room in zip(self._found(run, text), run.slots, strict=True):
            self._keep(text[at : slot.start()])
            font = [*_FONT.finditer(text, 0, slot.start())][-1]
            number, width = self._figures.number(font[1].decode(), int(slot[1], 16))
            self._holes.append(Hole(len(self._out), "number", slot=len(self._slots)))
            self._slots.append(Slot("" if run.margin else run.link, number, room, width / 1000 * float(font[2])))
            if text[slot.end() : slot.end() + 1] == b"]":
                self._out += b">"
            at = slot.end()
        self._keep(text[at:])

    def _found(self, run: Run, text: bytes) -> list[re.Match[bytes]]:
        """Where the run's slots are in its instructions."""
        if not run.slots:
            return []
        fonts = {font[1].decode() for font in _FONT.finditer(text)}
        zeros = b"|".join(b"%04x" % glyph for font in sorted(fonts) for glyph in self._figures.zeros(font))
        return [*re.finditer(_SLOT % (zeros, zeros), text)]


def _data(item: Any) -> bytes:
    """An item of a stream as the engine would write it."""
    if isinstance(item, bytes):
        return item
    return item.encode("ascii") if isinstance(item, str) else bytes(item.data)

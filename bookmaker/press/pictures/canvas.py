"""What all pictures share: the sheet they are drawn on, hatching, and text."""

from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup, escape

INK = "#26231f"
PALE = "#d8d2c6"
HAIR = "#a79f90"
PAPER = "#ffffff"
ACCENT = "#8c2f1b"
FONT = "Ledger Sans, Source Sans Pro, sans-serif"

HATCHES = ("solid", "slant", "pale", "dots", "rules", "grid", "back", "paper")
"""Fillings in the order they are used, neighbours as unlike as can be without colour."""

_TILES = {
    "slant": (6, f'<path d="M-1 7L7 -1M-1 1L1 -1M5 7L7 5" stroke="{INK}" stroke-width="1.4"/>'),
    "back": (8, f'<path d="M-1 -1L9 9M7 -1L9 1M-1 7L1 9" stroke="{INK}" stroke-width="0.7"/>'),
    "dots": (6, f'<circle cx="1.5" cy="1.5" r="1.1" fill="{INK}"/><circle cx="4.5" cy="4.5" r="1.1" fill="{INK}"/>'),
    "rules": (5, f'<path d="M0 2.5H5" stroke="{INK}" stroke-width="1.1"/>'),
    "grid": (7, f'<path d="M0 3.5H7M3.5 0V7" stroke="{INK}" stroke-width="0.8"/>'),
}


def figure(value: float) -> str:
    """A coordinate with at most two decimals."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a picture is drawn on: `height` in pixels, `width` in pixels or None for as wide as its place."""

    uid: str
    height: float
    width: float | None = None

    def x(self, share: float) -> str:
        """A horizontal position or length, given as a share of the width."""
        return f"{figure(share * 100)}%" if self.width is None else figure(share * self.width)

    @property
    def narrowest(self) -> float:
        """The width that the picture must still be readable at."""
        return self.width or 320.0

    def fill(self, hatch: str) -> str:
        """The paint of a hatch."""
        return {"solid": INK, "pale": PALE, "paper": PAPER}.get(hatch) or f"url(#{self.uid}-{hatch})"

    def hatches(self, used: Iterable[str]) -> Markup:
        """Definitions of the hatches used."""
        tiles = [
            f'<pattern id="{escape(self.uid)}-{name}" width="{_TILES[name][0]}" height="{_TILES[name][0]}" '
            f'patternUnits="userSpaceOnUse"><rect width="{_TILES[name][0]}" height="{_TILES[name][0]}" fill="{PAPER}"/>'
            f"{_TILES[name][1]}</pattern>"
            for name in sorted(set(used) & _TILES.keys())
        ]
        return _drawn("<defs>" + "".join(tiles) + "</defs>") if tiles else Markup()

    def drawn(self, title: str, description: str, parts: Iterable[str], *, role: str = "img") -> Markup:
        """The finished picture. The description says in words what the picture shows.

        A picture with links in it needs the role `group`: a screen reader passes over whatever is inside an `img`.
        """
        uid, tall = escape(self.uid), figure(self.height)
        wide = "100%" if self.width is None else f'{figure(self.width)}" viewBox="0 0 {figure(self.width)} {tall}'
        return _drawn(
            f'<svg xmlns="http://www.w3.org/2000/svg" class="picture" role="{role}" width="{wide}" height="{tall}" '
            f'aria-labelledby="{uid}-title {uid}-text" font-family="{FONT}" font-size="14" fill="{INK}">'
            f'<title id="{uid}-title">{escape(title)}</title><desc id="{uid}-text">{escape(description)}</desc>'
            f"{''.join(parts)}</svg>"
        )


def text(x: str, y: float, words: str, *, anchor: str = "start", weight: str = "", size: float = 14) -> str:
    """Words with their baseline at `y`."""
    more = (f' text-anchor="{anchor}"' if anchor != "start" else "") + (f' font-weight="{weight}"' if weight else "")
    more += f' font-size="{figure(size)}"' if size != 14 else ""
    return f'<text x="{x}" y="{figure(y)}"{more}>{escape(words)}</text>'


def box(x: str, y: float, width: str, height: float, fill: str, *, stroke: str = INK) -> str:
    """A rectangle with a thin outline."""
    return (
        f'<rect x="{x}" y="{figure(y)}" width="{width}" height="{figure(height)}" fill="{fill}" stroke="{stroke}" '
        'stroke-width="1"/>'
    )


def rule(x1: str, y1: float, x2: str, y2: float, *, stroke: str = HAIR, width: float = 1) -> str:
    """A straight line."""
    return (
        f'<line x1="{x1}" y1="{figure(y1)}" x2="{x2}" y2="{figure(y2)}" stroke="{stroke}" '
        f'stroke-width="{figure(width)}"/>'
    )


def _drawn(svg: str) -> Markup:
    """Our own drawing, every word in it escaped where it was set."""
    return Markup(svg)  # noqa: S704

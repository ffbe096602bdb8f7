"""The number grammar a cook may write: `12`, `0.5`, `1/2`, `1 1/2`, `½`, `1½`.

A decimal comma is refused with a suggestion instead of being guessed: `1,5` and `1,500` mean different things in
different kitchens.
"""

import re
from dataclasses import dataclass
from decimal import Decimal, localcontext

from bookmaker.measures.exact import CONTEXT

VULGAR = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅕": (1, 5), "⅖": (2, 5), "⅗": (3, 5), "⅘": (4, 5),
    "⅙": (1, 6), "⅚": (5, 6), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
}  # fmt: skip

# nothing behind it that could belong to a number: by far the most are like this
_PLAIN = re.compile(rf"\d+(?:\.\d+)?(?![\d.,/'’{''.join(VULGAR)}]|\s+\d+/|[^\S\n]\d{{3}}(?!\d))")
_SPACED = re.compile(r"\d{1,3}(?:(?:[^\S\n]|['’])\d{3})+(?![\d/])")
_COMMA = re.compile(r"[-+]?\d+(?:\.\d+)?,\d+")
_MIXED = re.compile(r"(\d+)\s+(\d+)/(\d+)(?![\d/])")
_FRACTION = re.compile(r"(\d+)/(\d+)(?![\d/])")
_DECIMAL = re.compile(r"\d+(?:\.\d+)?(?![\d])|\.\d+")
_SIGNED = re.compile(r"[-+−]\s*[\d.]")


class Unreadable(ValueError):
    """Text that a grammar of ours refuses. `start` and `end` are character offsets of the offending part."""

    def __init__(self, why: str, *, start: int = 0, end: int | None = None, hint: str = "") -> None:
        super().__init__(why)
        self.why = why
        self.start = start
        self.end = end
        self.hint = hint


@dataclass(frozen=True, slots=True)
class Taken:
    """A number read from the front of a text: its value and the offset just behind it."""

    value: Decimal
    end: int


def take_number(text: str, start: int = 0) -> Taken | None:
    """Read one number at `start`; None where there is none.

    Raises `Unreadable` for a comma number, thousands set apart by a space, a sign, or a fraction over zero.
    """
    if usual := _PLAIN.match(text, start):
        return Taken(Decimal(usual[0]), usual.end())
    if comma := _COMMA.match(text, start):
        whole, _, part = comma[0].partition(",")
        hint = f"write {whole}.{part}"
        if len(part) == 3:
            # never 4.000, which in half of Europe is four thousand again
            rest = part.rstrip("0")
            hint = f"write {whole}{part} for thousands, or {whole}{'.' if rest else ''}{rest}"
        raise Unreadable(
            f"{comma[0]}: numbers take a decimal point, not a comma", start=start, end=comma.end(), hint=hint
        )
    if signed := _SIGNED.match(text, start):
        raise Unreadable("an amount cannot carry a sign", start=start, end=signed.end(), hint="leave the sign out")
    if spaced := _SPACED.match(text, start):
        bare = "".join(each for each in spaced[0] if each.isdigit())
        raise Unreadable("a number has no spaces in it", start=start, end=spaced.end(), hint=f"write {bare}")
    with localcontext(CONTEXT):
        if mixed := _MIXED.match(text, start):
            return Taken(Decimal(mixed[1]) + _ratio(mixed[2], mixed[3], mixed), mixed.end())
        if fraction := _FRACTION.match(text, start):
            return Taken(_ratio(fraction[1], fraction[2], fraction), fraction.end())
        plain = _DECIMAL.match(text, start)
        end = plain.end() if plain else start
        value = Decimal(plain[0]) if plain else Decimal(0)
        if end < len(text) and text[end] in VULGAR:
            over, under = VULGAR[text[end]]
            return Taken(value + Decimal(over) / Decimal(under), end + 1)
    return Taken(value, end) if plain else None


def _ratio(over: str, under: str, where: re.Match[str]) -> Decimal:
    if int(under) == 0:
        raise Unreadable("a fraction cannot have 0 below the line", start=where.start(), end=where.end())
    return Decimal(over) / Decimal(under)

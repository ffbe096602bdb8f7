"""Fonts as a piece uses them: which glyphs, and the ten figures that its number slots may need."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from typing import Any

from bookmaker.press.assembly.sheet import Unfit


@dataclass(frozen=True, slots=True)
class UsedFont:
    """A font of the page engine by its name in content (`LYZIKA`): how to ask for it again, and the glyphs used.

    `weight` and `style` (0 upright, 1 slanted, 2 italic) are the engine's; `texts` and `widths` go by glyph number,
    `missing` are characters without a glyph, by the number they were given.
    """

    name: str
    family: str
    weight: int
    style: int
    texts: Mapping[int, str]
    widths: Mapping[int, int]
    missing: Mapping[int, int]


class Figures:
    """The figures of a piece's fonts, which the engine's `Font` objects give."""

    def __init__(self, fonts: Mapping[int, Any]) -> None:
        self._fonts: dict[str, Any] = {}
        for font in fonts.values():
            self._fonts.setdefault(font.hash, font)
        self._numbers: dict[tuple[str, int], int] = {}
        self.sets: list[tuple[int, ...]] = []
        """The glyphs of ten figures each, by the numbers given out."""

    def zeros(self, font: str) -> Sequence[int]:
        """The glyphs that stand for a nought in the piece: more than one where figures of two styles are used."""
        return [glyph for glyph, text in self._fonts[font].to_unicode.items() if text == "0"]

    def number(self, font: str, zero: int) -> tuple[int, int]:
        """The number of the ten figures that a nought belongs to, and their width in thousandths of the font size.

        All ten count as used from now on. Raises `Unfit` where they are not all of one width.
        """
        used = self._fonts[font]
        if (font, zero) not in self._numbers:
            self._numbers[font, zero] = len(self.sets)
            glyphs, widths = ten_figures(used.file_content, used.index, zero)
            if len(set(widths)) > 1:
                raise Unfit("the theme's print style sets page numbers in figures of different widths")
            for text, glyph in enumerate(glyphs):
                used.to_unicode.setdefault(glyph, str(text))
                used.widths.setdefault(glyph, widths[text])
            self.sets.append(glyphs)
        return self._numbers[font, zero], used.widths[zero]

    def used(self) -> list[UsedFont]:
        """All fonts with the glyphs used, figures of slots among them."""
        return [
            UsedFont(
                name,
                font.family,
                int(font.weight),
                int(font.style),
                dict(sorted(font.to_unicode.items())),
                dict(sorted(font.widths.items())),
                dict(font.missing),
            )
            for name, font in sorted(self._fonts.items())
        ]


@cache
def ten_figures(file: bytes, index: int, zero: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Glyphs and widths of the ten figures in the style of one nought.

    They are those of the font's character map, or what a font feature puts in their place.
    """
    from fontTools.ttLib import TTFont

    font = TTFont(BytesIO(file), fontNumber=index, lazy=True)
    names = [font.getBestCmap()[ord(each)] for each in "0123456789"]
    if font.getGlyphID(names[0]) != zero:
        names = _substituted(font, names, font.getGlyphName(zero))
    scale = 1000 / font["head"].unitsPerEm
    return tuple(map(font.getGlyphID, names)), tuple(round(font["hmtx"][name][0] * scale) for name in names)


def _substituted(font: Any, names: Sequence[str], zero: str) -> list[str]:
    """The figures after the single substitution (GSUB lookup type 1) that makes the first of them `zero`."""
    for lookup in font["GSUB"].table.LookupList.Lookup:
        for table in lookup.SubTable:
            mapping: Mapping[str, str] = getattr(getattr(table, "ExtSubTable", table), "mapping", {})
            if mapping.get(names[0]) == zero:
                return [mapping.get(name, name) for name in names]
    raise LookupError(f"no feature of the font turns {names[0]} into {zero}")

"""Where things are on the pages of a piece: destinations, bookmarks, characters that are strays."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from bookmaker.press.assembly.boxes import Run
from bookmaker.press.assembly.figures import UsedFont
from bookmaker.press.assembly.fragment import Bookmark, Stray
from bookmaker.press.fonts import FACES

POINTS = 0.75
"""Points in one of the page engine's pixels."""

_FAMILIES = {face.family for face in FACES}


def anchors(pages: Sequence[Any]) -> dict[str, tuple[int, float, float]]:
    """Destinations by name: page, x, y. Of two with one name, the first counts."""
    found: dict[str, tuple[int, float, float]] = {}
    for number, page in enumerate(pages):
        for name, (x, y, *_corner) in page.anchors.items():
            found.setdefault(name, (number, x * POINTS, (page.height - y) * POINTS))
    return found


def targets(pages: Sequence[Any]) -> list[str]:
    """The names of destinations that links lead to."""
    return sorted({target for page in pages for kind, target, _area, _box in page.links if kind == "internal"})


def bookmarks(pages: Sequence[Any]) -> Iterator[Bookmark]:
    """The outline items that the pages give."""
    for number, page in enumerate(pages):
        for level, label, (x, y), state in page.bookmarks:
            yield Bookmark(level, label, number, x * POINTS, (page.height - y) * POINTS, state)


def strays(fonts: Sequence[UsedFont], runs: Iterable[Run]) -> Iterator[Stray]:
    """Characters that came from another font of the machine, or from none."""
    texts = [run.text for run in runs]
    for font in fonts:
        lost = {chr(code) for code in font.missing}
        others = set() if font.family in _FAMILIES else {text for text in font.texts.values() if not text.isspace()}
        for character in sorted(lost | others):
            words = next((text for text in texts if character in text), "")
            yield Stray(character, " ".join(words.split()), shown=character not in lost)

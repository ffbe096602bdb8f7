"""The book's fonts, once for all pieces, and what the file says of itself.

The page engine knows how to cut a font down and embed it, so it is given a page with a letter in each font that the
pieces use; when it has drawn that, the pieces' glyphs are put to those it counted. Glyph numbers and font names are the
same in every document of one installation.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from markupsafe import Markup

from bookmaker.press import pdf as engine
from bookmaker.press.assembly.figures import UsedFont
from bookmaker.press.assembly.objects import Block, Mover, StreamObject, number_of
from bookmaker.press.assembly.setter import after_painting

_STYLES = ("normal", "oblique", "italic")


@dataclass(frozen=True, slots=True)
class Carrier:
    """Objects that pieces share: table places of the font dictionary, the XMP metadata and the information dictionary.

    `catalogue` are entries for the file's catalogue: its language, and that it is tagged.
    """

    fonts: int
    metadata: int
    info: int
    catalogue: bytes
    objects: int
    blocks: Sequence[Block]
    streams: Sequence[StreamObject]


def union(fonts: Iterable[UsedFont]) -> dict[str, UsedFont]:
    """Fonts by name, each with all glyphs that any piece uses of it."""
    found: dict[str, UsedFont] = {}
    for font in fonts:
        if (other := found.get(font.name)) is None:
            found[font.name] = UsedFont(
                font.name, font.family, font.weight, font.style, dict(font.texts), dict(font.widths), dict(font.missing)
            )
        else:
            for theirs, ours in ((other.texts, font.texts), (other.widths, font.widths), (other.missing, font.missing)):
                _join(theirs, ours)
    return {name: found[name] for name in sorted(found)}


def _join(known: Any, more: Mapping[int, Any]) -> None:
    known.update({key: value for key, value in more.items() if key not in known})


def letters(fonts: Mapping[str, UsedFont]) -> str:
    """HTML with something to print in each font, so that the engine opens them all."""
    return Markup("").join(_letter(font) for font in fonts.values())


def carry(html: str, fonts: Mapping[str, UsedFont]) -> Carrier:
    """Make the carrier from a document that prints the fonts' letters.

    It also has what the book's file is to say of itself: title, author, language, newest revision.
    """
    document = _engine().render(html)
    made: list[Carrier] = []

    def painted(page: Any, _stream: Any) -> None:
        if page is document.pages[-1]:
            _fill(document.fonts, fonts)

    def finish(_document: Any, pdf: Any) -> None:
        made.append(_taken(pdf))
        pdf.objects.clear()

    for page in document.pages:
        after_painting(page, painted)
    engine.write(document, finish)
    return made.pop()


@cache
def _engine() -> engine.Engine:
    """The page engine with our fonts and no style sheet; it takes longer to make than a carrier does."""
    return engine.Engine("")


def _letter(font: UsedFont) -> Markup:
    text = next((text for _, text in sorted(font.texts.items()) if text.strip()), "x")
    style = f'font: {_STYLES[font.style]} {font.weight} 10pt "{font.family}"'
    return Markup('<p style="{}">{}</p>').format(style, text)


def _fill(opened: dict[int, Any], fonts: Mapping[str, UsedFont]) -> None:
    for key, font in list(opened.items()):
        if font.hash not in fonts:
            del opened[key]  # the letter needed a second font
            continue
        used = fonts[font.hash]
        font.to_unicode = dict(sorted(used.texts.items()))
        font.widths = dict(sorted(used.widths.items()))
        font.missing = dict(sorted(used.missing.items()))
    lost = fonts.keys() - {font.hash for font in opened.values()}
    assert not lost, f"the page engine did not open the fonts {sorted(lost)} again by family, weight and style"


def _taken(pdf: Any) -> Carrier:
    mover = Mover(pdf, {})
    resources = pdf.objects[number_of(pdf.objects[pdf.pages["Kids"][0]]["Resources"])]
    fonts = mover.take(number_of(resources["Font"]))
    metadata = mover.take(number_of(pdf.catalog["Metadata"]))
    mover.follow()
    info = mover.add(pdf.info)
    entries = (b"/%b %b" % (key.encode(), pdf.catalog[key].data) for key in ("Lang", "MarkInfo", "ViewerPreferences"))
    return Carrier(fonts, metadata, info, b"".join(entries), mover.count, mover.blocks(), mover.streams())

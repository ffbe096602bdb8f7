"""The site's type: two families, cut down to the letters a book needs and packed as WOFF2. The one door to fontTools.

The fonts come from their PyPI packages under the SIL Open Font License. A subset is a modified version and must not
carry the reserved name (OFL, condition 3): ours are Ledger Serif and Ledger Sans, with the licence beside them.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, partial
from importlib.resources import files
from io import BytesIO
from typing import Any

# Basic Latin to Latin Extended-B, modifier letters, Greek mu and omega, punctuation, super- and subscripts, currency,
# fractions, arrows, mathematical signs, and the few shapes that pages print
RANGES = (
    (0x20, 0x7E), (0xA0, 0x24F), (0x2C6, 0x2DD), (0x3A9, 0x3A9), (0x3BC, 0x3BC), (0x1E80, 0x1EF9), (0x2007, 0x2007),
    (0x2010, 0x2044), (0x2070, 0x208E), (0x20AC, 0x20AC), (0x2116, 0x2122), (0x2150, 0x215E), (0x2190, 0x2193),
    (0x2212, 0x2265), (0x25A0, 0x25CA), (0x2713, 0x2713),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Face:
    """One face of the site: its file name, the family it is shown under, and where it comes from."""

    file: str
    family: str
    weight: int
    italic: bool
    package: str
    source: str


FACES = (
    Face("ledger-serif-400.woff2", "Ledger Serif", 400, False, "font_source_serif_pro", "SourceSerifPro-Regular.ttf"),
    Face("ledger-serif-400-italic.woff2", "Ledger Serif", 400, True, "font_source_serif_pro", "SourceSerifPro-It.ttf"),
    Face("ledger-serif-600.woff2", "Ledger Serif", 600, False, "font_source_serif_pro", "SourceSerifPro-Semibold.ttf"),
    Face("ledger-sans-400.woff2", "Ledger Sans", 400, False, "font_source_sans_pro", "SourceSansPro-Regular.ttf"),
    Face("ledger-sans-600.woff2", "Ledger Sans", 600, False, "font_source_sans_pro", "SourceSansPro-Semibold.ttf"),
)


@dataclass(frozen=True, slots=True)
class Heights:
    """How high the small x and the figures of a face are, as shares of its size."""

    x: Decimal
    figures: Decimal


@cache
def heights(face: Face) -> Heights:
    """Measured from the font itself: its table OS/2, and the outline of its figure 1."""
    from fontTools.ttLib import TTFont

    font = TTFont(BytesIO(_source(face.package, face.source)), lazy=True)
    em = Decimal(font["head"].unitsPerEm)
    one = font["glyf"][font.getBestCmap()[ord("1")]]
    return Heights(Decimal(font["OS/2"].sxHeight) / em, Decimal(one.yMax) / em)


_KEPT_NAMES = {0, 13, 14}  # copyright, licence, where the licence is
_ENGLISH = 0x409  # as Windows numbers languages
_STYLES = {(400, False): "Regular", (400, True): "Italic", (600, False): "Semibold"}


def site_fonts() -> Iterator[tuple[str, Callable[[], bytes]]]:
    """File name of every face, then of each family's licence, and what makes its bytes, the same at every run.

    A face takes a good part of a second.
    """
    for face in FACES:
        yield face.file, partial(_packed, face)
    for package, name in (("font_source_serif_pro", "ledger-serif"), ("font_source_sans_pro", "ledger-sans")):
        yield f"{name}-licence.txt", partial(_source, package, "LICENSE.txt")


def font_rules() -> str:
    """The style sheet's `@font-face` rules, for fonts that stand in a folder `fonts` beside it."""
    return "\n".join(
        f'@font-face {{ font-family: "{face.family}"; font-weight: {face.weight}; '
        f"font-style: {'italic' if face.italic else 'normal'}; font-display: swap; "
        f'src: url("fonts/{face.file}") format("woff2"); }}'
        for face in FACES
    )


@cache
def _packed(face: Face) -> bytes:
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    font = TTFont(BytesIO(_source(face.package, face.source)), recalcTimestamp=False)
    options = Options()
    options.layout_features = ["kern", "liga", "ccmp", "locl", "mark", "mkmk", "pnum", "tnum", "lnum", "smcp", "c2sc"]
    options.hinting = False
    cutter = Subsetter(options)
    cutter.populate(unicodes=[code for first, last in RANGES for code in range(first, last + 1)])
    names = font["name"]
    del font["name"]  # cutting it down takes the library a quarter of its time, and we write nearly all of it anew
    cutter.subset(font)
    font["name"] = _renamed(names, face)
    font.flavor = "woff2"
    packed = BytesIO()
    font.save(packed, reorderTables=True)
    return packed.getvalue()


def _renamed(names: Any, face: Face) -> Any:
    """The font's table of names with ours in the place of the reserved one."""
    style = _STYLES[face.weight, face.italic]
    full = f"{face.family} {style}"
    ours = {1: face.family, 2: style, 3: full, 4: full, 6: full.replace(" ", "-")}
    names.names = [record for record in names.names if record.nameID in _KEPT_NAMES and record.langID == _ENGLISH]
    for number, words in ours.items():
        names.setName(words, number, 3, 1, _ENGLISH)
    return names


def _source(package: str, name: str) -> bytes:
    return (files(package) / "files" / name).read_bytes()

"""The one door to WeasyPrint: a document in HTML becomes a tagged PDF with embedded fonts."""

import hashlib
import re
from collections.abc import Callable
from functools import cache
from importlib.resources import as_file, files
from io import BytesIO
from pathlib import Path
from typing import Any

from bookmaker.press.fonts import FACES

VARIANT = "pdf/ua-1"


class NoPdfLibrary(RuntimeError):
    """The system libraries that lay out PDF pages are not there; the message says how to get them."""


@cache
def _weasyprint() -> Any:
    try:
        import weasyprint
    except OSError as missing:
        raise NoPdfLibrary(
            "PDF pages need the Pango library, which is not installed here.\n"
            "  on Debian:   apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0\n"
            "  on macOS:    brew install pango\n"
            "  on Windows:  WeasyPrint's page on installation says how\n"
            "The site goes without it:  bookmaker build --only team record"
        ) from missing
    return weasyprint


def insist() -> None:
    """Raise `NoPdfLibrary` before any work where PDF pages cannot be laid out."""
    _weasyprint()


def subsets_fonts_fast() -> bool:
    """Whether fonts are cut down by the fast library; the slow way works too, at two to three times the time."""
    _weasyprint()
    from weasyprint.text import ffi

    return getattr(ffi, "harfbuzz_subset", None) is not None


def system_libraries() -> tuple[str, ...]:
    """The versions of the shared libraries that set and shape text."""
    _weasyprint()
    from weasyprint.text import ffi

    return f"pango {ffi.pango.pango_version()}", f"harfbuzz {_harfbuzz(ffi.harfbuzz)}", f"subset {subsets_fonts_fast()}"


def library_files() -> tuple[str, ...] | None:
    """The files of the shared libraries that set and shape text; None on systems that do not tell."""
    _weasyprint()
    try:
        mapped = Path("/proc/self/maps").read_text("utf-8", "surrogateescape")
    except OSError:
        return None
    found = re.findall(r"/\S*/lib(?:pango|harfbuzz|fontconfig|freetype)\S*", mapped)
    return tuple(sorted(set(found))) or None


def _harfbuzz(library: Any) -> str:
    """The version of HarfBuzz, which only answers whether it is at least some version."""
    found: list[int] = []
    for _ in range(3):
        part = 0
        while library.hb_version_atleast(*found, part + 1, *[0] * (2 - len(found))):
            part += 1
        found.append(part)
    return ".".join(map(str, found))


def font_rules() -> str:
    """`@font-face` rules for the book's type, from the installed font packages."""
    return "\n".join(
        f'@font-face {{ font-family: "{face.family}"; font-weight: {face.weight}; '
        f"font-style: {'italic' if face.italic else 'normal'}; "
        f"src: url({font_file(face.package, face.source).as_uri()}) }}"
        for face in FACES
    )


def font_file(package: str, name: str) -> Path:
    """A font of an installed font package."""
    with as_file(files(package) / "files" / name) as path:
        return path


class Engine:
    """The page engine made ready for documents of one style: fonts and style sheet are read once.

    Nothing is fetched but the fonts; pictures stand in a document as SVG or `data:` addresses.
    """

    def __init__(self, styles: str) -> None:
        weasyprint = _weasyprint()
        self._fetcher = weasyprint.urls.URLFetcher(allowed_protocols={"file", "data"}, fail_on_errors=True)
        self._fonts = weasyprint.text.fonts.FontConfiguration()
        self._sheet = weasyprint.CSS(string=font_rules() + styles, url_fetcher=self._fetcher, font_config=self._fonts)

    def render(self, html: str) -> Any:
        """A document laid out but not written: the engine's own `Document`."""
        document = _weasyprint().HTML(string=html, url_fetcher=self._fetcher)
        return document.render(stylesheets=[self._sheet], font_config=self._fonts, pdf_variant=VARIANT)


def write(document: Any, finish: Callable[[Any, Any], None]) -> None:
    """Draw a document laid out and hand it with its PDF objects to `finish`; what is written after that is dropped."""
    document.write_pdf(BytesIO(), finisher=finish, pdf_variant=VARIANT, uncompressed_pdf=True)


def to_pdf(html: str, styles: str) -> bytes:
    """Lay out one document. The same input gives the same bytes: no clock enters, the file's identifier is a digest."""
    identifier = hashlib.blake2b((html + styles).encode(), digest_size=16).digest()
    pdf: bytes = Engine(styles).render(html).write_pdf(pdf_variant=VARIANT, pdf_identifier=identifier)
    return pdf

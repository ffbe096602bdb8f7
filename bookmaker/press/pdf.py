"""The one door to WeasyPrint: a document in HTML becomes a tagged PDF with embedded fonts."""

import hashlib
from functools import cache
from importlib.resources import as_file, files
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


def font_rules() -> str:
    """`@font-face` rules for the book's type, from the installed font packages."""
    return "\n".join(
        f'@font-face {{ font-family: "{face.family}"; font-weight: {face.weight}; '
        f"font-style: {'italic' if face.italic else 'normal'}; "
        f"src: url({_font_file(face.package, face.source).as_uri()}) }}"
        for face in FACES
    )


def _font_file(package: str, name: str) -> Path:
    with as_file(files(package) / "files" / name) as path:
        return path


def to_pdf(html: str, styles: str) -> bytes:
    """Lay out one document. The same input gives the same bytes: no clock enters, the file's identifier is a digest.

    Nothing is fetched but the fonts; pictures stand in the document as SVG or `data:` addresses.
    """
    weasyprint = _weasyprint()
    fetcher = weasyprint.urls.URLFetcher(allowed_protocols={"file", "data"}, fail_on_errors=True)
    identifier = hashlib.blake2b((html + styles).encode(), digest_size=16).digest()
    fonts = weasyprint.text.fonts.FontConfiguration()
    document = weasyprint.HTML(string=html, url_fetcher=fetcher)
    sheet = weasyprint.CSS(string=font_rules() + styles, url_fetcher=fetcher, font_config=fonts)
    pdf: bytes = document.write_pdf(
        stylesheets=[sheet], font_config=fonts, pdf_variant=VARIANT, pdf_identifier=identifier
    )
    return pdf

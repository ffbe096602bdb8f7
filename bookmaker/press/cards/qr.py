"""The one door to segno: an address as a QR code."""

import io

import segno
from markupsafe import Markup

QUIET = 4
"""White squares around the code, as the standard asks (ISO/IEC 18004)."""


def code_modules(address: str) -> int:
    """How many squares wide the code of an address is, with the white around it."""
    return int(_made(address).symbol_size(border=QUIET)[0])


def code_picture(address: str) -> Markup:
    """The code as SVG of one unit a square, the white around it included."""
    drawn = io.BytesIO()
    _made(address).save(drawn, kind="svg", border=QUIET, xmldecl=False, svgns=True, nl=False, omitsize=True)
    return Markup(drawn.getvalue().decode("utf-8"))  # noqa: S704 (drawn here, of black and white squares)


def _made(address: str) -> segno.QRCode:
    """Error correction M: fifteen of a hundred codewords may be lost to a scratch or a splash. Never a Micro QR code,
    which not every phone reads.
    """
    return segno.make(address, error="m", boost_error=True, micro=False)

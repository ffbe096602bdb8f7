"""The site's type: ours by name, whole enough for a book, the same at every run."""

from io import BytesIO

import pytest
from fontTools.ttLib import TTFont

from bookmaker.press.fonts import FACES, font_rules, site_fonts

FILES = {name: make() for name, make in site_fonts()}


@pytest.mark.parametrize("face", FACES, ids=lambda face: face.file)
def test_a_face_has_the_letters_of_a_kitchen_and_none_of_the_reserved_name(face: object) -> None:
    content = FILES[face.file]  # type: ignore[attr-defined]
    font = TTFont(BytesIO(content))
    letters = set(font.getBestCmap())
    assert set(map(ord, "aéßœŁ½×–·°€ ")) <= letters
    assert not [record for record in font["name"].names if "Source" in str(record) and record.nameID not in {0, 13, 14}]
    assert str(font["name"].getDebugName(1)).startswith("Ledger")
    assert len(content) < 40_000


def test_arrows_and_marks_that_pages_print_are_there() -> None:
    for name in ("ledger-serif-400.woff2", "ledger-sans-400.woff2"):
        assert set(map(ord, "←✓≥≈△−")) <= set(TTFont(BytesIO(FILES[name])).getBestCmap())


def test_the_licence_stands_beside_the_fonts() -> None:
    for name in ("ledger-serif-licence.txt", "ledger-sans-licence.txt"):
        assert b"SIL OPEN FONT LICENSE" in FILES[name].upper()


def test_every_face_is_declared() -> None:
    rules = font_rules()
    assert all(face.file in rules for face in FACES)

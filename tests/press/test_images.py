"""Photos: resized, upright, without metadata."""

from io import BytesIO

import pytest
from PIL import Image

from bookmaker.press.images import UnusablePhoto, prepare

ORIENTATION, MAKER, PLACE = 0x0112, 0x010F, 0x8825


def photo(width: int, height: int, *, turned: bool = False) -> bytes:
    image = Image.new("RGB", (width, height), "#8c2f1b")
    exif = Image.Exif()
    exif[MAKER] = "Camera of the house"
    exif[PLACE] = {1: "N", 2: (52.0, 0.0, 0.0)}
    if turned:
        exif[ORIENTATION] = 6
    made = BytesIO()
    image.save(made, "JPEG", exif=exif)
    return made.getvalue()


def test_a_large_photo_comes_in_two_sizes() -> None:
    sizes = [(each.width, each.height) for each in prepare(photo(2000, 1000)).renditions]
    assert sizes == [(640, 320), (1280, 640)]


def test_a_small_photo_is_never_enlarged() -> None:
    assert [each.width for each in prepare(photo(500, 400)).renditions] == [500]


def test_metadata_stays_behind() -> None:
    content = photo(800, 600)
    assert b"Camera of the house" in content
    for each in prepare(content).renditions:
        assert b"Exif" not in each.content
        with Image.open(BytesIO(each.content)) as opened:
            assert not opened.getexif()
            assert opened.size == (each.width, each.height)


def test_a_photo_taken_sideways_is_turned_upright() -> None:
    (first, *_) = prepare(photo(2000, 1000, turned=True)).renditions
    assert first.height > first.width


def test_what_is_no_picture_is_refused() -> None:
    with pytest.raises(UnusablePhoto):
        prepare(b"not a picture")

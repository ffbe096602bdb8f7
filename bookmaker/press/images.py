"""Photos made ready for pages: turned upright, resized, without metadata. The one door to Pillow."""

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO

WIDTHS = (640, 1280)
"""Pixels: for a telephone, and for a wide page on a fine screen."""

_QUALITY = 82


class UnusablePhoto(ValueError):
    """A file that is no picture, or one that cannot be read."""


@dataclass(frozen=True, slots=True)
class Rendition:
    """One size of a photo, as JPEG."""

    width: int
    height: int
    content: bytes


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo in the sizes that pages offer, smallest first."""

    renditions: tuple[Rendition, ...]


def prepare(content: bytes, widths: tuple[int, ...] = WIDTHS) -> Photo:
    """Resize a photo to each of `widths`, never up. Place, camera and all other metadata stay behind.

    Raises `UnusablePhoto`.
    """
    return Photo(tuple(_renditions(content, widths)))


def _renditions(content: bytes, widths: tuple[int, ...]) -> Iterator[Rendition]:
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with Image.open(BytesIO(content)) as opened:
            upright = ImageOps.exif_transpose(opened).convert("RGB")
    except (UnidentifiedImageError, OSError, SyntaxError, Image.DecompressionBombError) as error:
        raise UnusablePhoto(str(error)) from error
    for width in sorted({min(width, upright.width) for width in widths}):
        height = max(1, round(upright.height * width / upright.width))
        # a new picture takes over pixels alone: no EXIF, no profile, no comments
        plain = Image.new("RGB", (width, height))
        plain.paste(upright.resize((width, height), Image.Resampling.LANCZOS))
        made = BytesIO()
        plain.save(made, "JPEG", quality=_QUALITY, optimize=True, progressive=True)
        yield Rendition(width, height, made.getvalue())

"""A piece laid out: what merging needs of it, as a value and as bytes for the store.

The bytes hold no code that reading them would run: a digest, a description in JSON, arrays of numbers, text.
"""

import json
import struct
import zlib
from array import array
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import astuple, dataclass
from hashlib import blake2b
from typing import Any

from bookmaker.press.assembly.content import Content, Hole, Slot
from bookmaker.press.assembly.figures import UsedFont
from bookmaker.press.assembly.objects import Block, StreamObject


@dataclass(frozen=True, slots=True)
class Bookmark:
    """An outline item to be: its level from 1, its words, its page and place in points, whether it opens."""

    level: int
    label: str
    page: int
    x: float
    y: float
    state: str


@dataclass(frozen=True, slots=True)
class Stray:
    """A character that the book's fonts lack, and the words it stands in."""

    character: str
    words: str
    shown: bool
    """Whether another font of the machine has it; if not, a box is printed."""


@dataclass(frozen=True, slots=True)
class Description:
    """All but the bulk. Coordinates are in points from the page's lower left corner.

    `start` is the side that the piece must start on, if any. `sizes` are the pages' widths and heights. `anchors` are
    destinations by name: page, x, y. `objects` counts the piece's own objects; its pages come first among them.
    `contents` are the table places of page contents, `kids` those of the top tags, `parents` that of the leaf of the
    parent tree with its `keys` keys.
    """

    start: str
    sizes: Sequence[tuple[float, float]]
    anchors: Mapping[str, tuple[int, float, float]]
    bookmarks: Sequence[Bookmark]
    figures: Sequence[Sequence[int]]
    strays: Sequence[Stray]
    objects: int
    contents: Sequence[int]
    kids: Sequence[int]
    parents: int
    keys: int


@dataclass(frozen=True, slots=True)
class Bulk:
    """What is only needed while a piece is being merged: its pages' contents, and its objects."""

    contents: Sequence[Content]
    blocks: Sequence[Block]
    streams: Sequence[StreamObject]


@dataclass(frozen=True, slots=True)
class Fragment:
    """A piece laid out. All but the description stays packed until asked for, so that a thousand take little memory."""

    description: Description
    packed_fonts: bytes
    packed_bulk: bytes

    @classmethod
    def of(cls, description: Description, fonts: Iterable[UsedFont], bulk: Bulk) -> "Fragment":
        """Pack a piece just laid out, with the fonts that it uses."""
        return cls(description, _packed(_json([*map(_font_to_plain, fonts)])), _packed(_pack_bulk(bulk)))

    def fonts(self) -> list[UsedFont]:
        """Unpack the fonts."""
        return [_font_from_plain(*font) for font in json.loads(zlib.decompress(self.packed_fonts))]

    def bulk(self) -> Bulk:
        """Unpack the bulk."""
        return _unpack_bulk(zlib.decompress(self.packed_bulk))

    def to_bytes(self) -> bytes:
        """For the store."""
        head = _packed(_json(_description_to_plain(self.description)))
        body = _LENGTHS.pack(len(head), len(self.packed_fonts)) + head + self.packed_fonts + self.packed_bulk
        return blake2b(body, digest_size=_DIGEST).digest() + body

    @classmethod
    def from_bytes(cls, data: bytes) -> "Fragment | None":
        """From the store; None where the bytes are not what was stored."""
        digest, body = data[:_DIGEST], data[_DIGEST:]
        if blake2b(body, digest_size=_DIGEST).digest() != digest:
            return None
        head, fonts = _LENGTHS.unpack_from(body)
        end = _LENGTHS.size + head
        description = _description_from_plain(json.loads(zlib.decompress(body[_LENGTHS.size : end])))
        return cls(description, body[end : end + fonts], body[end + fonts :])


_DIGEST = 16
_LENGTH = struct.Struct(">I")
_LENGTHS = struct.Struct(">II")


def _packed(data: bytes) -> bytes:
    return zlib.compress(data, 3)


def _json(value: Any) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()


def _description_to_plain(description: Description) -> dict[str, Any]:
    plain = {name: getattr(description, name) for name in _AS_THEY_ARE}
    for name in _ROWS:
        plain[name] = [astuple(each) for each in getattr(description, name)]
    return plain


def _description_from_plain(plain: dict[str, Any]) -> Description:
    for name, row in _ROWS.items():
        plain[name] = [row(*each) for each in plain[name]]
    return Description(**plain)


_ROWS: Mapping[str, Callable[..., Any]] = {"bookmarks": Bookmark, "strays": Stray}
_AS_THEY_ARE = ("start", "sizes", "anchors", "figures", "objects", "contents", "kids", "parents", "keys")


def _font_to_plain(font: UsedFont) -> tuple[Any, ...]:
    glyphs = map(_columns, (font.texts, font.widths, font.missing))
    return font.name, font.family, font.weight, font.style, *glyphs


def _font_from_plain(name: str, family: str, weight: int, style: int, *glyphs: Any) -> UsedFont:
    texts, widths, missing = (dict(zip(*columns, strict=True)) for columns in glyphs)
    return UsedFont(name, family, weight, style, texts, widths, missing)


def _columns(mapping: Mapping[int, Any]) -> tuple[list[int], list[Any]]:
    return list(mapping), list(mapping.values())


def _pack_bulk(bulk: Bulk) -> bytes:
    """A table of lengths and numbers in JSON, then all texts and arrays one after the other."""
    parts: list[bytes] = []

    def part(data: bytes) -> int:
        parts.append(data)
        return len(data)

    def block(each: Block) -> tuple[int, ...]:
        return part(each.template), *(part(numbers.tobytes()) for numbers in (each.fields, each.starts, each.places))

    table = _json(
        (
            [
                (part(each.text), [astuple(hole) for hole in each.holes], [astuple(slot) for slot in each.slots])
                for each in bulk.contents
            ],
            [block(each) for each in bulk.blocks],
            [(block(each.dictionary), part(each.data)) for each in bulk.streams],
        )
    )
    return b"".join((_LENGTH.pack(len(table)), table, *parts))


def _unpack_bulk(data: bytes) -> Bulk:
    at = _LENGTH.size + _LENGTH.unpack_from(data)[0]
    contents, blocks, streams = json.loads(data[_LENGTH.size : at])

    def part(length: int) -> bytes:
        nonlocal at
        at += length
        return data[at - length : at]

    def block(template: int, fields: int, starts: int, places: int) -> Block:
        return Block(part(template), array("i", part(fields)), array("I", part(starts)), array("I", part(places)))

    return Bulk(
        [
            Content(part(text), [Hole(*hole) for hole in holes], [Slot(*slot) for slot in slots])
            for text, holes, slots in contents
        ],
        [block(*each) for each in blocks],
        [StreamObject(block(*dictionary), part(length)) for dictionary, length in streams],
    )

"""The page engine's PDF objects, made movable.

In a PDF file, objects point at each other by number, so a piece's objects cannot stand in another file as they are.
Here each becomes a template in which every number that depends on the file is a field of fixed width: merging fills
all fields of a piece in one go, and offsets between objects stay what they were. A field's number comes from a table

    [the outside objects, the piece's own objects, parent keys]

made anew for each merge. Parent keys (`StructParents`, ISO 32000-1, 14.7.4.4) count from the table's end.
"""

import re
import zlib
from array import array
from codecs import BOM_UTF16_BE
from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import pydyf

FONTS, DOCUMENT, PAGES = range(3)
"""Objects outside every piece: the shared font dictionary, the root of the tags, the tree of pages."""

OUTSIDE = 3

FIELD, WIDTH = b"%7d", 7

BLOCK = 1000
"""At most so many objects are packed together; a reader unpacks a whole block for one of them."""

_REFERENCE = re.compile(rb"(\d+) 0 R")
_HEADER = re.compile(r"(\d+)(-\d+-\d+)")


@dataclass(frozen=True, slots=True)
class Block:
    """Objects packed together: their template, the table places that its fields take their numbers from, where each
    object starts once the template is filled, and each object's own table place.
    """

    template: bytes
    fields: "array[int]"
    starts: "array[int]"
    places: "array[int]"

    def filled(self, table: Sequence[int]) -> bytes:
        """The objects' text with the table's numbers in it."""
        return self.template % tuple(map(table.__getitem__, self.fields))


@dataclass(frozen=True, slots=True)
class StreamObject:
    """A stream: its dictionary without `Length` as a block of one, and its data."""

    dictionary: Block
    data: bytes


@dataclass(frozen=True, slots=True)
class _Written:
    """One object as a template: its table place, its fields, its length when filled."""

    place: int
    template: bytes
    fields: list[int]
    length: int


class Mover:
    """Takes objects out of one of the engine's documents, with all that they point at.

    `outside` maps object numbers to `FONTS` and so on; `contents` are page contents, which get a place in the table but
    are kept elsewhere.
    """

    def __init__(self, pdf: Any, outside: Mapping[int, int], contents: Container[int] = ()) -> None:
        self._objects = pdf.objects
        self._places = dict(outside)
        self._order: list[int] = []
        self._contents = contents
        self._parts: list[bytes] = []
        self._fields: list[int] = []
        self._length = 0
        self._done = 0
        self._plain: list[_Written] = []
        self._streams: list[tuple[_Written, bytes]] = []

    @property
    def count(self) -> int:
        """How many of the document's own objects were taken."""
        return len(self._order)

    def take(self, number: int) -> int:
        """The table place of an object; what it points at follows by itself."""
        if number not in self._places:
            self._places[number] = OUTSIDE + len(self._order)
            self._order.append(number)
        return self._places[number]

    def has(self, number: int) -> bool:
        """Whether something has pointed at the object so far."""
        return number in self._places

    def follow(self) -> None:
        """Write every object taken, until nothing is pointed at that was not taken."""
        while self._done < len(self._order):
            number = self._order[self._done]
            self._done += 1
            self._write_object(number)

    def add(self, value: Any) -> int:
        """Write one object more, that the document did not have; its table place."""
        place = OUTSIDE + len(self._order)
        self._order.append(-1)
        self._done += 1
        self._begin()
        self._write(value)
        self._plain.append(self._written(place))
        return place

    def blocks(self) -> tuple[Block, ...]:
        """The objects that are no streams."""
        return tuple(self._block(self._plain[at : at + BLOCK]) for at in range(0, len(self._plain), BLOCK))

    def streams(self) -> tuple[StreamObject, ...]:
        """The streams."""
        return tuple(StreamObject(self._block([written]), data) for written, data in self._streams)

    def _block(self, objects: Iterable[_Written]) -> Block:
        templates, fields, starts, places, at = [], array("i"), array("I"), array("I"), 0
        for written in objects:
            templates.append(written.template)
            fields.extend(written.fields)
            starts.append(at)
            places.append(written.place)
            at += written.length + 1
        return Block(b"\n".join(templates), fields, starts, places)

    def _write_object(self, number: int) -> None:
        value = self._objects[number]
        place = self._places[number]
        if number in self._contents:
            return
        self._begin()
        if isinstance(value, pydyf.Stream):
            extra = dict(value.extra)
            data = b"\n".join(map(_plain, value.stream))
            if value.compress:
                extra["Filter"] = "/FlateDecode"
                data = zlib.compress(data, 9)
            self._write(extra)
            self._streams.append((self._written(place), data))
            return
        self._write(value)
        self._plain.append(self._written(place))

    def _written(self, place: int) -> _Written:
        return _Written(place, b"".join(self._parts), self._fields, self._length)

    def _begin(self) -> None:
        self._parts, self._fields, self._length = [], [], 0

    def _text(self, text: bytes) -> None:
        self._parts.append(text.replace(b"%", b"%%"))
        self._length += len(text)

    def _field(self, place: int, template: bytes = FIELD) -> None:
        self._parts.append(template)
        self._fields.append(place)
        self._length += WIDTH

    def _write(self, value: Any) -> None:
        match value:
            case _ParentKey():
                self._field(-1 - value.key)
            case bytes() if found := _REFERENCE.fullmatch(value):
                self._field(self.take(int(found[1])))
                self._text(b" 0 R")
            case dict():
                self._write_dictionary(value)
            case list():
                self._text(b"[")
                for number, each in enumerate(value):
                    if number:
                        self._text(b" ")
                    self._write(each)
                self._text(b"]")
            case _:
                self._text(_plain(value))

    def _write_dictionary(self, value: Mapping[str, Any]) -> None:
        self._text(b"<<")
        for key, each in value.items():
            self._text(b"/" + _plain(key) + b" ")
            if key in {"StructParents", "StructParent"}:
                self._field(-1 - each)
            elif key == "ID" and value.get("S") == "/TH":
                self._header(each)
            elif key == "Headers":
                self._text(b"[")
                for header in each:
                    self._header(header)
                self._text(b"]")
            else:
                self._write(each)
        self._text(b">>")

    def _header(self, name: Any) -> None:
        """A table header's name, which cells point at: made from its table's number, so it must follow the new one."""
        found = _HEADER.fullmatch(name.string)
        assert found, f"a header cell is named {name.string!r}, not by the number of its table"
        self._text(b"(")
        self._field(self.take(int(found[1])), b"%07d")
        self._text(found[2].encode() + b")")


@dataclass(frozen=True, slots=True)
class _ParentKey:
    key: int


def number_of(reference: bytes) -> int:
    """The object number in a reference (`12 0 R`)."""
    found = _REFERENCE.fullmatch(reference)
    assert found, f"no reference: {reference!r}"
    return int(found[1])


def parent_leaf(numbers: Sequence[Any], mover: Mover) -> tuple[int, int]:
    """A leaf of the parent tree: its table place, and how many keys it holds.

    The engine's tree maps a page's key to the tags of its marked content in order, a link's key to its tag. Page
    furniture has tags there that are in no tree: it is an artifact for us, and has none.
    """
    leaf: list[Any] = []
    for key, value in zip(numbers[::2], numbers[1::2], strict=True):
        if isinstance(value, list):
            tags = [tag if mover.has(number_of(tag)) else b"null" for tag in value]
            while tags and tags[-1] == b"null":
                tags.pop()
            leaf += _ParentKey(key), tags
        else:
            assert mover.has(number_of(value)), "a link outside the tags"
            leaf += _ParentKey(key), value
    keys = len(leaf) // 2
    return mover.add({"Limits": [_ParentKey(0), _ParentKey(keys - 1)], "Nums": leaf}), keys


def _plain(value: Any) -> bytes:
    """A value that points at nothing, as PDF text."""
    match value:
        case bytes():
            return value
        case float():
            return number(value)
        case pydyf.Object():
            data: bytes = value.data
            return data
        case _:
            return str(value).encode("ascii")


def number(value: float) -> bytes:
    """A number as PDF text, to the engine's six places."""
    return b"%d" % value if value == int(value) else f"{value:f}".rstrip("0").encode("ascii")


def text(value: str) -> bytes:
    """A text string object (ISO 32000-1, 7.9.2.2)."""
    data: bytes = pydyf.String(value).data
    return data


def in_name_order(value: str) -> bytes:
    """What a name tree sorts a text string by (7.9.6): its bytes."""
    return value.encode() if value.isascii() else BOM_UTF16_BE + value.encode("utf-16-be")

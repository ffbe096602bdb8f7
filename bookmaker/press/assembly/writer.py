"""A PDF file (version 1.7, ISO 32000-1) from numbered objects: object streams and a cross-reference stream, compressed.

The same objects give the same bytes; the file's identifier is a digest of them.
"""

import struct
import zlib
from collections.abc import Iterable, Sequence
from hashlib import blake2b

_ROW = struct.Struct(">BIH")
"""A cross-reference entry: its type, an offset or the number of an object stream, the index in that."""

_HEADER = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"
LEVEL = 4
"""Of compression. 6 takes twice as long, which is felt when one recipe of many has changed, and saves two percent."""


class Writer:
    """Objects go in by number, in any order, each once; `finish` gives the file."""

    def __init__(self) -> None:
        self._out: list[bytes] = [_HEADER]
        self._at = len(_HEADER)
        self._count = 1
        self._rows = bytearray(_ROW.pack(0, 0, 0xFFFF))

    def reserve(self, count: int = 1) -> int:
        """The first of `count` new object numbers in a row."""
        self._count += count
        self._rows += bytes(count * _ROW.size)
        return self._count - count

    def stream(self, number: int, dictionary: bytes, data: bytes) -> None:
        """A stream: its dictionary's text without the closing brackets and `Length`, its data as it is."""
        self._note(number, 1, self._at, 0)
        self._write(
            b"%d 0 obj\n%b/Length %d>>\nstream\n%b\nendstream\nendobj\n" % (number, dictionary, len(data), data)
        )

    def compressed(self, number: int, data: bytes, dictionary: bytes = b"<<") -> None:
        """A stream whose data is yet to be compressed."""
        self.stream(number, dictionary + b"/Filter /FlateDecode", zlib.compress(data, LEVEL))

    def pack(self, numbers: Sequence[int], starts: Iterable[int], text: bytes) -> None:
        """Objects that are no streams, in one object stream (7.5.7): their text in a row, and where each one starts."""
        holder = self.reserve()
        head = b" ".join(b"%d %d" % pair for pair in zip(numbers, starts, strict=True))
        dictionary = b"<</Type /ObjStm/N %d/First %d" % (len(numbers), len(head) + 1)
        self.compressed(holder, head + b"\n" + text, dictionary)
        for index, number in enumerate(numbers):
            self._note(number, 2, holder, index)

    def finish(self, root: int, info: int) -> bytes:
        """The file, with its catalogue and information dictionary by number."""
        number = self.reserve()
        self._note(number, 1, self._at, 0)
        digest = blake2b(digest_size=16)
        for part in self._out:
            digest.update(part)
        name = digest.hexdigest().encode()
        start = self._at
        self.stream(
            number,
            b"<</Type /XRef/Size %d/W [1 4 2]/Root %d 0 R/Info %d 0 R/ID [<%b><%b>]/Filter /FlateDecode"
            b"/DecodeParms <</Predictor 12/Columns %d>>" % (self._count, root, info, name, name, _ROW.size),
            zlib.compress(_predicted(bytes(self._rows), _ROW.size), LEVEL),
        )
        self._write(b"startxref\n%d\n%%%%EOF\n" % start)
        return b"".join(self._out)

    def _note(self, number: int, kind: int, place: int, index: int) -> None:
        _ROW.pack_into(self._rows, number * _ROW.size, kind, place, index)

    def _write(self, data: bytes) -> None:
        self._out.append(data)
        self._at += len(data)


def _predicted(rows: bytes, width: int) -> bytes:
    """Each row less the one above, as the PNG filter Up has it: neighbouring entries differ by one or nothing."""
    above = bytes(width) + rows[:-width]
    # Bytewise subtraction on one long integer: the high bits are kept from borrowing across bytes
    size = len(rows)
    high = int.from_bytes(b"\x80" * size, "big")
    one, other = int.from_bytes(rows, "big"), int.from_bytes(above, "big")
    difference = (((one | high) - (other & ~high)) ^ ((one ^ ~other) & high)).to_bytes(size, "big")
    out = bytearray(size // width * (width + 1))
    out[:: width + 1] = b"\x02" * (size // width)
    for column in range(width):
        out[column + 1 :: width + 1] = difference[column::width]
    return bytes(out)

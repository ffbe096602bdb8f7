"""Pieces merged into one file: their objects under new numbers, and the trees that span them.

A PDF file's trees are here: of pages (ISO 32000-1, 7.7.3), of named destinations (7.9.6, 12.3.2.3), of the outline
(12.3.3), of tags (14.7.2) with the parent tree (14.7.4.4), whose leaves the pieces bring along.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import accumulate

from bookmaker.press.assembly import outline
from bookmaker.press.assembly.carrier import Carrier
from bookmaker.press.assembly.filling import filled
from bookmaker.press.assembly.fragment import Fragment
from bookmaker.press.assembly.imposition import Placed, impose, page_count, page_numbers
from bookmaker.press.assembly.objects import BLOCK, OUTSIDE, Block, StreamObject, in_name_order, number, text
from bookmaker.press.assembly.writer import Writer


def merge(pieces: Sequence[Fragment], carrier: Carrier, said: Callable[[int], None]) -> bytes:
    """The book's PDF file. `said` hears the number of each piece done."""
    return _Merge([*impose([piece.description for piece in pieces])], carrier).file(pieces, said)


class _Merge:
    def __init__(self, placed: Sequence[Placed], carrier: Carrier) -> None:
        self._placed, self._carrier = placed, carrier
        self._pages = page_numbers(placed)
        self._writer = writer = Writer()
        self._catalogue, self._page_tree, self._names, self._outline = (writer.reserve() for _ in range(4))
        self._tag_root, self._document, self._parent_tree = (writer.reserve() for _ in range(3))
        self._carried = writer.reserve(carrier.objects)
        self._bases = [writer.reserve(each.piece.objects) for each in placed]
        self._blanks = {each.first: writer.reserve() for each in placed if each.blank}

    def file(self, pieces: Sequence[Fragment], said: Callable[[int], None]) -> bytes:
        self._write_carrier()
        keys = 0
        for at, piece in enumerate(pieces):
            self._write_piece(at, piece, keys)
            keys += piece.description.keys
            said(at + 1)
        self._pack([*self._trees(keys)])
        return self._writer.finish(self._catalogue, self._carried + self._carrier.info - OUTSIDE)

    def _write_carrier(self) -> None:
        carrier = self._carrier
        self._write(
            carrier.blocks, carrier.streams, [0] * OUTSIDE + [*range(self._carried, self._carried + carrier.objects)]
        )

    def _write_piece(self, at: int, fragment: Fragment, keys: int) -> None:
        piece, bulk = fragment.description, fragment.bulk()
        first = self._placed[at].first
        table = [
            self._carried + self._carrier.fonts - OUTSIDE, self._document, self._page_tree,
            *range(self._bases[at], self._bases[at] + piece.objects),
            *range(keys + piece.keys - 1, keys - 1, -1),
        ]  # fmt: skip
        self._write(bulk.blocks, bulk.streams, table)
        for page, (place, content) in enumerate(zip(piece.contents, bulk.contents, strict=True)):
            drawn = filled(content, piece.figures, first + page, self._pages)
            self._writer.compressed(self._bases[at] + place - OUTSIDE, drawn)

    def _write(self, blocks: Sequence[Block], streams: Sequence[StreamObject], table: Sequence[int]) -> None:
        for block in blocks:
            self._writer.pack([table[place] for place in block.places], block.starts, block.filled(table))
        for stream in streams:
            dictionary = stream.dictionary
            self._writer.stream(table[dictionary.places[0]], dictionary.filled(table).removesuffix(b">>"), stream.data)

    def _trees(self, keys: int) -> Iterator[tuple[int, bytes]]:
        """The objects that are nobody's piece."""
        yield from self._blank_pages()
        pages = b" ".join(b"%d 0 R" % page for page in self._page_objects())
        yield self._page_tree, b"<</Type /Pages/Count %d/Kids [%b]>>" % (page_count(self._placed), pages)
        names = self._named_destinations()
        if names:
            yield self._names, b"<</Names [%b]>>" % names
        items = outline.tree(
            (mark, self._bases[at] + mark.page) for at, each in enumerate(self._placed) for mark in each.piece.bookmarks
        )
        for item in outline.in_order(items):
            item.number = self._writer.reserve()
        if items:
            yield from outline.objects(items, self._outline)
        yield from self._tags(keys)
        metadata = self._carried + self._carrier.metadata - OUTSIDE
        yield (
            self._catalogue,
            (
                b"<</Type /Catalog/Pages %d 0 R%b%b/StructTreeRoot %d 0 R/Metadata %d 0 R%b>>"
                % (
                    self._page_tree,
                    b"/Names <</Dests %d 0 R>>" % self._names if names else b"",
                    b"/Outlines %d 0 R" % self._outline if items else b"",
                    self._tag_root,
                    metadata,
                    self._carrier.catalogue,
                )
            ),
        )

    def _blank_pages(self) -> Iterator[tuple[int, bytes]]:
        for each in self._placed:
            if each.blank:
                width, height = each.piece.sizes[0]
                box = b"[0 0 %b %b]" % (number(width), number(height))
                yield (
                    self._blanks[each.first],
                    (
                        b"<</Type /Page/Parent %d 0 R/MediaBox %b/TrimBox %b/Resources <<>>/Tabs /S>>"
                        % (self._page_tree, box, box)
                    ),
                )

    def _page_objects(self) -> Iterator[int]:
        for base, each in zip(self._bases, self._placed, strict=True):
            if each.blank:
                yield self._blanks[each.first]
            yield from range(base, base + len(each.piece.sizes))

    def _named_destinations(self) -> bytes:
        found: dict[str, bytes] = {}
        for base, each in zip(self._bases, self._placed, strict=True):
            for name, (page, x, y) in each.piece.anchors.items():
                found.setdefault(name, b"[%d 0 R /XYZ %b %b 0]" % (base + page, number(x), number(y)))
        return b" ".join(b"%b %b" % (text(name), found[name]) for name in sorted(found, key=in_name_order))

    def _tags(self, keys: int) -> Iterator[tuple[int, bytes]]:
        yield self._tag_root, b"<</Type /StructTreeRoot/K [%d 0 R]/ParentTree %d 0 R/ParentTreeNextKey %d>>" % (
            self._document, self._parent_tree, keys,
        )  # fmt: skip
        offsets = [(base - OUTSIDE, each.piece) for base, each in zip(self._bases, self._placed, strict=True)]
        kids = b" ".join(b"%d 0 R" % (base + kid) for base, piece in offsets for kid in piece.kids)
        yield self._document, b"<</Type /StructElem/S /Document/P %d 0 R/K [%b]>>" % (self._tag_root, kids)
        leaves = b" ".join(b"%d 0 R" % (base + piece.parents) for base, piece in offsets)
        yield self._parent_tree, b"<</Kids [%b]>>" % leaves

    def _pack(self, objects: Sequence[tuple[int, bytes]]) -> None:
        for first in range(0, len(objects), BLOCK):
            numbers, texts = zip(*objects[first : first + BLOCK], strict=True)
            starts = [0, *accumulate(len(each) + 1 for each in texts[:-1])]
            self._writer.pack(numbers, starts, b"\n".join(texts))

"""The outline (bookmarks) as PDF objects (ISO 32000-1, 12.3.3)."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from bookmaker.press.assembly.fragment import Bookmark
from bookmaker.press.assembly.objects import number, text


@dataclass(slots=True, eq=False)
class Item:
    """An outline item: its bookmark, the object number of its page, those below it; later its own number."""

    bookmark: Bookmark
    page: int
    below: list["Item"] = field(default_factory=list)
    number: int = 0

    @property
    def is_closed(self) -> bool:
        """Whether what is below it is hidden at first."""
        return self.bookmark.state == "closed"

    @property
    def shown(self) -> int:
        """How many items below it show when it is open."""
        return shown(self.below)


def tree(bookmarks: Iterable[tuple[Bookmark, int]]) -> list[Item]:
    """Bookmarks in reading order, with their pages' object numbers, as a tree by their levels."""
    top: list[Item] = []
    path: list[Item] = []
    for bookmark, page in bookmarks:
        item = Item(bookmark, page)
        while path and path[-1].bookmark.level >= bookmark.level:
            path.pop()
        (path[-1].below if path else top).append(item)
        path.append(item)
    return top


def shown(items: Iterable[Item]) -> int:
    """How many items show, those below open ones included."""
    return sum(1 + (0 if item.is_closed else item.shown) for item in items)


def in_order(items: Iterable[Item]) -> Iterator[Item]:
    """All items, each before those below it."""
    for item in items:
        yield item
        yield from in_order(item.below)


def objects(items: list[Item], root: int) -> Iterator[tuple[int, bytes]]:
    """Every item as an object, by number, then the root; items must have their numbers."""
    yield from _siblings(items, root)
    yield root, b"<</Count %d%b>>" % (shown(items), _ends(items))


def _siblings(items: list[Item], parent: int) -> Iterator[tuple[int, bytes]]:
    for at, item in enumerate(items):
        mark = item.bookmark
        parts = [
            b"<</Title %b/Dest [%d 0 R /XYZ %b %b 0]" % (text(mark.label), item.page, number(mark.x), number(mark.y)),
            b"/Count %d" % (-item.shown if item.is_closed else item.shown),
            b"/Prev %d 0 R" % items[at - 1].number if at else b"",
            b"/Next %d 0 R" % items[at + 1].number if at + 1 < len(items) else b"",
            _ends(item.below),
            b"/Parent %d 0 R>>" % parent,
        ]
        yield item.number, b"".join(parts)
        yield from _siblings(item.below, item.number)


def _ends(items: list[Item]) -> bytes:
    return b"/First %d 0 R/Last %d 0 R" % (items[0].number, items[-1].number) if items else b""

"""The ledger: what the last build came to, entry by entry, so that the next one sees what has changed.

It holds digests and short texts only. What they stand for lies in the store, and is fetched where it is needed.
"""

import marshal
from dataclasses import dataclass, field, fields
from typing import Any, NamedTuple

LEDGER = "now:ledger"
"""Its key in the store: there is one, the last."""


class DocumentEntry(NamedTuple):
    """A recipe file. `face` stands for what other recipes may see of it; without a recipe there are `claims`."""

    digest: str
    face: str
    sizes: tuple[str, ...]
    claims: tuple[str, ...] | None
    problems: bytes


class BoundEntry(NamedTuple):
    """A recipe in one size, bound. `own` stands for all of it, `seen` for what other recipes may read of it.

    `whole` says that it can be computed as far as it alone is concerned; `needs` are the recipes that must be there.
    `taught` is its level in the workbook, 0 where it is not taught.
    """

    document: str
    reads: tuple[str, ...]
    own: str
    seen: str
    whole: bool
    needs: tuple[str, ...]
    problems: bytes
    faults: bytes
    title: str
    section: str
    kind: str
    status: str
    gives: tuple[str, ...]
    photo: str
    taught: int


class FiguresEntry(NamedTuple):
    """A recipe's figures. `parts` stand for each kind of figure, `all` for all of them together."""

    own: str
    reads: tuple[str, ...]
    parts: tuple[str, ...]
    all: str
    findings: bytes
    components: tuple[str, ...]
    co_products: tuple[tuple[str, str], ...]
    items: tuple[str, ...]
    paid: tuple[str, ...]


class PagesEntry(NamedTuple):
    """A recipe's two pages and its cards. `grams` are what it takes of stores items, `holds` what is in it.

    `bench` stands for its bench card, whose `code` and `parts` are printed or issued; nothing where it has none.
    `revised` is the day of its revision.
    """

    made_from: str
    reads: tuple[str, ...]
    view: str
    working: str
    card: str
    cost: str
    matrix: str
    grams: tuple[tuple[str, str], ...]
    holds: tuple[str, ...]
    bench: str
    code: str
    parts: tuple[str, ...]
    revised: str


class ItemEntry(NamedTuple):
    """A stores item's page and card."""

    made_from: str
    reads: tuple[str, ...]
    view: str
    card: str


class PhotoEntry(NamedTuple):
    """A photo: how its file is known again, a digest of its bytes, and the widths in pixels that pages offer."""

    file: str
    content: str
    widths: tuple[int, ...]


class LabelEntry(NamedTuple):
    """A recipe's label: what was looked up for it, and what stands for all that it says."""

    reads: tuple[str, ...]
    content: str


class AlarmEntry(NamedTuple):
    """A label against the one that was issued: what stands for each, and what is different."""

    label: str
    issued: str
    alarms: bytes


class PageEntry(NamedTuple):
    """A page as it was set: what it was made from, and what its bytes came to."""

    made_from: str
    content: str


@dataclass(slots=True)
class Ledger:
    """The last build, all of it; empty where there was none."""

    keys: dict[str, str] = field(default_factory=dict)
    """Digests of what there is one of: the house, the larder, the theme ..."""
    cautions: dict[str, str] = field(default_factory=dict)
    terms: dict[str, str] = field(default_factory=dict)
    documents: dict[str, DocumentEntry] = field(default_factory=dict)
    faces: dict[str, str] = field(default_factory=dict)
    """What others see of each recipe file, by recipe."""
    readable: list[str] = field(default_factory=list)
    """The recipe files, and what could not be read of them."""
    others: list[str] = field(default_factory=list)
    """Pictures, and whatever else lies in the book's folder."""
    bound: dict[str, BoundEntry] = field(default_factory=dict)
    order: list[str] = field(default_factory=list)
    """The recipes that can be computed, components first."""
    cycles: bytes = b""
    sizes: dict[str, tuple[str, ...]] = field(default_factory=dict)
    figures: dict[str, FiguresEntry] = field(default_factory=dict)
    unseen: list[str] = field(default_factory=list)
    """Changes that the team book's pages have not been made from yet."""
    pages: dict[str, PagesEntry] = field(default_factory=dict)
    items: dict[str, ItemEntry] = field(default_factory=dict)
    lists: dict[str, PageEntry] = field(default_factory=dict)
    """The pages about the whole book: what they were made from, and what they show."""
    photos: dict[str, PhotoEntry] = field(default_factory=dict)
    """The photos that pages show, by their path in the book."""
    labels: dict[str, LabelEntry] = field(default_factory=dict)
    """The labels that are known, by recipe."""
    alarms: dict[str, AlarmEntry] = field(default_factory=dict)
    """The products of which a label was issued."""
    set: dict[str, PageEntry] = field(default_factory=dict)
    """Every file of the team book, by its path: what it was made from, and a digest of its bytes."""


_ENTRIES: dict[str, Any] = {
    "documents": DocumentEntry,
    "bound": BoundEntry,
    "figures": FiguresEntry,
    "pages": PagesEntry,
    "items": ItemEntry,
    "lists": PageEntry,
    "photos": PhotoEntry,
    "labels": LabelEntry,
    "alarms": AlarmEntry,
    "set": PageEntry,
}


def write_ledger(ledger: Ledger) -> bytes:
    """The ledger as bytes."""
    plain = []
    for each in fields(ledger):
        value = getattr(ledger, each.name)
        plain.append({key: tuple(entry) for key, entry in value.items()} if each.name in _ENTRIES else value)
    return marshal.dumps(plain)


def read_ledger(content: bytes | None) -> Ledger:
    """The ledger that was written; an empty one for no bytes. The store vouches for the bytes."""
    if content is None:
        return Ledger()
    read: list[Any] = []
    plain: Any = marshal.loads(content)  # noqa: S302 - the store has checked it
    for each, value in zip(fields(Ledger), plain, strict=True):
        entry = _ENTRIES.get(each.name)
        read.append({key: entry._make(told) for key, told in value.items()} if entry else value)
    return Ledger(*read)

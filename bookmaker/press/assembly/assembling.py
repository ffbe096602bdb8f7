"""A printed edition as one PDF, put together from pieces that a store may hold already."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from markupsafe import Markup

from bookmaker.press.assembly.carrier import carry, letters, union
from bookmaker.press.assembly.fragment import Fragment, Stray
from bookmaker.press.assembly.imposition import impose, page_count, page_numbers
from bookmaker.press.assembly.merge import merge
from bookmaker.press.assembly.rooms import fit, guessed_pages, widened, with_rooms
from bookmaker.press.assembly.setter import WORTH_SPREADING, prepare
from bookmaker.press.assembly.sheet import FOLIO, PART, Sheet, Unfit, piece_sheet
from bookmaker.press.assembly.stamp import key
from bookmaker.press.pdf import to_pdf
from bookmaker.press.piece import Piece

ROUNDS = 3
"""How often pieces are laid out again for numbers that turn out shorter; after that only for longer ones."""


class Store(Protocol):
    """Bytes by key, kept from build to build. It may lose any of them at any time."""

    def get(self, key: str) -> bytes | None:
        """What was put under the key, or None."""

    def put(self, key: str, content: bytes) -> None:
        """Keep something."""


class Spread(Protocol):
    """Work on many items, on several processes where there are enough: results in the order of the items."""

    def __call__(
        self,
        prepare: Callable[[Sheet], Callable[[str], bytes]],
        setup: Sheet,
        items: Sequence[str],
        *,
        worth: int,
    ) -> Iterator[bytes]:
        """What `prepare(setup)` makes of each item; fewer items than `worth` stay in this process."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What all pieces of one file have in common.

    `file` is its name, for people; `document` makes a whole HTML document of what is to stand in its body: with its
    title, its author, and whatever else the file is to say of itself.
    """

    file: str
    language: str
    styles: str
    document: Callable[[str], str]


@dataclass(frozen=True, slots=True)
class Shop:
    """What assembling works with: a way to spread work, a store if there is one, and whom to tell.

    `progress` hears what is being done, how much of it is done, how much there is; `complain` hears sentences.
    """

    spread: Spread
    progress: Callable[[str, int, int], None]
    complain: Callable[[str], None]
    store: Store | None = None


def assemble(row: Sequence[Piece], setting: Setting, shop: Shop) -> bytes:
    """The pieces as one PDF, in their order: what `to_pdf` makes of them in one document, in a fraction of the time.

    The same pieces give the same bytes. What the store holds is not laid out again, whichever file it was laid out
    for: a file of one piece costs next to nothing where that piece stands in another file, too. Where the style sheet
    asks for what pieces cannot have, all is laid out in one go, and `complain` hears why.
    """
    try:
        return _assembled(row, setting, shop)
    except Unfit as reason:
        shop.complain(f"bookmaker: {setting.file} is laid out in one go, which takes many times as long: {reason}")
        return to_pdf(setting.document("\n".join(piece.html for piece in row)), setting.styles)


def page_counts(row: Sequence[Piece], setting: Setting, shop: Shop) -> list[int]:
    """How many pages each piece comes to. They are laid out for it, and kept. Raises `Unfit`."""
    fragments = _laid_out(row, piece_sheet(setting.styles), setting, shop)
    return [len(each.description.sizes) for each in fragments]


def _assembled(row: Sequence[Piece], setting: Setting, shop: Shop) -> bytes:
    fragments = _laid_out(row, piece_sheet(setting.styles), setting, shop)
    for sentence in _told(row, fragments):
        shop.complain(sentence)
    fonts = union(font for each in fragments for font in each.fonts())
    carrier = carry(setting.document(letters(fonts)), fonts)
    return merge(fragments, carrier, lambda done: shop.progress(f"{setting.file}: piece", done, len(row)))


def _told(row: Sequence[Piece], fragments: Sequence[Fragment]) -> Iterator[str]:
    """A sentence for each character that our fonts lack, with the first place it stands at."""
    found: dict[str, list[tuple[str, Stray]]] = {}
    for piece, fragment in zip(row, fragments, strict=True):
        for stray in fragment.description.strays:
            found.setdefault(stray.character, []).append((piece.name, stray))
    for character, places in found.items():
        name, stray = places[0]
        more = f" and {len(places) - 1} more" if len(places) > 1 else ""
        words = f" (“{stray.words}”)" if stray.words else ""
        instead = "another font of this machine stands in" if stray.shown else "an empty box is printed"
        yield (
            f"bookmaker: our fonts have no “{character}” (U+{ord(character[0]):04X}); {instead}, in {name}{words}{more}"
        )


def _laid_out(row: Sequence[Piece], sheet: Sheet, setting: Setting, shop: Shop) -> list[Fragment]:
    """The pieces laid out, with room in them for the page numbers that they come to."""
    pages = guessed_pages(row)
    turn = 0
    while True:
        fragments = _set([_alone(piece, setting.language, pages) for piece in row], sheet, setting.file, shop)
        placed = [*impose([each.description for each in fragments])]
        if page_count(placed) >= 10 ** len(FOLIO):
            raise Unfit("it has more pages than folios have figures")
        found = {place: page for place, page in page_numbers(placed).items() if place in pages}
        turn += 1
        wanted = found if turn < ROUNDS else widened(pages, found)
        if fit(pages, wanted):
            return fragments
        pages = wanted


def _set(documents: Sequence[str], sheet: Sheet, file: str, shop: Shop) -> list[Fragment]:
    """Documents laid out, those from the store that it has."""
    keys = [key(html, sheet.css) for html in documents]
    found = {each: kept for each in dict.fromkeys(keys) if (kept := _kept(each, shop.store)) is not None}
    lacking = {each: html for each, html in zip(keys, documents, strict=True) if each not in found}
    if not lacking:
        return [found[each] for each in keys]
    # The longest first, so that none is left over at the end with the other processes idle
    order = sorted(lacking, key=lambda each: -len(lacking[each]))
    made = shop.spread(prepare, sheet, [lacking[each] for each in order], worth=WORTH_SPREADING)
    for done, (each, data) in enumerate(zip(order, made, strict=True), 1):
        fragment = Fragment.from_bytes(data)
        assert fragment is not None, "a piece came back damaged from its process"
        found[each] = fragment
        # Which other fonts a machine has, no key says
        if shop.store is not None and not fragment.description.strays:
            shop.store.put(each, data)
        shop.progress(f"{file}: laying out", done, len(lacking))
    return [found[each] for each in keys]


def _kept(name: str, store: Store | None) -> Fragment | None:
    data = store.get(name) if store is not None else None
    return Fragment.from_bytes(data) if data is not None else None


def _alone(piece: Piece, language: str, pages: Mapping[str, int]) -> str:
    """A piece as a document of its own."""
    part = Markup(' {}="{}"').format(PART, piece.part) if piece.part else ""
    return (
        f'<!DOCTYPE html><html lang="{language}"><head><meta charset="utf-8"><title></title></head>'
        f"<body{part}>{with_rooms(piece.html, pages)}</body></html>"
    )

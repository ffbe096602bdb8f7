"""A page's content with its holes filled."""

from collections.abc import Mapping, Sequence

from bookmaker.press.assembly.content import Content, Slot
from bookmaker.press.assembly.imposition import side
from bookmaker.press.assembly.objects import number


def filled(content: Content, figures: Sequence[Sequence[int]], page: int, pages: Mapping[str, int]) -> bytes:
    """The drawing instructions of the book's page `page`; `pages` has the page of every destination."""

    def shown(slot: Slot) -> str:
        return str(pages[slot.target] if slot.target else page)

    out: list[bytes] = []
    at = 0
    for hole in content.holes:
        if hole.at < at:
            continue  # in a part that is left out
        out.append(content.text[at : hole.at])
        at = hole.at
        if hole.kind == "side":
            at = at if hole.side == side(page) else hole.until
            continue
        slot = content.slots[hole.slot]
        if hole.kind == "number":
            out.extend(b"%04x" % figures[slot.figures][int(each)] for each in shown(slot))
        else:
            out.append(number(hole.x + hole.lean * slot.width * (slot.room - len(shown(slot)))))
    out.append(content.text[at:])
    return b"".join(out)

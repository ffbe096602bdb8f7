"""What assembling relies on within the page engine, beyond its documented interface.

If one of these fails after an upgrade of WeasyPrint or pydyf, the sentence says what has changed; the place to follow
it is named in the test.
"""

import re
from typing import Any

import pydyf
import pytest

from bookmaker.press import pdf
from bookmaker.press.assembly.setter import after_painting
from bookmaker.press.assembly.sheet import MARK

pytestmark = pytest.mark.pdf

HTML = """<!DOCTYPE html><html lang="en"><head><title>Canary</title></head><body><section id="here">
<h1>A loaf</h1><p>Flour and <a href="#elsewhere">water</a>, salt.</p>
<table><thead><tr><th scope="col">g</th></tr></thead><tbody><tr><td>12</td></tr></tbody></table>
<svg xmlns="http://www.w3.org/2000/svg" width="20" height="20"><title>Square</title><rect width="9" height="9"/></svg>
</section></body></html>"""

STYLES = """@page { size: A5; @top-left { content: "Head" } } section { break-before: page }
h1 { bookmark-level: 1; text-align: right } a::after { content: " p. \\200C 000\\200C !"; font-family: "Ledger Sans" }
html { font-family: "Ledger Serif" }"""


class Seen:
    """A small document drawn, and all that was seen of it on the way."""

    def __init__(self) -> None:
        self.document = pdf.Engine(STYLES).render(HTML)
        self.page = self.document.pages[0]
        self.links = list(self.page.links)
        self.page.anchors.setdefault("elsewhere", (0, 0, 0, 0))
        after_painting(self.page, self._painted)
        pdf.write(self.document, self._finished)

    def _painted(self, page: Any, stream: Any) -> None:
        assert page is self.page
        self.tags = dict(getattr(stream, "_tags", {}))
        self.fonts = list(self.document.fonts.values())
        self.document.fonts.clear()
        self.stream = b"\n".join(item if isinstance(item, bytes) else _data(item) for item in stream.stream)

    def _finished(self, document: Any, made: Any) -> None:
        assert document is self.document
        self.pdf = made
        self.objects = list(made.objects)

    def at(self, reference: bytes) -> Any:
        return self.objects[int(reference.split()[0])]


def _data(item: Any) -> bytes:
    return item.encode() if isinstance(item, str) else bytes(item.data)


@pytest.fixture(scope="module")
def seen() -> Seen:
    return Seen()


def test_a_page_is_drawn_by_its_paint_method_and_notes_marked_content_on_the_stream(seen: Seen) -> None:
    assert seen.tags, "Page.paint(stream) no longer leaves {box: {'tag', 'mcid'}} in stream._tags (setter.py)"
    assert all(tag["mcid"] == number for number, tag in enumerate(seen.tags.values())), "MCIDs are not in drawing order"
    texts = [box.text for box in seen.tags if type(box).__name__ == "TextBox"]
    assert texts[0] == "A loaf", "text boxes are not the keys of stream._tags any more (boxes.py)"
    assert "Head" in texts, "margin boxes are not tagged as text any more (boxes.py)"


def test_the_box_tree_has_the_kinds_and_styles_that_are_looked_for(seen: Seen) -> None:
    kinds: dict[str, list[Any]] = {}
    todo = [seen.page._page_box]
    while todo:
        box = todo.pop()
        kinds.setdefault(type(box).__name__, []).append(box)
        todo += getattr(box, "children", ())
    assert {"TextBox", "LineBox", "MarginBox"} <= kinds.keys(), (
        f"boxes are of other kinds now: {sorted(kinds)} (boxes.py)"
    )
    assert kinds["MarginBox"][0].at_keyword == "@top-left", "margin boxes no longer say which they are (boxes.py)"
    assert "right" in {box.style["text_align_all"] for box in kinds["LineBox"]}, (
        "lines no longer say how they are aligned"
    )
    assert "a::after" in {box.element_tag for box in kinds["TextBox"]}, "pseudo-elements are not told by :: any more"
    assert seen.page._page_box.page_type.blank is False, "pages no longer say whether they are blank (boxes.py)"


def test_links_bookmarks_and_anchors_are_on_the_page(seen: Seen) -> None:
    assert {(kind, target) for kind, target, _area, _box in seen.links} == {("internal", "elsewhere")}, (
        "page.links are no longer (kind, target, area, box) (boxes.py, places.py)"
    )
    ((level, label, _place, state),) = seen.page.bookmarks
    assert (level, label, state) == (1, "A loaf", "open"), "page.bookmarks have another shape (places.py)"
    assert len(seen.page.anchors["here"]) == 4, "page.anchors are no longer name → (x, y, x, y) (places.py)"


def test_a_slot_is_drawn_as_noughts_between_marks_that_show_nothing(seen: Seen) -> None:
    text = next(box.text for box in seen.tags if MARK in box.text)
    assert text.endswith(f"{MARK}000{MARK}!"), "the engine changes text round zero width non-joiners (sheet.py)"
    sans = next(font for font in seen.fonts if font.family == "Ledger Sans")
    (zero,) = [b"%04x" % glyph for glyph, letter in sans.to_unicode.items() if letter == "0"]
    drawn = rb"/Span\n<</MCID \d+>>\nBDC\n(?:[^E].*\n)*BT\n1 0 0 -1 \S+ \S+ Tm\n/%b \S+ Tf\n"
    drawn += rb"\[.*>-?0\.0<(?:%b|>-?\d+<){3,}>-?0\.0<.*\] TJ\nET\nEMC"
    assert re.search(drawn % (sans.hash.encode(), zero), seen.stream), (
        "text is drawn by other instructions than content.py looks for:\n" + seen.stream.decode("latin-1")
    )


def test_fonts_can_be_put_aside_before_they_are_embedded(seen: Seen) -> None:
    page = seen.at(b"%d 0 R" % seen.pdf.pages["Kids"][0])
    fonts = seen.at(seen.at(page["Resources"])["Font"])
    assert dict(fonts) == {}, "document.fonts is no longer what build_fonts_dictionary embeds (setter.py)"
    font = seen.fonts[0]
    for name in ("hash", "family", "weight", "style", "to_unicode", "widths", "missing", "file_content", "index"):
        assert hasattr(font, name), f"fonts of the engine have no {name} any more (figures.py)"


def test_the_structure_tree_is_made_of_what_is_merged(seen: Seen) -> None:
    root = seen.at(seen.pdf.catalog["StructTreeRoot"])
    assert len(root["K"]) == 1, "the tags have more than one root"
    assert seen.at(root["K"][0])["S"] == "/Document", "the tags' root is no Document any more (setter.py)"
    numbers = seen.at(root["ParentTree"])["Nums"]
    assert numbers[0] == 0, "the parent tree no longer begins with the first page (objects.py)"
    assert isinstance(numbers[1], list), "a page's entry in the parent tree is no list any more (objects.py)"
    headers = [each for each in seen.objects if isinstance(each, pydyf.Dictionary) and each.get("S") == "/TH"]
    assert re.fullmatch(r"\d+-0-0", headers[0]["ID"].string), "header cells are named in another way (objects.py)"

"""The parts that assemble the book: style sheets for pieces, rooms for numbers, movable objects, the file."""

from io import BytesIO
from typing import Any

import pikepdf
import pydyf
import pytest

from bookmaker.press.assembly.content import Content, Hole, Slot
from bookmaker.press.assembly.figures import UsedFont, ten_figures
from bookmaker.press.assembly.filling import filled
from bookmaker.press.assembly.fragment import Bookmark, Bulk, Description, Fragment, Stray
from bookmaker.press.assembly.imposition import Placed, impose, page_count, page_numbers
from bookmaker.press.assembly.objects import OUTSIDE, Mover, parent_leaf
from bookmaker.press.assembly.outline import in_order, objects, tree
from bookmaker.press.assembly.rooms import DeadLink, fit, guessed_pages, widened, with_rooms
from bookmaker.press.assembly.sheet import Unfit, piece_sheet
from bookmaker.press.assembly.stamp import key
from bookmaker.press.assembly.writer import Writer
from bookmaker.press.fonts import FACES
from bookmaker.press.pdf import font_file
from bookmaker.press.piece import Piece


def test_a_piece_gets_slots_and_both_sides_furniture() -> None:
    sheet = piece_sheet(
        "@page :left { @top-left { content: string(part) } } @page :right { @top-right { content: counter(page) } }"
        " /* counter(pages) */ a.see::after { content: ' p. ' target-counter(attr(href), page) }"
    )
    assert sheet.sides == {"top-left": "left", "top-right": "right"}
    assert ":left" not in sheet.css
    assert ":right" not in sheet.css
    assert 'attr(data-page) "\\200C "' in sheet.css
    assert '"\\200C 0000\\200C "' in sheet.css
    assert "string-set: part attr(data-part)" in sheet.css


@pytest.mark.parametrize(
    ("styles", "why"),
    [
        ("@page :left { margin: 1cm }", "gives left pages a type area of their own"),
        ("@page :left { @top-center { content: 'a' } } @page :right { @top-center { content: 'b' } }", "and for right"),
        ("@page { @top-left { content: 'a' } } @page :left { @top-left { color: red } }", "for one side and for both"),
        ("@page { @bottom-center { content: counter(page) ' of ' counter(pages) } }", "counter(pages"),
        ("a::after { content: target-text(attr(href)) }", "target-text"),
        ("@page chapter:first { @top-left { content: none } }", ":first"),
    ],
)
def test_a_style_that_pieces_cannot_have_is_refused(styles: str, why: str) -> None:
    with pytest.raises(Unfit) as refused:
        piece_sheet(styles)
    assert why in str(refused.value)


def test_links_get_room_for_the_page_that_they_lead_to() -> None:
    assert with_rooms('<a class="see" href="#x">', {"x": 123}) == '<a class="see" href="#x" data-page="000">'
    with pytest.raises(DeadLink):
        with_rooms('<a href="#nowhere">', {})


def test_pages_are_guessed_by_the_length_of_the_text() -> None:
    row = [
        Piece("Cover", "", "<h1>Book</h1>"),
        Piece("Breads", "", '<h1 id="opener">Breads</h1>'),
        Piece("Long", "Breads", f'<p id="long" title="{"x" * 9000}">{"word " * 1500}</p>'),
        Piece("Last", "Breads", '<p id="last">End</p>'),
    ]
    assert guessed_pages(row) == {"opener": 3, "long": 4, "last": 7}


def test_rooms_fit_by_figures_and_in_the_end_only_grow() -> None:
    assert fit({"a": 15, "b": 9}, {"a": 90, "b": 1})
    assert not fit({"a": 15}, {"a": 9})
    assert widened({"a": 15, "b": 9}, {"a": 9, "b": 10}) == {"a": 15, "b": 10}


def _piece(pages: int, start: str = "", **anchors: int) -> Description:
    return Description(
        start=start,
        sizes=[(595.0, 842.0)] * pages,
        anchors={name: (page, 10.0, 20.0) for name, page in anchors.items()},
        bookmarks=[Bookmark(1, "Title", 0, 0.0, 0.0, "open")],
        figures=[tuple(range(10))],
        strays=[Stray("☂", "rain ☂", shown=True)],
        objects=3,
        contents=[OUTSIDE + 1],
        kids=[OUTSIDE],
        parents=OUTSIDE + 2,
        keys=1,
    )


def test_pieces_that_start_on_the_right_get_a_blank_page_before_them() -> None:
    pieces = [_piece(1), _piece(2, "right", a=1), _piece(1), _piece(1, "right", a=0, b=0)]
    placed = [*impose(pieces)]
    assert placed == [
        Placed(pieces[0], 1, blank=False), Placed(pieces[1], 3, blank=True), Placed(pieces[2], 5, blank=False),
        Placed(pieces[3], 7, blank=True),
    ]  # fmt: skip
    assert page_numbers(placed) == {"a": 4, "b": 7}
    assert page_count(placed) == 7


CONTENT = Content(
    b"[LEFT][RIGHT]p. ;  Tm ",
    [
        Hole(0, "side", side="left", until=6),
        Hole(4, "number", slot=0),
        Hole(6, "side", side="right", until=13),
        Hole(16, "number", slot=1),
        Hole(18, "place", slot=0, x=100.0, lean=0.5),
    ],
    [Slot("", 0, 4, 5.0), Slot("there", 0, 2, 5.0)],
)


@pytest.mark.parametrize(
    ("page", "text"),
    [(8, b"[LEF0008T]p. 00010002; 107.5 Tm "), (11, b"[RIGHT]p. 00010002; 105 Tm ")],
)
def test_holes_are_filled(page: int, text: bytes) -> None:
    assert filled(CONTENT, [tuple(range(10))], page, {"there": 12}) == text


def _mover() -> tuple[Any, Mover]:
    """A document of one page with a table header, a picture and a tag that nothing points at."""
    made = pydyf.PDF()
    picture = pydyf.Stream([b"1 0 0 rg", b"%"], {"Type": "/XObject"}, compress=True)
    table = pydyf.Dictionary({"S": "/Table"})
    for each in (picture, table):
        made.add_object(each)
    name = pydyf.String(f"{table.number}-0-1")
    header = pydyf.Dictionary(
        {"S": "/TH", "ID": name, "P": table.reference, "A": pydyf.Dictionary({"Headers": [name]})}
    )
    loose = pydyf.Dictionary({"S": "/Span"})
    page = pydyf.Dictionary({"Type": "/Page", "Parent": made.pages.reference, "StructParents": 0,
                             "Alt": pydyf.String("100 % (7 0 R)"), "X": picture.reference})  # fmt: skip
    for each in (header, loose, page):
        made.add_object(each)
    table["K"] = pydyf.Array([header.reference])
    mover = Mover(made, {made.pages.number: 2})
    mover.take(page.number)
    mover.take(table.number)
    mover.follow()
    parent_leaf([0, [table.reference, loose.reference], 1, table.reference], mover)
    return made, mover


def test_objects_move_to_other_numbers_with_all_that_they_point_at() -> None:
    _made, mover = _mover()
    assert mover.count == 5
    numbers = [900, 901, 902, *range(50, 50 + mover.count), 31, 30]
    (block,) = mover.blocks()
    text = block.filled(numbers)
    parts = [text[start:end].strip() for start, end in zip(block.starts, [*block.starts[1:], None], strict=True)]
    page, table, header, leaf = (b" ".join(part.split()) for part in parts)
    assert page == b"<</Type /Page/Parent 902 0 R/StructParents 30/Alt (100 % \\(7 0 R\\))/X 52 0 R>>"
    assert table == b"<</S /Table/K [ 53 0 R]>>"
    assert header == b"<</S /TH/ID (0000051-0-1)/P 51 0 R/A <</Headers [(0000051-0-1)]>>>>"
    assert leaf == b"<</Limits [ 30 31]/Nums [ 30 [ 51 0 R] 31 51 0 R]>>"
    assert [numbers[place] for place in block.places] == [50, 51, 53, 54]
    (picture,) = mover.streams()
    assert picture.dictionary.filled(numbers) == b"<</Type /XObject/Filter /FlateDecode>>"


def test_a_fragment_comes_back_from_its_bytes_and_damage_is_seen() -> None:
    _made, mover = _mover()
    fonts = [UsedFont("ABCDEF", "Ledger Sans", 400, 0, {1: "é", 2: "0"}, {1: 500, 2: 497}, {9731: 3})]
    fragment = Fragment.of(_piece(1, "right", a=0), fonts, Bulk([CONTENT], mover.blocks(), mover.streams()))
    data = fragment.to_bytes()
    again = Fragment.from_bytes(data)
    assert again is not None
    assert again.to_bytes() == data
    assert again.bulk() == fragment.bulk() == Bulk([CONTENT], [*mover.blocks()], [*mover.streams()])
    assert again.fonts() == fonts
    assert again.description.bookmarks == fragment.description.bookmarks
    for damaged in (data[:-1], data[:40] + b"?" + data[41:], b"", b"something else altogether"):
        assert Fragment.from_bytes(damaged) is None


def test_a_file_of_many_objects_opens() -> None:
    writer = Writer()
    catalogue, pages, page, content, info = (writer.reserve() for _ in range(5))
    others = [writer.reserve() for _ in range(700)]
    texts = [b"<</Type /Catalog/Pages %d 0 R>>" % pages, b"<</Type /Pages/Count 1/Kids [%d 0 R]>>" % page,
             b"<</Type /Page/Parent %d 0 R/MediaBox [0 0 9 9]/Resources <<>>/Contents %d 0 R/Others [%b]>>"
             % (pages, content, b" ".join(b"%d 0 R" % each for each in others)),
             b"<</Title (Book)>>", *(b"%d" % each for each in others)]  # fmt: skip
    starts = [sum(len(text) + 1 for text in texts[:at]) for at in range(len(texts))]
    writer.compressed(content, b"0 0 9 9 re f")
    writer.pack([catalogue, pages, page, info, *others], starts, b"\n".join(texts))
    file = writer.finish(catalogue, info)
    with pikepdf.open(BytesIO(file)) as opened:
        assert not opened.check_pdf_syntax()
        assert [int(each) for each in opened.pages[0].obj.Others] == others
        assert opened.pages[0].Contents.read_bytes() == b"0 0 9 9 re f"
        assert str(opened.docinfo.Title) == "Book"


def test_the_outline_nests_by_level_and_counts_what_shows() -> None:
    marks = (
        (3, "deep", "open"),
        (2, "part", "closed"),
        (3, "leaf", "open"),
        (3, "leaf 2", "open"),
        (2, "part 2", "open"),
    )
    items = tree((Bookmark(level, words, 0, 1.0, 2.0, state), 7) for level, words, state in marks)
    assert [(item.bookmark.label, len(item.below)) for item in items] == [("deep", 0), ("part", 2), ("part 2", 0)]
    for number, item in enumerate(in_order(items), 11):
        item.number = number
    made = dict(objects(items, 10))
    assert made[10] == b"<</Count 3/First 11 0 R/Last 15 0 R>>"
    assert b"/Count -2" in made[12]
    assert made[14] == b"<</Title (leaf 2)/Dest [7 0 R /XYZ 1 2 0]/Count 0/Prev 13 0 R/Parent 12 0 R>>"


@pytest.mark.parametrize("face", FACES, ids=lambda face: face.source)
def test_the_books_figures_are_all_of_one_width(face: Any) -> None:
    from fontTools.ttLib import TTFont

    file = font_file(face.package, face.source)
    font = TTFont(file)
    zero = font.getGlyphID(font.getBestCmap()[ord("0")])
    glyphs, widths = ten_figures(file.read_bytes(), 0, zero)
    assert glyphs[0] == zero
    assert len(set(glyphs)) == 10
    assert len(set(widths)) == 1


def test_figures_that_a_font_feature_puts_in_their_place_are_found() -> None:
    from fontTools.ttLib import TTFont

    face = next(face for face in FACES if "Sans" in face.family)
    file = font_file(face.package, face.source)
    font = TTFont(file)
    (feature,) = {each.Feature.LookupListIndex[0] for each in font["GSUB"].table.FeatureList.FeatureRecord
                  if each.FeatureTag == "onum"}  # fmt: skip
    (table,) = font["GSUB"].table.LookupList.Lookup[feature].SubTable
    mapping = getattr(table, "ExtSubTable", table).mapping
    plain = [font.getBestCmap()[ord(each)] for each in "0123456789"]
    glyphs, _widths = ten_figures(file.read_bytes(), 0, font.getGlyphID(mapping[plain[0]]))
    assert [font.getGlyphName(glyph) for glyph in glyphs] == [mapping.get(name, name) for name in plain]


def test_a_key_changes_with_html_and_style_and_where_one_ends() -> None:
    keys = {key("ab", "c"), key("a", "bc"), key("b", "c"), key("ab", "d")}
    assert len(keys) == 4
    assert key("ab", "c") in keys

"""Plain text tables: flush numbers, wrapped words, never wider than the terminal."""

from hypothesis import given
from hypothesis import strategies as st

from bookmaker.workshop.terminal.table import Column, paragraph, table, width_of


def test_numbers_stand_flush_right_under_their_heading() -> None:
    shown = table((Column("item"), Column("g", right=True)), [("plain flour", "480"), ("fine salt", "5.5")])
    assert shown.splitlines() == [
        "item           g",
        "───────────  ───",
        "plain flour  480",
        "fine salt    5.5",
    ]


def test_a_column_with_nothing_in_it_is_left_out() -> None:
    shown = table((Column("item"), Column(), Column("g", right=True)), [("flour", "", "480")])
    assert shown.splitlines()[-1] == "flour  480"


def test_words_wrap_when_room_is_short() -> None:
    shown = table(
        (Column("item", wraps=True), Column("g", right=True)), [("a very long name that must wrap", "480")], width=20
    )
    assert shown.splitlines() == [
        "item               g",
        "───────────────  ───",
        "a very long      480",
        "name that must",
        "wrap",
    ]


def test_wide_and_combining_characters_take_their_cells() -> None:
    assert width_of("sablé") == width_of("sable\N{COMBINING ACUTE ACCENT}") == 5
    assert width_of("抹茶") == 4


WORDS = st.text(st.characters(codec="latin-1", categories=("L", "N")), min_size=1, max_size=9)


@given(st.lists(st.tuples(st.lists(WORDS, min_size=1, max_size=12).map(" ".join), WORDS), min_size=1, max_size=8))
def test_never_wider_than_asked_for(rows: list[tuple[str, str]]) -> None:
    shown = table((Column("name", wraps=True), Column("amount", right=True)), rows, width=60)
    assert all(width_of(line) <= 60 for line in shown.splitlines())


def test_a_paragraph_hangs() -> None:
    assert paragraph("one two three", indent=2, hanging=2, width=10).splitlines() == ["  one two", "    three"]

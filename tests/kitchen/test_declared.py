"""Two ingredient lists held against each other: every change is told, and nothing else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.kitchen.declared import Entry, differences, entries_of

LECITHINS = Entry("emulsifier: lecithins", "", (Entry("SOYBEANS"),))


def said(before: str, now: str) -> list[str]:
    return [each.said for each in differences(before, now)]


@pytest.mark.parametrize(
    ("text", "entries"),
    [
        ("", ()),
        ("WHEAT flour, sugar.", (Entry("WHEAT flour"), Entry("sugar"))),
        ("apricots 12 %, sugar", (Entry("apricots", "12 %"), Entry("sugar"))),
        ("apricots (12.5 %)", (Entry("apricots", "12.5 %"),)),
        (
            "dark chocolate 30 % (cocoa mass, emulsifier: lecithins (SOYBEANS)), salt",
            (Entry("dark chocolate", "30 %", (Entry("cocoa mass"), LECITHINS)), Entry("salt")),
        ),
        ("nougat [HAZELNUTS 5 %, sugar] 8 %", (Entry("nougat", "8 %", (Entry("HAZELNUTS", "5 %"), Entry("sugar"))),)),
        ("dark chocolate (HAZELNUTS) 49 % (cocoa mass)",
         (Entry("dark chocolate", "49 %", (Entry("HAZELNUTS"), Entry("cocoa mass"))),)),
        ("butter (MILK) 30 %", (Entry("butter", "30 %", (Entry("MILK"),)),)),
        ("not closed (sugar", (Entry("not closed", "", (Entry("sugar"),)),)),
        ("ham 110 g per 100 g, salt", (Entry("ham", "110 g per 100 g"), Entry("salt"))),
        ("acid: E330, sugar 1,5 %", (Entry("acid: E330"), Entry("sugar", "1,5 %"))),
    ],
)  # fmt: skip
def test_lists_are_taken_apart(text: str, entries: tuple[Entry, ...]) -> None:
    assert entries_of(text) == entries


@pytest.mark.parametrize(
    ("before", "now", "expected"),
    [
        ("sugar, salt", "sugar, salt", []),
        ("sugar, salt", "sugar, honey, salt", ["honey is new"]),
        ("sugar, honey, salt", "sugar, salt", ["honey is gone"]),
        ("sugar, BUTTER, salt", "BUTTER, sugar, salt", ["BUTTER stands in another place"]),
        ("apricots 12 %, sugar", "apricots 14 %, sugar", ["apricots goes from 12 % to 14 %"]),
        ("apricots, sugar", "apricots 14 %, sugar", ["apricots goes from no quantity to 14 %"]),
        ("apricots 14 %, sugar", "apricots, sugar", ["apricots goes from 14 % to none"]),
        ("chocolate (cocoa mass, sugar)", "chocolate (sugar, cocoa mass, salt)",
         ["salt is new in chocolate", "sugar stands in another place in chocolate"]),
        ("butter, sugar", "BUTTER, sugar", ["it is worded otherwise"]),
        ("sugar, salt", "sugar; salt", ["it is worded otherwise"]),
    ],
)  # fmt: skip
def test_changes_are_told(before: str, now: str, expected: list[str]) -> None:
    assert said(before, now) == expected


_word = st.sampled_from(["sugar", "salt", "MILK", "cocoa mass", "honey", "WHEAT flour", "yeast"])
_list = st.lists(_word, unique=True).map(", ".join)


@given(_list, _list)
def test_two_lists_differ_in_something_exactly_if_they_are_not_the_same(before: str, now: str) -> None:
    assert bool(said(before, now)) == (before != now)


@given(_list, _list)
def test_what_is_new_one_way_is_gone_the_other_way(before: str, now: str) -> None:
    there, back = said(before, now), said(now, before)
    assert {each.removesuffix(" is new") for each in there if each.endswith(" is new")} == {
        each.removesuffix(" is gone") for each in back if each.endswith(" is gone")
    }


@given(st.text(max_size=80), st.text(max_size=80))
def test_any_text_can_be_compared(before: str, now: str) -> None:
    assert bool(differences(before, now)) == (before != now)

"""The register bound to the recipes of a book: what counts, what moved, what is gone."""

from dataclasses import replace
from datetime import date

import pytest

from bookmaker.model.codes import ALPHABET, LENGTH, content_code
from bookmaker.model.refs import RecipeRef
from bookmaker.model.register import IssuedCard, Register, one_line
from bookmaker.problems.anchors import Anchor
from bookmaker.reading.files import Document
from bookmaker.reading.register import COLUMNS, Issued, bind_register, read_register
from tests.support import make

CUSTARD, LARGE, SMALL = make.ref("creams/custard"), make.ref("tarts/tart", "24 cm"), make.ref("tarts/tart", "8 cm")
TITLES = {CUSTARD: "Custard", LARGE: "Almond tart", SMALL: "Almond tart"}


def card(ref: RecipeRef, title: str, day: int, code: str = "7K2M90XA") -> IssuedCard:
    at = Anchor("issued.csv", (day,))
    return IssuedCard(code, ref, title, 1, date(2026, 10, day), "Ada", (("weights", "3F"),), at)


def bound(*records: Issued, unread: tuple[str, ...] = ()) -> tuple[Register, list[str]]:
    register, problems = bind_register(records, TITLES, unread)
    return register, [problem.code for problem in problems]


def test_what_was_issued_last_counts_wherever_it_stands() -> None:
    late, early = card(CUSTARD, "Custard", 9, "7K2M90XB"), card(CUSTARD, "Custard", 2)
    register, problems = bound(late, early)
    assert register.cards == (early, late)
    assert register.card(CUSTARD) == late
    assert register.last_cards() == {CUSTARD: late}
    assert problems == []


def test_of_one_day_the_last_line_counts() -> None:
    first, second = card(CUSTARD, "Custard", 2), card(CUSTARD, "Custard", 2, "7K2M90XB")
    assert bound(first, second)[0].card(CUSTARD) == second
    # and the first one again is no repetition
    assert bound(first, second, first) == (Register((first, second, first)), [])


def test_the_same_twice_in_a_row_counts_once() -> None:
    once = card(CUSTARD, "Custard", 2)
    assert bound(once, once) == (Register((once,)), ["issued-twice"])


@pytest.mark.parametrize(
    ("named", "title", "meant"),
    [
        (CUSTARD, "Custard", CUSTARD),
        (CUSTARD, "Called otherwise once", CUSTARD),
        (make.ref("moved/custard"), "custard", CUSTARD),
        (make.ref("tarts/tart"), "Almond tart", LARGE),  # issued before there were sizes
        (make.ref("moved/tart", "8 cm"), "Almond tart", SMALL),
        (make.ref("moved/tart"), "Almond tart", LARGE),
    ],
)
def test_a_recipe_is_known_by_its_path_or_else_by_its_title(named: RecipeRef, title: str, meant: RecipeRef) -> None:
    register, problems = bound(card(named, title, 2))
    assert [each.recipe for each in register.cards] == [meant]
    assert problems == []


@pytest.mark.parametrize(
    ("named", "title"),
    [
        (make.ref("creams/curd"), "Lemon curd"),
        (make.ref("tarts/tart", "12 cm"), "Almond tart"),
        (make.ref("moved/tart", "12 cm"), "Almond tart"),
    ],
)
def test_what_is_gone_is_noted_once_and_stays_in_the_register(named: RecipeRef, title: str) -> None:
    records = card(named, title, 2), card(named, title, 3, "7K2M90XB")
    register, problems = bound(*records)
    assert register.cards == records
    assert problems == ["issued-unknown"]


def test_a_recipe_that_could_not_be_read_is_not_gone() -> None:
    assert bound(card(make.ref("creams/curd"), "Lemon curd", 2), unread=("creams/curd",))[1] == []


@pytest.mark.parametrize("text", ["", " \n\n", ",".join(COLUMNS), ",".join(COLUMNS) + "\n\n\n"])
def test_a_register_of_nothing_is_nothing_wrong(text: str) -> None:
    found, problems = read_register(Document("issued.csv", text, ""))
    assert (found.records, problems) == ((), [])


def test_columns_may_stand_in_any_order() -> None:
    fields = dict.fromkeys(COLUMNS, "") | {
        "what": "Card", "recipe": "creams/custard", "title": "Custard", "revision": "3", "on": "2026-10-02",
        "by": "Ada", "code": "7K2M90XA", "parts": '"weights 3F0A, the rest 9A"',
    }  # fmt: skip
    columns = sorted(fields)
    text = f"{','.join(columns)}\n{','.join(fields[name] for name in columns)}\n"
    found, problems = read_register(Document("issued.csv", text, ""))
    assert problems == []
    expected = replace(card(CUSTARD, "Custard", 2), revision=3, parts=(("weights", "3F0A"), ("the rest", "9A")))
    assert found.records == (expected,)


def test_codes_stand_for_their_content_and_are_hard_to_misread() -> None:
    codes = {content_code(*texts) for texts in [("a",), ("b",), ("a", ""), ("", "a"), ("ab",), ("a", "b"), ()]}
    assert len(codes) == 7
    assert all(len(code) == LENGTH and set(code) <= set(ALPHABET) for code in codes)
    assert set("ILOU").isdisjoint(ALPHABET)
    assert len(set(ALPHABET)) == 32
    # what was printed on cards must stand for the same for good
    assert content_code("Almond sablé", "480") == "T84DJT6R"


def test_a_text_on_one_line() -> None:
    assert one_line(" a\r\n\tb\u2028c  d ") == "a b c d"

"""A price list that cannot be read makes every item unpriced; that is one problem, not a hundred."""

from bookmaker.problems.anchors import Anchor
from bookmaker.problems.echoes import without_echoes
from bookmaker.problems.problem import problem

GAP = problem("no-price", Anchor("stores/dry.yaml", ("salt",)), item="salt", on="2026-10-05", user="Brioche")
OLD = problem("old-price", Anchor("stores/prices.csv"), item="salt", since="2026-01-01", days=277)
LIST = problem("price-columns", Anchor("stores/prices.csv"), why="the columns are separated by semicolons")
SUPPLIER = problem("unknown-supplier", Anchor("stores/prices.csv"), name="Nobody")
ELSEWHERE = problem("empty-file", Anchor("stores/dry.yaml"), document="stores/dry.yaml")


def test_gaps_are_not_said_where_the_list_is_faulty() -> None:
    assert without_echoes([LIST], [GAP, OLD]) == (LIST, OLD)


def test_gaps_are_said_otherwise() -> None:
    assert without_echoes([SUPPLIER, ELSEWHERE], [GAP]) == (SUPPLIER, ELSEWHERE, GAP)
    assert without_echoes([], [GAP]) == (GAP,)


def test_labels_are_not_held_against_a_register_that_cannot_be_read() -> None:
    changed = problem(
        "label-allergens", Anchor("stores/dry.yaml", ("salt",)), what="not named: milk", labels="the label of 'A' does"
    )
    edited = problem("register-edited", Anchor("issued.csv"), number="7K2M90XA")
    twice = problem("issued-twice", Anchor("issued.csv"), title="A")
    assert without_echoes([edited], [changed]) == (edited,)
    assert without_echoes([twice], [changed]) == (twice, changed)


def test_an_error_of_one_sheet_does_not_stop_the_others() -> None:
    changed = problem(
        "label-allergens", Anchor("stores/dry.yaml"), what="not named: milk", labels="the label of 'A' does"
    )
    assert (changed.is_error, changed.stops) == (True, False)
    assert (LIST.is_error, LIST.stops) == (True, True)
    assert (OLD.is_error, OLD.stops) == (False, False)

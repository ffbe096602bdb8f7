"""What a sheet's view could hold at all: the types, walked to their ends."""

import types
import typing
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from typing import Any

import pytest

from bookmaker.editions.labels.views import LabelSheetView
from bookmaker.editions.sheets import views
from bookmaker.editions.sheets.views import (
    Address,
    Frame,
    IndexEntry,
    IndexView,
    ListPrice,
    Mass,
    MassUnit,
    SheetView,
    WithheldView,
)

PLAIN = {str, int, bool, Decimal, date, types.NoneType}

MONEY = {"price", "cost", "amount", "currency", "margin", "money", "tax", "net price", "rate"}
METHOD = {"method", "step", "steps", "formula", "line", "losses", "stage", "because", "why", "working", "time"}
OTHERS = {"supplier", "suppliers", "code", "article", "note", "private", "stores", "item", "route", "source", "path"}


def reachable(kind: Any) -> Iterator[type]:
    """Every class that a value of this type can hold, itself included."""
    seen: set[type] = set()

    def walk(each: Any) -> Iterator[type]:
        inside = typing.get_args(each)
        if inside:
            for part in inside:
                if part is not Ellipsis:
                    yield from walk(part)
            return
        assert isinstance(each, type), f"{each} says nothing about what it holds"
        assert each not in {Any, object}, f"{each} says nothing about what it holds"
        if each in seen:
            return
        seen.add(each)
        yield each
        if is_dataclass(each):
            for hint in typing.get_type_hints(each).values():
                yield from walk(hint)

    yield from walk(kind)


def names(kind: type) -> set[str]:
    """What the fields of all that can be held are called."""
    return {each.name for held in reachable(kind) if is_dataclass(held) for each in fields(held)}


def test_a_sheet_holds_nothing_but_the_editions_own_values_and_plain_ones() -> None:
    for held in reachable(SheetView):
        assert held in PLAIN or held.__module__ == views.__name__, held
        assert held in PLAIN or is_dataclass(held) or issubclass(held, Enum)


def test_the_authored_list_price_is_the_one_place_for_money() -> None:
    holders = {
        held
        for held in reachable(SheetView)
        if is_dataclass(held) and {each.name for each in fields(held)} & MONEY and held is not SheetView
    }
    assert holders == {ListPrice}
    assert [each.name for each in fields(SheetView) if each.name in MONEY] == ["price"]
    assert typing.get_type_hints(SheetView)["price"] == ListPrice | None


def test_no_other_number_can_carry_a_currency() -> None:
    """Numbers with a unit have one of a closed list, and none of it is money."""
    assert typing.get_type_hints(Mass)["unit"] is MassUnit
    assert {unit.value for unit in MassUnit} == {"g", "kg"}


def test_no_field_is_there_for_method_suppliers_or_notes() -> None:
    assert names(SheetView) & (METHOD | OTHERS) == set()


def test_the_index_and_the_page_of_a_withheld_sheet_hold_a_name_and_an_address() -> None:
    assert set(reachable(IndexView)) == {IndexView, IndexEntry, Address, str}
    assert names(IndexView) == {"entries", "title", "address", "stem"}
    assert set(reachable(WithheldView)) == {WithheldView, Address, str}


def test_what_stands_around_a_page_is_words() -> None:
    assert set(reachable(Frame)) == {Frame, str, bool}


def test_labels_hold_no_more_than_sheets() -> None:
    assert ListPrice not in set(reachable(LabelSheetView))
    assert names(LabelSheetView) & (MONEY | METHOD | OTHERS) == set()


def test_a_type_that_says_nothing_is_noticed() -> None:
    assert [*reachable(tuple[str, ...])] == [str]
    with pytest.raises(AssertionError, match="says nothing"):
        [*reachable(Any)]

"""Packing: values come back equal, digests are the same at every run, and foreign bytes make nothing."""

import os
import pickle
import subprocess
import sys
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from bookmaker.measures.units import Spoons
from bookmaker.model.refs import RecipeRef
from bookmaker.model.stores import Price, StoresItem
from bookmaker.reading.book import read_book
from bookmaker.workshop.cache.notes import ALL, Changes, Notes, label, recipe_of
from bookmaker.workshop.cache.packing import Damaged, canonical, digest, pack, recalled, unpack
from tests.support import make
from tests.support.published import ROOT, TINY, sound_book


def test_what_is_packed_comes_back() -> None:
    book = sound_book(TINY)
    for value in (*book.recipes.values(), *book.stores.values(), *book.prices.values(), book.house, Spoons.US):
        again = unpack(pack(value))
        assert again == value
        assert canonical(again) == canonical(value)
    for plain in (None, (), {"a": (1, Decimal("1.50"))}, frozenset({"milk"}), date(2026, 11, 25)):
        assert repr(unpack(pack(plain))) == repr(plain)


def test_what_is_nothing_of_ours_is_not_packed() -> None:
    with pytest.raises(TypeError, match="nothing that is kept"):
        pack(Path())


@pytest.mark.parametrize("value", [os.system, subprocess.Popen, print, Path("x"), sys.exit], ids=str)
def test_foreign_bytes_make_nothing(value: object) -> None:
    with pytest.raises(Damaged):
        unpack(pickle.dumps(value))
    assert recalled(pickle.dumps(value)) is None


def test_a_name_of_ours_that_is_no_value_makes_nothing() -> None:
    with pytest.raises(Damaged):
        unpack(pickle.dumps(read_book))


@pytest.mark.parametrize("content", [b"", b"\x80", b"nonsense", pack(make.item("rye"))[:-9]])
def test_bytes_that_are_cut_or_nothing_are_damaged(content: bytes) -> None:
    with pytest.raises(Damaged):
        unpack(content)


def test_a_digest_tells_where_one_text_ends() -> None:
    assert digest("ab", "c") != digest("a", "bc")
    assert digest() != digest("")


def test_a_digest_is_the_same_at_every_run() -> None:
    code = (
        "from tests.support.published import TINY, sound_book\n"
        "from bookmaker.workshop.cache.packing import canonical, digest\n"
        "book = sound_book(TINY)\n"
        "print(digest(*map(canonical, [*book.stores.values(), *book.recipes.values(), book.house])))"
    )
    said = {
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=ROOT,
            env=os.environ | {"PYTHONHASHSEED": seed},
            check=True,
            capture_output=True,
            text=True,
        ).stdout
        for seed in ("1", "2", "3")
    }
    assert len(said) == 1


def test_canonical_tells_sets_apart_by_what_is_in_them() -> None:
    one, other = StoresItem("a", "a", contains=frozenset({"milk", "eggs"})), StoresItem("a", "a", contains=None)
    assert canonical(one) != canonical(other)
    assert "{'eggs', 'milk'}" in canonical(one)


# --- notes ------------------------------------------------------------------------------------------------------------


def test_what_is_looked_up_is_noted_found_or_not() -> None:
    notes = Notes()
    prices = notes.on("p", {"rye": 1, "milk": 2})
    names = notes.on_set("n", {"rye"})
    assert prices["rye"] == 1
    assert prices.get("oats") is None
    assert "wheat" not in names
    assert notes.take() == ("nwheat", "poats", "prye")
    assert notes.take() == ()


def test_going_through_all_is_noted_as_such() -> None:
    notes = Notes()
    prices = notes.on("p", {"rye": 1, "milk": 2})
    assert list(prices) == ["rye", "milk"]
    assert len(prices) == 2
    assert notes.take() == ("p" + ALL,)


def test_labels_tell_everything_apart() -> None:
    book = sound_book(TINY)
    targets = {line.target for recipe in book.recipes.values() for line in recipe.lines}
    targets |= {RecipeRef("a", "b"), RecipeRef("a"), RecipeRef("b")}
    assert len({label(target) for target in targets}) == len(targets)
    for ref in (RecipeRef("breads/rye"), RecipeRef("tarts/plum", "8 cm")):
        assert recipe_of(label(ref)) == ref


def test_changes_are_what_is_new_gone_or_other() -> None:
    changes = Changes()
    changes.compare("p", {"rye": 1, "milk": 2, "oats": 3}, {"rye": 1, "milk": 9, "salt": 4})
    assert changes.labels == {"pmilk", "poats", "psalt", "p" + ALL}
    assert changes.touch(("prye", "psalt"))
    assert not changes.touch(("prye", "nmilk"))


def test_another_order_matters_to_those_who_go_through_all() -> None:
    changes = Changes()
    changes.compare("p", {"rye": 1, "milk": 2}, {"milk": 2, "rye": 1})
    assert changes.labels == {"p" + ALL}
    changes = Changes()
    changes.compare("p", {"rye": 1}, {"rye": 1})
    assert not changes.labels


def test_a_price_list_is_packed_whole() -> None:
    prices: tuple[Price, ...] = (make.price("butter", "25 kg", "70.00"), make.price("butter", "1 kg", 4))
    assert unpack(pack(prices)) == prices

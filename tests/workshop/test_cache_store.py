"""The store: what is kept comes back whole, or not at all."""

import os
import random
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.workshop.cache.store import CACHE_FOLDER, DAYS_KEPT, FILE, Store


def nobody() -> tuple[str, ...]:
    """No key is in use but those that were asked for."""
    return ()


def kept(folder: Path, **entries: bytes) -> Path:
    """A store's file with these entries."""
    store = Store(folder, "tool")
    for key, content in entries.items():
        store.put(key, content)
    store.save(nobody)
    store.close()
    return folder / CACHE_FOLDER / FILE


def test_what_is_put_is_there_at_once_and_after_a_save(tmp_path: Path) -> None:
    store = Store(tmp_path, "tool")
    assert store.get("a") is None
    store.put("a", b"one")
    assert store.get("a") == b"one"
    store.save(nobody)
    assert store.get("a") == b"one"
    store.close()
    assert Store(tmp_path, "tool").get("a") == b"one"


def test_without_a_save_nothing_is_written(tmp_path: Path) -> None:
    Store(tmp_path, "tool").put("a", b"one")
    assert not (tmp_path / CACHE_FOLDER).exists()


def test_another_tools_entries_are_forgotten(tmp_path: Path) -> None:
    kept(tmp_path, a=b"one")
    other = Store(tmp_path, "another tool")
    assert other.get("a") is None
    other.put("b", b"two")
    other.save(nobody)
    other.close()
    assert Store(tmp_path, "tool").get("a") is None
    again = Store(tmp_path, "another tool")
    assert (again.get("a"), again.get("b")) == (None, b"two")


def test_fresh_recalls_nothing_and_begins_anew(tmp_path: Path) -> None:
    kept(tmp_path, a=b"one")
    fresh = Store(tmp_path, "tool", fresh=True)
    assert fresh.get("a") is None
    fresh.put("b", b"two")
    fresh.save(nobody)
    fresh.close()
    again = Store(tmp_path, "tool")
    assert (again.get("a"), again.get("b")) == (None, b"two")


def test_a_later_entry_takes_the_place_of_an_earlier_one(tmp_path: Path) -> None:
    kept(tmp_path, a=b"one")
    kept(tmp_path, a=b"two")
    assert Store(tmp_path, "tool").get("a") == b"two"


# --- damage -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "damage",
    [
        lambda path: path.write_bytes(b""),
        lambda path: path.write_bytes(b"something else entirely"),
        lambda path: path.write_bytes(path.read_bytes()[: path.stat().st_size // 2]),
        lambda path: path.unlink(),
        lambda path: (path.unlink(), path.mkdir()),
        lambda path: (path.unlink(), path.symlink_to(path.parent)),
    ],
    ids=["emptied", "overwritten", "cut off", "gone", "a folder", "a link"],
)
def test_a_damaged_file_is_as_good_as_none(tmp_path: Path, damage: Callable[[Path], object]) -> None:
    path = kept(tmp_path, a=b"one" * 5000, b=b"two" * 5000)
    damage(path)
    store = Store(tmp_path, "tool")
    found = store.get("a")
    assert found in {None, b"one" * 5000}
    store.put("c", b"three")
    store.save(nobody)
    store.close()


def test_a_damaged_file_is_replaced(tmp_path: Path) -> None:
    kept(tmp_path, a=b"one").write_bytes(b"something else entirely")
    kept(tmp_path, a=b"two")
    assert Store(tmp_path, "tool").get("a") == b"two"


def test_an_entry_changed_in_the_file_is_a_miss(tmp_path: Path) -> None:
    path = kept(tmp_path, a=b"one", b=b"two")
    with sqlite3.connect(path) as file:
        file.execute("UPDATE kept SET content = ? WHERE key = 'a'", (b"won",))
    store = Store(tmp_path, "tool")
    assert (store.get("a"), store.get("b")) == (None, b"two")


def test_an_entry_moved_to_another_key_is_a_miss(tmp_path: Path) -> None:
    path = kept(tmp_path, a=b"one")
    with sqlite3.connect(path) as file:
        file.execute("UPDATE kept SET key = 'b'")
    assert Store(tmp_path, "tool").get("b") is None


@given(st.integers(0, 2**32), st.integers(1, 3000))
def test_no_damage_ever_brings_something_wrong(
    tmp_path_factory: pytest.TempPathFactory, seed: int, bytes_: int
) -> None:
    folder = tmp_path_factory.mktemp("store")
    entries = {f"key{number}": bytes([number]) * 900 for number in range(30)}
    path = kept(folder, **entries)
    content, chance = bytearray(path.read_bytes()), random.Random(seed)
    for _ in range(bytes_):
        content[chance.randrange(len(content))] = chance.randrange(256)
    path.write_bytes(content)
    store = Store(folder, "tool")
    for key, whole in entries.items():
        assert store.get(key) in {None, whole}
    store.put("more", b"more")
    store.save(nobody)
    store.close()
    assert Store(folder, "tool").get("more") in {None, b"more"}


# --- others -----------------------------------------------------------------------------------------------------------


@pytest.mark.skipif(not hasattr(os, "getuid"), reason="the system knows no such rights")
def test_a_file_that_others_can_write_is_foreign(tmp_path: Path) -> None:
    path = kept(tmp_path, a=b"one")
    assert path.stat().st_mode & 0o777 == 0o600
    path.chmod(0o666)
    assert Store(tmp_path, "tool").get("a") is None


def test_a_store_that_cannot_be_written_is_done_without(tmp_path: Path) -> None:
    (tmp_path / CACHE_FOLDER).write_text("a file where our folder should be")
    store = Store(tmp_path, "tool")
    store.put("a", b"one")
    store.save(nobody)
    assert store.get("a") == b"one"
    assert (tmp_path / CACHE_FOLDER).read_text() == "a file where our folder should be"


def test_a_reader_beside_a_writer_sees_the_old_or_the_new(tmp_path: Path) -> None:
    kept(tmp_path, a=b"one")
    reader = Store(tmp_path, "tool")
    assert reader.get("a") == b"one"
    kept(tmp_path, a=b"two", b=b"three")
    assert reader.get("a") in {b"one", b"two"}
    assert reader.get("b") in {None, b"three"}


def test_what_somebody_holds_locked_is_done_without(tmp_path: Path) -> None:
    path = kept(tmp_path, a=b"one")
    holder = sqlite3.connect(path, isolation_level=None)
    holder.execute("BEGIN EXCLUSIVE")
    store = Store(tmp_path, "tool")
    assert store.get("a") is None
    store.put("b", b"two")
    store.save(nobody)
    holder.close()


# --- growing old ------------------------------------------------------------------------------------------------------


def saved_on(folder: Path, day: int, *, put: str = "", use: str = "", live: tuple[str, ...] = ()) -> None:
    """One build on a day."""
    store = Store(folder, "tool", today=day)
    if use:
        assert store.get(use) is not None
    store.put(put or f"day {day}", b"x")
    store.save(lambda: live)
    store.close()


def test_what_is_used_or_live_stays_and_the_rest_goes(tmp_path: Path) -> None:
    for name in ("used", "live", "neither"):
        saved_on(tmp_path, 100, put=name)
    saved_on(tmp_path, 100 + DAYS_KEPT, use="used", live=("live",))
    saved_on(tmp_path, 101 + DAYS_KEPT)
    store = Store(tmp_path, "tool")
    assert [store.get(name) for name in ("used", "live", "neither")] == [b"x", b"x", None]


def test_what_is_dropped_is_gone_after_the_save(tmp_path: Path) -> None:
    kept(tmp_path, a=b"one", b=b"two")
    store = Store(tmp_path, "tool")
    store.drop("a")
    assert store.get("a") == b"one"
    store.put("c", b"three")
    store.save(nobody)
    assert [store.get(key) for key in "abc"] == [None, b"two", b"three"]

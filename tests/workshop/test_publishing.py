"""Publishing: only what changed is written, what is stale goes, and nobody else's file is ever touched."""

from pathlib import Path

import pytest

from bookmaker.workshop.publishing import InTheWay, Published, publish

FIRST = {"team/index.html": b"front", "team/breads/loaf.html": b"loaf"}


def test_first_publication_writes_every_file(tmp_path: Path) -> None:
    assert publish(tmp_path, "team", FIRST) == Published(written=2, unchanged=0, dropped=0)
    assert (tmp_path / "team/breads/loaf.html").read_bytes() == b"loaf"


def test_what_has_not_changed_is_not_written_again(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    untouched = (tmp_path / "team/breads/loaf.html").stat().st_mtime_ns
    assert publish(tmp_path, "team", FIRST | {"team/index.html": b"new"}) == Published(1, 1, 0)
    assert (tmp_path / "team/breads/loaf.html").stat().st_mtime_ns == untouched


def test_rewrite_writes_all(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    assert publish(tmp_path, "team", FIRST, rewrite=True) == Published(2, 0, 0)


def test_stale_files_go_and_their_empty_folders_too(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    assert publish(tmp_path, "team", {"team/index.html": b"front"}) == Published(0, 1, 1)
    assert not (tmp_path / "team/breads").exists()


def test_a_strangers_file_in_the_way_stops_everything(tmp_path: Path) -> None:
    (tmp_path / "team").mkdir()
    (tmp_path / "team/index.html").write_bytes(b"somebody's")
    with pytest.raises(InTheWay) as stopped:
        publish(tmp_path, "team", FIRST)
    assert stopped.value.paths == (tmp_path / "team/index.html",)
    assert not (tmp_path / "team/breads").exists()
    assert (tmp_path / "team/index.html").read_bytes() == b"somebody's"


def test_a_strangers_file_beside_ours_stays(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    (tmp_path / "team/breads/notes.txt").write_text("mine")
    publish(tmp_path, "team", {"team/index.html": b"front"})
    assert (tmp_path / "team/breads/notes.txt").read_text() == "mine"


def test_a_stale_file_that_somebody_changed_is_theirs_now(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    (tmp_path / "team/breads/loaf.html").write_bytes(b"annotated by hand")
    publish(tmp_path, "team", {"team/index.html": b"front"})
    assert (tmp_path / "team/breads/loaf.html").read_bytes() == b"annotated by hand"


def test_the_same_bytes_by_another_hand_are_adopted(tmp_path: Path) -> None:
    (tmp_path / "team").mkdir()
    (tmp_path / "team/index.html").write_bytes(b"front")
    assert publish(tmp_path, "team", {"team/index.html": b"front"}) == Published(0, 1, 0)


def test_editions_do_not_touch_each_other(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    publish(tmp_path, "record", {"book.json": b"{}"})
    publish(tmp_path, "record", {})
    assert (tmp_path / "team/index.html").exists()
    assert not (tmp_path / "book.json").exists()


def test_a_damaged_manifest_is_none(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    (tmp_path / ".publish/team.json").write_text("[not a manifest")
    assert publish(tmp_path, "team", FIRST) == Published(0, 2, 0)

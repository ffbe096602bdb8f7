"""The manifest: whether all is as it was published, found out quickly; and what becomes of damage to our own files."""

import json
import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from bookmaker.workshop.publishing.disk import Disk
from bookmaker.workshop.publishing.manifest import intact, manifest_of, read_manifest, written_manifest
from bookmaker.workshop.publishing.publisher import Published
from bookmaker.workshop.publishing.refusals import InTheWay
from bookmaker.workshop.publishing.sealed import seal, unsealed
from tests.support.disks import Died, Mortal, files_in, memory, publish, put, recover

PAGES = {"index.html": b"front", "breads/loaf.html": b"loaf", "book.pdf": b""}


def test_what_was_published_is_intact(tmp_path: Path) -> None:
    assert not intact(tmp_path, "team")
    publish(tmp_path, "team", PAGES)
    assert intact(tmp_path, "team")
    assert not intact(tmp_path, "record")


def test_an_edition_without_files_is_intact(tmp_path: Path) -> None:
    publish(tmp_path, "team", {})
    assert intact(tmp_path, "team")


def test_files_of_others_do_not_matter(tmp_path: Path) -> None:
    publish(tmp_path, "team", PAGES)
    put(tmp_path / "notes.txt", b"mine")
    put(tmp_path / "breads/notes.txt", b"mine")
    publish(tmp_path, "record", {"book.json": b"{}"})
    assert intact(tmp_path, "team")


@pytest.mark.parametrize("path", PAGES)
def test_a_file_that_is_gone_or_changed_is_seen(tmp_path: Path, path: str) -> None:
    publish(tmp_path, "team", PAGES)
    content = (tmp_path / path).read_bytes()
    (tmp_path / path).unlink()
    assert not intact(tmp_path, "team")
    put(tmp_path / path, content)
    assert not intact(tmp_path, "team")  # by its time: the next publication looks closer
    assert publish(tmp_path, "team", PAGES) == Published(0, 3, 0)
    assert intact(tmp_path, "team")
    put(tmp_path / path, content + b" and more")
    assert not intact(tmp_path, "team")


def test_a_publication_under_way_is_not_intact(tmp_path: Path) -> None:
    publish(tmp_path, "team", PAGES)
    stops = 0
    for at in range(100):
        try:
            publish(tmp_path, "record", {"book.json": b"%d" % at}, disk=Mortal(at))
        except Died:
            if (tmp_path / ".publish/journal").exists():
                stops += 1
                assert not intact(tmp_path, "team")
                recover(tmp_path)
            assert intact(tmp_path, "team")
    assert stops > 3


def test_a_change_in_the_moment_of_publishing_is_seen() -> None:
    """A file system's clock ticks some hundred times a second; a change of the same size may have the same time."""
    with memory() as out:
        for number in range(20):
            publish(out, "team", {"index.html": b"front%02d" % number}, disk=Disk())
            assert intact(out, "team")
            (out / "index.html").write_bytes(b"FRONT%02d" % number)
            assert not intact(out, "team")


def test_files_as_young_as_the_manifest_are_looked_into(tmp_path: Path) -> None:
    """As on a memory stick, whose clock ticks every two seconds."""
    publish(tmp_path, "team", PAGES)
    manifest = tmp_path / ".publish/team.json"
    moment = (tmp_path / "index.html").stat().st_mtime_ns
    os.utime(manifest, ns=(moment, moment))
    assert not intact(tmp_path, "team")
    (tmp_path / "index.html").write_bytes(b"FRONT")
    os.utime(tmp_path / "index.html", ns=(moment, moment))
    assert publish(tmp_path, "team", PAGES).written == 1
    assert files_in(tmp_path) == PAGES
    assert intact(tmp_path, "team")


def test_the_stamp_is_kept(tmp_path: Path) -> None:
    stamp = {"on": "2026-11-25", "sources": {"recipes/crème.md": "5f1c"}, "tools": ["pango", 1.5, None]}
    publish(tmp_path, "team", PAGES, stamp=stamp)
    assert (held := read_manifest(tmp_path, "team")) is not None
    assert held.stamp == stamp
    assert publish(tmp_path, "team", PAGES, stamp={"on": "2026-11-26"}) == Published(0, 3, 0)
    assert (held := read_manifest(tmp_path, "team")) is not None
    assert held.stamp == {"on": "2026-11-26"}


def test_a_manifest_says_what_is_published(tmp_path: Path) -> None:
    publish(tmp_path, "team", PAGES)
    assert (held := read_manifest(tmp_path, "team")) is not None
    assert {path: imprint.size for path, imprint in held.files().items()} == {
        path: len(content) for path, content in PAGES.items()
    }
    assert written_manifest(manifest_of(held.files(), {})) == (tmp_path / ".publish/team.json").read_bytes()


@pytest.mark.benchmark
def test_looking_takes_little_time(tmp_path: Path) -> None:
    """Under 20 ms for 2,000 files is asked; the best of some tries, since others use the machine too."""
    publish(tmp_path, "team", {f"team/{number % 20}/{number}.html": b"page" for number in range(2000)})
    times = []
    for _ in range(10):
        begin = time.process_time()
        assert intact(tmp_path, "team")
        times.append(time.process_time() - begin)
    assert min(times) < 0.02


def test_looking_imports_nothing_heavy() -> None:
    ask = (
        "import sys, argparse, json, pathlib; before = set(sys.modules);"
        "import bookmaker.workshop.publishing.manifest; print(*sorted(set(sys.modules) - before))"
    )
    ran = subprocess.run([sys.executable, "-c", ask], check=True, capture_output=True, text=True)
    heavy = {"dataclasses", "inspect", "hashlib", "threading", "logging", "shutil", "tempfile", "subprocess"}
    assert "bookmaker.workshop.publishing.manifest" in ran.stdout.split()
    assert not heavy & set(ran.stdout.split())
    ours = {name for name in ran.stdout.split() if name.startswith("bookmaker.workshop.")}
    assert ours == {
        "bookmaker.workshop.publishing",
        "bookmaker.workshop.publishing.manifest",
        "bookmaker.workshop.publishing.sealed",
    }


class TestSealed:
    """A damaged file of ours is as good as none."""

    def test_what_was_sealed_is_read(self, tmp_path: Path) -> None:
        (tmp_path / "x").write_bytes(seal({"a": ["é", 1, None, "#", "\n#"]}))
        assert unsealed(tmp_path / "x") == {"format": 1, "a": ["é", 1, None, "#", "\n#"]}

    def test_nothing_is_read_from_nothing(self, tmp_path: Path) -> None:
        assert unsealed(tmp_path / "x") is None
        assert unsealed(tmp_path) is None

    def test_any_damage_is_seen(self, tmp_path: Path) -> None:
        whole = seal({"path": "team/index.html", "digest": "5f1c"})
        chance = random.Random(7)
        damaged = [whole[:end] for end in range(len(whole))] + [whole + b"x", whole * 2, b"\0" * len(whole)]
        changed = [bytes([byte ^ chance.randrange(1, 256)]) for byte in whole]
        damaged += [whole[:at] + byte + whole[at + 1 :] for at, byte in enumerate(changed)]
        for content in damaged:
            (tmp_path / "x").write_bytes(content)
            assert unsealed(tmp_path / "x") is None

    def test_another_format_is_none(self, tmp_path: Path) -> None:
        (tmp_path / "x").write_bytes(seal({"format": 2}))
        assert unsealed(tmp_path / "x") is None
        (tmp_path / "x").write_text(json.dumps({"format": 1}))
        assert unsealed(tmp_path / "x") is None


@pytest.mark.parametrize("damage", [b"", b"[not a manifest", b"\xff\0", None])
def test_without_a_manifest_the_same_bytes_are_adopted(tmp_path: Path, damage: bytes | None) -> None:
    publish(tmp_path, "team", PAGES)
    manifest = tmp_path / ".publish/team.json"
    manifest.unlink()
    if damage is not None:
        manifest.write_bytes(damage)
    assert not intact(tmp_path, "team")
    assert publish(tmp_path, "team", PAGES) == Published(0, 3, 0)
    assert intact(tmp_path, "team")
    assert publish(tmp_path, "team", {}) == Published(0, 0, 3)


def test_without_a_manifest_other_bytes_are_strangers(tmp_path: Path) -> None:
    publish(tmp_path, "team", PAGES)
    (tmp_path / ".publish/team.json").unlink()
    with pytest.raises(InTheWay) as stopped:
        publish(tmp_path, "team", PAGES | {"index.html": b"new front", "new.html": b"x"})
    assert stopped.value.paths == (tmp_path / "index.html",)
    assert files_in(tmp_path) == PAGES


def _lose(ours: Path, lost: str) -> None:
    """Somebody clears up behind a killed build."""
    journal = ours / "journal"
    if lost == "damaged" and journal.exists():
        journal.write_bytes(journal.read_bytes()[:-3])
    if lost in {"journal", "all"}:
        journal.unlink(missing_ok=True)
    for path in [*ours.glob("work-*/*/*"), *(ours.glob("*.json") if lost == "all" else ())]:
        if lost in {"work", "all"}:
            path.unlink()


@pytest.mark.parametrize("lost", ["journal", "work", "damaged", "all"])
def test_what_was_under_way_is_lost(tmp_path: Path, lost: str) -> None:
    """No crash, nothing torn, and nobody's file lost; at worst a file of ours is in the way."""
    new = {"index.html": b"new front", "more/x.html": b"x"}
    for at in range(200):
        out = tmp_path / str(at)
        publish(out, "team", PAGES)
        put(out / "notes.txt", b"mine")
        try:
            publish(out, "team", new, disk=Mortal(at))
        except Died:
            pass
        else:
            assert at > 20
            return
        _lose(out / ".publish", lost)
        recover(out)
        assert not list((out / ".publish").glob("journal*"))
        for name, content in files_in(out).items():
            assert content in {PAGES.get(name), new.get(name), b"mine"}
        try:
            publish(out, "team", new)
        except InTheWay:
            assert lost == "all"  # what is neither in a manifest nor the same
        else:
            assert new.items() <= files_in(out).items()
        assert files_in(out)["notes.txt"] == b"mine"

"""A build with nothing to do: it says what the last one said, quickly; anything in doubt is built."""

import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from bookmaker.cli import main
from bookmaker.workshop.cache import unchanged
from bookmaker.workshop.cache.stamp import LIBRARIES, is_young
from bookmaker.workshop.cache.store import CACHE_FOLDER
from bookmaker.workshop.publishing.manifest import read_manifest
from tests.contract.test_start import HEAVY
from tests.support.published import ROOT, TINY

ON = ["--on", "2026-11-25"]


@pytest.fixture(scope="module")
def settled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small book that is old enough to be known by its files' dates, and its publication."""
    folder = tmp_path_factory.mktemp("settled")
    shutil.copytree(TINY, folder / "book")
    time.sleep(0.1)
    assert main(["build", str(folder / "book"), "--out", str(folder / "out"), "--only", "team", "record", *ON]) == 0
    return folder


@pytest.fixture
def kitchen(settled: Path, tmp_path: Path) -> Path:
    """A copy of it that a test may change; a copy's files have dates of their own, so it is built once again."""
    shutil.copytree(settled, tmp_path / "copy")
    time.sleep(0.1)
    assert build(tmp_path / "copy") == 0
    return tmp_path / "copy"


def arguments(folder: Path) -> list[str]:
    return ["build", str(folder / "book"), "--out", str(folder / "out"), "--only", "team", "record", *ON]


def build(folder: Path) -> int:
    return main(arguments(folder))


def idle(folder: Path, *, on: str = "2026-11-25", only: tuple[str, ...] = ("team", "record")) -> bool:
    """Whether nothing is to be done."""
    return unchanged.nothing_to_do(str(folder / "book"), folder / "out", only=only, on=on) is not None


def test_nothing_heavy_is_imported(settled: Path) -> None:
    command = [sys.executable, "-X", "importtime", "-m", "bookmaker", *arguments(settled)]
    ran = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True)
    names = re.findall(r"\|\s+([\w.]+)$", ran.stderr, re.MULTILINE)
    assert "bookmaker.workshop.cache.unchanged" in names
    assert not {name.partition(".")[0] for name in names} & HEAVY
    assert not {"sqlite3", "pickle", "multiprocessing", "decimal"} & set(names)
    floors = {name.split(".")[1] for name in names if name.startswith("bookmaker.")}
    assert floors <= {"__main__", "cli", "reading", "workshop"}


def test_the_same_is_said_again(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (kitchen / "out/team/index.html").unlink()
    capsys.readouterr()
    assert build(kitchen) == 0
    built = capsys.readouterr()
    assert idle(kitchen)
    said = capsys.readouterr()
    assert "warning[no-price]" in said.err
    assert said.err == built.err
    assert re.fullmatch(r".*index\.html  \(\d+ unchanged\)\n.*book\.json  \(1 unchanged\)\n", said.out)


def test_each_edition_stands_by_itself(kitchen: Path) -> None:
    assert idle(kitchen, only=("team",))
    assert not idle(kitchen, only=("team", "book"))
    shutil.rmtree(kitchen / "out/team")
    assert idle(kitchen, only=("record",))
    assert not idle(kitchen, only=("team",))


def test_the_cache_is_not_needed(kitchen: Path) -> None:
    shutil.rmtree(kitchen / "out" / CACHE_FOLDER)
    assert idle(kitchen)


def rewrite(path: Path) -> None:
    """Save a file as it is, as editors do."""
    path.write_bytes(path.read_bytes())


@pytest.mark.parametrize(
    "change",
    [
        lambda folder: (folder / "book/moulded/pebble.md").write_text("---\ntitle: Other\n---\n"),
        lambda folder: (folder / "book/moulded/pebble.md").unlink(),
        lambda folder: (folder / "book/moulded/new.md").write_text("new"),
        lambda folder: (folder / "book/moulded/pebble.md").rename(folder / "book/moulded/stone.md"),
        lambda folder: (folder / "book/notes.pdf").write_bytes(b"no text of ours"),
        lambda folder: (folder / "book/theme/site").mkdir(parents=True)
        or (folder / "book/theme/site/foot.html").write_text("foot"),
        lambda folder: rewrite(folder / "book/house.yaml"),
        lambda folder: (folder / "out/team/index.html").write_text("mine"),
        lambda folder: (folder / "out/book.json").unlink(),
        lambda folder: (folder / "out/.publish/team.json").unlink(),
        lambda folder: (folder / "out/.publish/journal").write_text("something under way"),
        lambda folder: folder.rename(folder.with_name("moved")).joinpath("book").rename(folder.with_name("elsewhere")),
    ],
    ids=[
        "text", "gone", "new", "renamed", "other file", "theme", "saved again", "page", "record", "manifest", "journal",
        "moved",
    ],
)  # fmt: skip
def test_what_is_in_doubt_is_built(kitchen: Path, change: Callable[[Path], object]) -> None:
    assert idle(kitchen)
    change(kitchen)
    assert not idle(kitchen)


def test_another_day_is_built(kitchen: Path) -> None:
    assert not idle(kitchen, on="2026-11-26")


def test_another_tool_builds(kitchen: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(unchanged, "glance", lambda: "looks otherwise")
    assert idle(kitchen)  # only touched: its content is the same
    monkeypatch.setattr(unchanged, "tool", lambda: "is another one")
    assert not idle(kitchen)


def test_a_change_back_is_left_alone_after_one_build(kitchen: Path) -> None:
    page = kitchen / "book/moulded/pebble.md"
    rewrite(page)
    assert not idle(kitchen)
    time.sleep(0.1)
    assert build(kitchen) == 0
    assert idle(kitchen)


def test_a_file_changed_just_now_is_not_relied_on(kitchen: Path) -> None:
    rewrite(kitchen / "book/house.yaml")
    assert build(kitchen) == 0
    manifest = read_manifest(kitchen / "out", "team")
    assert manifest is not None
    assert ("sources" in manifest.stamp) == idle(kitchen)


@pytest.mark.parametrize(
    ("mark", "began", "young"),
    [
        ("10 1000000000123456789 1000000000123456789 7", 1000000001.0, False),
        ("10 1000000000123456789 1000000000123456789 7", 1000000000.13, True),
        ("10 1000000000123456789 1000000000900000000 7", 1000000000.91, True),
        ("10 1000000000000000000 1000000000000000000 7", 1000000002.0, True),
        ("10 1000000000000000000 1000000000000000000 7", 1000000003.0, False),
        ("", 1000000003.0, True),
    ],
    ids=["settled", "modified", "changed", "coarse clock", "coarse clock settled", "gone"],
)
def test_how_long_a_file_is_young(mark: str, began: float, young: bool) -> None:
    assert is_young([mark], began) is young


def test_all_that_we_depend_on_is_in_the_stamp() -> None:
    listed = (ROOT / "pyproject.toml").read_text("utf-8").split("dependencies = [")[1].split("]\n")[0]
    names = {name.lower().replace("-", "_") for name in re.findall(r'"([\w-]+)', listed)}
    assert names - LIBRARIES == {"watchdog"}  # has no part in what is made


def test_the_hash_seed_matters_to_nobody(settled: Path, tmp_path: Path) -> None:
    """What one run keeps another takes up, whatever order its sets are in."""
    said = []
    for seed in ("1", "2"):
        command = [sys.executable, "-m", "bookmaker", "build", str(settled / "book"), "--out", str(tmp_path / "out")]
        ran = subprocess.run(
            [*command, "--only", "team", "record", "--on", "2026-11-25"],
            cwd=ROOT,
            env=os.environ | {"PYTHONHASHSEED": seed},
            check=True,
            capture_output=True,
            text=True,
        )
        said.append(ran.stdout)
        (tmp_path / "out/.publish/team.json").unlink()
    assert "written" in said[0]
    assert "unchanged" in said[1]
    assert "written" not in said[1]

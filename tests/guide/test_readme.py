"""README shows what the commands print, and everything that it points at is there."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from bookmaker.cli import EDITIONS
from tests.contract.modules import ROOT
from tests.guide.readme import README, Folder, current

TEXT = README.read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")

COMMANDS = ("build", "watch", "check", "weigh", "cost", "label", "explain", "issue", "start")


@pytest.mark.pdf
@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="the examples are for a POSIX shell")
def test_the_examples_print_what_is_shown(tmp_path: Path) -> None:
    assert current(TEXT, Folder.laid_out(tmp_path)) == TEXT, "run: python -m tests.guide.readme"


def test_every_example_shows_what_is_printed() -> None:
    """A block without a command would never be run."""
    consoles = re.findall(r"^```console\n(.*?)^```$", TEXT, re.MULTILINE | re.DOTALL)
    assert consoles
    assert all(block.startswith("$ ") for block in consoles)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_described(command: str) -> None:
    assert f"### {command}" in TEXT
    assert f"$ bookmaker {command}" in TEXT


def test_no_command_is_missing() -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "bookmaker", "--help"], cwd=ROOT, check=True, capture_output=True, encoding="utf-8"
    )
    assert tuple(re.findall(r"^    (\w+) ", ran.stdout, re.MULTILINE)) == COMMANDS


@pytest.mark.parametrize("command", COMMANDS)
def test_every_option_is_described(command: str) -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "bookmaker", command, "--help"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        encoding="utf-8",
    )
    options = set(re.findall(r"--[a-z]+", ran.stdout)) - {"--help"}
    assert {option for option in options if f"`{option}" not in TEXT} == set()


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_edition_is_described(edition: str) -> None:
    assert f"`{edition}`" in TEXT


@pytest.mark.parametrize("script", [".setup/book", ".setup/test"])
def test_the_two_commands_are_there(script: str) -> None:
    assert f"sh {script}\n" in TEXT
    assert (ROOT / script).is_file()


@pytest.mark.parametrize("text", [TEXT, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_what_is_pointed_at_is_there(text: str) -> None:
    links = [link.partition("#")[0] for link in re.findall(r"\]\(([^)]+)\)", text)]
    named = re.findall(r"`((?:bookmaker|tests|themes|recipes|\.setup|\.ci|\.readme)/[\w./*-]*)`", text)
    paths = [path for path in (*links, *named) if path and not path.startswith(("http", "#", "…"))]
    assert [path for path in paths if not _is_there(path)] == []


def _is_there(path: str) -> bool:
    return any(ROOT.glob(path.rstrip("/"))) if "*" in path else (ROOT / path).exists()


def test_what_is_named_beside_a_module_is_in_it() -> None:
    pairs = re.findall(r"`(\w+)`(?:,| of) `(bookmaker/[\w/]+\.py)`", DEVELOPERS)
    assert len(pairs) > 5
    assert [pair for pair in pairs if not re.search(rf"\b{pair[0]}\b", (ROOT / pair[1]).read_text("utf-8"))] == []


@pytest.mark.parametrize("text", [TEXT, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_nothing_is_left_open(text: str) -> None:
    assert "<!--" not in text


def test_pictures_are_small() -> None:
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", TEXT)
    assert pictures
    assert all((ROOT / picture).stat().st_size < 300_000 for picture in pictures)

"""What a wheel carries, and that the tool finds its themes and demo book from a wheel and from a checkout."""

import json
import os
import re
import subprocess
import sys
import tomllib
import zipfile
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

from bookmaker import __version__
from bookmaker.workshop import shipped
from tests.contract.modules import ROOT, modules


def _plain(name: str) -> str:
    """A distribution's name as PEP 503 compares it, without extras and version."""
    return re.sub(r"[-_.]+", "-", re.split(r"[\[<>=!~; ]", name)[0]).lower()


def test_what_is_imported_is_declared() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    declared = {_plain(requirement) for requirement in project["dependencies"]}
    homes = packages_distributions()
    imported = {found.top for module in modules().values() for found in module.imports if found.is_foreign}
    assert not {name for name in imported if declared.isdisjoint(_plain(home) for home in homes.get(name, []))}


def test_a_checkout_finds_what_ships() -> None:
    assert shipped.themes_dir() == ROOT / "themes"
    assert shipped.demo_book_dir() == ROOT / "recipes"
    assert (shipped.demo_book_dir() / "house.yaml").is_file()
    assert any(shipped.themes_dir().iterdir())


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel built from the checkout and laid out as an installer would."""
    folder = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
    (wheel,) = folder.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder / "site")
    return folder / "site"


def test_a_wheel_carries_the_package_the_themes_and_the_demo_book(unpacked: Path) -> None:
    inside = unpacked / "bookmaker" / "_shipped"
    for name in ("themes", "recipes"):
        expected = {path.relative_to(ROOT / name) for path in (ROOT / name).rglob("*") if path.is_file()}
        assert {path.relative_to(inside / name) for path in (inside / name).rglob("*") if path.is_file()} == expected
    source = {path.relative_to(ROOT) for path in (ROOT / "bookmaker").rglob("*") if _is_source(path)}
    assert source <= {path.relative_to(unpacked) for path in unpacked.rglob("*")}
    assert (unpacked / f"bookmaker-{__version__}.dist-info").is_dir()


def test_a_wheel_finds_what_ships(unpacked: Path, tmp_path: Path) -> None:
    ask = (
        "import json; from bookmaker.workshop import shipped;"
        "print(json.dumps([str(shipped.themes_dir()), str(shipped.demo_book_dir())]))"
    )
    inside = unpacked.resolve() / "bookmaker" / "_shipped"
    assert json.loads(_run(unpacked, tmp_path, "-c", ask)) == [str(inside / "themes"), str(inside / "recipes")]


@pytest.mark.slow
def test_a_wheel_builds_its_demo_book_elsewhere(unpacked: Path, tmp_path: Path) -> None:
    book = unpacked / "bookmaker" / "_shipped" / "recipes"
    _run(unpacked, tmp_path, "-m", "bookmaker", "build", str(book), "--only", "team", "--on", "2026-11-30")
    assert (tmp_path / "build" / "team" / "index.html").is_file()
    assert not any(tmp_path.glob("build/*.pdf"))


def _run(site: Path, folder: Path, *arguments: str) -> str:
    """What a Python says that has the unpacked wheel before anything else of ours, in an empty folder."""
    command = [sys.executable, *arguments]
    environment = os.environ | {"PYTHONPATH": str(site)}
    ran = subprocess.run(command, check=False, cwd=folder, env=environment, capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
    return ran.stdout


def _is_source(path: Path) -> bool:
    return path.is_file() and "__pycache__" not in path.parts

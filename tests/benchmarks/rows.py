"""What is measured, a row each: our build against its floor, in pairs, in one run.

Nothing here says what is fast enough; a person reads the ratios. Absolute times are of this machine and this hour.
"""

import gc
import json
import pickle
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from bookmaker.editions.team.edition import project
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.explain import workings_of
from bookmaker.press.site import SitePress, pages
from bookmaker.reading.book import read_book
from bookmaker.workshop.pool import processes
from bookmaker.workshop.shipped import themes_dir
from tests.benchmarks.books import write_book
from tests.benchmarks.measuring import ROOT, Failed, Run, in_turn, ratio, run, usual

ON = date(2026, 11, 30)
THEME = themes_dir() / "ledger"
NOTHING = ("-c", "pass")


@dataclass(frozen=True, slots=True)
class Bench:
    """Where measuring is done, on how many recipes, and how many pairs of each are taken."""

    folder: Path
    recipes: int = 1000
    rounds: int = 5

    def book(self, recipes: int | None = None) -> Path:
        """A generated book; it is written when it is first asked for."""
        count = self.recipes if recipes is None else recipes
        folder = self.folder / f"book-{count}"
        if not folder.exists():
            write_book(folder, count)
        return folder

    def out(self, name: str) -> Path:
        """A folder to publish into."""
        return self.folder / f"out-{name}"

    def build(self, book: Path, out: Path, *editions: str, memory: bool = False) -> Run:
        """One build as a whole process."""
        arguments = ("-m", "bookmaker", "build", str(book), "--out", str(out), "--on", ON.isoformat(), "--only")
        return run(*arguments, *(editions or ("team",)), memory=memory)

    def cold(self, book: Path, name: str, *editions: str, memory: bool = False) -> Run:
        """A build into a folder that is not there."""
        out = self.out(name)
        shutil.rmtree(out, ignore_errors=True)
        return self.build(book, out, *editions, memory=memory)


# --- the site, from nothing -----------------------------------------------------------------------------------------


def cold(bench: Bench) -> Iterator[str]:
    """A whole first build of the site; floor: YAML composed, Markdown parsed, pages set from ready views."""
    book = bench.book()
    views = _ready(book, bench.folder / f"views-{bench.recipes}.pickle")
    workers = processes()
    fonts: list[Run] = []

    def floor() -> Run:
        said = _floor("site", book, views, THEME, workers)
        fonts.append(Run(*said["fonts"]))
        return Run(*(sum(each) for each in zip(said["reading"], said["setting"], strict=True)))

    ours, its = in_turn(bench.rounds, lambda: bench.cold(book, "cold"), floor)
    with_fonts = [Run(each.wall + font.wall, each.cpu + font.cpu) for each, font in zip(its, fonts, strict=True)]
    yield f"{bench.recipes} recipes, {workers} processes; ours {_both(ours)}, floor {_both(its)}"
    yield f"ours ÷ floor: {_ratios(ours, its)}"
    yield f"the same with the font library's own cutting in the floor: {_ratios(ours, with_fonts)}"


def _both(runs: Sequence[Run]) -> str:
    middle = usual(runs)
    return f"{middle.wall:.3f} s ({middle.cpu:.3f} s of processors)"


def _ratios(ours: Sequence[Run], floor: Sequence[Run]) -> str:
    """On the wall, and of processors: the second stands firm when others use the machine, too."""
    wall = ratio([each.wall for each in ours], [each.wall for each in floor])
    cpu = ratio([each.cpu for each in ours], [each.cpu for each in floor])
    return f"{wall} on the wall, {cpu} of processors"


def templates(bench: Bench) -> Iterator[str]:
    """Milliseconds of one process for a page of each kind, the template already read."""
    jobs = pickle.loads(_ready(bench.book(), bench.folder / f"views-{bench.recipes}.pickle").read_bytes())
    press = SitePress(jobs[0][0], (THEME,), {})
    taken: dict[str, list[float]] = {}
    gc.disable()
    for _, page in jobs:
        press.set(page)
        began = time.process_time()
        press.set(page)
        taken.setdefault(page.template, []).append(time.process_time() - began)
    gc.enable()
    for name, each in sorted(taken.items(), key=lambda entry: -sum(entry[1])):
        yield f"{name.removesuffix('.html'):12} {1000 * sum(each) / len(each):7.2f} ms × {len(each)}"


def _ready(book: Path, kept: Path) -> Path:
    """A file with every page of a book's site before it is set, each with the site's frame."""
    if not kept.exists():
        found = read_book(book).book
        assert found is not None
        figures = compute(found, ON)
        site = project(found, figures, {ref: workings_of(found, figures, ref) for ref in found.recipes})
        kept.write_bytes(pickle.dumps([(site.frame, page) for page in pages(site)]))
    return kept


def _floor(*arguments: object) -> dict[str, Any]:
    command = [sys.executable, "-m", "tests.benchmarks.floors", *map(str, arguments)]
    done = subprocess.run(command, capture_output=True, check=False, cwd=ROOT, text=True)
    if done.returncode:
        raise Failed(done.stderr[-2000:])
    found: dict[str, Any] = json.loads(done.stdout)
    return found


# --- the site, again ------------------------------------------------------------------------------------------------


def unchanged(bench: Bench) -> Iterator[str]:
    """A build of the site when nothing has changed; floor: starting Python."""
    book, out = bench.book(), bench.out("again")
    bench.build(book, out)
    yield from _against_start(bench, lambda: bench.build(book, out))


def edited(bench: Bench) -> Iterator[str]:
    """A build of the site after one word of one recipe has changed; floor: starting Python."""
    book, out = bench.book(), bench.out("again")
    bench.build(book, out)
    recipe = _some_recipe(book)
    whole = recipe.read_text("utf-8")
    edits = iter(range(10**6))

    def edit_and_build() -> Run:
        recipe.write_text(whole + f"\nAnd so it was for the {next(edits)}th time.\n", "utf-8")
        return bench.build(book, out)

    try:
        yield from _against_start(bench, edit_and_build)
    finally:
        recipe.write_text(whole, "utf-8")


def _some_recipe(book: Path) -> Path:
    """A component that others use."""
    return sorted((book / "mousses").glob("*.md"))[3]


def _against_start(bench: Bench, work: Callable[[], Run]) -> Iterator[str]:
    ours, floor = in_turn(bench.rounds, work, lambda: run(*NOTHING))
    yield f"ours {_both(ours)}, floor {_both(floor)}"
    yield f"ours ÷ floor: {_ratios(ours, floor)}"


# --- growth and memory ----------------------------------------------------------------------------------------------


def growth(bench: Bench) -> Iterator[str]:
    """First builds of the site of ever larger books: time, processors and memory a recipe."""
    sizes = [size for size in (100, 300, 1000, 2500, 5000) if size <= max(bench.recipes * 5, 300)]
    found: dict[int, Run] = {}
    for size in sizes:
        found[size] = usual([bench.cold(bench.book(size), "growth", memory=True) for _ in range(min(bench.rounds, 3))])
        each = found[size]
        yield (
            f"{size:5} recipes {each.wall:7.2f} s, {each.cpu:7.2f} s of processors, {each.memory:6.0f} MB; "
            f"a recipe {1000 * each.wall / size:.2f} ms, {1000 * each.cpu / size:.2f} ms"
        )
    least, most = sizes[0], sizes[-1]
    linear = most / least
    yield f"from {least} to {most}: {found[most].wall / found[least].wall / linear:.2f} × linear"
    # what does not depend on the number of recipes makes small books look slow: without it
    middle = sizes[len(sizes) // 2]
    slope = (found[most].cpu - found[middle].cpu) / (most - middle)
    first = (found[middle].cpu - found[least].cpu) / (middle - least)
    yield f"a further recipe costs from {middle} to {most} {slope / first:.2f} × what it costs from {least} to {middle}"


ROWS: Mapping[str, Callable[[Bench], Iterator[str]]] = {
    "cold": cold,
    "templates": templates,
    "unchanged": unchanged,
    "edited": edited,
    "growth": growth,
}
"""Every row by the name that it is asked for by."""

"""The site: our builds against their floors, a row each, in pairs, in one run.

Nothing here says what is fast enough; a person reads the ratios. Absolute times are of this machine and this hour.
"""

import gc
import json
import pickle
import re
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from bookmaker.editions.team.edition import project
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.explain import workings_of
from bookmaker.press.site import SitePress, pages
from bookmaker.reading.book import read_book
from bookmaker.workshop.pool import processes
from tests.benchmarks.bench import ON, THEME, Bench, both, floor_of, ratios, some_recipe
from tests.benchmarks.measuring import ROOT, Run, in_turn, run, usual

NOTHING = ("-c", "pass")


# --- the site, from nothing -----------------------------------------------------------------------------------------


def cold(bench: Bench) -> Iterator[str]:
    """A whole first build of the site; floor: YAML composed, Markdown parsed, pages set from ready views."""
    book = bench.book()
    views = _ready(book, bench.folder / f"views-{bench.recipes}.pickle")
    workers = processes()
    fonts: list[Run] = []

    def floor() -> Run:
        said = floor_of("site", book, views, THEME, workers)
        fonts.append(Run(*said["fonts"]))
        return Run(*(sum(each) for each in zip(said["reading"], said["setting"], strict=True)))

    ours, its = in_turn(bench.rounds, lambda: bench.cold(book, "cold"), floor)
    with_fonts = [Run(each.wall + font.wall, each.cpu + font.cpu) for each, font in zip(its, fonts, strict=True)]
    yield f"{bench.recipes} recipes, {workers} processes; ours {both(ours)}, floor {both(its)}"
    yield f"ours ÷ floor: {ratios(ours, its)}"
    yield f"the same with the font library's own cutting in the floor: {ratios(ours, with_fonts)}"


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


# --- the site, again ------------------------------------------------------------------------------------------------


def unchanged(bench: Bench) -> Iterator[str]:
    """A build of the site when nothing has changed; floor: starting Python."""
    book, out = bench.book(), bench.out("again")
    bench.build(book, out)
    yield from _against_start(bench, lambda: bench.build(book, out))


def edited(bench: Bench) -> Iterator[str]:
    """A build of the site after one word of one recipe has changed; floor: starting Python."""
    yield from _edited(bench, lambda whole, turn: whole + f"\nAnd so it was for the {turn}th time.\n")


def weighed(bench: Bench) -> Iterator[str]:
    """The same after one weight has changed, which changes all figures of the recipe and of those that use it."""

    def another_weight(whole: str, turn: int) -> str:
        return re.sub(
            r"(?m)^(\s*- )(\d+)( g )", lambda line: f"{line[1]}{int(line[2]) + turn + 1}{line[3]}", whole, count=1
        )

    yield from _edited(bench, another_weight)


def _edited(bench: Bench, edit: Callable[[str, int], str]) -> Iterator[str]:
    book, out = bench.book(), bench.out("again")
    bench.build(book, out)
    recipe = some_recipe(book)
    whole = recipe.read_text("utf-8")
    assert edit(whole, 1) != whole
    edits = iter(range(10**6))

    def edit_and_build() -> Run:
        recipe.write_text(edit(whole, next(edits)), "utf-8")
        return bench.build(book, out)

    try:
        yield from _against_start(bench, edit_and_build)
    finally:
        recipe.write_text(whole, "utf-8")


def _against_start(bench: Bench, work: Callable[[], Run]) -> Iterator[str]:
    ours, floor = in_turn(bench.rounds, work, lambda: run(*NOTHING))
    yield f"ours {both(ours)}, floor {both(floor)}"
    yield f"ours ÷ floor: {ratios(ours, floor)}"


def watch(bench: Bench) -> Iterator[str]:
    """`watch`: one recipe changed, in the process that built before; floor: a whole build of such an edit."""
    book, out = bench.book(), bench.out("again")
    bench.build(book, out)
    recipe = some_recipe(book)
    whole = recipe.read_text("utf-8")
    edits = iter(range(10**6))

    def edit() -> None:
        recipe.write_text(whole + f"\nAnd so it was for the {next(edits)}th time.\n", "utf-8")

    command = [sys.executable, "-m", "tests.benchmarks.watcher", str(book), str(out), ON.isoformat()]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=ROOT, text=True) as watcher:
        asked, answer = watcher.stdin, watcher.stdout
        assert asked is not None
        assert answer is not None

        def watched() -> Run:
            edit()
            asked.write("build\n")
            asked.flush()
            return Run(*json.loads(answer.readline()))

        def built() -> Run:
            edit()
            return bench.build(book, out)

        try:
            watched()
            ours, floor = in_turn(bench.rounds, watched, built)
        finally:
            recipe.write_text(whole, "utf-8")
            asked.close()
    yield f"ours {both(ours)}, floor {both(floor)}"
    yield f"ours ÷ floor: {ratios(ours, floor)}"


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

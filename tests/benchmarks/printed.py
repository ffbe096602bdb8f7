"""The printed book against the page library laying out the same pages as one document.

How many pages a book has is said in the row. The library's garbage collection is switched off, as ours is.
"""

import csv
import gc
import io
import json
import re
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path

from bookmaker.editions.book.edition import arrange
from bookmaker.editions.team.edition import project
from bookmaker.kitchen.compute import compute
from bookmaker.press.assembly.assembling import Setting, Shop, assemble
from bookmaker.press.book import book_html, document, pieces, styles
from bookmaker.press.pdf import VARIANT, Engine
from bookmaker.reading.book import read_book
from bookmaker.workshop.pool import spread
from tests.benchmarks.bench import ON, THEME, Bench, both, ratios, some_recipe
from tests.benchmarks.measuring import Run, in_turn, run, usual

SMALL, LARGE = 120, 400
"""Recipes that come to some 300 and 1,000 pages."""

PRICED = 40
"""Recipes that a change of prices reaches."""


def page(bench: Bench) -> Iterator[str]:
    """A file of one page, by a process that has made others; floor: the library, with fonts and style sheet read."""
    book = bench.book(SMALL)
    found = read_book(book).book
    assert found is not None
    printed = arrange(project(found, compute(found, ON), {}), found.house)
    folders = [THEME / "print"]
    setting = Setting("page.pdf", printed.frame.language, styles(printed, folders), partial(document, printed, folders))
    shop = Shop(partial(spread, workers=1), lambda *_: None, lambda _: None)
    pages = [piece for piece in pieces(printed, folders, {}) if piece.name == "About the figures"]
    row = [replace(pages[0], html=_LINK.sub("", pages[0].html))]
    engine = Engine(setting.styles)

    def ours() -> object:
        return assemble(row, setting, shop)

    def floor() -> object:
        return engine.render(setting.document(row[0].html)).write_pdf(pdf_variant=VARIANT)

    gc.disable()
    for warm in (ours, floor, ours, floor):
        warm()
    mine, its = in_turn(bench.rounds * 3, lambda: _timed(ours), lambda: _timed(floor))
    gc.enable()
    yield f"ours {both(mine)}, floor {both(its)}"
    yield f"ours ÷ floor: {ratios(mine, its)}"


_LINK = re.compile(r' href="[^"]*"')


def _timed(work: Callable[[], object]) -> Run:
    began, used = time.perf_counter(), time.process_time()
    work()
    return Run(time.perf_counter() - began, time.process_time() - used)


def pdf(bench: Bench) -> Iterator[str]:
    """`book.pdf` of some 300 pages, from nothing; floor: the library laying them out as one document, HTML ready."""
    yield from _printed(bench, SMALL, min(bench.rounds, 3))


def pdf_large(bench: Bench) -> Iterator[str]:
    """The same of some 1,000 pages, one run each; then one recipe changed, then prices that reach 40 recipes."""
    yield from _printed(bench, LARGE, 1)


def _printed(bench: Bench, recipes: int, rounds: int) -> Iterator[str]:
    book = bench.book(recipes)
    html = _html(bench, book, recipes)
    floor_pdf = bench.folder / "floor.pdf"

    def floor() -> Run:
        return run("-m", "tests.benchmarks.floors", "pdf", str(html), str(floor_pdf), memory=True)

    ours, its = in_turn(rounds, lambda: bench.cold(book, "book", "book", memory=True), floor)
    yield f"{recipes} recipes, {_pages(floor_pdf)} pages; ours {both(ours)}, floor {both(its)}"
    yield f"ours ÷ floor: {ratios(ours, its)}"
    held, least = usual(ours).memory, usual(its).memory
    yield f"memory of all processes {held:.0f} MB, floor {least:.0f} MB: {held / least:.2f}"
    yield _again(bench, book, "one recipe changed", _with_a_word(book), usual(its))
    reached, texts = _with_other_prices(book)
    yield _again(bench, book, f"prices changed that reach {reached} recipes", texts, usual(its))


def _again(bench: Bench, book: Path, what: str, edits: dict[Path, str], floor: Run) -> str:
    """Build again after an edit, take it back, and build once more, so that the next edit finds what this one found."""
    before = {path: path.read_text("utf-8") for path in edits}
    runs = []
    for texts in (edits, before):
        for path, text in texts.items():
            path.write_text(text, "utf-8", newline="\n")
        runs.append(bench.build(book, bench.out("book"), "book"))
    first = runs[0]
    return (
        f"{what}: {first.wall:.2f} s ({first.cpu:.2f} s of processors), 1/{floor.wall / first.wall:.0f} of the floor "
        f"on the wall, 1/{floor.cpu / first.cpu:.0f} of processors"
    )


def _with_a_word(book: Path) -> dict[Path, str]:
    recipe = some_recipe(book)
    return {recipe: recipe.read_text("utf-8") + "\nAnd so it was once more.\n"}


def _with_other_prices(book: Path) -> tuple[int, dict[Path, str]]:
    """Dearer items, as many as reach some 40 recipes, and how many those are."""
    found = read_book(book).book
    assert found is not None
    reached_by: dict[str, set[str]] = {}
    for ref, figure in compute(found, ON).recipes.items():
        for item in figure.cost.by_item:
            reached_by.setdefault(item.id, set()).add(ref.id)
    dearer: set[str] = set()
    reached: set[str] = set()
    for name, recipes in sorted(reached_by.items(), key=lambda entry: (len(entry[1]), entry[0])):
        if len(reached | recipes) <= PRICED:
            dearer.add(name)
            reached |= recipes
    prices = book / "stores" / "prices.csv"
    head, *rows = csv.reader(io.StringIO(prices.read_text("utf-8")))
    price = head.index("price")
    for row in rows:
        if row[0] in dearer:
            row[price] = f"{float(row[price]) * 1.07:.2f}"
    told = io.StringIO()
    csv.writer(told, lineterminator="\n").writerows([head, *rows])
    return len(reached), {prices: told.getvalue()}


def _html(bench: Bench, book: Path, recipes: int) -> Path:
    """A file with the whole book as one document and its style sheet."""
    kept = bench.folder / f"html-{recipes}.json"
    if not kept.exists():
        found = read_book(book).book
        assert found is not None
        printed = arrange(project(found, compute(found, ON), {}), found.house)
        folders = [THEME / "print"]
        kept.write_text(json.dumps([book_html(printed, folders, {}), styles(printed, folders)]), "utf-8")
    return kept


def _pages(pdf_file: Path) -> int:
    from pypdf import PdfReader

    return len(PdfReader(pdf_file).pages)

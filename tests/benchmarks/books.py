"""Honest large books, written as real folders: the demo's house, generated stores, prices and recipes."""

from collections.abc import Callable, Mapping
from pathlib import Path
from random import Random

from bookmaker.workshop.shipped import demo_book_dir
from tests.benchmarks import components, products
from tests.benchmarks.kitchen import Kitchen
from tests.benchmarks.stores import fill_shelf

MIX: Mapping[Callable[[Kitchen], None], int] = {
    components.culture: 2, components.poolish: 3, components.soaker: 3, components.custard: 9, components.biscuit: 9,
    components.preserve: 8, components.mousse: 8, components.insert: 6, components.dough: 6,
    products.bread: 10, products.bun: 8, products.moulded: 9, products.slice_: 7, products.tart: 5,
    products.confection: 5, products.assortment: 2,
}  # fmt: skip
"""How many of a hundred recipes are of which kind, components first."""

LEAST = 30


def write_book(folder: Path, recipes: int, seed: int = 1) -> None:
    """Write a book of so many recipe files (at least 30) into `folder`. The same seed gives the same book.

    House, hazards and glossary are the demo's. The stores grow with the recipes: 90 items, and one for every five
    recipes.
    """
    if recipes < LEAST:
        raise ValueError(f"a book of fewer than {LEAST} recipes lacks some kind of them")
    random = Random(seed)
    shelf = fill_shelf(random, 90 + recipes // 5)
    kitchen = Kitchen(random, shelf)
    for make, count in _shares(recipes).items():
        for _ in range(count):
            make(kitchen)
    for name in ("house.yaml", "cautions.yaml", "glossary.md"):
        _write(folder / name, (demo_book_dir() / name).read_text("utf-8"))
    for name, text in {**shelf.files, **kitchen.files}.items():
        _write(folder / name, text)


def _shares(recipes: int) -> dict[Callable[[Kitchen], None], int]:
    """How many of each kind, one of each at least; breads make the number up."""
    shares = {make: max(1, recipes * share // 100) for make, share in MIX.items()}
    shares[products.bread] += recipes - sum(shares.values())
    return shares


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8", newline="\n")

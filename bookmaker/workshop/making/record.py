"""The record of all figures, `book.json`. A recipe's entry is written anew only where something in it may be new."""

import zlib
from collections.abc import Iterator
from functools import partial

from bookmaker.editions.record import edition as record
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef
from bookmaker.workshop.building import Edition, Job, Made, nothing
from bookmaker.workshop.cache.kept import KeptBook
from bookmaker.workshop.cache.leaf import Leaf
from bookmaker.workshop.cache.notes import label
from bookmaker.workshop.cache.packing import digest
from bookmaker.workshop.pool import spread_calls

WORTH_A_POOL = 200
"""Recipes. To begin two processes takes as long as to write some forty entries."""


def _make(job: Job) -> Made:
    kept = job.kept
    return Made([Leaf(record.FILE, kept.all_figures, lambda: _record(kept), spreads=True)], nothing)


def _record(kept: KeptBook) -> bytes:
    return record.joined(kept.book, kept.figures, _entries(kept))


def _entries(kept: KeptBook) -> Iterator[str]:
    """The entries of all recipes, those from the store that it has."""
    store, keys = kept.store, {ref: f"record:{_key(kept, ref)}" for ref in kept.book.recipes}
    lacking = [ref for ref, key in keys.items() if store.get(key) is None]
    calls = [partial(_entry, kept, ref) for ref in lacking]
    made = dict(zip(lacking, spread_calls(calls, worth=WORTH_A_POOL), strict=True))
    for ref, key in keys.items():
        packed = made.get(ref) or store.get(key) or _entry(kept, ref)
        if ref in made:
            store.put(key, packed)
        yield zlib.decompress(packed).decode("utf-8")


def _key(kept: KeptBook, ref: RecipeRef) -> str:
    """What stands for everything in a recipe's entry."""
    bound = kept.bound.entries[label(ref)]
    says = kept.labels.content(ref) if bound.kind == Kind.PRODUCT.value else ""
    users = map(label, kept.figured.users.of_recipes.get(ref, ()))
    return digest(bound.own, kept.figured.entries[label(ref)].all, says, kept.keys.contents, *users)


def _entry(kept: KeptBook, ref: RecipeRef) -> bytes:
    written = record.entry(kept.book, kept.figures.recipes[ref], kept.labels.label)
    return zlib.compress(written.encode("utf-8"), 1)


EDITION = Edition("record", _make)

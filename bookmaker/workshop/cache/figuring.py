"""Figures: a recipe's are computed anew only where it, or something that they were computed from, has changed.

The recipes are gone through components first. A component whose figures come out as they were is as good as unchanged
for those that use it.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from bookmaker.kitchen.compute import Before, figures_of
from bookmaker.kitchen.figures import RecipeFigures
from bookmaker.kitchen.findings import findings_of
from bookmaker.kitchen.prices import price_findings
from bookmaker.kitchen.ties import Ties, Users, ties_of, users_of
from bookmaker.measures.exact import exactly
from bookmaker.model.book import Book, Caution
from bookmaker.model.house import House
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef
from bookmaker.problems.problem import Problem
from bookmaker.workshop.cache.binding import Bound, seen_by_others
from bookmaker.workshop.cache.larder import KeptLarder
from bookmaker.workshop.cache.lazily import Lazily
from bookmaker.workshop.cache.ledger import FiguresEntry
from bookmaker.workshop.cache.library import problem_bytes, problems_in
from bookmaker.workshop.cache.notes import Changes, Noted, Notes, label, recipe_of
from bookmaker.workshop.cache.packing import digest, digest_of, pack, recalled
from bookmaker.workshop.cache.store import Store

RECIPES, ITEMS, LISTED, SIZES, HAZARDS, CHOSEN = "rspzx$"
"""What is looked up in the book, and the prices that count."""

FLOWS, TIMES, COSTS, ALLERGENS, KEEPING = PARTS = "ftcak"
"""What is looked up of the figures of a component."""

ALL = "F"
"""All figures of a recipe together."""

NO_DAY = date.min
"""The date of the figures that pages are projected from: none. What depends on it does so by the prices that count."""


class Recipes(Mapping[RecipeRef, Recipe]):
    """The book's recipes as one of them sees them: all of itself, of the others what they are computed from."""

    def __init__(self, whole: Mapping[RecipeRef, Recipe]) -> None:
        self._whole = whole
        self._seen = Lazily(whole, lambda ref: seen_by_others(whole[ref]))
        self.own: RecipeRef | None = None

    def __getitem__(self, ref: RecipeRef) -> Recipe:
        return self._whole[ref] if ref == self.own else self._seen[ref]

    def __iter__(self) -> Iterator[RecipeRef]:
        return iter(self._whole)

    def __len__(self) -> int:
        return len(self._whole)


class Desk:
    """The book as it is looked up by one recipe after the other, with notes of what each looks up."""

    def __init__(self, bound: Bound, larder: KeptLarder, house: House, cautions: Mapping[str, Caution]) -> None:
        self.notes = notes = Notes()
        self.recipes = Recipes(bound.recipes)
        self.book = Book(
            house=house,
            stores=notes.on(ITEMS, larder.stores),
            prices=notes.on(LISTED, larder.prices),
            recipes=notes.on(RECIPES, self.recipes),
            sizes=notes.on(SIZES, bound.sizes),
            cautions=notes.on(HAZARDS, cautions),
        )
        self.prices = notes.on(CHOSEN, larder.chosen)

    def turn_to(self, ref: RecipeRef) -> Recipe:
        """Let the book be seen by this recipe."""
        self.recipes.own = ref
        return self.recipes[ref]


@dataclass(slots=True)
class Figured:
    """The book's figures: an entry for each recipe, and the figures themselves for those who want them."""

    entries: dict[str, FiguresEntry]
    figures: Lazily[RecipeRef, RecipeFigures]
    """Without those who use a recipe, which are in `users`."""
    users: Users

    def findings(self, bound: Bound, larder: KeptLarder, house: House, on: date) -> Iterator[Problem]:
        """What was found wrong when computing, the price list's part first."""
        paying = {item: bound.entries[label(ref)].title for item, ref in self.users.paying.items()}
        found: list[Problem] = []
        lacking = {item: title for item, title in paying.items() if item in larder.lacking}
        if lacking:
            book = Book(house, larder.stores, larder.prices, {}, {}, {})
            with exactly():
                found += price_findings(book, larder.chosen, on, lacking)
        for entry in self.entries.values():
            found += problems_in(entry.findings)
        yield from dict.fromkeys(found)


class Reckoning:
    """Computes a book's recipes one after the other, those that have to be."""

    def __init__(self, bound: Bound, desk: Desk, store: Store) -> None:
        self._bound, self._desk, self._store = bound, desk, store
        self._entries: dict[str, FiguresEntry] = {}
        self._figures = Lazily(dict.fromkeys(map(recipe_of, bound.order)), self._recalled)
        self._before = Before(
            desk.book,
            desk.prices,
            flows=self._part(FLOWS, "flow"),
            times=self._part(TIMES, "time"),
            costs=self._part(COSTS, "cost"),
            allergens=self._part(ALLERGENS, "allergens"),
            keeping=self._part(KEEPING, "keeping"),
        )

    def kept(self, before: Mapping[str, FiguresEntry], changes: Changes, *, house_changed: bool) -> Figured:
        """Compute what has changed, components first; `changes` grows by the figures that come out otherwise."""
        entries = self._entries
        with exactly():
            for key in self._bound.order:
                entry = before.get(key)
                own = self._bound.entries[key].own
                if entry is None or entry.own != own or house_changed or changes.touch(entry.reads):
                    was, entry = entry, self._computed(recipe_of(key), own)
                    old = (*was.parts, was.all) if was else ("",) * (len(PARTS) + 1)
                    for kind, one, other in zip(PARTS + ALL, old, (*entry.parts, entry.all), strict=True):
                        if one != other:
                            changes.add(kind, key)
                entries[key] = entry
        for gone in before.keys() - entries.keys():
            for kind in PARTS + ALL:
                changes.add(kind, gone)
        ties = {recipe_of(key): _ties(entry) for key, entry in entries.items()}
        return Figured(entries, self._figures, users_of(ties))

    def _part(self, kind: str, name: str) -> Noted[RecipeRef, Any]:
        figures = self._figures
        return self._desk.notes.on(kind, Lazily(figures, lambda ref: getattr(figures[ref], name)))

    def _computed(self, ref: RecipeRef, own: str) -> FiguresEntry:
        desk = self._desk
        recipe = desk.turn_to(ref)
        found = figures_of(recipe, self._before)
        findings = findings_of(recipe, found.flow, desk.book, self._before.flows)
        ties = ties_of(recipe, desk.book)
        self._figures.set(ref, found)
        parts = tuple(map(digest_of, (found.flow, found.time, found.cost, found.allergens, found.keeping)))
        rest = digest_of((found.total_formula, found.completeness, found.components))
        together = digest(label(ref), *parts, rest)
        self._store.put(f"figures:{together}", pack(found))
        return FiguresEntry(
            own=own,
            reads=desk.notes.take(),
            parts=parts,
            all=together,
            findings=problem_bytes(findings),
            components=tuple(map(label, ties.components)),
            co_products=ties.co_products,
            items=ties.items,
            paid=ties.paid,
        )

    def _recalled(self, ref: RecipeRef) -> RecipeFigures:
        """Figures that have been computed before; anew, where they are not kept any more."""
        found: RecipeFigures | None = recalled(self._store.get(f"figures:{self._entries[label(ref)].all}"))
        if found is not None:
            return found
        at_hand = self._desk.recipes.own
        try:
            with exactly():
                return figures_of(self._desk.turn_to(ref), self._before)
        finally:
            self._desk.recipes.own = at_hand


def _ties(entry: FiguresEntry) -> Ties:
    return Ties(tuple(map(recipe_of, entry.components)), entry.co_products, entry.items, entry.paid)


def with_its_users(figures: RecipeFigures, entry_gives: tuple[str, ...], users: Users) -> RecipeFigures:
    """The figures with those who use the recipe and its co-products."""
    ref = figures.ref
    takers = {name: users.of_co_products.get((ref.id, name), ()) for name in entry_gives}
    return replace(figures, used_in=users.of_recipes.get(ref, ()), takers=takers)

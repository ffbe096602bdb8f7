"""The pages of stores items, projected anew only where the item, its prices, or what uses it has changed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from bookmaker.editions.team.cards import ItemCard
from bookmaker.editions.team.places import Places
from bookmaker.editions.team.project_stores import item_card, item_view
from bookmaker.editions.team.views_stores import StoresItemView, UseView
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.workshop.cache.kept import KeptBook
from bookmaker.workshop.cache.larder import digests
from bookmaker.workshop.cache.ledger import ItemEntry, PagesEntry
from bookmaker.workshop.cache.notes import Changes, label, recipe_of
from bookmaker.workshop.cache.packing import digest, digest_of
from bookmaker.workshop.cache.projecting import amount_in, noted_places


@dataclass(slots=True)
class Items:
    """An entry for each item, in the order of their names, and the views of those that are new."""

    entries: dict[str, ItemEntry]
    fresh: dict[str, StoresItemView] = field(default_factory=dict)


class ItemProjector:
    """Projects items, with notes of what each looks up."""

    def __init__(self, kept: KeptBook, places: Places, pages: Mapping[str, PagesEntry]) -> None:
        self._desk, self._larder, self._figured, self._on = kept.desk, kept.larder, kept.figured, kept.on
        self._pages = pages
        self._plain = places
        self._places = noted_places(kept.desk.notes, places)

    def kept(self, before: Mapping[str, ItemEntry], changes: Changes, *, house: str) -> Items:
        """Project what may have changed."""
        shelves = self._larder.shelves
        items, listed, chosen = map(digests, (shelves.items, shelves.listed, self._larder.chosen_packed))
        found = Items({})
        for name in sorted(items, key=str.casefold):
            users, reached = self._users(name), self._reached(name)
            made_from = digest(
                house,
                self._on.isoformat() if name in listed else "",
                items[name],
                listed.get(name, ""),
                chosen[name],
                *(f"{label(ref)}\0{self._grams.get((label(ref), name), '')}" for ref in users),
                "",
                *map(label, reached),
            )
            entry = before.get(name)
            if entry is None or entry.made_from != made_from or changes.touch(entry.reads):
                view = found.fresh[name] = self.view(name)
                entry = ItemEntry(made_from, self._desk.notes.take(), digest_of(view), digest_of(item_card(view)))
            found.entries[name] = entry
        return found

    def view(self, name: str) -> StoresItemView:
        """Project one item."""
        uses = (
            UseView(self._places.link(ref), amount_in(self._grams.get((label(ref), name), "")))
            for ref in self._users(name)
        )
        item, chosen = self._desk.book.stores[name], self._desk.prices[name]
        return item_view(item, chosen, self._on, uses, self._reached(name), book=self._desk.book, places=self._places)

    def card(self, name: str) -> ItemCard:
        """What the index tells of an item."""
        return item_card(self.view(name))

    def _users(self, name: str) -> Sequence[RecipeRef]:
        """The listed recipes that name the item."""
        users = self._figured.users.of_items.get(StoresRef(name), ())
        return [ref for ref in users if ref in self._plain.listed]

    def _reached(self, name: str) -> Sequence[RecipeRef]:
        """The listed products that hold the item without naming it."""
        users = set(self._figured.users.of_items.get(StoresRef(name), ()))
        return [ref for ref in self._holding.get(name, ()) if ref not in users]

    @cached_property
    def _grams(self) -> dict[tuple[str, str], str]:
        return {(key, item): text for key, entry in self._pages.items() for item, text in entry.grams}

    @cached_property
    def _holding(self) -> dict[str, list[RecipeRef]]:
        """The listed products that hold an item, in the order of making."""
        found: dict[str, list[RecipeRef]] = {}
        for key in self._figured.entries:
            ref = recipe_of(key)
            for item in self._pages[key].holds:
                found.setdefault(item, []).append(ref)
        return found

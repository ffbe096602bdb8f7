"""The book, read and computed from what is kept of the last build as far as that still holds.

It is what `reading` and `kitchen` would give, with the same problems in the same order.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from pathlib import Path

from bookmaker.editions.team.places import Contents
from bookmaker.kitchen.figures import Figures
from bookmaker.model.book import Book
from bookmaker.model.house import House
from bookmaker.problems.echoes import without_echoes
from bookmaker.problems.problem import Problem
from bookmaker.reading.book import glossary_problems, no_house
from bookmaker.reading.files import read_folder
from bookmaker.workshop.cache import binding, figuring
from bookmaker.workshop.cache.binding import Binder, Bound, contents_from
from bookmaker.workshop.cache.figuring import Desk, Figured, Reckoning, with_its_users
from bookmaker.workshop.cache.labels import WHOLE, KeptLabels, compare_articles
from bookmaker.workshop.cache.larder import KeptLarder, caution_digests, chosen_at, digests, shelves_at
from bookmaker.workshop.cache.lazily import Lazily
from bookmaker.workshop.cache.ledger import LEDGER, Ledger, read_ledger
from bookmaker.workshop.cache.library import Library, Sources, problems_in
from bookmaker.workshop.cache.notes import Changes, label
from bookmaker.workshop.cache.packing import canonical, digest
from bookmaker.workshop.cache.register import KeptRegister
from bookmaker.workshop.cache.store import Store
from bookmaker.workshop.same_pages import same_pages


@dataclass(frozen=True, slots=True)
class Keys:
    """What stands for the things that there is one of."""

    house: str
    larder: str
    chosen: str
    names: str
    contents: str


class KeptBook:
    """A book as far as it could be read, and everything that is wrong with it.

    `changes` are those since the ledger `before` was written. Where a book has errors it is not to be published, and
    no ledger is to be written of it.
    """

    def __init__(self, folder: Path, on: date, store: Store, out: Path | None) -> None:
        self.on, self.store = on, store
        self.before = read_ledger(store.get(LEDGER))
        self.changes = Changes()
        self.folder, self._folder_problems = read_folder(folder, out)
        self.library = Library(self.folder, store, self.before.documents)
        self.has_house = self.library.house is not None and self.library.house.value is not None
        self.house = (self.library.house.value if self.library.house else None) or House("")
        self._house = digest(canonical(self.house), str(self.has_house))
        self.house_changed = self.before.keys.get("house") != self._house
        self.larder = KeptLarder(self.library, self.house, self._house, on, store)
        self.cautions = caution_digests(self.library.all_cautions.values())
        binder = Binder(self.library, self.larder, self.house, store)
        self._note_what_binding_reads(binder)
        self.bound: Bound = binder.bind(self.before, self.changes, house_changed=self.house_changed)
        self.register = KeptRegister(self.library, self.bound, store)
        self.faces = binder.face_digests()
        self.terms = binder.terms
        self._note_what_figures_read()
        self.desk = Desk(self.bound, self.larder, self.house, self.library.all_cautions)
        reckoning = Reckoning(self.bound, self.desk, store)
        self.figured: Figured = reckoning.kept(self.before.figures, self.changes, house_changed=self.house_changed)
        self.labels = KeptLabels(self.bound, self.larder, self.house, self.figured, store)
        self._keep_labels()
        self.contents: Contents = self.bound.contents(self.larder.shelves.items, self.house)
        self.keys = Keys(
            self._house, self.larder.key, self.larder.chosen_key, binder.namespace.key, _contents_key(self.contents)
        )
        self.sources = Sources(self.library)

    # --- what is wrong

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """Everything that is wrong with the book."""
        reading = dict.fromkeys(self._in_reading())
        findings = self.figured.findings(self.bound, self.larder, self.house, self.on)
        # a ledger is of a sound book, so that contents which have not changed do not clash
        shared = () if self.keys.contents == self.before.keys.get("contents") else same_pages(self.contents, self.book)
        alarms = tuple(self.labels.alarmed(self.register, self.before.alarms))
        changed: tuple[Problem, ...] = ()
        if alarms:
            from bookmaker.kitchen.alarm_problems import label_problems

            changed = label_problems(alarms, self.book)
        return (*without_echoes(reading, (*findings, *changed)), *shared)

    @property
    def sound(self) -> bool:
        """Whether nothing stands in the way of publishing."""
        return self.exists and not any(problem.stops for problem in self.problems)

    @property
    def exists(self) -> bool:
        """Whether there is a house or a recipe at all."""
        return self.has_house or bool(self.bound.entries)

    def _in_reading(self) -> Iterator[Problem]:
        library = self.library
        yield from self._folder_problems
        if library.house:
            yield from library.house.problems
        yield from no_house(self.folder)
        yield from library.problems()
        for document in library.entries.values():
            yield from problems_in(document.problems)
        yield from self.larder.shelves.problems
        yield from self.bound.name_problems
        yield from self.bound.problems()
        if library.glossary:
            files = frozenset((*library.entries, *(each.name for each in self.folder.unread)))
            yield from glossary_problems(library.glossary.value, files)
        yield from self.register.problems

    # --- what has changed

    def _note_what_binding_reads(self, binder: Binder) -> None:
        before, changes = self.before, self.changes
        if (names := before.keys.get("names")) != binder.namespace.key:
            changes.compare(binding.NAMES, binder.table_at(names or ""), binder.namespace.table)
        changes.compare(binding.FACES, before.faces, binder.face_digests())
        if before.keys.get("larder") != self.larder.key:
            items, listed = shelves_at(before.keys.get("larder", ""), self.store)
            changes.compare(binding.ITEMS, digests(items), digests(self.larder.shelves.items))
            changes.compare(figuring.LISTED, digests(listed), digests(self.larder.shelves.listed))
        changes.compare(binding.FILES, dict.fromkeys(before.readable), dict.fromkeys(binder.files))
        changes.compare(binding.PICTURES, dict.fromkeys(before.others), dict.fromkeys(sorted(self.folder.other)))
        changes.compare(binding.HAZARDS, before.cautions, self.cautions)
        changes.compare(binding.TERMS, before.terms, binder.terms)

    def _note_what_figures_read(self) -> None:
        before, changes, bound = self.before, self.changes, self.bound
        seen = {key: bound.entries[key].seen for key in bound.order}
        changes.compare(figuring.RECIPES, {key: before.bound[key].seen for key in before.order}, seen)
        changes.compare(figuring.SIZES, before.sizes, bound.sizes)
        if before.keys.get("chosen") != self.larder.chosen_key:
            chosen = chosen_at(before.keys.get("chosen", ""), self.store)
            changes.compare(figuring.CHOSEN, digests(chosen), digests(self.larder.chosen_packed))

    def _keep_labels(self) -> None:
        before, changes, bound = self.before, self.changes, self.bound
        if before.labels:
            whole = {key: bound.entries[key].own for key in bound.order}
            changes.compare(WHOLE, {key: before.bound[key].own for key in before.order}, whole)
            if before.keys.get("larder") != self.larder.key:
                _, listed = shelves_at(before.keys.get("larder", ""), self.store)
                compare_articles(listed, self.larder.shelves.listed, changes)
        self.labels.keep(before.labels, changes, house_changed=self.house_changed)

    # --- everything at hand

    @cached_property
    def book(self) -> Book:
        """The whole book; a recipe is fetched when somebody wants it."""
        terms = self.library.glossary.value.terms if self.library.glossary else ()
        return Book(
            house=self.house,
            stores=self.larder.stores,
            prices=self.larder.prices,
            recipes=self.bound.recipes,
            sizes=self.bound.sizes,
            cautions=self.library.all_cautions,
            glossary=terms,
            register=self.register.value,
        )

    @cached_property
    def figures(self) -> Figures:
        """All figures; a recipe's are fetched when somebody wants them."""
        own, users = self.figured.figures, self.figured.users
        recipes = Lazily(own, lambda ref: with_its_users(own[ref], self.bound.entries[label(ref)].gives, users))
        return Figures(self.on, recipes, self.larder.chosen, users.of_items)

    @property
    def all_figures(self) -> str:
        """What stands for the whole book and all its figures."""
        recipes = (f"{self.bound.entries[key].own}{entry.all}" for key, entry in self.figured.entries.items())
        return digest(self.keys.house, self.keys.larder, self.keys.chosen, self.keys.contents, *recipes)

    def contents_before(self) -> Contents:
        """What there was in the book at the last build. The house is taken to be the same."""
        before = self.before
        items, _ = shelves_at(before.keys.get("larder", ""), self.store)
        return contents_from(before.bound, before.order, before.sizes, items, self.house.sections)

    # --- for the next build

    def ledger(self) -> Ledger:
        """What reading and computing came to; pages are still those of the last build."""
        before = self.before
        return Ledger(
            keys=before.keys
            | {
                "house": self.keys.house,
                "larder": self.keys.larder,
                "chosen": self.keys.chosen,
                "names": self.keys.names,
                "contents": self.keys.contents,
            },
            cautions=self.cautions,
            terms=self.terms,
            documents=self.library.entries,
            faces=self.faces,
            readable=[*self.library.entries, *(each.name for each in self.folder.unread)],
            others=sorted(self.folder.other),
            bound=self.bound.entries,
            order=self.bound.order,
            cycles=self.bound.cycles,
            sizes=self.bound.sizes,
            figures=self.figured.entries,
            unseen=[*dict.fromkeys((*before.unseen, *sorted(self.changes.labels)))],
            pages=before.pages,
            items=before.items,
            lists=before.lists,
            photos=before.photos,
            labels=self.labels.entries,
            alarms=self.labels.alarms,
            set=before.set,
        )

    def live(self) -> Iterator[str]:
        """The keys in the store that the next build may ask for."""
        yield from (f"larder:{self.keys.larder}", f"chosen:{self.keys.chosen}", f"names:{self.keys.names}")
        yield from self.library.keys()
        yield f"register:{self.register.key}"
        yield from self.labels.live()
        yield from (f"bound:{entry.own}" for entry in self.bound.entries.values())
        yield from (f"figures:{entry.all}" for entry in self.figured.entries.values())
        yield from (f"photo:{entry.content}" for entry in self.before.photos.values())

    def let_go(self) -> None:
        """Drop what only the last ledger needed."""
        before, now = self.before.keys, self.keys
        for kind, key in (("larder", now.larder), ("chosen", now.chosen), ("names", now.names)):
            if before.get(kind, key) != key:
                self.store.drop(f"{kind}:{before[kind]}")


def _contents_key(contents: Contents) -> str:
    entries = (
        repr((label(ref), entry.title, entry.section, entry.kind.value, entry.status.value, entry.gives))
        for ref, entry in contents.recipes.items()
    )
    return digest(*entries, "", repr(contents.sizes), *contents.stores, repr(contents.headings))

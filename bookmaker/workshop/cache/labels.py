"""Labels: a product's is made anew only where something that it says may have changed, and so is its alarm.

An entry of the ledger holds for as long as nothing has changed that was looked up for it; one that does not hold any
more is dropped at once, whether anybody wants the label or not, so that no later build can take it for good.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from bookmaker.kitchen.figures import Figures, RecipeFigures
from bookmaker.model.book import Book, Caution
from bookmaker.model.house import House
from bookmaker.model.recipe import Kind, Status
from bookmaker.model.refs import RecipeRef
from bookmaker.workshop.cache.binding import Bound
from bookmaker.workshop.cache.figuring import ALLERGENS, FLOWS, ITEMS, NO_DAY, SIZES, Figured
from bookmaker.workshop.cache.larder import KeptLarder, Packed
from bookmaker.workshop.cache.lazily import Lazily
from bookmaker.workshop.cache.ledger import AlarmEntry, LabelEntry
from bookmaker.workshop.cache.notes import Changes, Notes, label, recipe_of
from bookmaker.workshop.cache.packing import digest_of, pack, recalled, unpack
from bookmaker.workshop.cache.register import KeptRegister
from bookmaker.workshop.cache.store import Store

if TYPE_CHECKING:
    from bookmaker.kitchen.alarm import Alarm
    from bookmaker.kitchen.label_figures import LabelFigure

WHOLE, ARTICLES = "WA"
"""What is looked up for a label: of a recipe all of it, as a component's legal name stands in its client text; of an
item's prices only which articles they are of.
"""


class KeptLabels:
    """The labels of a book, each made when somebody wants it, and the alarms of those that were issued."""

    def __init__(self, bound: Bound, larder: KeptLarder, house: House, figured: Figured, store: Store) -> None:
        self._bound, self._figured, self._store = bound, figured, store
        self._notes = notes = Notes()
        self._book = Book(
            house=house,
            stores=notes.on(ITEMS, larder.stores),
            prices=notes.on(ARTICLES, larder.prices),
            recipes=notes.on(WHOLE, bound.recipes),
            sizes=notes.on(SIZES, bound.sizes),
            cautions=_NO_CAUTIONS,
        )
        self._figures = Figures(NO_DAY, _ForLabels(figured.figures, notes), {}, {})
        self.entries: dict[str, LabelEntry] = {}
        """The labels that are known, by recipe; `content` stands for all that a label says."""
        self.alarms: dict[str, AlarmEntry] = {}

    def keep(self, before: Mapping[str, LabelEntry], changes: Changes, *, house_changed: bool) -> None:
        """Take over the entries that still hold."""
        if house_changed:
            return
        known = set(self._bound.order)
        self.entries = {key: entry for key, entry in before.items() if key in known and not changes.touch(entry.reads)}

    def label(self, ref: RecipeRef) -> "LabelFigure":
        """The label of a recipe that is food."""
        key = label(ref)
        entry = self.entries.get(key)
        if entry is not None:
            found: LabelFigure | None = recalled(self._store.get(f"label:{entry.content}"))
            if found is not None:
                return found
        from bookmaker.kitchen.label import label_of

        made = label_of(ref, self._book, self._figures)
        content = digest_of(made)
        self.entries[key] = LabelEntry(self._notes.take(), content)
        self._store.put(f"label:{content}", pack(made))
        return made

    def content(self, ref: RecipeRef) -> str:
        """What stands for all that a label says."""
        key = label(ref)
        if key not in self.entries:
            self.label(ref)
        return self.entries[key].content

    def alarmed(self, register: KeptRegister, before: Mapping[str, AlarmEntry]) -> "Iterator[Alarm]":
        """Every difference between what was issued of the released products and what their labels say now."""
        placed = set(self._bound.order)
        for key, issued in register.labels.items():
            own = self._bound.entries.get(key)
            if key not in placed or own is None or not _is_released(own.kind, own.status):
                continue
            ref = recipe_of(key)
            content, entry = self.content(ref), before.get(key)
            if entry is None or (entry.label, entry.issued) != (content, issued):
                handed = register.value.label(ref)
                assert handed is not None
                from bookmaker.kitchen.alarm import alarms_of

                found = alarms_of(self.label(ref), handed)
                entry = AlarmEntry(content, issued, pack(found) if found else b"")
            self.alarms[key] = entry
            yield from unpack(entry.alarms) if entry.alarms else ()

    def live(self) -> Iterator[str]:
        """The keys in the store under which labels are kept."""
        return (f"label:{entry.content}" for entry in self.entries.values())


def compare_articles(before: Packed, now: Packed, changes: Changes) -> None:
    """Note the items that are bought as other articles; what an article costs is nothing to a label."""
    for item in before.keys() | now.keys():
        one, other = before.get(item), now.get(item)
        if one != other and _articles(one) != _articles(other):
            changes.add(ARTICLES, item)


def _articles(packed: tuple[str, bytes] | None) -> set[tuple[str, str]]:
    return {(price.supplier, price.code) for price in (unpack(packed[1]) if packed else ())}


_NO_CAUTIONS: Mapping[str, Caution] = {}


def _is_released(kind: str, status: str) -> bool:
    return kind == Kind.PRODUCT.value and status == Status.APPROVED.value


class _ForLabels(Mapping[RecipeRef, RecipeFigures]):
    """The figures that a label may know: mass flow and allergens. Nothing else can be had, so nothing else is noted."""

    def __init__(self, figures: Mapping[RecipeRef, RecipeFigures], notes: Notes) -> None:
        self._figures = figures
        self._flows = notes.on(FLOWS, Lazily(figures, lambda ref: figures[ref].flow))
        self._allergens = notes.on(ALLERGENS, Lazily(figures, lambda ref: figures[ref].allergens))

    def __getitem__(self, ref: RecipeRef) -> RecipeFigures:
        kept_back: Any = _KeptBack()
        return replace(
            self._figures[ref],
            flow=self._flows[ref],
            allergens=self._allergens[ref],
            cost=kept_back,
            time=kept_back,
            keeping=kept_back,
            total_formula=kept_back,
            completeness=kept_back,
            used_in=kept_back,
            takers=kept_back,
        )

    def __iter__(self) -> Iterator[RecipeRef]:
        return iter(self._figures)

    def __len__(self) -> int:
        return len(self._figures)


class _KeptBack:
    """Figures that no label depends on, as nobody notes that they were looked up."""

    def __getattr__(self, name: str) -> Any:
        raise AssertionError(f"a label asked for {name}, which is not noted")

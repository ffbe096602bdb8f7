"""Ingredients heaped up by what they are declared as, before they are put in order.

A heap holds what one list of ingredients names: stores items by their declaration, and those components that keep a
list of their own. All other components are taken apart, so that the same ingredient in several of them is one.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal

from bookmaker.kitchen.figures import Path
from bookmaker.kitchen.labelling.articles import Stuff, stuff_of
from bookmaker.kitchen.labelling.mix import Mixes, Part, settled
from bookmaker.kitchen.labelling.rules import LISTS
from bookmaker.measures.exact import ZERO
from bookmaker.model.house import Compounds
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef, StoresRef


@dataclass(frozen=True, slots=True)
class Either:
    """Two ingredients of which one goes in, named as `one and/or the other`."""

    both: tuple[Stuff, Stuff]


Key = Stuff | Either | RecipeRef


@dataclass(frozen=True, slots=True)
class Heap:
    """Shares of the finished product, and the ways to what they stand for, by ingredient in the order met."""

    shares: dict[Key, Decimal] = field(default_factory=dict)
    ways: dict[Key, dict[Path, None]] = field(default_factory=dict)

    def add(self, key: Key, share: Decimal, way: Path) -> None:
        """Put more of an ingredient in."""
        self.shares[key] = self.shares.get(key, ZERO) + share
        self.ways.setdefault(key, {})[way] = None


@dataclass(frozen=True, slots=True)
class Heaping:
    """How a product's ingredients are heaped up: `kept` components keep a list of their own wherever they are."""

    mixes: Mixes
    compounds: Compounds
    kept: frozenset[RecipeRef] = frozenset()

    def of(self, ref: RecipeRef, share: Decimal, *, product: bool) -> Heap:
        """The ingredients of `share` of a recipe; `product` where its list is the product's own."""
        heap = Heap()
        self._fill(heap, ref, share, (), top=product)
        return heap

    def _fill(self, heap: Heap, ref: RecipeRef, scale: Decimal, prefix: Path, *, top: bool) -> None:
        for part in self.mixes.of(ref).parts:
            share = scale * part.share
            self._put(heap, part.target, share, (*prefix, *part.through), part, top=top)
            if not named_together(part, share, self.mixes):
                for choice in part.choices:
                    self._put(heap, choice, ZERO, (*prefix, choice), None, top=top)

    def _put(
        self, heap: Heap, target: StoresRef | RecipeRef, share: Decimal, way: Path, part: Part | None, *, top: bool
    ) -> None:
        if isinstance(target, RecipeRef):
            if self._keeps(target, top=top):
                heap.add(target, share, way)
            else:
                self._fill(heap, target, share, way, top=top)
            return
        stuff = self._stuff(target)
        if stuff is None:
            return
        other = self._stuff(part.choices[0]) if part is not None and named_together(part, share, self.mixes) else None
        heap.add(stuff if other is None or other == stuff else Either((stuff, other)), share, way)

    def _keeps(self, ref: RecipeRef, *, top: bool) -> bool:
        """Doughs' preferments and soakers are no ingredients that a guest would know."""
        if ref in self.kept:
            return True
        kind = self.mixes.book.recipes[ref].kind
        return top and self.compounds is Compounds.NESTED and kind in (Kind.COMPONENT, Kind.PRODUCT)

    def _stuff(self, target: StoresRef | RecipeRef) -> Stuff | None:
        """How an item is declared; None for what need not stand in the list, and brings no allergen."""
        item = self.mixes.book.stores[target.id]
        stuff = stuff_of(item, self.mixes.declared(item.id))
        return None if item.exempt_from_list is not None and not stuff.allergens else stuff


def named_together(part: Part, share: Decimal, mixes: Mixes) -> bool:
    """Whether a line and its alternative are named as one entry: two stores items of a small share, neither of them an
    additive nor with an allergen in it (Regulation (EU) No 1169/2011, Annex VII, part A, no. 6).
    """
    both = (part.target, *part.choices)
    if len(both) != 2 or settled(share) >= LISTS[mixes.book.house.region].either_below:
        return False
    return all(
        isinstance(each, StoresRef) and mixes.book.stores[each.id].additive is None and not mixes.declared(each.id)
        for each in both
    )


def added_water(shares: Iterable[tuple[Key, Decimal]], whole: Decimal) -> Decimal | None:
    """Added water in a list of ingredients whose product weighs `whole`: what the others leave of it, at least nil.

    None where no water was added (Regulation (EU) No 1169/2011, Annex VII, part A, no. 1).
    """
    water, others = False, ZERO
    for key, share in shares:
        if isinstance(key, Stuff) and key.water:
            water = True
        else:
            others += share
    return max(whole - others, ZERO) if water else None

"""The entries of an ingredient list, each knowing what it stands for, in the order of the law."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from bookmaker.kitchen.figures import Path
from bookmaker.kitchen.labelling.articles import Stuff
from bookmaker.kitchen.labelling.heap import Either, Heap, Heaping, Key, added_water
from bookmaker.kitchen.labelling.mix import settled
from bookmaker.kitchen.labelling.rules import ListRule
from bookmaker.kitchen.labelling.wording import (
    Phrases,
    additive_text,
    bracketed,
    emphasised,
    in_brackets,
    is_additive,
    joined,
    plain,
    run_together,
)
from bookmaker.kitchen.law import LAWS
from bookmaker.measures.exact import ONE, ZERO
from bookmaker.model.house import Region
from bookmaker.model.refs import RecipeRef
from bookmaker.model.stores import Additive


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry; `key` is None for a part of a bought compound ingredient."""

    key: Key | None
    name: Phrases
    share: Decimal
    parts: tuple["Entry", ...] = ()
    ways: tuple[Path, ...] = ()


def shows_water(whole: Heap, rule: ListRule) -> bool:
    """Whether added water is listed at all; `whole` is the product with everything taken apart."""
    water = added_water(whole.shares.items(), ONE)
    return water is None or rule.water_left_out is None or settled(water) > rule.water_left_out


@dataclass(frozen=True, slots=True)
class Listing:
    """How entries are made of heaps: by whose law, and whether `water` is listed."""

    heaping: Heaping
    rule: ListRule
    water: bool

    def of(
        self, ref: RecipeRef, share: Decimal, prefix: tuple[Path, ...] = ((),), *, product: bool
    ) -> tuple[Entry, ...]:
        """The entries of `share` of a recipe, the heaviest first; `prefix` are the ways that lead to it.

        Equal weights go by name, so that the list does not hang on the order of the formula.
        """
        heap = self.heaping.of(ref, share, product=product)
        made = [
            self._entry(key, grams, tuple((*before, *way) for before in prefix for way in ways))
            for key, grams, ways in self._with_water(heap, share)
        ]
        return tuple(sorted(made, key=_heaviest_first))

    def _with_water(self, heap: Heap, whole: Decimal) -> Iterator[tuple[Key, Decimal, Iterable[Path]]]:
        """What the heap holds, all its water as one, by its weight in the product."""
        waters = [key for key in heap.shares if isinstance(key, Stuff) and key.water]
        for key, share in heap.shares.items():
            if key not in waters:
                yield key, share, heap.ways[key]
        left = added_water(heap.shares.items(), whole)
        if left is not None and self._shown(settled(left)):
            # it is called what most of it was called
            most = min(waters, key=lambda key: (-settled(heap.shares[key]), key.label))
            yield most, left, [way for key in waters for way in heap.ways[key]]

    def _shown(self, water: Decimal) -> bool:
        """Whether this much of the product, added as water, stands in a list: where the product's water is listed at
        all, and in a component's own list also where other components have lost what this one still holds.
        """
        limit = self.rule.water_left_out
        return water > 0 and (self.water or (limit is not None and water > limit))

    def _entry(self, key: Key, share: Decimal, ways: tuple[Path, ...]) -> Entry:
        match key:
            case RecipeRef():
                return self._component(key, share, ways)
            case Either(both):
                names = [self._flat(self._stuff(each, share)) for each in both]
                return Entry(key, joined(names, " and/or "), share, ways=ways)
            case Stuff():
                name, parts = self._stuff(key, share)
                return Entry(key, name, share, parts, ways)

    def _component(self, ref: RecipeRef, share: Decimal, ways: tuple[Path, ...]) -> Entry:
        mixes = self.heaping.mixes
        recipe = mixes.book.recipes[ref]
        name = recipe.client.sold_as or _within(recipe.title, mixes.book.house.language)
        # of what nobody weighed, the parts still have an order of their own
        parts = (
            self.of(ref, share, ways, product=False) if share else _weightless(self.of(ref, ONE, ways, product=False))
        )
        inner = tuple(dict.fromkeys(way for part in parts for way in part.ways))
        law = LAWS[self.rule.region]
        contains = [name for name in mixes.figures.recipes[ref].allergens.contains if law.group(name) is not None]
        return Entry(ref, emphasised(name, contains)[0], share, parts, inner or ways)

    def _stuff(self, stuff: Stuff, share: Decimal) -> tuple[Phrases, tuple[Entry, ...]]:
        """A stores item's name, and its own list where it is a compound ingredient."""
        region, house = self.rule.region, self.heaping.mixes.book.house
        text = stuff.label
        if stuff.category:
            text = additive_text(text, Additive(stuff.category, stuff.number), house.labels.additives, region)
        name, found = emphasised(text, stuff.allergens)
        parts: list[Entry] = []
        short = self._list_left_out(stuff, share)
        for part in stuff.made_of:
            if short and not is_additive(part.name):
                continue
            words, also = emphasised(part.name, stuff.allergens)
            found |= also
            parts.append(Entry(None, words, share * part.share if part.share is not None else ZERO))
        # in the US the statement behind the list names what no name says
        unsaid = stuff.allergens - found if region is not Region.US else ()
        return run_together((*name, *in_brackets(unsaid, region))), tuple(parts)

    def _flat(self, stuff: tuple[Phrases, tuple[Entry, ...]]) -> Phrases:
        name, parts = stuff
        return run_together((*name, *(bracketed([part.name for part in parts], 0) if parts else ())))

    def _list_left_out(self, stuff: Stuff, share: Decimal) -> bool:
        """Annex VII, part E, no. 2(a) and (b): a composition that the law lays down, spices and herbs, below 2 %.

        Additives in it are listed all the same.
        """
        return stuff.by_law and self.rule.region is not Region.US and settled(share) < self.rule.small


def _weightless(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    return tuple(replace(entry, share=ZERO, parts=_weightless(entry.parts)) for entry in entries)


def _heaviest_first(entry: Entry) -> tuple[Decimal, str]:
    return -settled(entry.share), plain(entry.name).casefold()


def _within(title: str, language: str) -> str:
    """A title within a sentence: in English it begins small."""
    return title[:1].lower() + title[1:] if language.partition("-")[0].lower() == "en" else title


Place = tuple[int, ...]


def places(entries: Sequence[Entry], at: Place = ()) -> Iterator[tuple[Place, Entry]]:
    """All entries with where they stand, compound ones before their parts."""
    for index, entry in enumerate(entries):
        yield (*at, index), entry
        yield from places(entry.parts, (*at, index))


def small_ones(entries: Iterable[Entry], rule: ListRule) -> int:
    """How many entries at the end may stand in any order."""
    shares = [settled(entry.share) for entry in entries]
    return sum(share < rule.small or (rule.small_included and share == rule.small) for share in shares)

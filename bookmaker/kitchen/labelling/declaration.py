"""The ingredient list: in descending order of ingoing weight, water as it is in the product, allergens set apart.

Regulation (EU) No 1169/2011, Articles 18 to 21 and Annex VII (and as retained in UK law); US: 21 CFR 101.4 and the
Food Allergen Labeling and Consumer Protection Act of 2004. What nobody weighed stands at the end, and is a lack.
"""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from bookmaker.kitchen.figures import AllergenFigure, Lack, LackKind
from bookmaker.kitchen.label_figures import Declaration, Ingredient, Phrase
from bookmaker.kitchen.labelling.articles import Stuff, depends_on_article
from bookmaker.kitchen.labelling.entries import Entry, Listing, Place, places, shows_water, small_ones
from bookmaker.kitchen.labelling.heap import Heaping, named_together
from bookmaker.kitchen.labelling.mix import Mixes
from bookmaker.kitchen.labelling.quantities import Named, Quid
from bookmaker.kitchen.labelling.rules import LISTS
from bookmaker.kitchen.labelling.wording import Phrases, bracketed, joined, run_together, said
from bookmaker.kitchen.lacking import gathered
from bookmaker.kitchen.law import LAWS
from bookmaker.measures.exact import ONE, ZERO
from bookmaker.model.house import Compounds, Region
from bookmaker.model.refs import RecipeRef

US_SMALL = "contains 2% or less of: "
"""21 CFR 101.4(a)(2)."""


def entries_of(ref: RecipeRef, mixes: Mixes, quid: Quid) -> tuple[Entry, ...]:
    """The entries of a product's list. Components that are named keep their entry even where all are merged, so that
    their quantity has a place to stand.
    """
    house = mixes.book.house
    rule = LISTS[house.region]
    whole = Heaping(mixes, Compounds.MERGED).of(ref, ONE, product=True)
    kept = frozenset(part for named in quid.named for part in named.recipes) if rule.quantities else frozenset()
    return Listing(Heaping(mixes, house.labels.compounds, kept), rule, shows_water(whole, rule)).of(
        ref, ONE, product=True
    )


def declaration_of(ref: RecipeRef, mixes: Mixes, quid: Quid, allergens: AllergenFigure) -> Declaration:
    """A product's ingredient list."""
    region = mixes.book.house.region
    rule = LISTS[region]
    entries = entries_of(ref, mixes, quid)
    quantities: dict[Place, str] = {}
    for named in quid.named if rule.quantities else ():
        place = place_of(named, entries)
        if place is not None:
            quantities[place] = quid.printed(named.share)
    ingredients = tuple(_ingredients(entries, quantities, ()))
    small = small_ones(entries, rule)
    lacks = gathered(_lacks(ref, ONE, mixes, ()), quid.lacks if rule.quantities else ())
    return Declaration(region, ingredients, small, _text(ingredients, small, region, allergens), lacks)


def place_of(named: Named, entries: Sequence[Entry]) -> Place | None:
    """Where the quantity of something named stands: at its one entry; None where there is none, or more than one."""
    found = [place for place, entry in places(entries) if _is_meant(entry, named)]
    return found[0] if len(found) == 1 else None


def _is_meant(entry: Entry, named: Named) -> bool:
    if isinstance(entry.key, RecipeRef):
        return entry.key in named.recipes
    return isinstance(entry.key, Stuff) and entry.key.label in named.labels


def _ingredients(entries: Sequence[Entry], quantities: Mapping[Place, str], at: Place) -> Iterator[Ingredient]:
    for index, entry in enumerate(entries):
        place = (*at, index)
        parts = tuple(_ingredients(entry.parts, quantities, place))
        yield Ingredient(entry.name, entry.share, parts, quantities.get(place, ""), entry.ways)


def _text(ingredients: Sequence[Ingredient], small: int, region: Region, allergens: AllergenFigure) -> Phrases:
    runs = [_run(each, 0) for each in ingredients]
    if region is not Region.US:
        return joined(runs)
    first = len(runs) - small
    text = joined(runs[:first])
    if small:
        text = run_together((*text, *([Phrase(", ")] if first else ()), Phrase(US_SMALL), *joined(runs[first:])))
    names = [name for name in LAWS[region].names if name in allergens.contains]
    if not names:
        return text
    statement = joined([(Phrase(said(name, region), allergen=True),) for name in names])
    return run_together((*text, Phrase(". Contains: "), *statement, Phrase(".")))


def _run(one: Ingredient, depth: int) -> Phrases:
    quantity = (Phrase(f" {one.quantity}"),) if one.quantity else ()
    inner = bracketed([_run(part, depth + 1) for part in one.parts], depth) if one.parts else ()
    return run_together((*one.name, *quantity, *inner))


def _lacks(ref: RecipeRef, scale: Decimal, mixes: Mixes, via: tuple[RecipeRef, ...]) -> Iterator[Lack]:
    """What keeps the list from being one: no weight, nothing declared, articles or alternatives that differ."""
    mix = mixes.of(ref)
    yield from (Lack(lack.kind, lack.of, via) for lack in mix.lacks)
    for part in mix.parts:
        share = scale * part.share
        if part.choices and not named_together(part, share, mixes):
            yield Lack(LackKind.CHOICE, part.line.name, via)
        for target, of_it in ((part.target, share), *((choice, ZERO) for choice in part.choices)):
            if isinstance(target, RecipeRef):
                yield from _lacks(target, of_it, mixes, (*via, target))
                continue
            item = mixes.book.stores[target.id]
            if depends_on_article(item, mixes.book):
                yield Lack(LackKind.CHOICE, item.id, via)
            if mixes.allergens(item.id).undeclared:
                yield Lack(LackKind.ALLERGENS, item.id, via)

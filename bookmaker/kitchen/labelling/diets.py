"""Diets: a product suits one only where every input says so, alternatives and what goes back included.

What speaks against a diet is an allergen of animals, alcohol, or an item that is declared unfit for it; everything that
is merely silent leaves it unknown.
Alcohol that burns off is still alcohol that went in.
"""

from collections.abc import Iterable, Mapping

from bookmaker.kitchen.figures import Path
from bookmaker.kitchen.label_figures import DietFigure, Suits
from bookmaker.kitchen.labelling.articles import is_water
from bookmaker.kitchen.labelling.mix import Mixes
from bookmaker.model.refs import RecipeRef
from bookmaker.model.stores import StoresItem

DIETS = ("vegan", "vegetarian", "halal", "kosher", "alcohol-free")

_FLESH = frozenset({"fish", "crustaceans", "molluscs"})
_ANIMAL = _FLESH | {"milk", "eggs"}


def diets_of(ref: RecipeRef, mixes: Mixes) -> Mapping[str, DietFigure]:
    """Each diet that the house does not forbid to claim."""
    book = mixes.book
    forbidden = {claim.casefold() for claim in book.house.forbid_claims}
    ways: dict[str, list[Path]] = {}
    for way, item, _ in mixes.walk(ref):
        ways.setdefault(item.id, []).append(way)
    return {diet: _diet(diet, ways, mixes) for diet in DIETS if diet not in forbidden}


def _diet(diet: str, ways: Mapping[str, list[Path]], mixes: Mixes) -> DietFigure:
    no: list[Path] = []
    silent: list[Path] = []
    for name, found in ways.items():
        item = mixes.book.stores[name]
        if speaks_against(diet, item, mixes.allergens(name).contains):
            no += found
        elif not says_so(diet, item):
            silent += found
    if no:
        return DietFigure(Suits.NO, tuple(no))
    return DietFigure(Suits.UNKNOWN, tuple(silent)) if silent or not ways else DietFigure(Suits.YES)


def speaks_against(diet: str, item: StoresItem, allergens: Iterable[str]) -> bool:
    """Whether what is known of an item rules the diet out, whatever it claims; `allergens` are those it contains."""
    contains = set(allergens)
    alcohol = bool(item.composition.alcohol)
    declared = item.diet or frozenset()
    if f"not {diet}" in declared or (diet == "vegan" and "not vegetarian" in declared):
        return True
    match diet:
        case "vegan":
            return bool(contains & _ANIMAL)
        case "vegetarian":
            return bool(contains & _FLESH)
        case "halal" | "alcohol-free":
            return alcohol
        case _:
            return False


def says_so(diet: str, item: StoresItem) -> bool:
    """Whether an item is declared fit for the diet; what is vegan is vegetarian, and water is fit for all."""
    declared = item.diet or frozenset()
    return diet in declared or (diet == "vegetarian" and "vegan" in declared) or is_water(item)

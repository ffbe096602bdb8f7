"""What is in the finished product, per gram: sums of the stores' nutrition over everything that went in.

Ingoing grams over the finished weight: moisture loss concentrates, waste changes nothing. Whatever a stores item does
not say is lacking, never zero; only alcohol, polyols and organic acids are taken for absent where nothing names them.
"""

from collections.abc import Mapping
from decimal import Decimal

from bookmaker.kitchen.figures import Figure, Lack, LackKind
from bookmaker.kitchen.labelling.articles import is_water
from bookmaker.kitchen.labelling.mix import Mixes
from bookmaker.kitchen.lacking import gathered
from bookmaker.measures.exact import HUNDRED, ZERO
from bookmaker.model.refs import RecipeRef
from bookmaker.model.stores import StoresItem

KEYS = (
    "fat", "saturates", "trans fat", "cholesterol", "carbohydrate", "sugars", "added sugars", "polyols", "fibre",
    "protein", "salt", "alcohol", "acids", "vitamin d", "calcium", "iron", "potassium",
)  # fmt: skip
"""What is summed. Carbohydrate is what the body takes up: without fibre, with polyols (Annex I to the Regulation)."""

_NONE_UNLESS_SAID = ("alcohol", "polyols", "acids")
_PART_OF = {"saturates": "fat", "trans fat": "fat", "sugars": "carbohydrate", "added sugars": "sugars"}


def nutrient_of(item: StoresItem, key: str) -> Decimal | None:
    """Grams of a nutrient in 100 g of a stores item; None where nobody says."""
    stated = _stated(item, key)
    if stated is None and is_water(item):
        return ZERO  # what a house knows of its water counts: hard water holds a little sodium
    if stated is None and key in _NONE_UNLESS_SAID:
        return ZERO
    if stated is None and key in _PART_OF and nutrient_of(item, _PART_OF[key]) == 0:
        return ZERO  # there is none of it where there is none of what it is a part of
    return stated


def _stated(item: StoresItem, key: str) -> Decimal | None:
    known, composition = item.nutrients, item.composition
    if key == "alcohol":
        return None if composition.alcohol is None else composition.alcohol * HUNDRED
    if key == "carbohydrate":
        return available_carbohydrate(item)
    stated: Decimal | None = getattr(known, key.replace(" ", "_")) if known is not None else None
    if stated is None and key in ("fat", "sugars"):
        share: Decimal | None = getattr(composition, key)
        stated = None if share is None else share * HUNDRED
    return stated


def available_carbohydrate(item: StoresItem) -> Decimal | None:
    """Carbohydrate without fibre; tables by difference include it, so that it is taken off."""
    known = item.nutrients
    if known is None or known.carbohydrate is None:
        return None
    if not known.by_difference:
        return known.carbohydrate
    return None if known.fibre is None else max(known.carbohydrate - known.fibre, ZERO)


def nutrients_per_gram(ref: RecipeRef, mixes: Mixes) -> Mapping[str, Figure]:
    """Grams of each nutrient in a gram of the finished product, with the items of which nobody knows.

    What a product is mixed from without a weight is lacking in all of them.
    """
    sums = dict.fromkeys(KEYS, ZERO)
    lacks: dict[str, list[Lack]] = {key: [] for key in KEYS}
    stores = mixes.book.stores
    for way, ref_of_item, share in mixes.walk(ref):
        if share <= 0:
            continue
        item = stores[ref_of_item.id]
        via = tuple(step for step in way if isinstance(step, RecipeRef))
        for key in KEYS:
            known = nutrient_of(item, key)
            if known is None:
                lacks[key].append(Lack(LackKind.NUTRITION, item.id, via))
            else:
                sums[key] += share * known / HUNDRED
    unweighed = tuple(_unweighed(ref, mixes, ()))
    return {key: Figure(sums[key], gathered(lacks[key], unweighed)) for key in KEYS}


def _unweighed(ref: RecipeRef, mixes: Mixes, via: tuple[RecipeRef, ...]) -> list[Lack]:
    mix = mixes.of(ref)
    found = [Lack(lack.kind, lack.of, via) for lack in mix.lacks]
    for part in mix.parts:
        if isinstance(part.target, RecipeRef):
            found += _unweighed(part.target, mixes, (*via, part.target))
    return found

"""Nutrition per 100 g: read, and checked for what cannot be."""

from decimal import Decimal

from bookmaker.measures.exact import HUNDRED
from bookmaker.model.stores import Nutrients
from bookmaker.model.written.stores import WrittenItem
from bookmaker.problems.anchors import Anchor
from bookmaker.reading.tree import key_of
from bookmaker.reading.values import Values, grams_per_100

KEYS = ("fat", "saturates", "carbohydrate", "sugars", "fibre", "protein", "salt")
MORE = ("polyols", "acids", "trans fat", "cholesterol", "added sugars", "vitamin d", "calcium", "iron", "potassium")
"""What only some labels want, and what few things have."""

ROUNDING = Decimal("0.5")
"""Grams by which the parts of 100 g may pass 100 through rounding in a table (common practice, no source)."""

SEPARATE_ANALYSES = Decimal(1)
"""Grams by which sugars may pass carbohydrate, where a table quotes two analyses side by side (common practice)."""


def read_nutrients(item: WrittenItem, anchor: Anchor, values: Values) -> Nutrients | None:
    """An item's nutrition; None where none is given.

    Problems: `bad-amount`, `nutrition-sum` (more than 100 g in 100 g), `nutrition-part` (a part larger than its whole),
    `no-nutrition-source`.
    """
    if item.nutrition is None:
        return None
    at = anchor.at("nutrition")
    grams: dict[str, Decimal | None] = {}
    for key in (*KEYS, *MORE):
        found = values.value("bad-amount", grams_per_100, getattr(item.nutrition, _field(key)), at.at(key))
        if found is not None and found > HUNDRED:
            values.report(
                "bad-amount", at.at(key), why=f"{found} g of {key} cannot be in 100 g", fix="check the number"
            )
            found = None
        grams[key] = found
    basis = values.choice(
        item.carbohydrate_basis,
        anchor.at("carbohydrate basis"),
        "basis of carbohydrate",
        ("available", "by difference"),
        "available",
    )
    by_difference = basis == "by difference"
    _plausible(grams, by_difference, at, values)
    if not item.nutrition_source:
        values.report("no-nutrition-source", key_of(at))
    by_field = {_field(key): found for key, found in grams.items()}
    return Nutrients(**by_field, by_difference=by_difference, source=item.nutrition_source)


def _plausible(grams: dict[str, Decimal | None], by_difference: bool, at: Anchor, values: Values) -> None:
    def of(key: str) -> Decimal:
        return grams[key] or Decimal(0)

    # carbohydrate by difference has the fibre in it already
    apart = (
        ("fat", "carbohydrate", "protein", "salt")
        if by_difference
        else ("fat", "carbohydrate", "fibre", "protein", "salt")
    )
    total = sum(of(key) for key in apart)
    if total > HUNDRED + ROUNDING:
        listed = ", ".join(f"{key} {of(key)} g" for key in apart if of(key))
        values.report("nutrition-sum", key_of(at), total=total, listed=listed)
    for part, whole, margin in (
        ("saturates", "fat", ROUNDING),
        ("trans fat", "fat", ROUNDING),
        ("sugars", "carbohydrate", SEPARATE_ANALYSES),
        ("added sugars", "sugars", ROUNDING),
        ("polyols", "carbohydrate", ROUNDING),
    ):
        if grams[part] is not None and grams[whole] is not None and of(part) > of(whole) + margin:
            values.report("nutrition-part", at.at(part), part=part, more=of(part), whole=whole, less=of(whole))


def _field(key: str) -> str:
    return key.replace(" ", "_")

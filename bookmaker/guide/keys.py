"""The keys of each kind of written document, from its fields: what a key means, an example, what holds without it."""

from dataclasses import MISSING, Field, fields
from typing import Any

from bookmaker.guide.markdown import literal, table
from bookmaker.model.written.front import (
    CoProductFront,
    ExercisesFront,
    LineFront,
    MakeFront,
    RecipeFront,
    SizeFront,
    TeachFront,
)
from bookmaker.model.written.house import (
    WrittenCards,
    WrittenCaution,
    WrittenChannel,
    WrittenEquipment,
    WrittenFlat,
    WrittenHouse,
    WrittenLabels,
    WrittenMould,
    WrittenPriceRule,
    WrittenStaff,
    WrittenStickers,
    WrittenTin,
)
from bookmaker.model.written.prices import WrittenPrice
from bookmaker.model.written.stores import WrittenAdditive, WrittenArticle, WrittenItem, WrittenNutrition
from bookmaker.reading.shape import key_for

DOCUMENTS: dict[str, type] = {
    "recipe": RecipeFront,
    "line": LineFront,
    "co-product": CoProductFront,
    "size": SizeFront,
    "make": MakeFront,
    "teach": TeachFront,
    "exercises": ExercisesFront,
    "item": WrittenItem,
    "nutrition": WrittenNutrition,
    "additive": WrittenAdditive,
    "article": WrittenArticle,
    "price": WrittenPrice,
    "house": WrittenHouse,
    "price rule": WrittenPriceRule,
    "channel": WrittenChannel,
    "equipment": WrittenEquipment,
    "mould": WrittenMould,
    "tin": WrittenTin,
    "flat": WrittenFlat,
    "staff": WrittenStaff,
    "cards": WrittenCards,
    "labels": WrittenLabels,
    "stickers": WrittenStickers,
    "caution": WrittenCaution,
}
"""Everything with keys that a cook writes, by the name that `format.in.md` calls it."""


def is_required(each: "Field[Any]") -> bool:
    """Whether the key must be there."""
    return each.default is MISSING and each.default_factory is MISSING


def keys(written: type) -> str:
    """A table of the keys of one kind of document, in the order described; prices list columns instead."""
    what = "column" if written is WrittenPrice else "key"
    rows = [
        (
            literal(key_for(each.name)),
            each.metadata["doc"],
            literal(each.metadata["example"]),
            "must be there" if is_required(each) else literal(each.metadata["without"]),
        )
        for each in fields(written)
    ]
    return table((what, "what it says", "for example", "left out, it is"), rows)

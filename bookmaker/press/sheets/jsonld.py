"""A sheet as linked data in the open vocabulary of schema.org, for machines that read public pages.

A product that is eaten is both a `Product` and a `MenuItem`: the first has weight, offers and further properties, the
second nutrition and diets (schema.org 29). There is no term for allergens: they stand as text.
"""

import json
from collections.abc import Iterable
from typing import Any

from markupsafe import Markup

from bookmaker.editions.sheets.views import Frame, ListPrice, Mass, MassUnit, Nutrients, SheetView

_UNIT_CODES = {MassUnit.GRAM: "GRM", MassUnit.KILOGRAM: "KGM"}  # UN/CEFACT Recommendation 20

_DIETS = {
    "vegan": "https://schema.org/VeganDiet",
    "vegetarian": "https://schema.org/VegetarianDiet",
    "halal": "https://schema.org/HalalDiet",
    "kosher": "https://schema.org/KosherDiet",
}

_NUTRIENTS = {
    "fat": "fatContent",
    "saturates": "saturatedFatContent",
    "carbohydrate": "carbohydrateContent",
    "sugars": "sugarContent",
    "fibre": "fiberContent",
    "protein": "proteinContent",
    "sodium": "sodiumContent",
}

_UNSAFE = {"<": "\\u003c", ">": "\\u003e", "&": "\\u0026", "\u2028": "\\u2028", "\u2029": "\\u2029"}


def linked_data(view: SheetView, frame: Frame, image: str) -> Markup:
    """The content of a page's `application/ld+json` script. `image` is the photo's address, empty without one."""
    written = json.dumps(_without_nothing(_described(view, frame, image)), ensure_ascii=False, sort_keys=True)
    for character, escaped in _UNSAFE.items():
        written = written.replace(character, escaped)
    return Markup(written)  # noqa: S704 (nothing in it can end the script, or begin another)


def _described(view: SheetView, frame: Frame, image: str) -> dict[str, Any]:
    contains = {name for row in view.allergens.rows for name in row.contains}
    traces = {name for row in view.allergens.rows for name in row.may_contain}
    allergens = [
        ("Contains allergens", _in_rows(view, contains, "contains")),
        ("May contain", _in_rows(view, traces, "may_contain")),
        ("Allergen information", "" if view.allergens.complete else "not known for every ingredient"),
        ("Ingredients", "".join(words.text for words in view.declaration)),
    ]
    return {
        "@context": "https://schema.org",
        "@type": ["Product", "MenuItem"],
        "name": f"{view.title} ({view.size})" if view.size else view.title,
        "alternateName": view.legal_name if view.legal_name != view.title else "",
        "description": view.describe,
        "image": image,
        "manufacturer": {"@type": "Organization", "name": frame.house},
        "weight": _weight(view.net) if view.net else None,
        "additionalProperty": [
            {"@type": "PropertyValue", "name": name, "value": value} for name, value in allergens if value
        ],
        "suitableForDiet": [_DIETS[diet] for diet in view.diets if diet in _DIETS],
        "nutrition": _nutrition(view.nutrition.plain) if view.nutrition else None,
        "offers": _offer(view.price) if view.price else None,
    }


def _in_rows(view: SheetView, names: set[str], kind: str) -> str:
    """Allergens in the order of the law's list."""
    return ", ".join(name for row in view.allergens.rows for name in getattr(row, kind) if name in names)


def _weight(net: Mass) -> dict[str, str]:
    return {"@type": "QuantitativeValue", "value": f"{net.value:f}", "unitCode": _UNIT_CODES[net.unit]}


def _nutrition(plain: Nutrients) -> dict[str, str]:
    found = {"@type": "NutritionInformation", "servingSize": "100 g"}
    if plain.energy:
        found["calories"] = plain.energy
    for key, term in _NUTRIENTS.items():
        if value := getattr(plain, key):
            found[term] = f"{value} {'mg' if key == 'sodium' else 'g'}"
    return found


def _offer(price: ListPrice) -> dict[str, Any]:
    return {
        "@type": "Offer",
        "priceSpecification": {
            "@type": "UnitPriceSpecification",
            "price": f"{price.amount:f}",
            "priceCurrency": price.currency,
            "valueAddedTaxIncluded": price.taxed,
        },
    }


def _without_nothing(described: dict[str, Any]) -> dict[str, Any]:
    return {term: value for term, value in described.items() if not _is_nothing(value)}


def _is_nothing(value: object) -> bool:
    return value is None or (isinstance(value, str | Iterable) and not value)

"""Figures → book.json.

The layout is versioned by `FORMAT` and described key by key in `KEYS`, from which the guide's table is made. Masses are
grams, times minutes, money the house's currency, shares fractions of one, percents as bakers write them; numbers carry
12 significant digits. A figure that lacks something is an object `{"at least": number, "lacks": [...]}` instead
(`"at most"` for a margin or mark-up behind an incomplete cost).
"""

import json
from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal

from bookmaker.editions.record.labels import label_record
from bookmaker.editions.record.parts import allergens, cost, flow, keeping, time, total_formula
from bookmaker.editions.record.plain import Json, names_of, number
from bookmaker.kitchen.figures import ChosenPrice, Figures, RecipeFigures
from bookmaker.kitchen.label_figures import LabelFigure
from bookmaker.model.book import Book
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef, StoresRef

FORMAT = 1
FILE = "book.json"

KEYS: Mapping[str, str] = {
    "format": "version of this layout",
    "house, region, currency, on": "whose book, whose label rules, which money, and the date that prices were taken on",
    "prices": "per stores item: the price-list line that counted and what it comes to per gram or piece",
    "recipes": "every recipe in every size, components before their users",
    "recipes[].formula": "the lines: grams in the bowl, what stays, returns, is wasted, evaporates, is cut off; %",
    "recipes[].total formula": "preferments and soakers unfolded, percents of all flour",
    "recipes[].mass flow": "stages, losses; into = usable + co-products + kept back + moisture + waste + back",
    "recipes[].yields": "usable grams, pieces, piece weight, sheets, the cut",
    "recipes[].content": "grams of each stores item, ingoing, in one gram of finished product",
    "recipes[].cost": "line by line, by kind through all components, per batch, gram and piece, by channel",
    "recipes[].allergens": "contains, may contain and not declared, each with the ways it comes in",
    "recipes[].label": "of products: ingredient list, quantities, nutrition, diets; exact, and as printed by law",
    "recipes[].times": "steps, hands-on, elapsed, the critical chain through all components",
    "recipes[].keeping": "states, how long, what limits them (an estimate)",
    "recipes[].components, used in": "the recipes just below and just above",
    "recipes[].standard": "elements of a standardised recipe, present or not",
}


def project(book: Book, figures: Figures, label: Callable[[RecipeRef], LabelFigure]) -> bytes:
    """The whole record as UTF-8 JSON, keys in a fixed order; `label` gives that of a product."""
    return joined(book, figures, (entry(book, figures.recipes[ref], label) for ref in book.recipes))


def joined(book: Book, figures: Figures, entries: Iterable[str]) -> bytes:
    """The record of these entries, one for each recipe in the book's order."""
    head: Json = {
        "format": FORMAT,
        "house": book.house.name,
        "region": book.house.region.value,
        "currency": book.house.money,
        "on": figures.on.isoformat(),
        "note": "Calculated from recipe data; keeping times and the like are estimates.",
        "prices": {item: _price(price) for item, price in sorted(figures.prices.items())},
    }
    before = _written(head).removesuffix("\n}")
    within = ",\n".join(entries)
    recipes = f"[\n{within}\n ]" if within else "[]"
    return f'{before},\n "recipes": {recipes}\n}}\n'.encode()


def entry(book: Book, figures: RecipeFigures, label: Callable[[RecipeRef], LabelFigure]) -> str:
    """A recipe's entry as it stands in the record.

    It follows from the recipe with all its figures, from its label, and from what others are called.
    """
    written = _written(_recipe(book, figures, label)).replace("\n", "\n  ")
    return f"  {written}"


def _written(value: Json) -> str:
    return json.dumps(value, ensure_ascii=False, indent=1)


def _price(price: ChosenPrice) -> Json:
    return {
        "per": price.per,
        "price": number(price.amount),
        "line": price.key
        and {
            "supplier": price.key.supplier,
            "code": price.key.code,
            "from": price.key.since.isoformat(),
            "pack": price.pack,
            "pack price": number(price.pack_price),
        },
        "lacks": [f"{lack.kind.value}: {lack.of}" for lack in price.lacks],
    }


def _recipe(book: Book, figures: RecipeFigures, label: Callable[[RecipeRef], LabelFigure]) -> Json:
    recipe = book.recipes[figures.ref]
    return {
        "id": figures.ref.id,
        "size": figures.ref.size,
        "title": recipe.title,
        "kind": recipe.kind.value,
        "status": recipe.status.value,
        "code": recipe.code,
        "revision": recipe.revision,
        "revised": recipe.revised.isoformat() if recipe.revised else None,
        **flow(book, recipe, figures.flow),
        "total formula": total_formula(book, figures.total_formula),
        "content": _content(figures.flow.content),
        "cost": cost(book, recipe, figures.cost),
        "allergens": allergens(book, figures.allergens),
        "label": label_record(book, label(figures.ref)) if recipe.kind is Kind.PRODUCT else None,
        "times": time(figures.time),
        "keeping": keeping(book, figures.keeping),
        "components": names_of(figures.components),
        "used in": names_of(figures.used_in),
        "standard": {element.name: element.present for element in figures.completeness},
    }


def _content(content: Mapping[StoresRef, Decimal]) -> Json:
    ordered: Iterable[tuple[StoresRef, Decimal]] = sorted(content.items(), key=lambda pair: (-pair[1], pair[0]))
    return {item.id: number(share) for item, share in ordered}

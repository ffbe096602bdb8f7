"""A label as plain JSON values: what `label --json` prints, and what the record holds of every product."""

from bookmaker.editions.record.plain import Json, figure, lacks, number, ways_of
from bookmaker.kitchen.label_figures import CHECK, DietFigure, Ingredient, LabelFigure, Nutrition
from bookmaker.model.book import Book


def label_record(book: Book, label: LabelFigure) -> Json:
    """Everything that a label says, with the exact figures behind what is printed.

    Shares are of the finished product; nutrition is exact per 100 g (energy in kJ, in the US in kcal).
    """
    declared = label.declaration
    return {
        "name": label.name,
        "net": number(label.net),
        "ingredients": {
            "text": declared.plain(),
            "list": [_ingredient(book, each) for each in declared.ingredients],
            "any order at the end": declared.small,
            "lacks": lacks(declared.lacks),
        },
        "quantities": [
            {"of": each.name, "share": number(each.share), "printed": each.printed, "in the list": each.in_list}
            for each in label.quantities
        ],
        "nutrition": _nutrition(label.nutrition),
        "diets": {name: _diet(book, diet) for name, diet in label.diets.items()},
        "notes": list(label.notes),
        "law": label.law,
        "check": CHECK,
    }


def _ingredient(book: Book, one: Ingredient) -> Json:
    return {
        "name": "".join(phrase.text for phrase in one.name),
        "allergens": [phrase.text for phrase in one.name if phrase.allergen],
        "share": number(one.share),
        "quantity": one.quantity,
        "parts": [_ingredient(book, part) for part in one.parts],
        "ways": ways_of(book, one.ways),
    }


def _nutrition(nutrition: Nutrition) -> Json:
    return {
        "piece": number(nutrition.piece),
        "piece is a": nutrition.piece_word,
        "rows": [
            {
                "key": row.key,
                "name": row.name,
                "per 100 g": row.per_100,
                "per piece": row.per_piece,
                "of a day": row.reference,
                "exact": figure(row.exact_per_100),
            }
            for row in nutrition.rows
        ],
        "notes": list(nutrition.notes),
        "lacks": lacks(nutrition.lacks),
    }


def _diet(book: Book, diet: DietFigure) -> Json:
    return {"suits": diet.suits.value, "because of": ways_of(book, diet.against)}

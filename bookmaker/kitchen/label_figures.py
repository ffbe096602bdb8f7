"""What is computed for a label: declaration, nutrition, diets. Plain values; every text is the law's or the house's.

Masses are grams, shares fractions of the finished product as it is sold (after moisture, before waste). Numbers are
exact but where a figure is named *printed*: there the law itself rounds, so that rounding belongs to the rule and not
to whoever prints it.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from bookmaker.kitchen.figures import AllergenFigure, Figure, Lack, Path
from bookmaker.model.house import Region
from bookmaker.model.refs import RecipeRef


@dataclass(frozen=True, slots=True)
class Phrase:
    """A run of a declaration's text; `allergen` is to be set apart (bold in print, capitals in plain text)."""

    text: str
    allergen: bool = False


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One entry of a declaration, with its own list where it is a compound ingredient that is declared as one.

    `share` orders it: ingoing weight over the finished product (water and volatiles as they are in it); of the parts of
    a bought compound ingredient it is zero where its supplier gives the order alone. `quantity` is its QUID as printed
    (`12 %`, `108 g per 100 g`), empty where none is due. `ways` lead to the stores items that it stands for.
    """

    name: tuple[Phrase, ...]
    share: Decimal
    parts: tuple["Ingredient", ...] = ()
    quantity: str = ""
    ways: tuple[Path, ...] = ()


@dataclass(frozen=True, slots=True)
class Declaration:
    """The ingredient list in the order of the law.

    In the US the `Contains:` statement ends the text. `small` counts the entries at the end that may stand in any order
    (below 2 % in the EU and the UK; in the US 2 % or less, behind their statement). `text` is the list as one run of
    phrases, heading not included. A declaration with `lacks` is not fit to print as one.
    """

    region: Region
    ingredients: tuple[Ingredient, ...]
    small: int
    text: tuple[Phrase, ...]
    lacks: tuple[Lack, ...] = ()

    def plain(self) -> str:
        """As plain text, allergens in capitals."""
        return "".join(phrase.text.upper() if phrase.allergen else phrase.text for phrase in self.text)


@dataclass(frozen=True, slots=True)
class Quantity:
    """The quantity of something named (QUID): its share of the finished product, and as printed.

    `in_list` says that it stands at its entry of the ingredient list; else it belongs next to the product's name.
    """

    name: str
    share: Decimal
    printed: str
    in_list: bool


@dataclass(frozen=True, slots=True)
class NutritionRow:
    """One row of the table, in the law's order, with its numbers rounded as the law says and a unit for each.

    Where something is missing nothing is printed: `exact_per_100` has what is known so far (kilojoules for energy in
    the EU and the UK, kilocalories in the US, grams for all else) and what it lacks. `key` is ours (`energy`, `fat`,
    `saturates`, `carbohydrate`, `sugars`, `added sugars`, `fibre`, `protein`, `salt`, `sodium` ...), `name` the law's
    word. `within` marks a row that is part of the one above ("of which"). `reference` is the share of the reference
    intake or daily value as printed: of a piece, or of 100 g where there is none. For energy in the EU a row holds
    both: `1046 kJ / 250 kcal`.
    """

    key: str
    name: str
    per_100: str
    per_piece: str = ""
    reference: str = ""
    within: bool = False
    exact_per_100: Figure = Figure(None)


@dataclass(frozen=True, slots=True)
class Nutrition:
    """Calculated, not analysed: so every output says. `piece` is the grams of one piece, portion or serving."""

    region: Region
    rows: tuple[NutritionRow, ...]
    piece: Decimal | None
    piece_word: str
    lacks: tuple[Lack, ...] = ()
    notes: tuple[str, ...] = ()


class Suits(StrEnum):
    """Whether a product suits a diet: only where every input says so; never by guessing."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class DietFigure:
    """One diet, with the ways to what speaks against it, or never said."""

    suits: Suits
    against: tuple[Path, ...] = ()


@dataclass(frozen=True, slots=True)
class LabelFigure:
    """Everything that a label of one recipe in one size says by law.

    `name` is the legal name, `net` the grams of what is sold at once. `diets` has those the law or the house knows.
    `notes` are sentences that belong on the label (`defrosted`, warnings that additives call for ...). `law` names the
    rules and the day they were written down. `quantities` are those of the named ingredients, in the order named.
    """

    ref: RecipeRef
    name: str
    declaration: Declaration
    allergens: AllergenFigure
    nutrition: Nutrition
    diets: Mapping[str, DietFigure]
    net: Decimal | None
    notes: tuple[str, ...] = ()
    law: str = ""
    quantities: tuple[Quantity, ...] = ()


CHECK = "Calculated from recipe data; check against your local food law and your suppliers' specifications."
"""Stands on everything that shows a label."""


def every(ingredients: tuple[Ingredient, ...]) -> Iterator[Ingredient]:
    """All entries, compound ones before their parts."""
    for each in ingredients:
        yield each
        yield from every(each.parts)

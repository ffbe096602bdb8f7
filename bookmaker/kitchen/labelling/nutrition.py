"""The nutrition table as a region's law lays it out: rows, order, units, rounding, shares of a day's intake.

EU and UK: Regulation (EU) No 1169/2011, Articles 29 to 35, Annexes I, XIII, XIV and XV, energy always by its factors on
available carbohydrate. US: 21 CFR 101.9 as amended in 2016. Nothing is printed of what is not wholly known.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.figures import Figure, Lack, LackKind
from bookmaker.kitchen.label_figures import Nutrition, NutritionRow
from bookmaker.kitchen.labelling.mix import Mixes
from bookmaker.kitchen.labelling.rounding import (
    eu_energy,
    eu_grams,
    percent,
    us_amount,
    us_calories,
    us_daily_value,
)
from bookmaker.kitchen.labelling.rules import (
    DAILY_VALUES,
    KILOCALORIES,
    KILOJOULES,
    REFERENCE_INTAKES,
    US_KILOCALORIES,
)
from bookmaker.kitchen.lacking import gathered
from bookmaker.measures.counts import singular
from bookmaker.measures.exact import HUNDRED, ZERO
from bookmaker.model.house import Region
from bookmaker.model.refs import RecipeRef

CALCULATED = "Calculated from the data of the ingredients, not analysed."
BY_DIFFERENCE = (
    "Some of the data count fibre as carbohydrate (by difference): it has been taken off, as carbohydrate is declared"
    " without it."
)
ADULT = "Reference intake of an average adult (8400 kJ/2000 kcal)."
DAILY = (
    "The % Daily Value (DV) tells you how much a nutrient in a serving of food contributes to a daily diet. 2,000"
    " calories a day is used for general nutrition advice."
)

PerGram = Mapping[str, Figure]

# key, name, within
_EU_ROWS = (
    ("fat", "fat", False),
    ("saturates", "of which saturates", True),
    ("carbohydrate", "carbohydrate", False),
    ("sugars", "of which sugars", True),
    ("polyols", "of which polyols", True),
    ("fibre", "fibre", False),
    ("protein", "protein", False),
    ("salt", "salt", False),
)
_VOLUNTARY = ("polyols", "fibre")
"""Rows that the law allows and does not ask for (Article 30(2))."""

_US_ROWS = (
    ("fat", "Total Fat", False),
    ("saturates", "Saturated Fat", True),
    ("trans fat", "Trans Fat", True),
    ("cholesterol", "Cholesterol", False),
    ("sodium", "Sodium", False),
    ("total carbohydrate", "Total Carbohydrate", False),
    ("fibre", "Dietary Fiber", True),
    ("sugars", "Total Sugars", True),
    ("added sugars", "Includes Added Sugars", True),
    ("protein", "Protein", False),
    ("vitamin d", "Vitamin D", False),
    ("calcium", "Calcium", False),
    ("iron", "Iron", False),
    ("potassium", "Potassium", False),
)


LARGE = Decimal(250)
"""Grams of a piece above which nobody eats it alone: a table per piece would mislead (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Serving:
    """What one guest gets: its grams (None: nobody knows) and its name."""

    grams: Decimal | None
    word: str


def sold_of(ref: RecipeRef, mixes: Mixes) -> Serving:
    """What is sold at once: the portion that the recipe states, else one piece."""
    recipe, yields = mixes.book.recipes[ref], mixes.figures.recipes[ref].flow.yields
    portion = recipe.portion
    if portion is not None and portion.grams is not None:
        return Serving(portion.grams, "portion")
    if portion is not None and portion.pieces is not None and portion.pieces != 1:
        return Serving(None if yields.piece is None else yields.piece * portion.pieces, "portion")
    return Serving(yields.piece, singular(yields.word) if yields.word else "piece")


def serving_of(ref: RecipeRef, mixes: Mixes) -> Serving:
    """What nutrition is told of beside 100 g: a serving of what is sold at once, or all of that where it is no large
    thing.
    """
    sold, servings = sold_of(ref, mixes), mixes.book.recipes[ref].servings
    if servings is not None and servings > 1:
        return Serving(None if sold.grams is None else sold.grams / servings, "serving")
    return sold if sold.grams is None or sold.grams <= LARGE else Serving(None, "serving")


def nutrition_of(ref: RecipeRef, mixes: Mixes, per_gram: PerGram) -> Nutrition:
    """The table of one product, of what is in a gram of it."""
    region = mixes.book.house.region
    serving = serving_of(ref, mixes)
    if region is Region.US:
        rows = tuple(_us_rows(per_gram, serving))
        notes: tuple[str, ...] = (CALCULATED, DAILY)
    else:
        rows = tuple(_eu_rows(per_gram, serving))
        notes = (CALCULATED, *((BY_DIFFERENCE,) if _by_difference(ref, mixes) else ()), ADULT)
    lacks = gathered(
        *(row.exact_per_100.lacks for row in rows),
        (Lack(LackKind.AMOUNT, serving.word),) if region is Region.US and serving.grams is None else (),
    )
    return Nutrition(region, rows, serving.grams, serving.word, lacks, notes)


def _by_difference(ref: RecipeRef, mixes: Mixes) -> bool:
    known = (mixes.book.stores[item.id].nutrients for _, item, share in mixes.walk(ref) if share > 0)
    return any(each is not None and each.by_difference and bool(each.fibre) for each in known)


# --- energy -----------------------------------------------------------------------------------------------------------


def energy_of(per_gram: PerGram, factors: Mapping[str, Decimal]) -> Figure:
    """Energy of a gram by a table of factors; of carbohydrate, polyols are counted by their own."""
    value, lacks = ZERO, []
    for key, factor in factors.items():
        grams = amount_for_energy(per_gram, key)
        value += (grams.value or ZERO) * factor
        lacks.append(grams.lacks)
    return Figure(value, gathered(*lacks))


def amount_for_energy(per_gram: PerGram, key: str) -> Figure:
    """The grams of what an energy factor stands for."""
    if key == "carbohydrate":
        whole, polyols = per_gram["carbohydrate"], per_gram["polyols"]
        return Figure((whole.value or ZERO) - (polyols.value or ZERO), whole.lacks)
    return us_amount_of(per_gram, key)


def us_amount_of(per_gram: PerGram, key: str) -> Figure:
    """A row's grams: sodium out of salt (÷ 2.5), total carbohydrate with its fibre."""
    match key:
        case "sodium":
            salt = per_gram["salt"]
            return Figure((salt.value or ZERO) / Decimal("2.5"), salt.lacks)
        case "total carbohydrate":
            available, fibre = per_gram["carbohydrate"], per_gram["fibre"]
            return Figure((available.value or ZERO) + (fibre.value or ZERO), gathered(available.lacks, fibre.lacks))
        case _:
            return per_gram[key]


# --- EU and UK --------------------------------------------------------------------------------------------------------


def _eu_rows(per_gram: PerGram, serving: Serving) -> Iterator[NutritionRow]:
    joules, calories = energy_of(per_gram, KILOJOULES), energy_of(per_gram, KILOCALORIES)
    yield _eu_row("energy", "energy", joules, calories, serving)
    for key, name, within in _EU_ROWS:
        figure = per_gram[key]
        if key in _VOLUNTARY and (figure.lacks or (key == "polyols" and not figure.value)):
            continue
        yield _eu_row(key, name, figure, None, serving, within=within)


def _eu_row(
    key: str, name: str, per_gram: Figure, calories: Figure | None, serving: Serving, *, within: bool = False
) -> NutritionRow:
    def shown(grams: Decimal | None) -> str:
        if grams is None or not per_gram.complete or per_gram.value is None:
            return ""
        if calories is not None:
            return eu_energy(per_gram.value * grams, (calories.value or ZERO) * grams)
        return eu_grams(key, per_gram.value * grams)

    intake = ""
    if key in REFERENCE_INTAKES and per_gram.complete and per_gram.value is not None:
        intake = percent(per_gram.value * (serving.grams or HUNDRED) / REFERENCE_INTAKES[key])
    return NutritionRow(key, name, shown(HUNDRED), shown(serving.grams), intake, within, _times(per_gram, HUNDRED))


def _times(figure: Figure, by: Decimal) -> Figure:
    return Figure(None if figure.value is None else figure.value * by, figure.lacks)


# --- US ---------------------------------------------------------------------------------------------------------------


def _us_rows(per_gram: PerGram, serving: Serving) -> Iterator[NutritionRow]:
    calories = energy_of(per_gram, US_KILOCALORIES)
    yield NutritionRow(
        "energy",
        "Calories",
        us_calories(calories.value * HUNDRED) if calories.complete and calories.value is not None else "",
        us_calories(calories.value * serving.grams)
        if calories.complete and calories.value is not None and serving.grams is not None
        else "",
        exact_per_100=_times(calories, HUNDRED),
    )
    for key, name, within in _US_ROWS:
        figure = us_amount_of(per_gram, key)
        per_100 = per_serving = daily = ""
        if figure.complete and figure.value is not None:
            per_100 = us_amount(key, figure.value * HUNDRED)
            if serving.grams is not None:
                amount = figure.value * serving.grams
                per_serving = us_amount(key, amount)
                daily = us_daily_value(key, amount / DAILY_VALUES[key]) if key in DAILY_VALUES else ""
        yield NutritionRow(key, name, per_100, per_serving, daily, within, _times(figure, HUNDRED))

"""The nutrition table: sums, energy, layouts, what is missing; held against published factors, intakes and recipes."""

import csv
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.figures import Lack, LackKind
from bookmaker.kitchen.label_figures import LabelFigure
from bookmaker.kitchen.labelling.nutrition import BY_DIFFERENCE, CALCULATED
from bookmaker.kitchen.labelling.rounding import percent
from bookmaker.kitchen.labelling.rules import (
    DAILY_VALUES,
    KILOCALORIES,
    KILOJOULES,
    REFERENCE_INTAKES,
    US_KILOCALORIES,
)
from bookmaker.model.house import Region
from bookmaker.model.line import Rest, Unmeasured
from bookmaker.model.recipe import Portion
from bookmaker.model.refs import RecipeRef
from bookmaker.model.stores import Composition, Nutrients, StoresItem
from tests.kitchen.labelling.labels import label_in, product, row
from tests.support import make
from tests.support.reference import FOLDER, cases

CASES = cases("nutrition")
RECIPES = cases("nutrient-recipes")


def food(name: str, **grams: Any) -> StoresItem:
    """An item whose every nutrient is known; what is not given is zero."""
    water = grams.pop("water", None)
    alcohol = grams.pop("alcohol", None)
    by_difference = grams.pop("by_difference", False)
    zero = dict.fromkeys(("fat", "saturates", "carbohydrate", "sugars", "fibre", "protein", "salt"), Decimal(0))
    given = {key: None if value is None else Decimal(value) for key, value in grams.items()}
    composition = Composition(*(None if each is None else Decimal(each) for each in (water, None, None, alcohol)))
    nutrients = Nutrients(**(zero | given), by_difference=by_difference, source="test")
    return make.item(name, composition=composition, nutrients=nutrients)


def of(*lines: Any, stores: Any, yields: Any = 100, **more: Any) -> LabelFigure:
    """The label of a product of these lines."""
    how = {key: more.pop(key) for key in ("region",) if key in more}
    return label_in(product(lines, yields, **more), stores=stores, **how)


def exact(found: LabelFigure, key: str) -> Decimal:
    value = row(found, key).exact_per_100.value
    assert value is not None
    return value


# --- factors and intakes ----------------------------------------------------------------------------------------------

_FACTOR = {"organic_acid": "acids", "salatrims": None, "erythritol": None}


@pytest.mark.parametrize(("unit", "table"), [("kJ", KILOJOULES), ("kcal", KILOCALORIES)])
def test_energy_factors_are_those_of_annex_xiv(unit: str, table: dict[str, Decimal]) -> None:
    printed = CASES["eu-energy-factors"]["expect"][unit]
    ours = {_FACTOR.get(key, key): Decimal(value) for key, value in printed.items()}
    ours.pop(None)  # salatrims and erythritol have no place in a pastry kitchen's stores
    assert table == ours


def test_reference_intakes_are_those_of_annex_xiii() -> None:
    printed = {key: Decimal(value) for key, value in CASES["eu-reference-intakes"]["expect"]["adult"].items()}
    assert printed.pop("energy_kcal") == 2000
    assert {"energy": printed.pop("energy_kJ")} | {
        key.removesuffix("_g"): value for key, value in printed.items()
    } == REFERENCE_INTAKES


_DV = {
    "total_fat": "fat",
    "saturated_fat": "saturates",
    "total_carbohydrate": "total carbohydrate",
    "dietary_fiber": "fibre",
    "added_sugars": "added sugars",
    "vitamin_D": "vitamin d",
}
_IN_GRAMS = {"g": Decimal(1), "mg": Decimal("0.001"), "ug": Decimal("0.000001")}


def test_daily_values_are_those_of_2016() -> None:
    for key, value in CASES["us-daily-values-2016"]["expect"]["dv"].items():
        name, _, unit = key.rpartition("_")
        if name == "protein":
            continue  # no percentage is due for it where no claim is made
        assert DAILY_VALUES[_DV.get(name, name)] == Decimal(value) * _IN_GRAMS[unit], key


@pytest.mark.parametrize("case", ["eu-energy-butter-biscuit", "eu-energy-ganache"])
def test_eu_energy_of_a_composition(case: str) -> None:
    given, expect = CASES[case]["given"]["per_100_g"], CASES[case]["expect"]
    found = of(make.line(100, "x"), stores=[food("x", **given)])
    assert row(found, "energy").per_100 == f"{expect['kJ_rounded']} kJ / {expect['kcal_rounded']} kcal"
    assert abs(exact(found, "energy") - Decimal(expect["kJ"])) < Decimal("0.05")


def test_kilojoules_are_not_kilocalories_times_a_number() -> None:
    found = of(make.line(100, "oil"), stores=[food("oil", fat=100)])
    assert row(found, "energy").per_100 == "3700 kJ / 900 kcal"


def test_alcohol_polyols_and_acids_have_their_own_energy() -> None:
    stores = [
        food("rum", alcohol="0.4"),
        food("isomalt", carbohydrate=100, polyols=100),
        food("citric acid", acids=100),
    ]
    lines = [make.line(50, "rum"), make.line(30, "isomalt"), make.line(20, "citric acid")]
    found = of(*lines, stores=stores)
    assert exact(found, "energy") == 20 * 29 + 30 * 10 + 20 * 13
    assert row(found, "energy").per_100 == f"1140 kJ / {20 * 7 + 72 + 60} kcal"
    assert row(found, "polyols").per_100 == "30 g"
    assert found.notes == ("Excessive consumption may produce laxative effects.",)


def test_printed_energy_of_published_panels_by_the_general_factors() -> None:
    """Their macronutrients by 4, 4 and 9; printed energy is within 7 %, as it came from specific factors."""
    for case in ("atwater-fruit-crisp", "atwater-baked-biscuit-7"):
        given, expect = CASES[case]["given"], CASES[case]["expect"]
        kcal = sum(
            Decimal(given[f"{name}_g"]) * US_KILOCALORIES[key]
            for name, key in (("protein", "protein"), ("carbohydrate", "total carbohydrate"), ("fat", "fat"))
        )
        assert abs(kcal - Decimal(expect["kcal_4_4_9"])) <= Decimal("0.1")
        assert abs(kcal / Decimal(expect["kcal_printed"]) - 1) < Decimal("0.07")


# --- sums -------------------------------------------------------------------------------------------------------------


def test_the_recipe_method_of_greenfield_and_southgate() -> None:
    case = CASES["recipe-calc-biscuit"]
    given, expect = case["given"], case["expect"]["per_100g_cooked"]
    stores = [
        food(name, fat=per["fat"], carbohydrate=per["carb"], protein=per["protein"], water=Decimal(per["water"]) / 100)
        for name, per in given["per_100g"].items()
    ]
    raw = sum(map(Decimal, given["ingredients_g"].values()))
    lines = [make.line(grams, name) for name, grams in given["ingredients_g"].items()]
    cooked = Decimal(given["cooked_weight_g"])
    found = of(*lines, stores=stores, yields=cooked, lose={"bake": 1 - cooked / raw})
    for key, name in (("fat", "fat"), ("carbohydrate", "carb"), ("protein", "protein")):
        assert abs(exact(found, key) - Decimal(expect[name])) <= Decimal(case["tolerance_value"])


def test_moisture_loss_concentrates_and_waste_does_not() -> None:
    case = CASES["recipe-calc-yield-80pct"]
    raw, total = Decimal(case["given"]["raw_weight_g"]), Decimal(case["given"]["nutrient_total_g"])
    stores = [food("x", fat=total / raw * 100)]
    dried = of(make.line(raw, "x"), stores=stores, lose={"dry": 1 - Decimal(case["given"]["yield_factor"])})
    assert round(exact(dried, "fat"), 20) == Decimal(case["expect"]["per_100g"])
    trimmed = of(make.line(raw, "x"), stores=stores, lose={"trim": "0.2"})
    assert exact(trimmed, "fat") == 16


def test_only_what_stays_is_eaten() -> None:
    stores = [food("oil", fat=100), food("dough", carbohydrate=50)]
    found = of(make.line(90, "dough"), make.line(200, "oil", stays="0.05", rest=Rest.BACK), stores=stores)
    assert exact(found, "fat") == 10


def test_water_needs_no_data() -> None:
    found = of(make.line(50, "sugar"), make.line(50, "water"), stores=[food("sugar", carbohydrate=100, sugars=100)])
    assert found.nutrition.lacks == ()
    assert row(found, "sugars").per_100 == "50 g"


def test_what_is_known_of_the_water_counts() -> None:
    """Hard water with 0.1 g of salt in 100 g, two thirds of what is in."""
    hard = make.item("water", water="1", nutrients=Nutrients(salt=Decimal("0.1"), source="test"))
    found = of(make.line(200, "water"), make.line(100, "sugar"), stores=[hard, food("sugar")], yields=300)
    assert round(exact(found, "salt"), 20) == round(Decimal("0.2") / 3, 20)
    assert exact(found, "fat") == 0
    assert row(found, "fat").exact_per_100.complete


def test_fibre_counted_as_carbohydrate_is_taken_off_and_said() -> None:
    bran = food("bran", carbohydrate=64, fibre=43, by_difference=True)
    found = of(make.line(100, "bran"), stores=[bran])
    assert exact(found, "carbohydrate") == 21
    assert exact(found, "energy") == 21 * 17 + 43 * 8
    assert BY_DIFFERENCE in found.nutrition.notes
    available = of(make.line(100, "bran"), stores=[food("bran", carbohydrate=21, fibre=43)])
    assert exact(available, "carbohydrate") == 21
    assert BY_DIFFERENCE not in available.nutrition.notes


def test_without_fibre_a_table_by_difference_says_no_carbohydrate() -> None:
    found = of(make.line(100, "bran"), stores=[food("bran", carbohydrate=64, fibre=None, by_difference=True)])
    assert row(found, "carbohydrate").per_100 == ""
    assert row(found, "energy").per_100 == ""
    assert row(found, "carbohydrate").exact_per_100.lacks == (Lack(LackKind.NUTRITION, "bran"),)


# --- what is missing --------------------------------------------------------------------------------------------------


def test_missing_is_never_zero() -> None:
    base = make.recipe("base", [make.line(10, "vanilla"), make.line(90, "cream")], 100)
    cake = product([make.line(50, make.ref("base")), make.line(50, "cream")], 100)
    found = label_in(base, cake, stores=[food("cream", fat=35), make.item("vanilla")])
    lack = Lack(LackKind.NUTRITION, "vanilla", (RecipeRef("base"),))
    assert found.nutrition.lacks == (lack,)
    assert [each.per_100 + each.per_piece + each.reference for each in found.nutrition.rows] == [""] * 7
    assert exact(found, "fat") == Decimal("33.25")
    assert "fibre" not in [each.key for each in found.nutrition.rows]


def test_one_nutrient_missing_leaves_the_others() -> None:
    found = of(make.line(100, "pectin"), stores=[food("pectin", carbohydrate=80, sugars=None, protein=2)])
    assert row(found, "sugars").per_100 == ""
    assert row(found, "protein").per_100 == "2.0 g"
    assert row(found, "energy").per_100 != ""


def test_what_nobody_weighed_leaves_everything_open() -> None:
    found = of(make.line(100, "cream"), make.line(Unmeasured("to taste"), "salt"), stores=[food("cream", fat=35)])
    assert [(lack.kind, lack.of) for lack in found.nutrition.lacks] == [(LackKind.AMOUNT, "salt")]
    assert row(found, "fat").per_100 == ""


def test_there_is_no_part_of_nothing() -> None:
    salt = food("salt", salt=100, saturates=None, sugars=None)
    assert row(of(make.line(100, "salt"), stores=[salt]), "saturates").per_100 == "0 g"
    assert row(of(make.line(100, "salt"), stores=[salt]), "sugars").per_100 == "0 g"


def test_fat_and_sugars_may_come_from_the_composition() -> None:
    cheese = replace(food("cheese", fat=None, saturates=20), composition=Composition(fat=Decimal("0.41")))
    assert exact(of(make.line(100, "cheese"), stores=[cheese]), "fat") == 41


# --- layouts ----------------------------------------------------------------------------------------------------------

CREAM = food("cream", fat=36, saturates=23, carbohydrate=3, sugars=3, fibre=1, protein=2, salt="0.07")


def test_the_eu_table_has_the_order_and_units_of_annex_xv() -> None:
    found = of(make.line(100, "cream"), stores=[CREAM], yields=make.pieces(4, "tarts"))
    assert [(each.name, each.within) for each in found.nutrition.rows] == [
        ("energy", False),
        ("fat", False),
        ("of which saturates", True),
        ("carbohydrate", False),
        ("of which sugars", True),
        ("fibre", False),
        ("protein", False),
        ("salt", False),
    ]
    assert (found.nutrition.piece, found.nutrition.piece_word) == (Decimal(25), "tart")
    assert [(each.per_100, each.per_piece) for each in found.nutrition.rows] == [
        ("1425 kJ / 346 kcal", "356 kJ / 87 kcal"),
        ("36 g", "9.0 g"),
        ("23 g", "5.8 g"),
        ("3.0 g", "0.8 g"),
        ("3.0 g", "0.8 g"),
        ("1.0 g", "<0.5 g"),
        ("2.0 g", "<0.5 g"),
        ("0.07 g", "0.02 g"),
    ]
    # of a tart: 356 of 8400 kJ, 9 of 70 g, 5.75 of 20, 0.75 of 260, 0.75 of 90, fibre has none, 0.5 of 50, 0.0175 of 6
    assert [each.reference for each in found.nutrition.rows] == ["4 %", "13 %", "29 %", "0 %", "1 %", "", "1 %", "0 %"]
    assert found.nutrition.notes[0] == CALCULATED
    assert "8400 kJ/2000 kcal" in found.nutrition.notes[-1]


def test_without_pieces_the_share_of_a_day_is_that_of_100_g() -> None:
    found = of(make.line(100, "cream"), stores=[CREAM])
    assert (row(found, "fat").per_piece, row(found, "fat").reference) == ("", "51 %")


@pytest.mark.parametrize(
    ("portion", "grams", "word"),
    [
        (Portion(pieces=Decimal(3)), 15, "portion"),
        (Portion(grams=Decimal(40)), 40, "portion"),
        (Portion(pieces=Decimal(1)), 5, "bonbon"),
        (None, 5, "bonbon"),
    ],
)
def test_a_portion_stands_for_the_piece(portion: Portion | None, grams: int, word: str) -> None:
    found = of(make.line(100, "cream"), stores=[CREAM], yields=make.pieces(20, "bonbons"), portion=portion)
    assert (found.nutrition.piece, found.nutrition.piece_word, found.net) == (Decimal(grams), word, Decimal(grams))


def test_a_serving_is_a_part_of_what_is_sold_at_once() -> None:
    """A tart of 400 g in eight: 50 g each, of which the shares of a day are; it is sold whole."""
    found = of(make.line(800, "cream"), stores=[CREAM], yields=make.pieces(2, "tarts"), servings=8)
    assert (found.nutrition.piece, found.nutrition.piece_word) == (Decimal(50), "serving")
    assert found.net == 400
    assert (row(found, "fat").per_piece, row(found, "fat").reference) == ("18 g", "26 %")


def test_one_serving_is_the_piece_itself() -> None:
    found = of(make.line(100, "cream"), stores=[CREAM], yields=make.pieces(2, "tarts"), servings=1)
    assert (found.nutrition.piece, found.nutrition.piece_word) == (Decimal(50), "tart")


def test_sodium_is_salt_by_two_and_a_half() -> None:
    found = of(make.line(100, "salty"), stores=[food("salty", salt=1)], yields=make.pieces(1), region=Region.US)
    assert row(found, "sodium").exact_per_100.value == Decimal("0.4")
    assert row(found, "sodium").per_piece == "400 mg"


def test_servings_of_a_portion_of_several_pieces() -> None:
    portion = Portion(pieces=Decimal(6))
    found = of(make.line(600, "cream"), stores=[CREAM], yields=make.pieces(20), portion=portion, servings=2)
    assert (found.nutrition.piece, found.nutrition.piece_word, found.net) == (Decimal(90), "serving", Decimal(180))


@pytest.mark.parametrize(("grams", "told"), [(500, True), (502, False)])
def test_nobody_eats_a_loaf_alone(grams: int, told: bool) -> None:
    found = of(make.line(grams, "cream"), stores=[CREAM], yields=make.pieces(2, "loaves"))
    assert bool(row(found, "fat").per_piece) is told
    assert row(found, "fat").per_100 == "36 g"
    assert found.net == Decimal(grams) / 2


def test_the_us_table_has_its_own_rows_and_what_is_not_known_is_empty() -> None:
    found = of(make.line(100, "cream"), stores=[CREAM], yields=make.pieces(4), region=Region.US)
    shown = {each.name: (each.per_piece, each.reference) for each in found.nutrition.rows}
    assert list(shown) == [
        "Calories", "Total Fat", "Saturated Fat", "Trans Fat", "Cholesterol", "Sodium", "Total Carbohydrate",
        "Dietary Fiber", "Total Sugars", "Includes Added Sugars", "Protein", "Vitamin D", "Calcium", "Iron",
        "Potassium",
    ]  # fmt: skip
    assert shown["Calories"] == ("90", "")  # 25 × (36 × 9 + (3 + 1) × 4 + 2 × 4) ÷ 100 = 87
    assert shown["Total Fat"] == ("9 g", "12%")
    assert shown["Sodium"] == ("5 mg", "0%")  # 0.07 g of salt are 28 mg of sodium, 7 in a piece
    assert shown["Total Carbohydrate"] == ("1 g", "0%")
    missing = {name for name, (amount, _) in shown.items() if not amount}
    assert missing == {"Trans Fat", "Cholesterol", "Includes Added Sugars", "Vitamin D", "Calcium", "Iron", "Potassium"}
    assert {lack.of for lack in found.nutrition.lacks} == {"cream"}


def test_the_us_table_is_per_serving_and_says_so_where_there_is_none() -> None:
    found = of(make.line(100, "cream"), stores=[CREAM], region=Region.US)
    assert row(found, "fat").per_piece == ""
    assert (LackKind.AMOUNT, "piece") in [(lack.kind, lack.of) for lack in found.nutrition.lacks]


def test_a_complete_us_panel() -> None:
    """Minerals and vitamin D in absolute amounts, %DV in their steps; added sugars by 50 g a day."""
    more = {"trans_fat": "0.5", "cholesterol": "0.1", "added_sugars": "2", "vitamin_d": "0.000002", "calcium": "0.1",
            "iron": "0.002", "potassium": "0.2"}  # fmt: skip
    assert CREAM.nutrients is not None
    grams: dict[str, Any] = {key: Decimal(value) for key, value in more.items()}
    full = replace(CREAM, nutrients=replace(CREAM.nutrients, **grams))
    found = of(make.line(100, "cream"), stores=[full], yields=make.pieces(1), region=Region.US)
    assert found.nutrition.lacks == ()
    shown = {each.key: (each.per_piece, each.reference) for each in found.nutrition.rows}
    assert shown["trans fat"] == ("0.5 g", "")
    assert shown["cholesterol"] == ("100 mg", "33%")
    assert shown["added sugars"] == ("2 g", "4%")
    assert shown["vitamin d"] == ("2 mcg", "10%")
    assert shown["calcium"] == ("100 mg", "8%")
    assert shown["iron"] == ("2 mg", "10%")
    assert shown["potassium"] == ("200 mg", "4%")


def test_shares_of_published_panels_by_their_own_daily_values() -> None:
    """Two panels printed before 2016, by the daily values of that time: our arithmetic gives their percents."""
    old = {
        "total_fat": 65,
        "saturated_fat": 20,
        "sodium": 2400,
        "carbohydrate": 300,
        "fiber": 25,
        "protein": 50,
        "cholesterol": 300,
    }
    biscuit, bread = CASES["us-panel-biscuit-dv"], CASES["us-old-dv-banana-bread"]
    printed = [(biscuit, biscuit["expect"]["printed_dv_pct"], "1.5"), (bread, bread["expect"]["dv_pct"], "1")]
    for case, percents, within in printed:
        for name, said in percents.items():
            if name not in old:
                continue
            unit = "mg" if name in ("sodium", "cholesterol") else "g"
            ours = percent(Decimal(case["given"]["per_serving"][f"{name}_{unit}"]) / old[name])
            assert abs(Decimal(ours.removesuffix(" %")) - Decimal(said)) <= Decimal(within), name


# --- standardised recipes with printed nutrients ----------------------------------------------------------------------

NDB = {
    "flour": "20081", "sifted flour": "20081", "dry yeast": "18375", "salt": "02047", "nonfat dry milk": "01091",
    "sugar": "19335", "shortening or butter": "04615", "shortening": "04615", "shell eggs": "01123", "eggs": "01123",
    "baking soda": "18372", "baking powder": "18370", "sour milk": "01088", "buttermilk": "01088",
    "brown sugar": "19334",
    "cornstarch": "20027", "cocoa": "19165", "vanilla": "02050", "butter": "01001", "cheese, shredded": "01009",
    "apples, sliced, fresh": "09003", "cinnamon": "02010", "lemon juice": "09152", "oil or melted butter": "04582",
    "raisins": "09298", "peanut butter": "16398", "milk": "01077",
}  # fmt: skip
"""The USDA food that stands for each ingredient, as printed."""


def table() -> dict[str, dict[str, Decimal | None]]:
    """The USDA table by its numbers."""
    with (FOLDER / "nutrients.csv").open(encoding="utf-8") as file:
        return {
            each["ndb_no"]: {key: Decimal(text) if text else None for key, text in each.items() if "_" in key}
            for each in csv.DictReader(file)
        }


def usda(name: str, number: str, per: dict[str, Decimal | None]) -> StoresItem:
    """An ingredient from the table, with its carbohydrate by difference."""
    keys = ("fat", "saturates", "carbohydrate", "sugars", "fibre", "protein")
    sodium, alcohol = per["sodium_mg"], per["alcohol_g"]
    assert sodium is not None
    grams: dict[str, Any] = {key: per[f"{key}_g"] for key in keys}
    salt = sodium * Decimal("0.0025")
    nutrients = Nutrients(**grams, salt=salt, by_difference=True, source=f"USDA SR28 {number}")
    composition = Composition(alcohol=None if alcohol is None else alcohol / 100)
    return make.item(name.replace(",", ""), nutrients=nutrients, composition=composition)


@dataclass(frozen=True, slots=True)
class Serving:
    """One serving of a published recipe: our sums by key, and what the table's own energies come to.

    `cocoa` is by how many kilocalories the general factors pass the table's for the cocoa in it, whose fibre and
    polyphenols the table counts for little.
    """

    ours: dict[str, Decimal]
    table_energy: Decimal
    cocoa: Decimal


def serving(case: str) -> Serving:
    """A recipe's nutrients by its servings, whatever water it lost."""
    given, per = RECIPES[case]["given"], table()
    lines: list[Any] = []
    items = {}
    kcal = cocoa = total = Decimal(0)
    for each in given["ingredients"]:
        grams, name = Decimal(each["g"]), "milk" if each["name"].startswith("milk") else each["name"]
        total += grams
        if "water" in name:
            lines.append(make.line(grams, "water", id=f"water {len(lines)}"))
            continue
        found = per[NDB[name]]
        items[name] = usda(name, NDB[name], found)
        lines.append(make.line(grams, items[name].id))
        energy = grams * (found["energy_kcal"] or 0) / 100
        kcal += energy
        if name == "cocoa":
            macros = [
                (found[f"{key}_g"] or 0) * factor for key, factor in (("protein", 4), ("fat", 9), ("carbohydrate", 4))
            ]
            cocoa = grams * sum(macros) / 100 - energy
    label = label_in(product(lines, total), stores=[*items.values()], region=Region.US)
    servings = Decimal(given["columns"][0])
    ours = {row.key: (row.exact_per_100.value or Decimal(0)) * total / servings / 100 for row in label.nutrition.rows}
    return Serving(ours, kcal / servings, cocoa / servings)


# The cards were computed with the table's specific energies, of an older edition, by cups that another hand weighed: so
# the table's energies of today come within 6 % of them. Ours are by the general factors 4, 4 and 9; but for the cocoa
# they come within 4 % of the table's. Macronutrients are within 7 %, or half a gram.
CARDS = [
    "school-dinner-rolls-250",
    "school-yeast-biscuits-300",
    "school-peanut-butter-cookies-175",
    "school-chocolate-pudding-100",
    "school-chocolate-fudge-cake-100",
    "school-chocolate-cake-150",
    "school-cheese-apple-crisp-100",
]
_PRINTED = {"total_fat_g": "fat", "carbohydrate_g": "total carbohydrate", "protein_g": "protein"}


@pytest.mark.parametrize("case", CARDS)
def test_standardised_recipes_come_to_their_printed_nutrients(case: str) -> None:
    printed = RECIPES[case]["expect"]["nutrients_per_serving"]
    found = serving(case)
    assert abs(found.table_energy / Decimal(printed["energy_kcal"]) - 1) <= Decimal("0.06")
    assert abs((found.ours["energy"] - found.cocoa) / found.table_energy - 1) <= Decimal("0.04")
    for name, key in _PRINTED.items():
        said = Decimal(printed[name])
        assert abs(found.ours[key] - said) <= max(said * Decimal("0.07"), Decimal("0.5")), (name, found.ours[key])


def test_a_misprinted_energy_is_not_what_the_recipe_comes_to() -> None:
    """The sweet potato cookie's card prints 283 kcal where its macronutrients make about 94."""
    printed = RECIPES["school-sweet-potato-cookie-150-misprint"]["expect"]["nutrients_per_serving_printed"]
    grams = {key: Decimal(printed[name]) for name, key in _PRINTED.items()}
    item = food("cookie", fat=grams["fat"], carbohydrate=grams["total carbohydrate"], protein=grams["protein"])
    kcal = exact(of(make.line(100, "cookie"), stores=[item], region=Region.US), "energy")
    assert Decimal(93) <= kcal <= Decimal(97)
    assert abs(kcal / Decimal(printed["energy_kcal"]) - 1) > Decimal("0.6")

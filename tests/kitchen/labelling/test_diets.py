"""Diets: only where every input says so."""

from typing import Any

import pytest

from bookmaker.kitchen.label_figures import LabelFigure, Suits
from bookmaker.model.line import Rest
from bookmaker.model.refs import RecipeRef, StoresRef
from tests.kitchen.labelling.labels import label_in, product
from tests.support import make

PLAIN = make.item("plain", diet=frozenset({"vegan", "kosher", "halal", "alcohol-free"}))


def suits(found: LabelFigure, diet: str) -> Suits:
    return found.diets[diet].suits


def beside(item: Any, **line: Any) -> LabelFigure:
    lines = [make.line(90, "plain"), make.line(10, item.id, **line)]
    return label_in(product(lines, 100), stores=[PLAIN, item])


def test_a_product_suits_what_all_its_inputs_say() -> None:
    found = label_in(product([make.line(60, "plain"), make.line(40, "water")], 100), stores=[PLAIN])
    assert {name: diet.suits for name, diet in found.diets.items()} == dict.fromkeys(
        ("vegan", "vegetarian", "halal", "kosher", "alcohol-free"), Suits.YES
    )


def test_one_silent_input_leaves_it_unknown_with_the_way_there() -> None:
    base = make.recipe("base", [make.line(1, "vanilla"), make.line(9, "plain")], 10)
    found = label_in(base, product([make.line(1, make.ref("base"))], 1), stores=[PLAIN])
    assert found.diets["vegan"].suits is Suits.UNKNOWN
    assert found.diets["vegan"].against == ((RecipeRef("base"), StoresRef("vanilla")),)


def test_a_list_that_leaves_a_diet_out_does_not_speak_against_it() -> None:
    honey = make.item("honey", diet=frozenset({"vegetarian"}))
    assert suits(beside(honey), "vegan") is Suits.UNKNOWN
    assert suits(beside(honey), "vegetarian") is Suits.YES


@pytest.mark.parametrize(
    ("contains", "vegan", "vegetarian"),
    [("milk", Suits.NO, Suits.UNKNOWN), ("fish", Suits.NO, Suits.NO), ("almonds", Suits.UNKNOWN, Suits.UNKNOWN)],
)
def test_allergens_of_animals_speak_against(contains: str, vegan: Suits, vegetarian: Suits) -> None:
    found = beside(make.item("x", contains=frozenset({contains})))
    assert (suits(found, "vegan"), suits(found, "vegetarian")) == (vegan, vegetarian)


def test_an_item_may_be_declared_unfit() -> None:
    gelatine = make.item("gelatine", diet=frozenset({"not vegetarian", "halal"}))
    found = beside(gelatine)
    assert [suits(found, diet) for diet in ("vegan", "vegetarian", "halal")] == [Suits.NO, Suits.NO, Suits.YES]
    assert found.diets["vegetarian"].against == ((StoresRef("gelatine"),),)
    honey = beside(make.item("honey", diet=frozenset({"vegetarian", "not vegan"})))
    assert [suits(honey, diet) for diet in ("vegan", "vegetarian")] == [Suits.NO, Suits.YES]


def test_what_contradicts_its_own_claim_does_not_carry_it() -> None:
    found = beside(make.item("x", contains=frozenset({"milk"}), diet=frozenset({"vegan"})))
    assert suits(found, "vegan") is Suits.NO
    assert found.diets["vegan"].against == ((StoresRef("x"),),)


def test_alcohol_that_burns_off_is_alcohol_that_went_in() -> None:
    rum = make.item("rum", alcohol="0.4", diet=frozenset({"vegan", "halal", "alcohol-free"}))
    found = beside(rum, stays="0", rest=Rest.AIR)
    assert suits(found, "alcohol-free") is Suits.NO
    assert suits(found, "halal") is Suits.NO
    assert suits(found, "vegan") is Suits.YES


def test_alternatives_and_what_goes_back_count() -> None:
    lines = [make.line(10, "plain", alternatives=(StoresRef("butter"),))]
    assert suits(label_in(product(lines, 10), stores=[PLAIN]), "vegan") is Suits.NO
    assert suits(beside(make.item("lard"), stays="0", rest=Rest.BACK), "vegetarian") is Suits.UNKNOWN


def test_the_house_may_forbid_a_claim() -> None:
    found = label_in(product([make.line(1, "plain")], 1), stores=[PLAIN], forbid_claims=("Vegan", "gluten-free"))
    assert list(found.diets) == ["vegetarian", "halal", "kosher", "alcohol-free"]

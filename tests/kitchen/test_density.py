"""What a gram takes up, against densities that are stated for real things."""

from decimal import Decimal

import pytest

from bookmaker.kitchen.density import content_volume, item_volume, least_volume, stated_density
from bookmaker.kitchen.flow import flow_of
from bookmaker.measures.exact import ONE, exactly
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.stores import Nutrients
from tests.support import make

D = Decimal


def nutrients(fat: str, carbohydrate: str, protein: str, salt: str = "0") -> Nutrients:
    return Nutrients(fat=D(fat), carbohydrate=D(carbohydrate), protein=D(protein), salt=D(salt))


# densities: FAO/INFOODS Density Database 2.0 (2012) gives milk 1.03, butter 0.911, honey 1.42, egg 1.03 (from memory)
@pytest.mark.parametrize(
    ("item", "density"),
    [
        (make.item("milk", water="0.877", nutrients=nutrients("3.5", "4.8", "3.3")), "1.03"),
        (make.item("butter", water="0.16", nutrients=nutrients("81.1", "0.1", "0.9")), "0.911"),
        (make.item("honey", water="0.171", nutrients=nutrients("0", "82.4", "0.3")), "1.42"),
        (make.item("egg", water="0.76", nutrients=nutrients("9.5", "0.7", "12.6", "0.36")), "1.03"),
        (make.item("water", water=1), "1"),
        (make.item("caster sugar", nutrients=nutrients("0", "100", "0")), "1.587"),
    ],
    ids=lambda each: getattr(each, "id", each),
)
def test_an_item_weighs_what_it_consists_of(item: object, density: str) -> None:
    with exactly():
        assert abs(ONE / item_volume(item) - D(density)) < D("0.04") * D(density)  # type: ignore[arg-type]


def test_what_nobody_knows_is_taken_as_the_densest() -> None:
    with exactly():
        assert item_volume(make.item("powder")) < item_volume(make.item("syrup", water="0.2"))


def test_what_has_boiled_away_takes_up_no_room() -> None:
    """Half a litre of water out of a litre of syrup: what stays is denser."""
    syrup = make.recipe("syrup", [make.line(500, "sugar"), make.line(500, "water")], 800, lose={"boil": "0.2"})
    book = make.book(syrup, stores=[make.item("sugar", sugars=100), make.item("water", water=1)])
    with exactly():
        flow = flow_of(syrup, book, {})
        boiled = ONE / content_volume(flow.content, book)
        raw = ONE / content_volume({StoresRef("sugar"): D("0.5"), StoresRef("water"): D("0.5")}, book)
    # 62.5 °Brix: 1.305 g/ml at 20 °C (ICUMSA SPS-4, from memory)
    assert abs(boiled - D("1.305")) < D("0.03")
    assert raw < boiled


def test_a_stated_density_counts_before_a_reckoned_one() -> None:
    mousse = make.recipe("mousse", [make.line(100, "cream")], 100, density=D("0.5"))
    plain = make.recipe("plain", [make.line(100, "cream")], 100)
    book = make.book(mousse, plain, stores=[make.item("cream", water=1)])
    with exactly():
        flows = {each.ref: flow_of(each, book, {}) for each in (mousse, plain)}
        assert least_volume(RecipeRef("mousse"), book, flows) == 2
        assert least_volume(RecipeRef("plain"), book, flows) < D("1.01")
    assert stated_density(RecipeRef("mousse"), book) == D("0.5")
    assert stated_density(RecipeRef("plain"), book) is None

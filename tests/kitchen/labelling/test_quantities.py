"""QUID: quantities of what is named, against the finished product."""

from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.figures import LackKind
from bookmaker.kitchen.label_figures import LabelFigure
from bookmaker.model.house import Compounds, Region
from bookmaker.model.recipe import ClientText
from tests.kitchen.labelling.labels import label_in, name_of, product
from tests.support import make
from tests.support.reference import cases

CASES = cases("declaration")
ALMONDS = make.item("ground almonds", label="almonds", contains=frozenset({"almonds"}))


def printed(found: LabelFigure) -> dict[str, str]:
    return {each.name: each.printed for each in found.quantities}


def at_entries(found: LabelFigure) -> dict[str, str]:
    return {name_of(each): each.quantity for each in found.declaration.ingredients if each.quantity}


def baked(weights: dict[str, str], out: str, named: tuple[str, ...]) -> LabelFigure:
    into = sum(map(Decimal, weights.values()))
    lines = [make.line(grams, name.replace("_", " ")) for name, grams in weights.items()]
    return label_in(product(lines, out, lose={"bake": 1 - Decimal(out) / into}, named=named))


def test_moisture_lost_in_the_oven_raises_a_quantity() -> None:
    """The published sultana cake: 200 g in 1000 g of dough, 800 g when baked: 25 %, not 20 %."""
    case = CASES["quid-sultana-cake"]
    given = case["given"]
    found = baked({"dough": given["dough_g"], "sultanas": given["sultanas_g"]}, given["finished_g"], ("sultanas",))
    assert printed(found) == {"sultanas": f"{case['expect']['quid_pct']} %"}
    assert found.quantities[0].share == Decimal(case["expect"]["quid_pct"]) / 100
    assert found.declaration.plain() == "dough, sultanas 25 %"


def test_what_joins_after_the_oven_is_not_concentrated() -> None:
    given, expect = (CASES["quid-topping-added-after-baking"][part] for part in ("given", "expect"))
    cake = make.stage("Cake", make.line(given["mixing_bowl_g"], "batter"), lose={"bake": "0.25"})
    top = make.stage("Topping", make.line(given["topping_added_after_baking_g"], "topping"))
    found = label_in(product([cake, top], expect["finished_g"], named=("topping",)))
    assert printed(found) == {"topping": f"{expect['quid_pct']} %"}


@pytest.mark.parametrize("name", ["quid-butter-biscuit-composed", "quid-commission-butter-biscuits"])
def test_butter_biscuits(name: str) -> None:
    """One of them is the example of the Commission's notice: 50 g of butter in 170 g of biscuits, 29.4 %."""
    case = CASES[name]
    found = baked(case["given"]["ingredients_g"], case["given"]["finished_g"], ("butter",))
    within = Decimal(case["tolerance_value"])
    assert abs(found.quantities[0].share * 100 - Decimal(case["expect"]["butter_quid_pct"])) <= within
    assert printed(found) == {"butter": "29 %"}


def test_shares_are_each_against_the_finished_weight() -> None:
    case = CASES["quid-sum-may-exceed-100"]
    expect = case["expect"]["pct"]
    found = baked(case["given"]["ingredients_g"], case["given"]["finished_g"], tuple(expect))
    shares = {each.name.removeprefix("wheat "): each.share * 100 for each in found.quantities}
    assert all(abs(shares[name] - Decimal(percent)) <= Decimal("0.1") for name, percent in expect.items())
    assert abs(sum(shares.values()) - Decimal(case["expect"]["sum_pct"])) <= Decimal("0.1")


def test_all_together_over_100_percent_are_grams_for_100_g() -> None:
    case = CASES["quid-total-over-100"]
    assert Decimal(case["expect"]["sum_pct"]) > 100
    found = baked(case["given"]["ingredients_g"], case["given"]["finished_g"], ("butter", "almond"))
    assert printed(found) == {"butter": "60 g per 100 g", "almond": "55 g per 100 g"}
    assert at_entries(found) == {"butter (milk)": "60 g per 100 g", "almond": "55 g per 100 g"}
    assert printed(baked(case["given"]["ingredients_g"], "100", ("butter",))) == {"butter": "60 %"}


def test_one_over_100_percent_is_grams_for_100_g() -> None:
    """A jerky of 130 g of fruit to 100 g."""
    found = baked({"apricots": "130", "sugar": "10"}, "100", ("apricots",))
    assert printed(found) == {"apricots": "130 g per 100 g"}


def test_exactly_100_percent_is_a_percentage() -> None:
    assert printed(baked({"butter": "60", "almond": "40", "water": "10"}, "100", ("butter", "almond"))) == {
        "butter": "60 %",
        "almond": "40 %",
    }


def test_one_of_exactly_100_percent_is_a_percentage() -> None:
    assert printed(baked({"apricots": "100", "water": "20"}, "100", ("apricots",))) == {"apricots": "100 %"}


def test_a_named_component_inside_another_is_counted_once() -> None:
    """60 g of filling, 41 of which are jam: 60 % of the cake, not 101; water was lost."""
    jam = make.recipe("jam", [make.line(41, "apricots")], 41)
    filling = make.recipe("filling", [make.line(41, jam.ref), make.line(19, "butter")], 60)
    lines = [make.line(60, filling.ref), make.line(41, "flour"), make.line(9, "water")]
    cake = product(lines, 100, lose={"bake": Decimal(10) / 110}, named=("jam", "filling", "flour"))
    assert printed(label_in(jam, filling, cake)) == {"jam": "41 g per 100 g", "filling": "60 g per 100 g",
                                                     "wheat flour": "41 g per 100 g"}  # fmt: skip
    cake = product(lines, 100, lose={"bake": Decimal(10) / 110}, named=("jam", "filling"))
    assert printed(label_in(jam, filling, cake)) == {"jam": "41 %", "filling": "60 %"}


def test_a_component_and_what_is_in_it_are_not_counted_twice() -> None:
    """70 % of cream, of which 50 are butter: 70 % in all, whatever the names add up to; some water was lost."""
    cream = make.recipe("cream", [make.line(50, "butter"), make.line(20, "sugar")], 70)
    lines = [make.line(70, make.ref("cream")), make.line(30, "flour"), make.line(10, "water")]
    cake = product(lines, 100, lose={"bake": Decimal(10) / 110}, named=("cream", "butter"))
    assert printed(label_in(cream, cake)) == {"cream": "70 %", "butter": "50 %"}


def test_without_moisture_loss_names_that_overlap_stay_percents() -> None:
    cream = make.recipe("cream", [make.line(60, "butter"), make.line(20, "sugar")], 80)
    cake = product([make.line(80, make.ref("cream")), make.line(20, "flour")], 100, named=("cream", "butter"))
    assert printed(label_in(cream, cake)) == {"cream": "80 %", "butter": "60 %"}


@pytest.mark.parametrize("lose", [{"trim": "0.3"}, {"portion": "0.1", "mix": "0.05"}, {"break": "0.5"}], ids=str)
def test_waste_does_not_count(lose: dict[str, str]) -> None:
    lines = [make.line(80, "flour"), make.line(20, "ground almonds")]
    found = label_in(product(lines, 100, lose=lose, named=("ground almonds",)), stores=[ALMONDS])
    assert printed(found) == {"almonds": "20 %"}


@pytest.mark.parametrize(
    ("grams", "text"),
    [
        ("12.4", "12 %"),
        ("12.5", "13 %"),
        ("5", "5 %"),
        ("4.96", "5 %"),
        ("4.94", "4.9 %"),
        ("0.25", "0.3 %"),
        ("0.04", "0.04 %"),
    ],
)
def test_how_quantities_are_printed(grams: str, text: str) -> None:
    lines = [make.line(100 - Decimal(grams), "flour"), make.line(grams, "saffron")]
    assert printed(label_in(product(lines, 100, named=("saffron",)))) == {"saffron": text}


# --- what can be named ------------------------------------------------------------------------------------------------


def test_a_named_component_keeps_its_entry_where_others_are_merged() -> None:
    cream = make.recipe("cream", [make.line(60, "butter"), make.line(40, "sugar")], 100, title="Almond cream")
    base = make.recipe("base", [make.line(50, "flour"), make.line(50, "butter")], 100, title="Base")
    lines = [make.line(40, make.ref("cream")), make.line(60, make.ref("base"))]
    found = label_in(cream, base, product(lines, 100, named=("almond cream",)))
    assert found.declaration.plain() == "almond cream 40 % (butter (MILK), sugar), butter (MILK), WHEAT flour"


def test_a_named_component_deep_inside_another() -> None:
    """20 g of jam in 50 g of filling, of which 25 g are in 100 g: 10 %."""
    jam = make.recipe("jam", [make.line(60, "apricots"), make.line(60, "sugar")], 100, lose={"boil": Decimal(1) / 6})
    filling = make.recipe("filling", [make.line(20, make.ref("jam")), make.line(30, "butter")], 50)
    cake = product([make.line(25, make.ref("filling")), make.line(75, "flour")], 100, named=("jam", "apricots"))
    merged = label_in(jam, filling, cake)
    assert merged.declaration.plain() == "WHEAT flour, butter (MILK), jam 10 % (apricots 6 %, sugar)"
    nested = label_in(jam, filling, cake, compounds=Compounds.NESTED)
    assert nested.declaration.plain() == "WHEAT flour, filling (butter (MILK), jam 10 % [apricots 6 %, sugar])"


def test_an_item_is_named_by_the_label_that_it_shares() -> None:
    stores = [ALMONDS, make.item("flaked almonds", label="almonds", contains=frozenset({"almonds"}))]
    lines = [make.line(80, "flour"), make.line(12, "ground almonds"), make.line(8, "flaked almonds")]
    found = label_in(product(lines, 100, named=("flaked almonds",)), stores=stores)
    assert printed(found) == {"almonds": "20 %"}
    assert found.declaration.plain() == "WHEAT flour, ALMONDS 20 %"


@pytest.mark.parametrize("name", ["fruit", "Fruit "])
def test_a_group_is_the_sum_of_its_items(name: str) -> None:
    stores = [make.item(each, groups=("fruit",)) for each in ("apples", "pears")]
    lines = [make.line(70, "flour"), make.line(20, "apples"), make.line(10, "pears")]
    found = label_in(product(lines, 100, named=(name,)), stores=stores)
    assert [(each.printed, each.in_list) for each in found.quantities] == [("30 %", False)]
    assert at_entries(found) == {}


def test_nuts_are_a_group_by_themselves_and_praline_is_none() -> None:
    praline = make.item("praline", contains=frozenset({"almonds"}), made_of=ALMONDS.made_of or ())
    stores = [ALMONDS, make.item("hazelnuts", contains=frozenset({"hazelnuts"}))]
    lines = [make.line(60, "flour"), make.line(30, "ground almonds"), make.line(10, "hazelnuts")]
    assert printed(label_in(product(lines, 100, named=("nuts",)), stores=[*stores, praline])) == {"nuts": "40 %"}


def test_a_stage_can_be_named() -> None:
    stages = [
        make.stage("Dough", make.line(60, "flour")),
        make.stage("Streusel", make.line(30, "butter"), make.line(10, "sugar")),
    ]
    assert printed(label_in(product(stages, 100, named=("streusel",)))) == {"streusel": "40 %"}


def test_what_is_listed_in_two_places_has_its_quantity_beside_the_name() -> None:
    cream = make.recipe("cream", [make.line(50, "butter"), make.line(50, "sugar")], 100)
    lines = [make.line(50, make.ref("cream")), make.line(10, "butter"), make.line(40, "flour")]
    found = label_in(cream, product(lines, 100, named=("butter",)), compounds=Compounds.NESTED)
    assert [(each.name, each.printed, each.in_list) for each in found.quantities] == [("butter", "35 %", False)]
    assert "35 %" not in found.declaration.plain()


def test_a_name_that_nothing_answers_to_is_a_lack() -> None:
    found = label_in(product([make.line(1, "flour")], 1, named=("rhubarb",)))
    assert [(lack.kind, lack.of) for lack in found.declaration.lacks] == [(LackKind.AMOUNT, "rhubarb")]
    assert found.quantities == ()


def test_the_us_asks_for_no_quantities() -> None:
    lines: list[Any] = [make.line(80, "flour"), make.line(20, "sugar")]
    found = label_in(product(lines, 100, named=("sugar",)), region=Region.US)
    assert found.quantities == ()
    assert found.declaration.plain() == "WHEAT flour, sugar. Contains: WHEAT."


def test_a_component_is_named_by_its_legal_name() -> None:
    cream = make.recipe("cream", [make.line(1, "butter")], 1, client=ClientText(sold_as="Buttercream"))
    found = label_in(cream, product([make.line(40, make.ref("cream")), make.line(60, "flour")], 100, named=("cream",)))
    assert printed(found) == {"Buttercream": "40 %"}

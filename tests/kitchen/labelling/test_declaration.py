"""The ingredient list: order, water, what is small, compounds, additives, allergens, what keeps it from being one."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import Lack, LackKind
from bookmaker.kitchen.label import NotFood, label_of
from bookmaker.kitchen.label_figures import CHECK, LabelFigure
from bookmaker.kitchen.labelling.wording import is_additive
from bookmaker.model.house import Additives, Compounds, Packed, Region
from bookmaker.model.line import Cut, Rest, Unmeasured
from bookmaker.model.recipe import ClientText, Kind
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.shapes import Rectangle
from bookmaker.model.stores import Additive, Article, FromList, MadeOf
from bookmaker.model.yields import CoProduct, SheetYield
from tests.kitchen.labelling.labels import FLOUR, ON, label, label_in, name_of, names, product, share
from tests.support import make
from tests.support.reference import cases

CASES = cases("declaration")


def grams(case: str, key: str = "ingredients_g") -> list[Any]:
    """The lines of a published or composed case."""
    return [make.line(weight, item.replace("_", " ")) for item, weight in CASES[case]["given"][key].items()]


def finished(case: str, lines: list[Any]) -> Any:
    """A product of the case's ingredients that comes to its finished weight by losing moisture."""
    into = sum(line.quantity.grams for line in lines)
    out = Decimal(CASES[case]["given"]["finished_g"])
    return product(lines, out, lose={"bake": 1 - out / into})


def milk(text: str = "milk", **more: Any) -> Any:
    return make.item(text, contains=frozenset({"milk"}), **more)


# --- order ------------------------------------------------------------------------------------------------------------


def test_ingredients_descend_by_ingoing_weight() -> None:
    expect = CASES["order-descending-at-mixing-bowl"]["expect"]["order"]
    lines = grams("order-descending-at-mixing-bowl", "weights_g")
    plain = [make.item(name) for name in expect]
    assert names(label_in(product(lines, 1055), stores=plain)) == expect
    assert names(label_in(product(lines[::-1], 1055), stores=plain)) == expect


def test_equal_weights_go_by_name_whatever_the_order_of_the_formula() -> None:
    lines = [make.line(100, name) for name in ("sugar", "apple", "quince")]
    assert names(label_in(product(lines, 300))) == ["apple", "quince", "sugar"]
    assert names(label_in(product(lines[::-1], 300))) == ["apple", "quince", "sugar"]


def test_shares_that_differ_by_the_dust_of_divisions_are_equal() -> None:
    """A third of a component beside as much of the same weighed on its own."""
    base = make.recipe("base", [make.line(1, "quince"), make.line(2, "apple")], 3, lose={"sieve": "0.000001"})
    lines = [make.line(300, make.ref("base")), make.line(100, "pear")]
    assert names(label_in(base, product(lines, 400))) == ["apple", "pear", "quince"]


def test_an_ingredient_in_three_components_is_named_once_with_all_its_weight() -> None:
    """Butter is 30 of 100 in the dough, 20 of 100 in the cream, all of the glaze's 10: 60 g of 210 in all."""
    dough = make.recipe("dough", [make.line(70, "flour"), make.line(30, "butter")], 100)
    cream = make.recipe("cream", [make.line(80, "sugar"), make.line(20, "butter")], 100)
    glaze = make.recipe("glaze", [make.line(10, "butter")], 10)
    cake = product(
        [make.line(amount, make.ref(of)) for of, amount in (("dough", 100), ("cream", 100), ("glaze", 10))], 210
    )
    found = label_in(dough, cream, glaze, cake)
    assert names(found) == ["sugar", "wheat flour", "butter (milk)"]
    assert round(share(found, "butter (milk)") * 210, 20) == 60
    assert len(found.declaration.ingredients[2].ways) == 3


def test_items_of_one_name_are_one_ingredient() -> None:
    stores = [make.item("caster sugar", label="sugar"), make.item("pearl sugar", label="sugar")]
    lines = [make.line(30, "caster sugar"), make.line(50, "flour"), make.line(25, "pearl sugar")]
    assert names(label_in(product(lines, 105), stores=stores)) == ["sugar", "wheat flour"]


def test_what_stays_orders_and_not_what_was_taken() -> None:
    """800 g of oil to fry in, of which 8 % stays: less than the sugar."""
    lines = [make.line(500, "flour"), make.line(800, "oil", stays="0.08", rest=Rest.BACK), make.line(100, "sugar")]
    found = label_in(product(lines, 664))
    assert names(found) == ["wheat flour", "sugar", "oil"]
    assert round(share(found, "oil") * 664, 20) == 64


def test_trim_waste_changes_nothing() -> None:
    lines = [make.line(50, "flour"), make.line(30, "water"), make.line(20, "sugar")]
    whole, trimmed = (label_in(product(lines, 100, lose=lose)) for lose in ({}, {"trim": "0.4"}))
    assert trimmed.declaration == whole.declaration


def test_waste_of_one_stage_leaves_less_of_what_was_in_it() -> None:
    """Half of a syrup sticks to the pan before the flour joins."""
    stages = [
        make.stage("Syrup", make.line(80, "sugar"), lose={"transfer": "0.5"}),
        make.stage("Dough", make.line(60, "flour")),
    ]
    found = label_in(product(stages, 100))
    assert names(found) == ["wheat flour", "sugar"]
    assert share(found, "sugar") == Decimal("0.4")


def test_left_over_trim_is_what_it_was_cut_from() -> None:
    sheet = make.recipe(
        "sheet",
        [make.line(60, "flour"), make.line(40, "butter")],
        SheetYield(Decimal(1), Rectangle(Decimal(600), Decimal(400))),
    )
    cut = make.line(Cut(Decimal(6), Rectangle(Decimal(150), Decimal(150))), make.ref("sheet"))
    bar = make.recipe("bar", [cut, make.line(5, "almonds")], make.pieces(6), gives=(CoProduct("rest"),))
    crumbs = product([make.line(90, make.rest("bar", "rest")), make.line(10, "sugar")], 100)
    found = label_in(sheet, bar, crumbs)
    assert names(found) == ["wheat flour", "butter (milk)", "sugar"]
    assert share(found, "wheat flour") == Decimal("0.54")


def test_seed_brings_nothing_of_its_own() -> None:
    levain = make.recipe(
        "levain",
        [make.line(200, make.ref("levain")), make.line(200, "flour"), make.line(100, "water")],
        300,
        keep_back=200,
    )
    found = label_in(levain, product([make.line(300, make.ref("levain"))], 300))
    assert round(share(found, "wheat flour") * 3, 20) == 2


# --- water ------------------------------------------------------------------------------------------------------------


def test_water_of_exactly_five_percent_is_left_out() -> None:
    case = CASES["water-exactly-5-percent"]
    assert Decimal(case["expect"]["water_pct"]) == 5
    lines = grams("water-exactly-5-percent")
    assert "water" not in names(label_in(finished("water-exactly-5-percent", lines)))


def test_water_of_a_hair_more_than_five_percent_is_listed() -> None:
    lines = [make.line(500, "flour"), make.line(250, "butter"), make.line(200, "sugar"), make.line("50.01", "water")]
    found = label_in(product(lines, "1000.01"))
    assert names(found) == ["wheat flour", "butter (milk)", "sugar", "water"]


def test_negative_water_is_nil() -> None:
    case = "water-negative-after-baking"
    assert Decimal(CASES[case]["expect"]["water_in_finished_g"]) < 0
    found = label_in(finished(case, grams(case)))
    assert names(found) == ["wheat flour", "butter (milk)", "sugar"]
    assert names(label_in(finished(case, grams(case)), region=Region.US)) == ["wheat flour", "butter", "sugar"]


def test_water_stands_by_its_weight_in_the_finished_product() -> None:
    case = CASES["water-order-position"]
    found = label_in(finished("water-order-position", grams("water-order-position")), stores=[make.item("flour")])
    assert names(found) == case["expect"]["order"]
    assert round(share(found, "water") * 1000) == int(case["expect"]["water_in_finished_g"])


def test_the_us_has_no_five_percent_for_water() -> None:
    lines = [make.line(970, "flour"), make.line(30, "water")]
    assert names(label_in(product(lines, 1000))) == ["wheat flour"]
    assert names(label_in(product(lines, 1000), region=Region.US)) == ["wheat flour", "water"]


def test_water_lost_in_one_component_and_added_in_another_is_one_sum() -> None:
    """A biscuit lost its 20 g and 10 g more; the syrup beside it has 40 g: 30 g in 100 g are left."""
    biscuit = make.recipe("biscuit", [make.line(60, "flour"), make.line(20, "water")], 50, lose={"bake": "0.375"})
    syrup = make.recipe("syrup", [make.line(10, "sugar"), make.line(40, "water")], 50)
    cake = product([make.line(50, make.ref("biscuit")), make.line(50, make.ref("syrup"))], 100)
    assert share(label_in(biscuit, syrup, cake), "water") == Decimal("0.3")


@pytest.mark.parametrize(("syrup", "shown"), [(10, True), (5, False)])
def test_water_inside_a_nested_component_counts_towards_five_percent_of_the_product(syrup: int, shown: bool) -> None:
    """Half of the syrup is water; of 10 g in 50 g that is more than 5 % of the product, of 5 g it is not."""
    soak = make.recipe("soak", [make.line(50, "sugar"), make.line(50, "water")], 100)
    lines = [make.line(syrup, make.ref("soak")), make.line(50 - syrup, "flour")]
    found = label_in(soak, product(lines, 50), compounds=Compounds.NESTED)
    inside = [part.name[0].text for part in found.declaration.ingredients[1].parts]
    assert inside == (["sugar", "water"] if shown else ["sugar"])


@pytest.mark.parametrize(("syrup", "listed"), [(20, "(sugar, water)"), (10, "(sugar)")])
def test_a_syrup_that_keeps_its_list_names_its_water_whatever_the_sponge_lost(syrup: int, listed: str) -> None:
    """The sponge bakes out a third, so that over all no water was added. Half of 20 % is more than 5 %, of 10 % not."""
    sponge = make.recipe("sponge", [make.line(120, "apple")], 80, lose={"bake": Decimal(1) / 3})
    soak = make.recipe("soak", [make.line(5, "water"), make.line(5, "sugar")], 10)
    lines = [make.line(100 - syrup, make.ref("sponge")), make.line(syrup, make.ref("soak"))]
    found = label_in(sponge, soak, product(lines, 100, named=("soak",)))
    assert f"soak {syrup} % {listed}" in found.declaration.plain()


def test_ice_is_water() -> None:
    lines = [make.line(60, "flour"), make.line(25, "water"), make.line(15, "ice")]
    found = label_in(product(lines, 100), stores=[make.item("ice", water="1")])
    assert names(found) == ["wheat flour", "water"]
    assert share(found, "water") == Decimal("0.4")


def test_what_evaporates_is_listed_by_what_remains() -> None:
    """Of a volatile ingredient its finished weight counts: 20 g of rum, half of which goes into the air."""
    lines = [make.line(70, "flour"), make.line(20, "rum", stays="0.5", rest=Rest.AIR), make.line(15, "sugar")]
    assert names(label_in(product(lines, 95))) == ["wheat flour", "sugar", "rum"]


# --- what is small ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("salt", "eu", "us"), [("1.99", 1, 1), ("2", 0, 1), ("2.01", 0, 0)], ids=["1.99 %", "2 %", "2.01 %"]
)
def test_below_two_percent_any_order_in_the_us_at_two_percent_too(salt: str, eu: int, us: int) -> None:
    lines = [make.line(100 - Decimal(salt), "flour"), make.line(salt, "salt")]
    assert label_in(product(lines, 100)).declaration.small == eu
    assert label_in(product(lines, 100), region=Region.US).declaration.small == us


def test_the_us_says_what_is_two_percent_or_less() -> None:
    lines = [make.line(97, "flour"), make.line(2, "salt"), make.line(1, "yeast")]
    text = label_in(product(lines, 100), region=Region.US).declaration.plain()
    assert text == "WHEAT flour, contains 2% or less of: salt, yeast. Contains: WHEAT."


def test_two_percent_is_two_percent_however_it_was_divided() -> None:
    """2 g in 100 g by way of three components whose thirds are no finite decimals."""
    thirds = [make.recipe(f"r{n}", [make.line(1, "salt"), make.line(2, "flour")], 3) for n in range(3)]
    lines = [*(make.line(2, each.ref) for each in thirds), make.line(94, "flour")]
    assert label_in(*thirds, product(lines, 100)).declaration.small == 0


# --- compound ingredients ---------------------------------------------------------------------------------------------

CHOCOLATE = make.item(
    "couverture",
    label="dark chocolate",
    contains=frozenset({"soybeans"}),
    made_of=(
        MadeOf("sugar", Decimal("0.36")),
        MadeOf("cocoa mass", Decimal("0.6")),
        MadeOf("emulsifier (soya lecithin)", Decimal("0.04")),
    ),
)


def test_a_bought_compound_has_its_own_list_by_its_shares() -> None:
    found = label_in(product([make.line(50, "couverture"), make.line(50, "flour")], 100), stores=[CHOCOLATE])
    assert found.declaration.plain() == "dark chocolate (cocoa mass, sugar, emulsifier (SOYA lecithin)), WHEAT flour"
    assert [part.share for part in found.declaration.ingredients[0].parts] == [
        Decimal(each) for each in ("0.3", "0.18", "0.02")
    ]


def test_a_bought_compound_without_shares_keeps_its_suppliers_order() -> None:
    parts = (MadeOf("sugar"), MadeOf("cocoa mass", Decimal("0.6")))
    found = label_in(product([make.line(50, "couverture")], 50), stores=[replace(CHOCOLATE, made_of=parts)])
    assert [each.text for each in found.declaration.ingredients[0].parts[0].name] == ["sugar"]
    assert found.declaration.ingredients[0].parts[0].share == 0


def nested(**more: Any) -> LabelFigure:
    cream = make.recipe("cream", [make.line(80, "couverture"), make.line(20, "butter")], 100, title="Chocolate cream")
    base = make.recipe("base", [make.line(70, "flour"), make.line(30, "butter")], 100, title="Sweet base", **more)
    cake = product([make.line(60, make.ref("base")), make.line(50, make.ref("cream")), make.line(5, "butter")], 115)
    return label_in(cream, base, cake, stores=[CHOCOLATE], compounds=Compounds.NESTED)


def test_nested_components_keep_a_list_of_their_own() -> None:
    assert nested().declaration.plain() == (
        "sweet base (WHEAT flour, butter (MILK)), chocolate cream (dark chocolate [cocoa mass, sugar, emulsifier (SOYA"
        " lecithin)], butter (MILK)), butter (MILK)"
    )


def test_a_component_is_called_by_its_legal_name_if_it_has_one() -> None:
    assert names(nested(client=ClientText(sold_as="Shortcrust")))[0] == "Shortcrust"


def test_a_preferment_is_no_compound_ingredient() -> None:
    found = nested(kind=Kind.PREFERMENT)
    assert names(found) == ["chocolate cream", "wheat flour", "butter (milk)"]


def test_what_is_inside_a_nested_component_is_taken_apart() -> None:
    inner = make.recipe("inner", [make.line(50, "butter"), make.line(50, "sugar")], 100)
    outer = make.recipe("outer", [make.line(60, make.ref("inner")), make.line(40, "butter")], 100, title="Butter cream")
    cake = product([make.line(50, make.ref("outer")), make.line(50, "flour")], 100)
    found = label_in(inner, outer, cake, compounds=Compounds.NESTED)
    assert found.declaration.plain() == "butter cream (butter (MILK), sugar), WHEAT flour"


def test_a_compound_that_the_law_defines_needs_no_list_below_two_percent() -> None:
    """Annex VII, part E, no. 2(a): 1.9 % may, 2 % may not. Additives stay, and its allergens are said all the same."""
    case = CASES["compound-under-2-percent-exemption"]
    assert case["expect"]["additives_carried_over_with_function_declared"] == "true"
    defined = replace(CHOCOLATE, defined_by_law=True)
    for percent, may in zip(case["given"]["compound_pct"], case["expect"]["sub_list_may_be_omitted"], strict=True):
        lines = [make.line(percent, "couverture"), make.line(100 - Decimal(percent), "flour")]

        def of(item: Any, lines: Any = lines, **how: Any) -> str:
            entry = label_in(product(lines, 100), stores=[item], **how).declaration.ingredients[1]
            return ", ".join(name_of(part) for part in entry.parts)

        whole, short = "cocoa mass, sugar, emulsifier (soya lecithin)", "emulsifier (soya lecithin)"
        assert of(defined) == (short if may == "true" else whole), percent
        assert of(CHOCOLATE) == whole
        assert of(defined, region=Region.US) == whole


def test_an_allergen_of_a_list_that_is_left_out_is_said_behind_the_name() -> None:
    spice = make.item("spice", label="mixed spice", contains=frozenset({"celery"}), defined_by_law=True,
                      made_of=(MadeOf("cinnamon"), MadeOf("celery seed")))  # fmt: skip
    lines = [make.line(1, "spice"), make.line(99, "flour")]
    assert label_in(product(lines, 100), stores=[spice]).declaration.plain() == "WHEAT flour, mixed spice (CELERY)"


@pytest.mark.parametrize(
    ("part", "additive"),
    [
        ("emulsifier (lecithins)", True),
        ("Acidity regulator: citric acid", True),
        ("acid (citric acid)", True),
        ("acidified milk", False),
        ("colouring foodstuff (carrot)", False),
        ("raising agent", True),
        ("sugar", False),
    ],
)
def test_what_is_an_additive_in_a_suppliers_list(part: str, additive: bool) -> None:
    assert is_additive(part) is additive


# --- additives, and what need not be listed ---------------------------------------------------------------------------

SODA = make.item("soda", label="sodium carbonates", additive=Additive("raising agent", "E500"))
LECITHIN = make.item(
    "lecithin", label="lecithins", contains=frozenset({"soybeans"}), additive=Additive("emulsifier", "E322")
)
SORBATE = make.item("sorbate", label="potassium sorbate", additive=Additive("preservative", "E202"))


def additives(**how: Any) -> list[str]:
    lines = [make.line(97, "flour"), make.line(2, "soda"), make.line("0.6", "lecithin"), make.line("0.4", "sorbate")]
    return names(label_in(product(lines, 100), stores=[SODA, LECITHIN, SORBATE], **how))[1:]


def test_additives_stand_behind_their_class_by_name_or_number() -> None:
    accepted = CASES["additive-naming"]["expect"]["accepted"]
    by_name, by_number = additives(), additives(additives=Additives.NUMBERS)
    assert by_name == [
        "raising agent: sodium carbonates",
        "emulsifier: lecithins (soya)",
        "preservative: potassium sorbate",
    ]
    assert by_number == ["raising agent: E500", "emulsifier: E322 (soya)", "preservative: E202"]
    assert [by_name[1], by_number[1]] == accepted


@pytest.mark.parametrize("how", Additives)
def test_modified_starch_needs_neither_name_nor_number_but_says_what_it_is_of(how: Additives) -> None:
    """Annex VII, part C, note 1."""
    starch = make.item(
        "starch",
        label="modified starch",
        contains=frozenset({"wheat"}),
        additive=Additive("modified starch", "E1404"),
    )
    lines = [make.line(97, "sugar"), make.line(3, "starch")]
    assert names(label_in(product(lines, 100), stores=[starch], additives=how)) == ["sugar", "modified starch (wheat)"]


def test_the_us_wants_common_names_and_what_a_preservative_does() -> None:
    assert additives(region=Region.US, additives=Additives.NUMBERS) == [
        "sodium carbonates",
        "lecithins",
        "potassium sorbate (preservative)",
    ]


@pytest.mark.parametrize("why", FromList)
def test_what_need_not_be_listed_is_not_unless_it_brings_an_allergen(why: FromList) -> None:
    aid = make.item("aid", exempt_from_list=why)
    lines = [make.line(99, "flour"), make.line(1, "aid")]
    assert names(label_in(product(lines, 100), stores=[aid])) == ["wheat flour"]
    fish = replace(aid, contains=frozenset({"fish"}))
    assert names(label_in(product(lines, 100), stores=[fish])) == ["wheat flour", "aid (fish)"]


def test_what_was_strained_off_again_is_still_said() -> None:
    lines = [make.line(100, "cream", name="cream"), make.line(5, "tea", stays="0")]
    assert names(label_in(product(lines, 100))) == ["cream", "tea"]


def test_packaging_and_moulds_are_no_ingredients() -> None:
    silicone = make.recipe("silicone", [make.line(10, "rubber")], 10, kind=Kind.MOULDING)
    book = make.book(silicone, product([make.line(10, "flour")], 10), stores=[FLOUR])
    assert names(label(book)) == ["wheat flour"]
    with pytest.raises(NotFood):
        label_of(RecipeRef("silicone"), book, compute(book, ON))


# --- allergens in the list --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "contains", "text"),
    [
        ("wheat flour", {"wheat"}, "WHEAT flour"),
        ("butter", {"milk"}, "butter (MILK)"),
        ("buttermilk", {"milk"}, "butterMILK"),
        ("buckwheat and wheat flour", {"wheat"}, "buckwheat and WHEAT flour"),
        ("skimmed milk powder", {"milk"}, "skimmed MILK powder"),
        ("spelt flour", {"spelt"}, "spelt flour (WHEAT)"),
        ("Brazil nut paste", {"brazil nuts"}, "BRAZIL NUT paste"),
        ("praline", {"hazelnuts", "almonds"}, "praline (ALMONDS, HAZELNUTS)"),
        ("eggs", {"eggs"}, "EGGS"),
        ("egg yolk", {"eggs"}, "EGG yolk"),
        ("custard powder", {"eggs", "milk"}, "custard powder (EGG, MILK)"),
        ("soy sauce", {"soybeans", "wheat"}, "SOY sauce (WHEAT)"),
        ("coconut milk", set(), "coconut milk"),
        ("dried apricots (sulphur dioxide)", {"sulphites"}, "dried apricots (SULPHUR DIOXIDE)"),
    ],
)
def test_allergens_are_set_apart_and_said_where_the_name_does_not(name: str, contains: set[str], text: str) -> None:
    item = make.item("x", label=name, contains=frozenset(contains))
    assert label_in(product([make.line(10, "x")], 10), stores=[item]).declaration.plain() == text


def test_only_the_part_of_a_name_that_says_it_is_emphasised() -> None:
    case = CASES["eu-emphasise-only-name-part"]
    item = milk(case["given"]["ingredient"])
    found = label_in(product([make.line(10, item.id)], 10), stores=[item])
    assert [phrase.text for phrase in found.declaration.text if phrase.allergen] == [case["expect"]["emphasised"]]
    assert found.declaration.plain() == case["expect"]["ingredient_text"]


def test_an_exempt_source_is_not_said_where_it_is_exempt() -> None:
    syrup = make.item(
        "syrup", label="glucose syrup", contains=frozenset({"wheat"}), exempt=(("EU", frozenset({"wheat"})),)
    )
    recipe = product([make.line(10, "syrup")], 10)
    assert label_in(recipe, stores=[syrup]).declaration.plain() == "glucose syrup"
    assert label_in(recipe, stores=[syrup], region=Region.UK).declaration.plain() == "glucose syrup (WHEAT)"
    assert label_in(recipe, stores=[syrup], region=Region.US).declaration.plain() == "glucose syrup. Contains: WHEAT."


def test_the_us_names_all_sources_behind_the_list_and_species_of_nuts() -> None:
    stores = [
        make.item("praline", contains=frozenset({"hazelnuts", "almonds"})),
        make.item("rye", contains=frozenset({"rye"})),
    ]
    lines = [make.line(50, "flour"), make.line(30, "praline"), make.line(20, "rye")]
    found = label_in(product(lines, 100), stores=stores, region=Region.US)
    assert found.declaration.plain() == "WHEAT flour, praline, rye. Contains: ALMONDS, HAZELNUTS, WHEAT."
    assert any("Contains statement" in form for form in CASES["us-declaration-forms"]["expect"]["forms"])


def test_pine_nuts_are_an_allergen_in_the_us_alone() -> None:
    pesto = make.item("pesto", contains=frozenset({"pine nuts"}))
    recipe = product([make.line(1, "pesto")], 1)
    assert label_in(recipe, stores=[pesto]).declaration.plain() == "pesto"
    assert label_in(recipe, stores=[pesto], region=Region.US).declaration.plain() == "pesto. Contains: PINE NUTS."


def test_without_allergens_the_us_statement_is_not_there() -> None:
    assert label_in(product([make.line(1, "sugar")], 1), region=Region.US).declaration.plain() == "sugar"


# --- what it lacks ----------------------------------------------------------------------------------------------------


def lacks(found: LabelFigure) -> list[tuple[LackKind, str]]:
    return [(lack.kind, lack.of) for lack in found.declaration.lacks]


def test_an_unknown_allergen_three_levels_down_is_a_lack_with_its_way() -> None:
    mystery = make.item("nougat", contains=None)
    one = make.recipe("one", [make.line(1, "nougat"), make.line(9, "sugar")], 10)
    two = make.recipe("two", [make.line(1, make.ref("one")), make.line(9, "sugar")], 10)
    found = label_in(one, two, product([make.line(1, make.ref("two")), make.line(9, "flour")], 10), stores=[mystery])
    assert found.declaration.lacks == (Lack(LackKind.ALLERGENS, "nougat", (RecipeRef("two"), RecipeRef("one"))),)
    assert names(found) == ["wheat flour", "sugar", "nougat"]


def test_what_nobody_weighed_ends_the_list_and_is_a_lack() -> None:
    lines = [make.line(Unmeasured("to taste"), "salt"), make.line(99, "flour")]
    found = label_in(product(lines, 99))
    assert names(found) == ["wheat flour", "salt"]
    assert lacks(found) == [(LackKind.AMOUNT, "salt")]


def test_a_component_that_nobody_weighed_keeps_the_order_of_its_own_list() -> None:
    jam = make.recipe("jam", [make.line(40, "apricots"), make.line(60, "sugar")], 100)
    lines = [make.line(99, "flour"), make.line(Unmeasured("as needed"), make.ref("jam"))]
    found = label_in(jam, product(lines, 99), compounds=Compounds.NESTED)
    assert found.declaration.plain() == "WHEAT flour, jam (sugar, apricots)"
    assert [part.share for part in found.declaration.ingredients[1].parts] == [0, 0]
    assert lacks(found) == [(LackKind.AMOUNT, "jam")]


def articles(**more: Any) -> Any:
    """Two suppliers' jams, one of them with lemon juice."""
    return make.item(
        "jam",
        made_of=(MadeOf("apricots"), MadeOf("sugar")),
        articles=(
            Article("Cold Quay", "1", made_of=(MadeOf("apricots"), MadeOf("lemon juice"))),
            Article("Orchard Gate", "2"),
        ),
        **more,
    )


def test_articles_that_differ_need_one_pinned() -> None:
    recipe = product([make.line(10, "jam")], 10)
    assert lacks(label_in(recipe, stores=[articles()])) == [(LackKind.CHOICE, "jam")]
    pinned = label_in(recipe, stores=[articles(labelled_as=("Cold Quay", "1"))])
    assert pinned.declaration.lacks == ()
    assert pinned.declaration.plain() == "jam (apricots, lemon juice)"


def test_an_article_bought_beside_the_described_one_counts() -> None:
    jam = make.item("jam", articles=(Article("Cold Quay", "1", contains=frozenset({"milk"})),))
    recipe = product([make.line(10, "jam")], 10)
    assert label_in(recipe, stores=[jam]).declaration.lacks == ()
    bought = [make.price("jam", "1 kg", 9, supplier="Orchard Gate", code="2")]
    assert lacks(label_in(recipe, stores=[jam], prices=bought)) == [(LackKind.CHOICE, "jam")]


def test_articles_that_only_may_contain_other_things_declare_alike() -> None:
    jam = make.item("jam", articles=(Article("A", "1", may_contain=frozenset({"milk"})), Article("B", "2")))
    assert label_in(product([make.line(10, "jam")], 10), stores=[jam]).declaration.lacks == ()


@pytest.mark.parametrize(("amount", "text", "lacking"), [("1.9", "sugar, lard and/or oil", False), ("2", "", True)])
def test_an_alternative_is_named_beside_it_below_two_percent(amount: str, text: str, lacking: bool) -> None:
    lines = [make.line(100 - Decimal(amount), "sugar"), make.line(amount, "lard", alternatives=(StoresRef("oil"),))]
    found = label_in(product(lines, 100))
    if lacking:
        assert lacks(found) == [(LackKind.CHOICE, "lard")]
        assert names(found) == ["sugar", "lard", "oil"]
    else:
        assert found.declaration.lacks == ()
        assert ", ".join(names(found)) == text


@pytest.mark.parametrize("other", ["butter", "gum"])
@pytest.mark.parametrize("first", [True, False])
def test_no_additive_and_nothing_with_an_allergen_is_named_as_either(other: str, first: bool) -> None:
    """Annex VII, part A, no. 6, second sentence."""
    gum = make.item("gum", additive=Additive("thickener", "E412"))
    one, two = (other, "oil") if first else ("oil", other)
    lines = [make.line(99, "sugar"), make.line(1, one, alternatives=(StoresRef(two),))]
    found = label_in(product(lines, 100), stores=[gum])
    assert lacks(found) == [(LackKind.CHOICE, one)]
    assert "and/or" not in found.declaration.plain()


def test_the_us_has_no_such_alternative() -> None:
    lines = [make.line(99, "sugar"), make.line(1, "butter", alternatives=(StoresRef("oil"),))]
    found = label_in(product(lines, 100), region=Region.US)
    assert lacks(found) == [(LackKind.CHOICE, "butter")]
    assert found.declaration.plain() == "sugar, contains 2% or less of: butter, oil. Contains: MILK."


# --- around the list --------------------------------------------------------------------------------------------------


def test_a_label_names_its_law_and_the_day_it_was_written_down() -> None:
    recipe = product([make.line(1, "flour")], 1)
    for region, rule in ((Region.EU, "1169/2011"), (Region.UK, "retained in UK law"), (Region.US, "21 CFR 101.4")):
        law = label_in(recipe, region=region).law
        assert rule in law
        assert "2026-11-25" in law
    assert "allergens emphasised" in label_in(recipe, region=Region.UK, packed=Packed.ON_PREMISES).law
    assert "check against your local food law" in CHECK


def test_packing_on_the_premises_leaves_the_full_list() -> None:
    """UK, prepacked for direct sale since 1 October 2021: name and full list with allergens emphasised."""
    recipe = product([make.line(60, "flour"), make.line(40, "butter")], 100)
    here, there = (
        label_in(recipe, region=Region.UK, packed=packed) for packed in (Packed.ON_PREMISES, Packed.ELSEWHERE)
    )
    assert here.declaration == there.declaration
    assert here.declaration.plain() == "WHEAT flour, butter (MILK)"
    assert here.law != there.law


def test_notes_that_the_law_wants() -> None:
    sweet = make.item("sucralose", additive=Additive("sweetener", "E955"))
    red = make.item("red", label="allura red AC", additive=Additive("colour", "E129"))
    lines = [make.line(98, "flour"), make.line(1, "sucralose"), make.line(1, "red")]
    found = label_in(product(lines, 100, client=ClientText(defrosted=True)), stores=[sweet, red])
    assert found.notes == (
        "Defrosted.",
        "With sweetener(s).",
        "Colours: may have an adverse effect on activity and attention in children.",
    )
    assert label_in(product(lines, 100), stores=[sweet, red], region=Region.US).notes == ()


def test_the_name_is_the_legal_one() -> None:
    assert label_in(product([make.line(1, "flour")], 1, client=ClientText(sold_as="Bread"))).name == "Bread"
    assert label_in(product([make.line(1, "flour")], 1, title="Loaf")).name == "Loaf"

"""Where the mass of a batch goes: lines, stages, losses, end points, yields, seed, cuts and co-products."""

from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.figures import Lack, LackKind, MassFlow
from bookmaker.kitchen.flow import flow_of
from bookmaker.measures.exact import exactly, published
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.house import Equipment, Flat, House, Mould
from bookmaker.model.line import Batches, Cut, LossKind, Pieces, Rest, Sheets, Unmeasured
from bookmaker.model.method import Reading
from bookmaker.model.recipe import Base, BaseKind, Recipe
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.shapes import Disc, Rectangle
from bookmaker.model.stores import Composition
from bookmaker.model.yields import (
    BoilTo,
    CoProduct,
    CutSpec,
    FrameYield,
    MouldYield,
    SheetYield,
    TinYield,
    TrayYield,
)
from tests.support import make

SHEET = Rectangle(Decimal(600), Decimal(400))
ONE_SHEET = SheetYield(Decimal(1), SHEET, Decimal(4))


def flows(*recipes: Recipe, **more: Any) -> dict[str, MassFlow]:
    book = make.book(*recipes, **more)
    found: dict[RecipeRef, MassFlow] = {}
    with exactly():
        for ref, recipe in book.recipes.items():
            found[ref] = flow_of(recipe, book, found)
    return {ref.id: flow for ref, flow in found.items()}


def flow(*recipes: Recipe, **more: Any) -> MassFlow:
    return flows(*recipes, **more)[recipes[-1].ref.id]


# --- lines ---


@pytest.mark.parametrize(
    ("more", "stays", "back", "wasted", "air"),
    [
        ({}, "500", "0", "0", "0"),
        ({"stays": "0.6"}, "300", "0", "200", "0"),
        ({"stays": "0.6", "rest": Rest.BACK}, "300", "200", "0", "0"),
        ({"stays": "0", "rest": Rest.AIR}, "0", "0", "0", "500"),
        ({"stays_grams": "120", "rest": Rest.BACK}, "120", "380", "0", "0"),
        # more cannot stay than there is
        ({"stays_grams": "700"}, "500", "0", "0", "0"),
        ({"loss": "0.03"}, "485", "0", "15", "0"),
        # what stays is of the whole line; the loss comes out of the rest
        ({"stays": "0.6", "rest": Rest.BACK, "loss": "0.02"}, "300", "190", "10", "0"),
        ({"stays": "0.99", "rest": Rest.BACK, "loss": "0.02"}, "495", "0", "5", "0"),
    ],
)
def test_what_becomes_of_a_line(more: dict[str, Any], stays: str, back: str, wasted: str, air: str) -> None:
    (found,) = flow(make.recipe("r", [make.line(500, "cream", **more)], 1, lose={"mix": 0})).lines
    assert found.bowl == 500
    assert [found.stays, found.back, found.wasted, found.air] == [Decimal(each) for each in (stays, back, wasted, air)]
    assert found.charged == 500 - found.back


def test_working_mass_is_taken_beyond_the_bowl_and_comes_back() -> None:
    lines = [make.line(288, "couverture", working=2000), make.line(500, "glaze", working=300)]
    found = flow(make.recipe("r", lines, 1, lose={"mix": 0}))
    assert [line.working_extra for line in found.lines] == [1712, 0]
    assert found.into == 788
    assert found.working_extra == 1712


def test_as_bought_is_before_peeling() -> None:
    lines = [make.line(2000, "rhubarb", as_bought=True), make.line(100, "rhubarb", id="cleaned")]
    found = flow(make.recipe("r", lines, 1, lose={"mix": 0}), stores=[make.item("rhubarb", usable="0.86")])
    assert [line.bowl for line in found.lines] == [1720, 100]


def test_to_taste_weighs_nothing_and_leaves_the_yield_complete() -> None:
    lines = [make.line(1000, "soup"), make.line(Unmeasured("to taste"), "salt")]
    found = flow(make.recipe("r", lines, 1000))
    assert found.lines[1].bowl is None
    assert found.lacks == (Lack(LackKind.AMOUNT, "salt"),)
    assert found.yields.usable.complete
    assert found.usable == 1000


def test_pieces_sheets_and_batches_of_components() -> None:
    heart = make.recipe("heart", [make.line(480, "fruit")], make.pieces(24, finished=19), lose={"transfer": "0.05"})
    sheet = make.recipe("sheet", [make.line(2000, "dough")], SheetYield(Decimal(2), SHEET), lose={"bake": "0.1"})
    cream = make.recipe("cream", [make.line(1500, "milk")], 1500)
    loaf = make.recipe("loaf", [make.line(1800, "dough")], TinYield(Decimal(2), "tin"))
    cake = make.recipe(
        "cake",
        [
            make.line(Pieces(Decimal(12)), heart.ref),
            make.line(Sheets(Decimal("0.5")), sheet.ref),
            make.line(Batches(Decimal("1.5")), cream.ref),
            make.line(Sheets(Decimal(1)), loaf.ref),
        ],
        1,
        lose={"mix": 0},
    )
    found = flow(heart, sheet, cream, loaf, cake)
    # 480 × 0.95 ÷ 24 × 12 | 1800 ÷ 2 × 0.5 | 1500 × 1.5 | a tin
    assert [line.bowl for line in found.lines] == [228, 450, 2250, 900]
    assert [line.pieces for line in found.lines] == [12, None, None, None]
    assert [line.sheets for line in found.lines] == [None, Decimal("0.5"), None, 1]


def test_pieces_of_something_made_by_weight_are_a_lack() -> None:
    cream = make.recipe("cream", [make.line(1500, "milk")], 1500)
    cake = make.recipe("cake", [make.line(Pieces(Decimal(12)), cream.ref), make.line(100, "sugar")], 1, lose={"mix": 0})
    found = flow(cream, cake)
    assert found.lines[0].bowl is None
    assert found.yields.usable.lacks == (Lack(LackKind.AMOUNT, "cream"),)
    # what is known is there all the same
    assert found.usable == 100


def test_a_lack_is_passed_up_with_the_way_it_came() -> None:
    cream = make.recipe("cream", [make.line(1500, "milk")], 1500)
    heart = make.recipe("heart", [make.line(Pieces(Decimal(1)), cream.ref), make.line(100, "jam")], make.pieces(10))
    cake = make.recipe("cake", [make.line(Pieces(Decimal(2)), heart.ref)], make.pieces(1))
    found = flow(cream, heart, cake)
    assert found.yields.usable.lacks == (Lack(LackKind.AMOUNT, "cream", (heart.ref,)),)


def test_counted_stores_items_weigh_what_a_piece_weighs() -> None:
    pod = make.item("vanilla pod", measures=(("piece", Decimal(3)),))
    lines = [make.line(Pieces(Decimal(2)), "vanilla pod"), make.line(Pieces(Decimal(1)), "bay leaf")]
    found = flow(make.recipe("r", lines, 1, lose={"mix": 0}), stores=[pod])
    assert [line.bowl for line in found.lines] == [6, None]
    assert found.lacks == (Lack(LackKind.AMOUNT, "bay leaf"),)


def test_a_cut_takes_sheets_and_leaves_its_offcut_here() -> None:
    base = make.recipe("base", [make.line(1000, "dough")], ONE_SHEET)
    cake = make.recipe(
        "cake", [make.line(Cut(Decimal(30), Rectangle(Decimal(100), Decimal(90))), base.ref)], make.pieces(30)
    )
    found = flow(base, cake)
    # 100 × 90 on 600 × 400: 6 × 4 = 24, turned 6 × 4 = 24; 24 × 9000 ÷ 240000 = 90 % used
    line = found.lines[0]
    assert (line.sheets, line.bowl) == (Decimal("1.25"), Decimal(1250))
    assert [line.offcut, line.stays] == [125, 1125]
    assert found.waste == 125
    assert found.usable == 1125


# --- stages and losses ---


def test_a_stage_loss_acts_on_all_that_is_in_by_then() -> None:
    recipe = make.recipe(
        "r",
        [
            make.stage("First", make.line(1000, "a"), lose={"boil": "0.1"}),
            make.stage("Second", make.line(100, "b"), lose={"mix": "0.02"}),
        ],
        1,
        lose={"bake": "0.05"},
    )
    found = flow(recipe)
    first, second = found.stages
    assert [first.before, first.joined, first.after] == [0, 1000, 900]
    assert [second.before, second.joined, second.after] == [900, 100, 980]
    assert [(loss.name, loss.kind, loss.of, loss.grams) for loss in found.losses] == [
        ("bake", LossKind.MOISTURE, Decimal(980), Decimal(49))
    ]
    assert [found.moisture, found.waste, found.usable] == [149, 20, 931]


def test_moisture_concentrates_and_waste_does_not() -> None:
    recipe = make.recipe(
        "r", [make.line(800, "cream"), make.line(200, "sugar")], 1, lose={"boil": "0.2", "transfer": "0.5"}
    )
    found = flow(recipe, stores=[make.item("cream", water="0.6"), make.item("sugar", water=0)])
    assert found.usable == 400
    assert found.content == {StoresRef("cream"): Decimal(1), StoresRef("sugar"): Decimal("0.25")}
    # 480 g of water, 200 boiled off: 280 in 800, wasting half changes nothing
    assert found.water.value == Decimal("0.35")


def test_content_and_water_go_up_through_components() -> None:
    syrup = make.recipe("syrup", [make.line(500, "water"), make.line(500, "sugar")], 1, lose={"boil": "0.2"})
    sponge = make.recipe("sponge", [make.line(300, "crumb"), make.line(100, syrup.ref)], 1, lose={"mix": 0})
    stores = [make.item("water", water=1), make.item("sugar", water=0), make.item("crumb", water="0.3")]
    found = flow(syrup, sponge, stores=stores)
    assert found.content == {
        StoresRef("crumb"): Decimal("0.75"),
        StoresRef("sugar"): Decimal("0.15625"),  # 62.5 g in 400
        StoresRef("water"): Decimal("0.15625"),
    }
    # 90 + 100 × 300 ÷ 800 of the syrup's 500 − 200
    assert found.water.value == Decimal("0.31875")


def test_water_that_nobody_states_is_a_lack_with_its_way() -> None:
    syrup = make.recipe("syrup", [make.line(500, "water"), make.line(500, "must")], 1, lose={"mix": 0})
    sponge = make.recipe("sponge", [make.line(100, syrup.ref)], 1, lose={"mix": 0})
    found = flow(syrup, sponge, stores=[make.item("water", water=1)])
    assert found.water.value == Decimal("0.5")
    assert found.water.lacks == (Lack(LackKind.COMPOSITION, "must", (syrup.ref,)),)


# --- yields ---


def _oven() -> House:
    return make.house(equipment=(Equipment("deck oven", "oven"),))


@pytest.mark.parametrize(
    ("method", "kind"),
    [
        ([make.step(1, on="deck oven")], LossKind.MOISTURE),
        ([make.step(1, to=Reading("118 °C", (Temperature(Decimal(118)),)))], LossKind.MOISTURE),
        ([make.step(1, to=Reading("45 °C", (Temperature(Decimal(45)),)))], LossKind.WASTE),
        ([], LossKind.WASTE),
    ],
)
def test_a_stated_yield_implies_the_loss(method: list[Any], kind: LossKind) -> None:
    recipe = make.recipe("r", [make.line(1000, "dough")], 850, method=make.method(*method))
    found = flow(recipe, own=_oven())
    (loss,) = found.losses
    assert (loss.name, loss.kind, loss.share, loss.implied) == ("implied", kind, Decimal("0.15"), True)
    assert found.usable == 850
    assert (found.yields.stated, found.yields.computed) == (Decimal(850), Decimal(1000))


def test_stated_losses_count_and_the_stated_yield_stands_beside() -> None:
    found = flow(make.recipe("r", [make.line(1000, "dough")], 900, lose={"bake": "0.12"}))
    assert found.usable == 880
    assert (found.yields.stated, found.yields.computed) == (Decimal(900), Decimal(880))


def test_no_loss_is_implied_where_more_comes_out_than_goes_in() -> None:
    found = flow(make.recipe("r", [make.line(1000, "dough")], 1200))
    assert [found.usable, found.losses] == [1000, ()]


def test_pieces_scaled_raw() -> None:
    stages = [
        make.stage("Dough", make.line(1000, "dough"), lose={"mix": "0.01", "portion": "0.02"}),
        make.stage("Dusting", make.line(10, "flour")),
    ]
    found = flow(make.recipe("r", stages, make.pieces(4, "loaf", scaled=240), lose={"bake": "0.1"}))
    # raw is what was portioned: 1000 × 0.99 × 0.98, before the dusting
    assert (found.yields.stated, found.yields.computed) == (Decimal(960), Decimal("970.2"))
    assert found.yields.scaled == 240
    assert found.yields.piece == (Decimal("970.2") + 10) * Decimal("0.9") / 4
    assert found.yields.word == "loaf"


def test_what_is_portioned_after_baking_was_scaled_before_it() -> None:
    recipe = make.recipe(
        "r", [make.line(1000, "batter")], make.pieces(4, scaled=240), lose={"bake": "0.1", "portion": "0.05"}
    )
    assert flow(recipe).yields.computed == 1000


def test_what_is_scaled_raw_and_loses_nothing_else_implies_scraps() -> None:
    found = flow(make.recipe("r", [make.line(1000, "dough")], make.pieces(10, scaled=95)))
    (loss,) = found.losses
    assert [loss.kind, loss.grams] == [LossKind.WASTE, 50]
    assert found.yields.piece == 95


def test_moulds_tins_trays_and_frames() -> None:
    house = make.house(moulds=(Mould("pebble", 24, Decimal(62)),), frames=(Flat("bar frame", SHEET),))
    recipes = [
        make.recipe("mould", [make.line(960, "a")], MouldYield(Decimal(2), "pebble")),
        make.recipe("tin", [make.line(960, "a")], TinYield(Decimal(2), "loaf tin")),
        make.recipe("tray", [make.line(960, "a")], TrayYield(Decimal(2)), tray=24),
        make.recipe(
            "frame",
            [make.line(960, "a")],
            FrameYield(Decimal(1), "bar frame"),
            cut=CutSpec(Rectangle(Decimal(60), Decimal(40))),
        ),
    ]
    found = flows(*recipes, own=house)
    assert {name: each.yields.pieces for name, each in found.items()} == {
        "mould": 48,
        "tin": 2,
        "tray": 48,
        "frame": 100,
    }
    assert {name: each.yields.piece for name, each in found.items()} == {
        "mould": 20,
        "tin": 480,
        "tray": 20,
        "frame": Decimal("9.6"),
    }
    assert {name: each.yields.sheets for name, each in found.items()} == {
        "mould": None,
        "tin": None,
        "tray": 2,
        "frame": 1,
    }


# --- percent ---


def test_percents_of_a_weighed_base() -> None:
    lines = [make.line(200, "rye"), make.percent(80, "wheat"), make.percent(70, "water")]
    stores = [make.item("rye", flour=True), make.item("wheat", flour=True)]
    found = flow(make.recipe("r", lines, 1, lose={"mix": 0}, base=make.FLOUR), stores=stores)
    # 200 g are the 20 % that the rest of the flour leaves
    assert [line.bowl for line in found.lines] == [200, 800, 700]
    assert found.base == 1000
    assert [line.percent for line in found.lines] == [20, 80, 70]


def test_percents_of_a_batch_leave_room_for_what_is_weighed() -> None:
    lines = [make.percent(100, "flour"), make.percent(60, "water"), make.line(80, "yeast")]
    recipe = make.recipe("r", lines, 1, batch=1680, lose={"mix": 0}, base=make.FLOUR)
    found = flow(recipe, stores=[make.item("flour", flour=True)])
    assert [line.bowl for line in found.lines] == [1000, 600, 80]
    assert found.lines[2].percent == 8


def test_percents_of_the_total() -> None:
    lines = [make.percent(60, "sugar"), make.percent(40, "water")]
    assert [line.bowl for line in flow(make.recipe("r", lines, 500)).lines] == [300, 200]


def test_percents_solved_back_from_the_yield() -> None:
    lines = [make.percent(100, "flour"), make.percent(62, "water"), make.line(36, "salt")]
    base = Base(BaseKind.ITEM, StoresRef("flour"))
    recipe = make.recipe("r", lines, make.pieces(20, finished=80), base=base, lose={"mix": "0.01", "bake": "0.2"})
    found = flow(recipe)
    assert published(found.usable) == 1600
    # 1600 ÷ 0.8 ÷ 0.99 − 36 = 162 % of the flour
    assert published(found.lines[0].bowl or Decimal(0)) == published((2000 / Decimal("0.99") - 36) / Decimal("1.62"))


def test_percents_that_nothing_weighs_are_a_lack() -> None:
    found = flow(make.recipe("r", [make.percent(100, "flour")], ONE_SHEET))
    assert found.lines[0].bowl is None
    assert found.yields.usable.value is None
    assert Lack(LackKind.YIELD, "flour") in found.lacks


def test_percents_cannot_be_solved_back_where_the_base_does_not_stay() -> None:
    lines = [make.percent(100, "oil", stays=0), make.line(500, "dough")]
    found = flow(make.recipe("r", lines, 400, lose={"fry": "0.1"}, base=Base(BaseKind.ITEM, StoresRef("oil"))))
    assert found.lines[0].bowl is None
    assert found.usable == 450


def test_dusting_is_no_flour_of_the_base() -> None:
    lines = [make.line(1000, "flour"), make.line(50, "flour", as_needed=True, id="dusting"), make.line(650, "water")]
    found = flow(make.recipe("r", lines, 1, lose={"mix": 0}, base=make.FLOUR), stores=[make.item("flour", flour=True)])
    assert found.base == 1000
    assert found.lines[2].percent == 65


# --- end points ---


def test_boiled_to_a_brix() -> None:
    stores = [
        make.item("sugar", solids=1),
        make.item("fruit", sugars="8"),  # of its nutrients only sugars are known: 8 g in 100
        make.item("honey", composition=Composition(sugars=Decimal("0.8"))),
        make.item("water", water=1),
    ]
    lines = [make.line(420, "sugar"), make.line(1000, "fruit"), make.line(100, "honey"), make.line(80, "water")]
    found = flow(
        make.recipe("r", lines, 1, boil_to=BoilTo(brix=Decimal("0.58")), lose={"transfer": "0.1"}), stores=stores
    )
    boil, transfer = found.losses
    assert [boil.name, boil.implied, boil.grams, transfer.of] == ["boil", True, 600, 1000]
    assert found.usable == 900


def test_boiled_to_a_weight() -> None:
    found = flow(make.recipe("r", [make.line(1000, "syrup")], 1, boil_to=BoilTo(grams=Decimal(700))))
    assert [found.moisture, found.usable] == [300, 700]


def test_an_end_point_that_is_passed_boils_nothing_off() -> None:
    recipe = make.recipe("r", [make.line(1000, "sugar")], 1, boil_to=BoilTo(brix=Decimal("0.7")))
    found = flow(recipe, stores=[make.item("sugar", solids=1)])
    assert [found.moisture, found.usable] == [0, 1000]


def test_solids_that_nobody_knows_make_the_yield_incomplete() -> None:
    recipe = make.recipe(
        "r", [make.line(500, "sugar"), make.line(500, "fruit")], 1, boil_to=BoilTo(brix=Decimal("0.8"))
    )
    found = flow(recipe, stores=[make.item("sugar", solids=1)])
    assert found.yields.usable.value == 625
    assert found.yields.usable.lacks == (Lack(LackKind.COMPOSITION, "fruit"),)


# --- seed ---


def levain(**more: Any) -> Recipe:
    lines = [make.line(200, make.ref("levain")), make.line(600, "flour"), make.line(600, "water")]
    return make.recipe("levain", lines, 1, lose={"transfer": "0.01"}, **more)


def test_a_seed_is_kept_back_and_has_the_batchs_own_composition() -> None:
    found = flow(levain())
    assert [line.seed for line in found.lines] == [True, False, False]
    assert found.kept_back == 200
    assert found.usable == 1400 * Decimal("0.99") - 200
    assert found.content == {StoresRef("flour"): Decimal("0.5"), StoresRef("water"): Decimal("0.5")}


def test_more_may_be_kept_back_than_came_in() -> None:
    assert flow(levain(keep_back=300)).kept_back == 300


def test_a_seed_that_dries_is_more_concentrated_than_its_feeding() -> None:
    """Each feeding loses 10 % of its water; the seed brings what earlier ones concentrated: 400 ÷ (450 − 50)."""
    lines = [make.line(100, make.ref("starter")), make.line(400, "mash")]
    recipe = make.recipe("starter", lines, 1, lose={"transfer": "0.5", "dry": "0.1"})
    found = flow(recipe)
    # in 500, half wasted, a tenth dried: 225, of which the seed's half is 50; 200 ÷ 175
    assert published(found.content[StoresRef("mash")]) == published(Decimal(200) / Decimal(175))


# --- cuts and co-products ---


def test_an_own_cut_makes_pieces_and_leaves_a_rest() -> None:
    recipe = make.recipe(
        "bars",
        [make.line(1000, "dough")],
        ONE_SHEET,
        # a trim loss stands for the same offcut and is not taken as well
        lose={"trim": "0.05"},
        cut=CutSpec(Rectangle(Decimal(100), Decimal(90)), word="bars"),
        gives=(CoProduct("crumbs", worth=Decimal("0.5")),),
    )
    found = flow(recipe)
    assert [found.yields.pieces, found.yields.word] == [24, "bars"]
    assert found.usable == 900
    assert [(given.ref.name, given.grams, given.worth) for given in found.co_products] == [
        ("crumbs", Decimal(100), Decimal("0.5"))
    ]
    assert found.losses == ()
    assert found.yields.sheet == 900


def test_a_rest_that_nobody_claims_is_waste() -> None:
    found = flow(
        make.recipe("bars", [make.line(1000, "dough")], ONE_SHEET, cut=CutSpec(Rectangle(Decimal(100), Decimal(90))))
    )
    assert [found.usable, found.waste] == [900, 100]


def test_a_piece_that_does_not_fit_yields_no_pieces() -> None:
    found = flow(make.recipe("bars", [make.line(1000, "dough")], ONE_SHEET, cut=CutSpec(Disc(Decimal(500)))))
    assert [found.yields.cut, found.yields.pieces, found.usable] == [None, None, 1000]


def test_co_products_by_weight_and_share_are_taken_off_the_mass() -> None:
    gives = (CoProduct("whey", grams=Decimal(100)), CoProduct("skin", share=Decimal("0.2")))
    found = flow(make.recipe("curd", [make.line(1300, "milk")], 1, lose={"mix": 0}, gives=gives))
    assert found.usable == 1000
    assert [given.grams for given in found.co_products] == [100, 200]


def test_the_rest_of_another_recipes_sheet_is_made_of_that_recipe() -> None:
    base = make.recipe("base", [make.line(1000, "dough")], ONE_SHEET)
    dome = make.recipe(
        "dome",
        [make.line(Cut(Decimal(24), Rectangle(Decimal(100), Decimal(90))), base.ref), make.line(500, "mousse")],
        make.pieces(24),
        gives=(CoProduct("base offcuts"),),
    )
    crumble = make.recipe("crumble", [make.line(80, make.rest("dome", "base offcuts"))], 80)
    found = flows(base, dome, crumble)
    (given,) = found["dome"].co_products
    assert given.grams == 100
    assert given.content == {StoresRef("dough"): Decimal(1)}
    assert found["dome"].waste == 0
    assert found["crumble"].content == {StoresRef("dough"): Decimal(1)}


def test_the_rest_of_the_cut_is_that_of_the_lines_where_both_are_cut() -> None:
    base = make.recipe("base", [make.line(1000, "dough")], ONE_SHEET)
    cut = CutSpec(Rectangle(Decimal(100), Decimal(90)))
    line = make.line(Cut(Decimal(48), Rectangle(Decimal(100), Decimal(90))), base.ref)
    slab = make.recipe("slab", [line], ONE_SHEET, cut=cut, gives=(CoProduct("offcuts"),))
    found = flow(base, slab)
    # two sheets of 1000 leave 200; of the 1800 built up, the own cut leaves another tenth, which nobody claims
    assert [given.grams for given in found.co_products] == [200]
    assert [found.usable, found.waste] == [1620, 180]


def test_part_of_a_cut_may_stay() -> None:
    base = make.recipe("base", [make.line(1000, "dough")], ONE_SHEET)
    line = make.line(Cut(Decimal(24), Rectangle(Decimal(100), Decimal(90))), base.ref, stays="0.5")
    (found,) = flow(base, make.recipe("r", [line], 1, lose={"mix": 0})).lines
    assert [found.bowl, found.offcut, found.stays, found.wasted] == [1000, 100, 450, 450]


def test_more_given_away_than_there_is_leaves_no_yield() -> None:
    found = flow(
        make.recipe(
            "curd", [make.line(100, "milk")], 1, lose={"mix": 0}, gives=(CoProduct("whey", grams=Decimal(100)),)
        )
    )
    assert found.yields.usable.value is None
    assert found.usable == 0
    assert Lack(LackKind.YIELD, "curd") in found.lacks

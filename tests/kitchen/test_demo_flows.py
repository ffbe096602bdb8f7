"""The mass flow of the demo house's recipes, worked by hand.

Grams throughout. What is worked out in a comment stands beside the figure that it gives; rounding to a place is said
by the number of places shown.
"""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import Figures, LineFlow, MassFlow
from bookmaker.kitchen.scaled import ScaledRecipe
from bookmaker.kitchen.scaling import scale
from bookmaker.kitchen.targets import parse_target
from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.reading.book import read_book

RECIPES = Path(__file__).parents[2] / "recipes"


@pytest.fixture(scope="module")
def book() -> Book:
    reading = read_book(RECIPES)
    assert reading.book is not None
    return reading.book


@pytest.fixture(scope="module")
def figures(book: Book) -> Figures:
    return compute(book, date(2026, 11, 25))


def near(value: Decimal | None, worked: str) -> bool:
    """Whether a figure is the worked one, to as many places as that shows."""
    assert value is not None
    return abs(value - Decimal(worked)) <= Decimal(5) * Decimal(10) ** (-1 - places(worked))


def places(worked: str) -> int:
    return len(worked.partition(".")[2])


@pytest.fixture
def flow_of(figures: Figures) -> "Flow":
    return Flow(figures)


class Flow:
    """Looks up a flow by the recipe's path."""

    def __init__(self, figures: Figures) -> None:
        self.figures = figures

    def __call__(self, path: str, size: str = "") -> MassFlow:
        return self.figures.recipes[RecipeRef(path, size)].flow


def line(flow: MassFlow, name: str) -> LineFlow:
    """The line on a stores item or a recipe of that name; the first where there are two."""
    return next(
        each for each in flow.lines if name in {getattr(each.target, "id", ""), getattr(each.target, "name", "")}
    )


def balanced(flow: MassFlow) -> bool:
    out = flow.usable + flow.kept_back + flow.moisture + flow.waste + flow.back
    return near(flow.into - out - sum((given.grams for given in flow.co_products), Decimal(0)), "0.00000000")


def test_harbour_levain_holds_its_seed_feeds_and_discards(flow_of: Flow) -> None:
    flow = flow_of("breads/harbour-levain")
    # 800 seed + 1920 strong white + 480 wholemeal rye + 2400 water
    assert flow.into == 5600
    # transfer 1 %: 56
    assert flow.waste == 56
    assert flow.out == 5544
    # kept back for tomorrow 800, discard 744: 5544 − 800 − 744
    assert flow.kept_back == 800
    assert [given.grams for given in flow.co_products] == [744]
    assert flow.usable == 4000
    assert balanced(flow)
    # 100 % is the flour fed, 2400: seed 33.33, white 80, rye 20, water 100
    assert [
        near(each.percent, worked)
        for each, worked in zip(flow.lines, ("33.33", "80.00", "20.00", "100.00"), strict=True)
    ]
    # the seed is levain itself: a gram is half water, and of its flour four parts are white and one rye
    assert {item.id: share for item, share in flow.content.items()} == {
        "strong white flour": Decimal("0.4"),
        "water": Decimal("0.5"),
        "wholemeal rye flour": Decimal("0.1"),
    }
    assert [each.seed for each in flow.lines] == [True, False, False, False]


def test_milk_brioche_and_its_bun(flow_of: Flow) -> None:
    dough = flow_of("doughs/milk-brioche")
    # 1000 + 350 + 180 + 120 + 35 + 20 + 350
    assert dough.into == 2055
    # mix 1 %: 20.55
    assert dough.usable == Decimal("2034.45")
    assert line(dough, "unsalted butter").percent == 35
    bun = flow_of("doughs/milk-brioche-bun")
    # 36 × 55 = 1980 dough; wash 90, of which 45 % = 40.5 stays; sugar 72
    assert bun.into == 1980 + 90 + 72
    assert line(bun, "doughs/egg-wash").stays == Decimal("40.5")
    assert bun.waste == Decimal("49.5")
    # bake 11 % of 2092.5: 230.175
    assert bun.moisture == Decimal("230.175")
    assert bun.usable == Decimal("1862.325")
    assert near(bun.yields.piece, "51.73125")
    assert balanced(dough)
    assert balanced(bun)
    # the stated 36 × 52 stands beside it
    assert (bun.yields.stated, bun.yields.computed) == (Decimal(1872), Decimal("1862.325"))


def test_puff_pastry(flow_of: Flow) -> None:
    flow = flow_of("doughs/puff-pastry")
    dough, block = flow.stages
    # 1000 + 480 + 100 + 20 + 10 = 1610, mix 1 %: 16.10
    assert (dough.joined, dough.after) == (Decimal(1610), Decimal("1593.90"))
    # + 800 butter = 2393.90, trim 2.5 % of all of it: 59.8475
    assert (block.before, block.joined) == (Decimal("1593.90"), Decimal(800))
    assert block.losses[0].of == Decimal("2393.90")
    assert block.losses[0].grams == Decimal("59.8475")
    assert flow.usable == Decimal("2334.0525")
    assert flow.waste == Decimal("75.9475")
    assert balanced(flow)


def test_choux_paste(flow_of: Flow, book: Book, figures: Figures) -> None:
    flow = flow_of("choux/choux-paste")
    panade, eggs = flow.stages
    # 250 + 250 + 220 + 10 + 5 + 280 = 1015; boil 10 %: 101.5 of water
    assert (panade.joined, panade.after) == (Decimal(1015), Decimal("913.5"))
    assert flow.moisture == Decimal("101.5")
    # + 520 egg, the middle of 480..560
    assert eggs.after == Decimal("1433.5")
    # transfer 2 %: 28.67
    assert flow.waste == Decimal("28.67")
    assert flow.usable == Decimal("1404.83")
    assert balanced(flow)
    # from the stores the top of the range is drawn, for the batch that wants it: 560
    recipe = book.recipe(RecipeRef("choux/choux-paste"))
    scaled = scale(book, figures, recipe.ref, parse_target("1 batch", book, recipe))
    egg = next(each for each in scaled.draw if each.item == StoresRef("whole egg"))
    assert (egg.bowl, egg.bought) == (Decimal(520), Decimal(560))


def test_caramels_boiled_to_118_degrees(flow_of: Flow) -> None:
    flow = flow_of("confectionery/sea-salt-caramels")
    # 500 + 180 | 500 + one pod of 3 + 120 + 6
    assert flow.into == 1309
    # of the pod 30 % stay as seeds: 0.9; the rest, 2.1, is taken out
    assert line(flow, "vanilla pod").stays == Decimal("0.9")
    assert line(flow, "vanilla pod").wasted == Decimal("2.1")
    # 1306.9 boiled down by 20 %: 261.38
    assert flow.moisture == Decimal("261.38")
    # 1045.52: transfer 1.5 % 15.6828 → 1029.8372; trim 3 % 30.895116 → 998.942084
    assert [loss.grams for loss in flow.losses] == [Decimal("15.6828"), Decimal("30.895116")]
    assert flow.usable == Decimal("998.942084")
    assert near(flow.yields.piece, "9.98942084")
    assert balanced(flow)
    # boiling concentrates: 500 g of cream less 20 % of the mass, so 500 ÷ 1045.52 in a gram
    assert near(flow.content[StoresRef("whipping cream")], "0.478231")


def test_moulded_bonbons_in_three_moulds_of_24(flow_of: Flow) -> None:
    flow = flow_of("bonbons/sea-salt-caramel-bonbon")
    # colour 8 × 60 % = 4.8 (3.2 brushed away); shells 72 × 4; filling 72 × 5.5; caps 72 × 1.3
    assert flow.into == 8 + 288 + 396 + Decimal("93.6")
    assert flow.waste == Decimal("3.2")
    assert flow.usable == Decimal("782.4")
    assert flow.yields.pieces == 72
    assert near(flow.yields.piece, "10.8667")
    # 2 kg of couverture are worked with for the shells and 600 g for the caps; what is not used goes back
    shell, cap = (each for each in flow.lines if getattr(each.target, "id", "") == "dark couverture")
    assert shell.working_extra == 2000 - 288
    assert cap.working_extra == 600 - Decimal("93.6")
    assert flow.working_extra == Decimal("2218.4")
    assert shell.charged + cap.charged == Decimal("381.6")
    assert balanced(flow)


def test_bonbons_scaled_never_work_with_less(book: Book, figures: Figures) -> None:
    recipe = book.recipe(RecipeRef("bonbons/sea-salt-caramel-bonbon"))
    for moulds, couverture in (("1 mould", "127.2"), ("3 moulds", "381.6"), ("6 moulds", "763.2")):
        scaled = scale(book, figures, recipe.ref, parse_target(moulds, book, recipe))
        drawn = next(each for each in scaled.draw if each.item == StoresRef("dark couverture"))
        # consumption follows the moulds, 127.2 each; the working mass of 2000 + 600 stays
        assert drawn.bowl == Decimal(couverture)
        assert drawn.bought == 2600
        assert drawn.returns == 2600 - Decimal(couverture)


def test_dome_with_frozen_insert_under_a_glaze_partly_recovered(flow_of: Flow) -> None:
    flow = flow_of("moulded/dark-tide-dome")
    # mousse 24 × 48
    assert line(flow, "creams/dark-chocolate-mousse").stays == 1152
    # hearts: 400 + 120 + 7.5 + 37 = 564.5; boil 2 %, transfer 3 %: 536.6137 for 36; 24 of them
    assert near(flow_of("fillings/raspberry-heart").usable, "536.6137")
    assert near(line(flow, "fillings/raspberry-heart").stays, "357.742467")
    # biscuit: 870 × 0.98 × 0.88 = 750.288 a sheet of 600 × 400; a disc of 60 is π × 30² = 2827.433 of 240000 mm²
    assert flow_of("biscuits/cocoa-biscuit").usable == Decimal("750.288")
    disc = line(flow, "biscuits/cocoa-biscuit")
    # offset rows: 7 rows, 60 + 6 × 51.96 = 371.8 high, of 10 and 9 in turn: 67 discs
    assert near(disc.sheets, "0.35820896")  # 24 ÷ 67
    assert near(disc.bowl, "268.75988")  # × 750.288
    assert near(disc.stays, "212.138934")  # 24 × 8.839122
    assert near(disc.offcut, "56.620946")
    # glaze: 49 % of 1080 stays, 550.8 goes back into its tub
    glaze = line(flow, "moulded/dark-glaze")
    assert (glaze.stays, glaze.back) == (Decimal("529.2"), Decimal("550.8"))
    assert near(flow.usable, "2251.081401")  # 1152 + 357.742467 + 212.138934 + 529.2
    assert near(flow.yields.piece, "93.795058")
    assert near(flow.waste, "56.620946")
    assert balanced(flow)


def test_rhubarb_tart_in_both_sizes(flow_of: Flow) -> None:
    large = flow_of("tarts/rhubarb-custard-tart", "24 cm")
    # 4 × (260 + 5 + 330 + 560) = 4620; bake 12 %: 554.4
    assert large.into == 4620
    assert large.moisture == Decimal("554.4")
    assert large.usable == Decimal("4065.6")
    assert large.yields.piece == Decimal("1016.4")
    small = flow_of("tarts/rhubarb-custard-tart", "8 cm")
    # 24 × (36 + 0.8 + 22 + 42) = 2419.2; bake 15 %: 362.88
    assert small.into == Decimal("2419.2")
    assert small.usable == Decimal("2056.32")
    assert small.yields.piece == Decimal("85.68")
    # compote: 1500 as bought × 86 % = 1290; + 300 + 60 + 0.9, what stays of a pod of 3 = 1650.9;
    # cook 19 %: 313.671 → 1337.229; transfer 1 %: 13.37229 → 1323.85671
    compote = flow_of("fillings/rhubarb-compote")
    assert line(compote, "rhubarb").bowl == 1290
    assert near(compote.usable, "1323.85671")
    # custard: 2275, of the vanilla pod 0.9 of 3 stays: 2272.9; sieve 1.5 %
    assert near(flow_of("tarts/tart-custard").usable, "2238.8065")
    assert all(map(balanced, (large, small, compote)))


def test_bars_cut_from_a_sheet_and_their_offcuts(flow_of: Flow) -> None:
    # sablé: 1205, mix 1 %, bake 9 %
    assert near(flow_of("biscuits/almond-sable").usable, "1085.5845")
    flow = flow_of("slices/lemon-almond-bars")
    # 1085.5845 + topping 2225 = 3310.5845; mix 1 % → 3277.478655; bake 7 % → 3048.05514915; + icing sugar 30
    assert near(flow.out, "3078.05514915")
    cut = flow.yields.cut
    assert cut is not None
    # 600 × 400 less 5 all round is 590 × 390: 80 into 590 goes 7 times, 30 into 390 goes 13; the other way 19 × 4 = 76
    assert (cut.per_sheet, cut.across, cut.down, cut.pattern) == (91, 7, 13, "turned grid")
    # a piece is 2400 of 240000 mm²: 1 %
    assert cut.used_share == Decimal("0.91")
    assert near(flow.usable, "2801.0301857265")
    assert near(flow.yields.piece, "30.7805514915")
    (offcuts,) = flow.co_products
    assert near(offcuts.grams, "277.0249634235")
    assert balanced(flow)
    # the truffle takes 270 of them: 1232 in; peel loses 3 % of 120, cocoa keeps 60 % of 40; mix 1 % of 1212.4
    truffle = flow_of("slices/orange-truffle-slice")
    assert truffle.into == 1232
    assert truffle.out == Decimal("1200.276")
    # 400 × 300 in squares of 40: 10 × 7 = 70 of 1600 in 120000 mm²
    assert truffle.yields.pieces == 70
    assert near(truffle.usable, "1120.2576")
    # 3.6 peel + 16 cocoa + 12.124 + 80.0184 that the cut leaves
    assert near(truffle.waste, "111.7424")
    # a gram of offcut holds what a gram of bar does
    assert offcuts.content == flow.content
    assert balanced(truffle)


def test_jam_boiled_to_65_brix(flow_of: Flow) -> None:
    flow = flow_of("fillings/raspberry-jam")
    # 2000 as bought × 96 % = 1920; + 1500 + 60 + 12
    assert line(flow, "raspberry").bowl == 1920
    assert flow.into == 3492
    # dissolved: 1920 × 10 % + 1500 + 60 × 8 % + 12 × 91 % = 192 + 1500 + 4.8 + 10.92 = 1707.72
    # ÷ 0.65 = 2627.261538: 864.738462 boil off
    boil, transfer = flow.losses
    assert boil.implied
    assert near(flow.moisture, "864.738462")
    assert near(transfer.of, "2627.261538")
    # transfer 1 %
    assert near(flow.usable, "2600.988923")
    assert balanced(flow)


# --- through three levels ---


def test_apricot_pebble_from_24_to_130_pieces(book: Book, figures: Figures, flow_of: Flow) -> None:
    """Anglaise in mousse in pebble: three levels, and what goes in comes out."""
    flow = flow_of("moulded/apricot-pebble")
    # 24 × 42 + 24 × 12 + 24 discs of 40: π × 20² ÷ 240000 × 1085.5845 = 5.684107 each; + 24 + 160 × 45 %
    assert near(flow.usable, "1528.418572")
    recipe = book.recipe(RecipeRef("moulded/apricot-pebble"))
    scaled = scale(book, figures, recipe.ref, parse_target("130 pieces", book, recipe))
    made: dict[str, ScaledRecipe] = {each.ref.id: each for each in scaled.recipes}
    # six moulds of 24: 144 pieces, 14 left over
    assert scaled.own.plan.batches * scaled.own.plan.each == 6
    assert near(scaled.own.left_over_pieces, "14.0000")
    # mousse 144 × 42 = 6048: two batches of 3.5 kg, since one is at most 5 kg and sizes go by 500 g
    assert near(made["creams/honey-mousse"].needed, "6048.000")
    assert made["creams/honey-mousse"].plan.batches == 2
    assert near(made["creams/honey-mousse"].usable, "7000.000")
    # anglaise: 380 of 1069.5 in a mousse batch of 1027.04085: 7000 ÷ 1027.04085 × 380
    assert near(made["creams/vanilla-anglaise"].needed, "2589.965")
    # one sheet gives 162 discs: 144 need 0.889 of it
    assert near(made["biscuits/almond-sable"].usable, "1085.5845")
    drawn = sum((each.bowl for each in scaled.draw), Decimal(0))
    found = scaled.own.needed
    for each in scaled.recipes:
        found += each.left_over + each.moisture + each.waste + each.back
    assert near(drawn - found, "0.00000000")

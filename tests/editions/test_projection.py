"""From figures to views: the tiny book's pages hold what they must, rounded, and nothing of the kitchen."""

import pickle
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal

import pytest

from bookmaker.editions.team.project_allergens import matrix_row
from bookmaker.editions.team.views import Bound, Link, Route
from bookmaker.editions.team.views_overview import MatrixCell, TeamSite
from bookmaker.editions.team.views_recipe import RecipeView
from bookmaker.editions.team.views_stores import StoresItemView
from bookmaker.kitchen.figures import THE_HOUSE, AllergenFigure
from bookmaker.kitchen.law import LAWS
from bookmaker.measures.money import Money
from bookmaker.model.house import Channel, Region
from bookmaker.model.recipe import Kind, ListPrice
from bookmaker.model.refs import StoresRef
from tests.support.make import book, house, item, line, pieces, price, recipe, ref, stage
from tests.support.published import TINY, sound_book, team_site


@pytest.fixture(scope="module")
def site() -> TeamSite:
    return team_site(sound_book(TINY))


def page(site: TeamSite, title: str, size: str = "") -> RecipeView:
    return next(view for view in site.recipes if (view.head.title, view.head.size) == (title, size))


def stores_page(site: TeamSite, name: str) -> StoresItemView:
    return next(view for view in site.stores if view.name == name)


def test_views_hold_nothing_of_the_floors_below(site: TeamSite) -> None:
    def kinds(value: object) -> set[str]:
        if isinstance(value, tuple):
            return set().union(*(kinds(each) for each in value)) if value else set()
        found = {type(value).__module__}
        if is_dataclass(value):
            for each in fields(value):
                found |= kinds(getattr(value, each.name))
        return found

    modules = kinds(tuple(getattr(site, each.name) for each in fields(site)))
    assert {module for module in modules if module.startswith("bookmaker")} <= {
        f"bookmaker.editions.team.views{part}"
        for part in ("", "_money", "_overview", "_prose", "_recipe", "_stores", "_working")
    }


def test_views_are_the_same_at_every_run_and_pickle(site: TeamSite) -> None:
    again = team_site(sound_book(TINY))
    assert again == site
    assert repr(again) == repr(site)
    assert pickle.loads(pickle.dumps(site)) == site


def test_a_route_belongs_to_one_page(site: TeamSite) -> None:
    recipes, stores = [view.route for view in site.recipes], [view.route for view in site.stores]
    others = [*(page.route for page in site.workings), *(page.route for page in site.sections)]
    assert len({*recipes, *stores, *others}) == len(recipes) + len(stores) + len(others)


def test_the_formula_is_weighed_on_the_houses_scales(site: TeamSite) -> None:
    formula = page(site, "Butter biscuit").formula
    assert formula.batches == (Decimal("0.5"), Decimal(2))
    (stage_,) = formula.stages
    shown = [
        (line.ingredient.name, [str(weight.grams) for weight in (line.weight, *line.weights) if weight])
        for line in stage_.lines
    ]
    # up to 200 g in 0.1 g, above in grams; half of 1.3 g of salt is 0.65 g, which 0.1 g cannot show
    assert shown == [
        ("plain flour", ["200", "100", "400"]),
        ("unsalted butter", ["150", "75", "300"]),
        ("caster sugar", ["100", "50", "200"]),
        ("fine salt", ["1.3", "0.7", "2.6"]),
    ]
    salt = stage_.lines[3]
    assert [weight.coarse for weight in salt.weights if weight] == [True, False]
    assert page(site, "Butter biscuit").coarse
    assert str(formula.percent) == "100.00"


def test_a_cut_line_says_what_is_cut_and_draws_it(site: TeamSite) -> None:
    view = page(site, "Pebble")
    foot = view.formula.stages[1].lines[0]
    assert (foot.measure, foot.measure_word) == (Decimal(20), "discs")
    assert foot.shape is not None
    assert foot.shape.width == 40
    (cut,) = view.cuts
    assert cut.of == Link("Butter biscuit", Route("recipes/biscuits", "butter-biscuit"))
    # discs of 40 mm on 300 x 200 mm: 35 in square rows, 36 nestled across
    assert cut.per_sheet == 36


def test_a_tray_holds_the_components_weights_for_this_batch(site: TeamSite) -> None:
    (tray,) = page(site, "Pebble").trays
    # 20 of 36 discs are 0.556 of the sheet: 0.556 x 200 g flour = 111.1 g
    assert str(tray.batches) == "0.56"
    flour = tray.lines[0]
    assert flour.weight is not None
    assert (flour.ingredient.name, str(flour.weight.grams)) == ("plain flour", "111.1")


def test_a_price_and_what_it_leaves(site: TeamSite) -> None:
    (channel,) = page(site, "Pebble").cost.channels
    assert channel.net is not None
    assert channel.gross is not None
    assert (str(channel.net.value), str(channel.gross.value)) == ("4.00", "4.40")
    assert not channel.over


def test_cost_says_which_price_counted(site: TeamSite) -> None:
    cream = page(site, "Pebble").cost.lines[0]
    assert cream.source is not None
    assert (cream.source.supplier, cream.source.since) == ("Lowfield Dairy", date(2026, 9, 1))
    # 400 g of cream at 95 % usable are 421.05 g bought at 3.80 EUR/kg = 1.60 EUR
    assert cream.bought is not None
    assert cream.bought.value == 421
    assert cream.cost.amount is not None
    assert str(cream.cost.amount.value) == "1.60"


def test_parts_of_the_cost_add_up(site: TeamSite) -> None:
    cost = page(site, "Pebble").cost
    assert sum(part.percent for part in cost.parts) == pytest.approx(100, abs=1)
    assert sum(share.percent for share in cost.items) == pytest.approx(100, abs=1)


def test_allergens_come_with_their_way(site: TeamSite) -> None:
    allergens = page(site, "Pebble").allergens
    ways = {line.name: [[link.name for link in way.steps] for way in line.paths] for line in allergens.contains}
    assert ways["wheat"] == [["plain flour", "Butter biscuit"]]
    assert ways["milk"] == [["whipping cream"], ["unsalted butter", "Butter biscuit"]]
    assert allergens.handled == ("hazelnuts",)
    assert not allergens.undeclared


def test_what_never_declared_is_never_free(site: TeamSite) -> None:
    allergens = page(site, "Pepper pebble").allergens
    assert [[link.name for link in way.steps] for way in allergens.undeclared] == [["long pepper"]]
    row = next(row for row in site.allergens.rows if row.product.name == "Pepper pebble")
    states = dict(zip(site.allergens.groups, (cell.state for cell in row.cells), strict=True))
    assert states["milk"] == "contains"
    assert states["nuts"] == "may contain"
    assert states["fish"] == "not declared"
    assert "" not in states.values()


def test_the_matrix_names_members_only_where_the_group_has_several(site: TeamSite) -> None:
    row = next(row for row in site.allergens.rows if row.product.name == "Pebble")
    cells = dict(zip(site.allergens.groups, row.cells, strict=True))
    assert cells["cereals containing gluten"].names == ("wheat",)
    assert cells["milk"].names == ()
    assert cells["fish"].state == ""


def test_a_member_that_is_contained_hides_no_other_member_of_its_group() -> None:
    found = AllergenFigure(
        {"almonds": ((StoresRef("almonds"),),), "milk": ((StoresRef("butter"),),)},
        {"almonds": (THE_HOUSE,), "hazelnuts": (THE_HOUSE,), "walnuts": (THE_HOUSE,), "wheat": (THE_HOUSE,)},
        ((StoresRef("long pepper"),),),
    )
    row = matrix_row(Link("Tart"), found, Region.EU)
    cells = dict(zip((group.name for group in LAWS[Region.EU].groups), row.cells, strict=True))
    assert cells["nuts"] == MatrixCell("contains", ("almonds",), ("hazelnuts", "walnuts"), undeclared=True)
    assert cells["cereals containing gluten"] == MatrixCell("may contain", ("wheat",), undeclared=True)
    assert cells["milk"] == MatrixCell("contains")
    assert cells["fish"] == MatrixCell("not declared")


def test_an_incomplete_cost_is_at_least_and_says_what_it_lacks(site: TeamSite) -> None:
    cost = page(site, "Pepper pebble").cost
    assert cost.batch.amount is not None
    assert cost.batch.amount.bound is Bound.AT_LEAST
    assert ("price", "long pepper") in {(lack.kind, lack.of.name) for lack in cost.lacks}
    assert [entry.recipe.name for entry in site.front.incomplete] == ["Pepper pebble"]


def test_completeness_is_for_drafts_and_trials(site: TeamSite) -> None:
    missing = {element.name for element in page(site, "Pepper pebble").completeness if not element.present}
    assert "times" in missing
    assert page(site, "Pebble").completeness == ()


def test_retired_recipes_keep_a_page_outside_the_lists(site: TeamSite) -> None:
    assert page(site, "Old pebble").head.status == "retired"
    listed = repr(
        (site.front, site.sections, site.allergens, site.costs, site.by_name, site.by_ingredient, site.stores)
    )
    assert "Old pebble" not in listed
    assert "Pepper pebble" in listed


def test_steps_carry_times_limits_notes_and_cautions(site: TeamSite) -> None:
    (run,) = page(site, "Pebble").method.runs
    freeze = run.steps[1]
    assert (freeze.limit, freeze.if_missed, freeze.ccp) == ("core below -10 °C", "freeze on", "3")
    assert [caution.name for caution in freeze.cautions] == ["cold burn"]
    assert [note.kind for note in freeze.notes] == ["why"]
    assert freeze.takes is not None
    assert freeze.takes.least == 120


def test_cautions_of_the_stores_items_come_with_their_reason(site: TeamSite) -> None:
    (caution,) = page(site, "Butter biscuit").cautions
    assert caution.name == "flour dust"
    assert [link.name for link in caution.because] == ["plain flour"]


def test_links_in_prose_lead_to_pages(site: TeamSite) -> None:
    assert "PageLink(to=Route(folder='recipes/moulded', stem='pebble'" in repr(page(site, "Butter biscuit").method)
    assert site.glossary is not None
    assert "stem='butter-biscuit'" in repr(site.glossary.terms[0])


def test_stores_show_the_price_in_force_and_the_earlier_ones(site: TeamSite) -> None:
    butter = stores_page(site, "unsalted butter")
    assert butter.price is not None
    assert butter.price.each is not None
    assert (butter.price.pack, str(butter.price.each.value), butter.price.each.unit) == ("20 × 500 g", "7.00", "EUR/kg")
    assert [(offer.since, offer.state) for offer in butter.offers] == [(date(2026, 2, 2), "earlier")]
    assert [use.recipe.name for use in butter.used_in] == ["Butter biscuit"]
    assert [link.name for link in butter.reached] == ["Pebble"]
    box = stores_page(site, "pebble box")
    assert box.price is not None
    assert box.price.each is not None
    assert (str(box.price.each.value), box.price.each.unit) == ("0.310", "EUR/piece")
    pepper = stores_page(site, "long pepper")
    assert pepper.price is None
    assert pepper.contains is None


def test_indexes_know_other_names_and_no_packaging(site: TeamSite) -> None:
    assert [entry.word for entry in site.by_name.entries] == ["Butter biscuit", "Pebble", "Pepper pebble"]
    words = {entry.word: entry for entry in site.by_ingredient.entries}
    assert "pebble box" not in words
    assert words["butter"].other_name
    assert [link.name for link in words["whipping cream"].to] == ["whipping cream", "Pebble", "Pepper pebble"]


def test_workings_lead_one_level_down(site: TeamSite) -> None:
    working = next(each for each in site.workings if each.recipe.name == "Pebble")
    sources = [term.source for each in working.workings for term in each.terms if term.source]
    below = Route("working/biscuits", "butter-biscuit")
    assert any(source.route and source.route.key == below.key for source in sources)
    assert Route("stores", "whipping-cream", "price") in [source.route for source in sources]
    places = [each.place for each in working.workings]
    assert len(set(places)) == len(places)


def test_sections_are_in_the_houses_order_products_first(site: TeamSite) -> None:
    assert [section.heading for section in site.sections] == ["Moulded & glazed", "Biscuits"]
    assert [row.recipe.name for row in site.sections[0].recipes] == ["Pebble", "Pepper pebble"]


def test_sizes_have_pages_of_their_own() -> None:
    plum = [line(500, "plum")]
    site = team_site(
        book(
            recipe(ref("tarts/plum", "24 cm"), plum, pieces(1, "tarts"), title="Plum tart"),
            recipe(ref("tarts/plum", "8 cm"), plum, pieces(9, "tarts"), title="Plum tart"),
        )
    )
    small = page(site, "Plum tart", "8 cm")
    assert small.route.key == "recipes/tarts/plum-8-cm"
    assert [link.name for link in small.head.sizes] == ["24 cm", "8 cm"]
    (entry,) = site.by_name.entries
    assert [link.route for link in entry.to] == [view.route for view in site.recipes]


def test_a_tree_unfolds_a_component_once() -> None:
    site = team_site(
        book(
            recipe("anglaise", [line(300, "milk")], 300, title="Anglaise"),
            recipe("mousse", [line(100, ref("anglaise")), line(100, "cream")], 200, title="Mousse"),
            recipe(
                "pebble", [line(200, ref("mousse")), line(50, ref("anglaise")), line(50, ref("mousse"), id="more")], 300
            ),
        )
    )
    mousse, anglaise = page(site, "pebble").tree
    assert [branch.recipe.name for branch in mousse.branches] == ["Anglaise"]
    assert mousse.weight is not None
    assert mousse.weight.value == 250
    below = mousse.branches[0].weight
    assert below is not None
    assert below.value == 125
    assert (anglaise.recipe.name, anglaise.again) == ("Anglaise", False)


def test_one_component_needs_no_tree() -> None:
    site = team_site(book(recipe("a", [line(3, "milk")], 3), recipe("b", [line(1, ref("a"))], 1)))
    assert page(site, "b").tree == ()
    assert len(page(site, "b").trays) == 1


def test_a_price_that_is_too_low_is_over_the_target() -> None:
    site = team_site(
        book(
            recipe(
                "bun",
                [line(100, "butter")],
                pieces(1),
                kind=Kind.PRODUCT,
                prices=(ListPrice("stall", Money(Decimal(1), "EUR"), taxed=False),),
            ),
            stores=[item("butter")],
            prices=[price("butter", "1 kg", 7)],
            own=house(channels=(Channel("stall", food_cost=Decimal("0.3")),)),
        )
    )
    (channel,) = page(site, "bun").cost.channels
    assert channel.food_cost.amount is not None
    assert str(channel.food_cost.amount.value) == "70.0"
    assert channel.over
    assert site.costs.rows[0].channels[0] is not None
    assert site.costs.rows[0].channels[0].over


def test_losses_stand_in_the_order_in_which_they_act() -> None:
    site = team_site(
        book(recipe("bun", [stage("Dough", line(1000, "flour"), lose={"mix": "0.01"})], 891, lose={"bake": "0.1"}))
    )
    shown = [(loss.name, loss.stage, str(loss.share.value), str(loss.mass.value)) for loss in page(site, "bun").losses]
    # 1000 g less 1 % are 990 g; 10 % of them are 99 g
    assert shown == [("mix", "Dough", "1", "10"), ("bake", "", "10", "99")]

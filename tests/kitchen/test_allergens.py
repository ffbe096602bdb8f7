"""Which allergens a recipe contains, by which way, and what was never declared."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.kitchen.allergens import item_allergens
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import THE_HOUSE, AllergenFigure, Path
from bookmaker.kitchen.law import LAWS, declared_as, in_order, sulphites_declared
from bookmaker.model.allergens import ALLERGENS
from bookmaker.model.book import Book
from bookmaker.model.house import Region
from bookmaker.model.line import Cut, Rest, Unmeasured
from bookmaker.model.recipe import Kind, PackagingLine
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef
from bookmaker.model.shapes import Rectangle
from bookmaker.model.stores import Article, StoresItem, StoresKind
from bookmaker.model.yields import CoProduct, SheetYield
from tests.support import make
from tests.support.reference import cases
from tests.support.strategies import ITEMS, books

BUTTER = make.item("butter", contains=frozenset({"milk"}))
FLOUR = make.item("flour", contains=frozenset({"wheat"}), may_contain=frozenset({"soybeans"}))
ALMONDS = make.item("almonds", contains=frozenset({"almonds"}), may_contain=frozenset({"hazelnuts", "milk"}))
SYRUP = make.item("glucose syrup", contains=frozenset({"wheat"}), exempt=(("EU", frozenset({"wheat"})),))
MYSTERY = make.item("nougat", contains=None, may_contain=frozenset({"peanuts"}))
STORES = (BUTTER, FLOUR, ALMONDS, SYRUP, MYSTERY)

BASE = make.recipe("base", [make.line(100, "butter"), make.line(200, "flour")], 300)


def allergens(book: Book) -> AllergenFigure:
    """Those of the book's last recipe."""
    return list(compute(book, date(2026, 11, 1)).recipes.values())[-1].allergens


def of(*recipes: Any, **house: Any) -> AllergenFigure:
    return allergens(make.book(*recipes, stores=STORES, own=make.house(**house)))


def way(*targets: StoresRef | RecipeRef | CoProductRef) -> tuple[Path, ...]:
    return (tuple(targets),)


def test_an_allergen_comes_with_its_way() -> None:
    tart = make.recipe("tart", [make.line(300, make.ref("base")), make.line(10, "butter")], 310)
    found = of(BASE, tart)
    assert found.contains["milk"] == (
        (RecipeRef("base"), StoresRef("butter")),
        (StoresRef("butter"),),
    )
    assert found.may_contain == {"soybeans": way(RecipeRef("base"), StoresRef("flour"))}
    assert found.undeclared == ()


@pytest.mark.parametrize(
    "line",
    [
        make.line(5, "almonds", optional=True),
        make.line(Unmeasured("to taste"), "almonds"),
        make.line(5, "almonds", as_needed=True),
        make.line(5, "sugar", alternatives=(StoresRef("almonds"),)),
        make.line(1000, "almonds", stays="0.05", rest=Rest.BACK),
    ],
    ids=["optional", "to taste", "as needed", "alternative", "recovered coating"],
)
def test_everything_that_may_go_in_counts(line: Any) -> None:
    found = of(make.recipe("tart", [make.line(100, "sugar"), line], 100))
    assert found.contains["almonds"] == way(StoresRef("almonds"))


def test_packaging_does_not_count() -> None:
    wrap = make.item("wrap", kind=StoresKind.PACKAGING, contains=frozenset({"milk"}))
    tart = make.recipe(
        "tart", [make.line(100, "sugar")], 100, packaging=(PackagingLine(StoresRef("wrap"), Decimal(1)),)
    )
    assert allergens(make.book(tart, stores=[wrap])).contains == {}


def test_what_is_contained_is_not_said_to_be_perhaps_contained() -> None:
    found = of(make.recipe("tart", [make.line(5, "almonds"), make.line(5, "butter")], 10))
    assert set(found.may_contain) == {"hazelnuts"}


def test_undeclared_travels_up_and_what_is_known_stays_known() -> None:
    filling = make.recipe("filling", [make.line(50, "nougat"), make.line(50, "butter")], 100)
    found = of(filling, make.recipe("bonbon", [make.line(10, make.ref("filling"))], 10))
    assert found.undeclared == way(RecipeRef("filling"), StoresRef("nougat"))
    assert set(found.contains) == {"milk"}
    assert set(found.may_contain) == {"peanuts"}


def test_declared_none_is_declared() -> None:
    found = of(make.recipe("syrup", [make.line(5, "sugar")], 5))
    assert (found.contains, found.may_contain, found.undeclared) == ({}, {}, ())


def test_the_houses_cross_contact_stands_apart_and_once() -> None:
    tart = make.recipe("tart", [make.line(300, make.ref("base"))], 300)
    found = of(BASE, tart, cross_contact_allergens=frozenset({"milk", "almonds", "soybeans"}))
    assert found.may_contain["almonds"] == (THE_HOUSE,)
    assert found.may_contain["soybeans"] == ((RecipeRef("base"), StoresRef("flour")), THE_HOUSE)
    assert "milk" not in found.may_contain


def test_exemptions_are_per_region() -> None:
    sweet = make.recipe("sweet", [make.line(5, "glucose syrup")], 5)
    assert of(sweet, region=Region.EU).contains == {}
    assert set(of(sweet, region=Region.US).contains) == {"wheat"}


def test_spelt_and_kamut_are_wheat() -> None:
    item = make.item("old grain", contains=frozenset({"spelt", "kamut"}), may_contain=frozenset({"spelt"}))
    found = allergens(make.book(make.recipe("loaf", [make.line(5, "old grain")], 5), stores=[item]))
    assert found.contains == {"wheat": way(StoresRef("old grain"))}
    assert found.may_contain == {}


def test_seed_brings_nothing_of_its_own() -> None:
    levain = make.recipe("levain", [make.line(200, make.ref("levain")), make.line(300, "flour")], 300, keep_back=200)
    assert of(levain).contains["wheat"] == way(StoresRef("flour"))


def test_a_moulding_recipe_is_no_food() -> None:
    rubber = make.recipe("silicone", [make.line(10, "nougat")], 10, kind=Kind.MOULDING)
    assert of(rubber).undeclared == ()


def test_left_over_trim_has_its_parents_allergens() -> None:
    dough = make.recipe(
        "dough", [make.line(300, "flour"), make.line(50, "nougat")], 300, gives=(CoProduct("trim", Decimal(50)),)
    )
    found = of(dough, make.recipe("crackers", [make.line(50, make.rest("dough", "trim"))], 50))
    through = (CoProductRef(RecipeRef("dough"), "trim"), RecipeRef("dough"))
    assert found.contains["wheat"] == way(*through, StoresRef("flour"))
    assert found.undeclared == way(*through, StoresRef("nougat"))


def test_the_rest_of_cut_sheets_has_the_sheets_allergens_alone() -> None:
    sheet = make.recipe(
        "sheet", [make.line(100, "flour")], SheetYield(Decimal(1), Rectangle(Decimal(600), Decimal(400)))
    )
    cut = make.line(Cut(Decimal(6), Rectangle(Decimal(150), Decimal(150))), make.ref("sheet"))
    bar = make.recipe("bar", [cut, make.line(5, "almonds")], make.pieces(6), gives=(CoProduct("rest"),))
    found = of(sheet, bar, make.recipe("crumbs", [make.line(5, make.rest("bar", "rest"))], 5))
    assert set(found.contains) == {"wheat"}


# --- articles -------------------------------------------------------------------------------------------------------


def with_articles(*articles: Article, bought: tuple[str, ...] = (), **item: Any) -> AllergenFigure:
    """The allergens of chocolate in general, sold as these articles; `bought` are the suppliers in the price list."""
    chocolate = make.item("chocolate", articles=articles, **item)
    prices = [make.price("chocolate", "1 kg", 9, supplier=supplier, code="1") for supplier in bought]
    return item_allergens(chocolate, make.book(stores=[chocolate], prices=prices))


A = Article("A", "1", contains=frozenset({"milk"}), may_contain=frozenset({"hazelnuts"}))
B = Article("B", "1", contains=frozenset({"soybeans"}))


def test_allergens_are_the_union_over_the_articles() -> None:
    found = with_articles(A, B, contains=frozenset({"soybeans"}), bought=("A", "B"))
    assert set(found.contains) == {"milk", "soybeans"}
    assert set(found.may_contain) == {"hazelnuts"}


def test_an_article_that_says_nothing_of_its_own_is_as_the_item() -> None:
    found = with_articles(A, contains=frozenset({"lupin"}), bought=("A", "C"))
    assert set(found.contains) == {"lupin", "milk"}


def test_an_item_whose_every_article_is_declared_is_declared() -> None:
    found = with_articles(A, B, contains=None, bought=("A", "B"))
    assert found.undeclared == ()
    assert set(found.contains) == {"milk", "soybeans"}


def test_one_article_that_was_never_declared_leaves_the_item_undeclared() -> None:
    assert with_articles(A, contains=None, bought=("A", "C")).undeclared == way(StoresRef("chocolate"))
    silent = Article("B", "1", may_contain=frozenset({"milk"}))
    assert with_articles(A, silent, contains=None).undeclared == way(StoresRef("chocolate"))


# --- the law --------------------------------------------------------------------------------------------------------

CASES = cases("allergens")


def test_the_eu_and_uk_list_the_fourteen_of_annex_ii_in_order() -> None:
    printed = CASES["eu-annex-ii-order"]["expect"]["order"]
    assert [group.name for group in LAWS[Region.EU].groups] == printed
    assert LAWS[Region.UK].groups == LAWS[Region.EU].groups


def test_nuts_are_named() -> None:
    printed = CASES["eu-nuts-to-be-named"]["expect"]["nuts"]
    nuts = LAWS[Region.EU].group("walnuts")
    assert nuts is not None
    said = {"pecans": "pecan nuts", "brazil nuts": "Brazil nuts", "pistachios": "pistachio nuts"}
    said["macadamias"] = "macadamia or Queensland nuts"
    assert [said.get(name, name) for name in nuts.members] == printed


def test_the_us_lists_nine() -> None:
    printed = CASES["us-nine"]["expect"]["list"]
    assert [group.name for group in LAWS[Region.US].groups] == printed


def test_every_law_names_its_rule_and_when_it_was_written_down() -> None:
    for law in LAWS.values():
        assert any(year in law.rule for year in ("2011", "2004"))
        assert law.written.year == 2026


def test_every_word_of_the_stores_has_a_place_in_some_law() -> None:
    assert declared_as(ALLERGENS) == {*LAWS[Region.EU].names, *LAWS[Region.US].names}
    assert declared_as(ALLERGENS) - set(LAWS[Region.EU].names) == {"pine nuts"}


def test_the_us_authority_lists_twelve_tree_nuts() -> None:
    """Walnuts stand there four times; the kinds that were taken off in 2025 are no allergens here either."""
    printed = CASES["us-tree-nuts-2025"]["expect"]
    nuts = LAWS[Region.US].group("walnuts")
    assert nuts is not None
    ours = {name.removesuffix("s").removesuffix(" nut") for name in nuts.members}
    theirs = {"walnut" if "walnut" in name else name.partition("/")[0].lower() for name in printed["list"]}
    named = {name.removesuffix(" nut").replace("filbert", "hazelnut") for name in theirs}
    assert ours == named
    assert not ours & {name.removesuffix(" nut") for name in printed["removed"]}


@pytest.mark.parametrize(
    ("milligrams", "declared"),
    list(
        zip(
            CASES["eu-sulphite-threshold"]["given"]["so2_mg_per_kg"],
            CASES["eu-sulphite-threshold"]["expect"]["declare"],
            strict=True,
        )
    ),
)
def test_sulphites_are_declared_above_ten(milligrams: str, declared: str) -> None:
    assert sulphites_declared(Decimal(milligrams)) == (declared == "true")
    item = make.item("dried apricot", sulphites=Decimal(milligrams))
    assert ("sulphites" in item_allergens(item, make.book(stores=[item])).contains) == (declared == "true")


INGREDIENTS = {
    "eu-ingredient-01": make.item("x", contains=frozenset({"wheat"}), exempt=(("EU", frozenset({"wheat"})),)),
    "eu-ingredient-02": make.item("x", contains=frozenset({"spelt"})),
    "eu-ingredient-04": make.item("x", contains=frozenset({"soybeans"}), exempt=(("EU", frozenset({"soybeans"})),)),
    "eu-ingredient-06": BUTTER,
    "eu-ingredient-11": make.item("x", contains=frozenset({"hazelnuts"})),
    "eu-ingredient-16": make.item("x", contains=frozenset({"barley"})),
    "eu-ingredient-17": make.item("x", contains=frozenset({"barley"}), exempt=(("EU", frozenset({"barley"})),)),
    "eu-ingredient-22": make.item("x"),
}
"""How a house would enter the ingredient of each case."""


@pytest.mark.parametrize(("name", "item"), list(INGREDIENTS.items()), ids=list(INGREDIENTS))
def test_ingredients_under_annex_ii(name: str, item: StoresItem) -> None:
    printed = [words.partition(" (")[0] for words in CASES[name]["expect"]["annex_ii"]]
    assert list(item_allergens(item, make.book(stores=[item])).contains) == printed


def test_allergens_stand_in_the_regions_order_and_none_is_dropped() -> None:
    names = {"milk", "wheat", "mustard", "almonds", "rye"}
    assert in_order(names, Region.EU) == ("wheat", "rye", "milk", "almonds", "mustard")
    assert in_order(names, Region.US) == ("milk", "almonds", "wheat", "rye", "mustard")


# --- the union, over random books -----------------------------------------------------------------------------------


@given(
    books(),
    st.dictionaries(st.sampled_from(ITEMS), st.none() | st.sets(st.sampled_from(sorted(ALLERGENS)), max_size=3)),
)
def test_a_recipe_contains_just_what_its_parts_contain(book: Book, declared: dict[str, set[str] | None]) -> None:
    """Contains = the union over everything reached through its lines; undeclared where one of those never was."""
    stores = {
        name: replace(item, contains=None if (said := declared.get(name, set())) is None else frozenset(said))
        for name, item in book.stores.items()
    }
    book = replace(book, stores=stores)
    for ref, figures in compute(book, date(2026, 11, 1)).recipes.items():
        reached = _reached(ref, book)
        union = frozenset[str]().union(*(stores[item].contains or () for item in reached))
        found = figures.allergens
        assert set(found.contains) == declared_as(union)
        assert {path[-1] for path in found.undeclared} == {StoresRef(i) for i in reached if stores[i].contains is None}
        for name, paths in found.contains.items():
            for path in paths:
                last = path[-1]
                assert isinstance(last, StoresRef)
                assert name in declared_as(stores[last.id].contains or ())


def _reached(ref: RecipeRef, book: Book) -> set[str]:
    """All stores items below a recipe; the rest of cut sheets is made of what was cut."""
    found = set[str]()
    for line in book.recipes[ref].lines:
        match line.target:
            case StoresRef(name):
                found.add(name)
            case RecipeRef() if line.target != ref:
                found |= _reached(line.target, book)
            case CoProductRef(parent, name):
                cut = [each.target for each in book.recipes[parent].lines if isinstance(each.quantity, Cut)]
                given = next(each for each in book.recipes[parent].gives if each.name == name)
                for source in cut if given.rest_of_cut and cut else [parent]:
                    assert isinstance(source, RecipeRef)
                    found |= _reached(source, book)
    return found

"""What product sheets say, and what they say where something is not known."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

import pytest

from bookmaker.editions.sheets import gate, project
from bookmaker.editions.sheets.section import cross_section
from bookmaker.editions.sheets.views import (
    Address,
    AllergenRow,
    Form,
    Gap,
    Instruction,
    ListPrice,
    Mass,
    MassUnit,
    SheetView,
    Verdict,
)
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.label import label_of
from bookmaker.kitchen.label_figures import DietFigure, Suits
from bookmaker.measures.money import Money
from bookmaker.model.book import Book
from bookmaker.model.house import Channel, LabelRules, Region
from bookmaker.model.recipe import Kind, Layer, Portion, Status
from bookmaker.model.recipe import ListPrice as Listed
from bookmaker.model.refs import RecipeRef
from bookmaker.model.stores import Nutrients
from tests.support import make
from tests.support.published import ON, sound_book
from tests.support.sheets import CLIENTS, house_of, sheets

PEBBLE, TART = RecipeRef("moulded/harbour-pebble"), RecipeRef("tarts/pepper-tart")


@pytest.fixture(scope="module")
def book() -> Book:
    return sound_book(CLIENTS)


@pytest.fixture(scope="module")
def views(book: Book) -> Mapping[RecipeRef, SheetView]:
    return sheets(book)


def test_only_approved_products_have_a_sheet(book: Book, views: Mapping[RecipeRef, SheetView]) -> None:
    assert {(recipe.kind, recipe.status) for recipe in book.recipes.values()} >= {
        (Kind.PRODUCT, Status.TRIAL),
        (Kind.PRODUCT, Status.RETIRED),
        (Kind.COMPONENT, Status.DRAFT),
    }
    assert list(views) == [PEBBLE, TART]


def test_pages_are_called_after_the_product_and_not_after_its_file() -> None:
    named = {
        RecipeRef("secret/b"): "Crème & cream",
        RecipeRef("secret/c"): "Creme and cream",
        RecipeRef("secret/d", "8 cm"): "Tart (8 cm)",
        RecipeRef("secret/index"): "Index",
        RecipeRef("secret/all"): "All",
    }
    assert [each.stem for each in gate.addresses(named).values()] == [
        "creme-and-cream",
        "creme-and-cream-2",
        "tart-8-cm",
        "index-2",
        "all-2",
    ]


# --- allergens


def rows_of(view: SheetView) -> dict[str, AllergenRow]:
    return {row.group: row for row in view.allergens.rows}


def test_an_allergen_is_contained_or_possible_or_not_named(views: Mapping[RecipeRef, SheetView]) -> None:
    rows = rows_of(views[PEBBLE])
    assert rows["cereals containing gluten"] == AllergenRow(
        "cereals containing gluten", Verdict.CONTAINS, True, ("wheat",)
    )
    assert rows["milk"] == AllergenRow("milk", Verdict.CONTAINS, False, ("milk",))
    # almonds by the cream's maker, hazelnuts by the house
    assert rows["nuts"] == AllergenRow("nuts", Verdict.MAY_CONTAIN, True, (), ("almonds", "hazelnuts"))
    assert rows["eggs"].verdict is Verdict.NOT_NAMED
    assert len(rows) == 14


def test_an_undeclared_ingredient_leaves_nothing_that_is_free_from(views: Mapping[RecipeRef, SheetView]) -> None:
    view = views[TART]
    assert {row.verdict for row in view.allergens.rows} == {
        Verdict.CONTAINS,
        Verdict.MAY_CONTAIN,
        Verdict.NOT_KNOWN,
    }
    assert {Gap.ALLERGENS, Gap.INGREDIENTS, Gap.NUTRITION} <= {*view.gaps}
    assert view.declaration == ()
    assert view.nutrition is None


def test_no_verdict_says_free_from() -> None:
    assert not [verdict for verdict in Verdict if "free" in verdict]


def test_an_allergen_that_the_law_does_not_list_is_shown_all_the_same(book: Book) -> None:
    rye = replace(book.stores["plain flour"], contains=frozenset({"rye", "wheat"}))
    us = replace(book, house=replace(book.house, region=Region.US), stores={**book.stores, "plain flour": rye})
    rows = rows_of(sheets(us)[PEBBLE])
    assert rows["rye"] == AllergenRow("rye", Verdict.CONTAINS, False, ("rye",))
    assert rows["wheat"].verdict is Verdict.CONTAINS


# --- diets, nutrition, keeping


def test_a_diet_is_claimed_where_all_suits_and_the_house_allows_it(views: Mapping[RecipeRef, SheetView]) -> None:
    assert views[PEBBLE].diets == ("vegetarian", "alcohol-free")  # halal too, but the house forbids to say so
    assert views[TART].diets == ()  # nobody said what pepper suits


@pytest.mark.parametrize("suits", [Suits.NO, Suits.UNKNOWN])
def test_a_diet_is_not_claimed_where_it_is_not_known(book: Book, suits: Suits) -> None:
    figures = compute(book, ON)
    label = replace(label_of(PEBBLE, book, figures), diets={"vegan": DietFigure(suits)})
    given = gate.sheet_given(PEBBLE, book, figures.recipes[PEBBLE], label)
    assert project.sheet_view(given, house_of(book), Address("x")).diets == ()


def test_nutrition_is_the_labels_own(book: Book, views: Mapping[RecipeRef, SheetView]) -> None:
    label = label_of(PEBBLE, book, compute(book, ON)).nutrition
    table = views[PEBBLE].nutrition
    assert table is not None
    assert [line.per_100 for line in table.lines] == [row.per_100 for row in label.rows]
    assert [line.name for line in table.lines][:3] == ["Energy", "Fat", "of which saturates"]
    assert (table.has_reference, table.has_per_piece) == (True, True)
    fat = next(row.exact_per_100.value for row in label.rows if row.key == "fat")
    salt = next(row.exact_per_100.value for row in label.rows if row.key == "salt")
    assert fat is not None
    assert salt is not None
    assert abs(Decimal(table.plain.fat) - fat) <= Decimal("0.05")
    assert abs(Decimal(table.plain.sodium) - salt / Decimal("2.5") * 1000) <= Decimal("0.5")  # milligrams
    assert f" / {table.plain.energy}" in next(row.per_100 for row in label.rows if row.key == "energy")


def test_clients_read_how_long_it_keeps_at_most(book: Book, views: Mapping[RecipeRef, SheetView]) -> None:
    figures = compute(book, ON).recipes[PEBBLE]
    shown = {each.state: each for each in views[PEBBLE].keeping}
    assert set(shown) == {"frozen", "thawed"}
    assert shown["thawed"].minutes == next(each.minutes for each in figures.keeping if each.state == "thawed")
    assert (shown["thawed"].date_word, shown["thawed"].temperature) == ("use by", Decimal(4))


def test_a_raw_state_is_the_houses_own_affair_unless_it_is_sold_raw(book: Book) -> None:
    pebble = book.recipes[PEBBLE]
    raw = replace(pebble.keeps[0], state="raw", date_word="")
    for date_word, states in (("", []), ("use by", ["raw"])):
        keeps = (replace(raw, date_word=date_word),)
        other = replace(book, recipes={**book.recipes, PEBBLE: replace(pebble, keeps=keeps)})
        assert [each.state for each in sheets(other)[PEBBLE].keeping] == states


def test_a_house_with_the_other_scale_says_temperatures_again(book: Book) -> None:
    pebble = book.recipes[PEBBLE]
    told = replace(pebble, client=replace(pebble.client, thaw="6 h at 4 °C", serve="At 60 °F"))
    for fahrenheit, thaw, serve in ((True, (Decimal(4),), ()), (False, (), (Decimal(16),))):
        house = replace(book.house, fahrenheit=fahrenheit)
        view = sheets(replace(book, house=house, recipes={**book.recipes, PEBBLE: told}))[PEBBLE]
        assert view.thaw == Instruction("6 h at 4 °C", thaw)
        assert view.serve == Instruction("At 60 °F", serve)


# --- what is sold, and at what price


def test_the_price_is_the_authored_one_of_the_channel_that_the_house_names(book: Book) -> None:
    shown = {}
    for channel in ("", "tea room", "hotel"):
        house = replace(book.house, labels=LabelRules(price=channel))
        shown[channel] = sheets(replace(book, house=house))[PEBBLE].price
    assert shown == {
        "": None,
        "tea room": ListPrice(Decimal("4.40"), "EUR", taxed=True, tax=Decimal(10)),
        "hotel": ListPrice(Decimal("2.90"), "EUR", taxed=False, tax=Decimal(10)),
    }


@pytest.mark.parametrize(
    ("portion", "count", "net"),
    [
        (None, Decimal(1), Mass(Decimal(50))),
        (Portion(pieces=Decimal(8)), Decimal(8), Mass(Decimal(400))),
        (Portion(pieces=Decimal(24)), Decimal(24), Mass(Decimal("1.2"), MassUnit.KILOGRAM)),
        (Portion(grams=Decimal("12.37")), None, Mass(Decimal("12.3"))),
    ],
)
def test_the_net_weight_is_that_of_what_is_sold(portion: Portion | None, count: Decimal | None, net: Mass) -> None:
    bar = make.recipe(
        "bar",
        [make.line(1200, "caster sugar")],
        make.pieces(24, "bars", finished=50),
        kind=Kind.PRODUCT,
        status=Status.APPROVED,
        portion=portion,
        prices=(Listed("stall", Money(Decimal(1), "EUR"), True),),
    )
    (view,) = sheets(make.book(bar, own=make.house(channels=(Channel("stall"),)))).values()
    assert view.portion is not None
    assert (view.portion.count, view.net, view.portion.servings) == (count, net, None)


def test_what_is_cut_at_the_table_says_into_how_many_it_is(book: Book) -> None:
    tart = replace(book.recipes[TART], servings=8)
    portion = sheets(replace(book, recipes={**book.recipes, TART: tart}))[TART].portion
    assert portion is not None
    assert (portion.count, portion.servings) == (Decimal(1), 8)


def test_a_serving_is_rounded_and_a_net_weight_never_up() -> None:
    """Twenty of 9.99 g are 199 g net; ten servings of them are 20 g each."""
    one = Decimal(1)
    nutrients = Nutrients(
        fat=one, saturates=one, carbohydrate=one, sugars=one, fibre=one, protein=one, salt=one, source="test"
    )
    sweet = make.item("caster sugar", contains=frozenset(), nutrients=nutrients)
    sticks = make.recipe(
        "sticks",
        [make.line("199.8", "caster sugar")],
        make.pieces(20, "sticks", finished="9.99"),
        kind=Kind.PRODUCT,
        status=Status.APPROVED,
        portion=Portion(pieces=Decimal(20)),
    )
    shown = [replace(sticks, servings=many) for many in (None, 10)]
    views = [view for each in shown for view in sheets(make.book(each, stores=[sweet])).values()]
    assert [view.net for view in views] == [Mass(Decimal(199))] * 2
    assert [view.nutrition and view.nutrition.piece for view in views] == [Mass(Decimal(199)), Mass(Decimal(20))]


# --- cut through


def layer(name: str, shape: str = "", thickness: str | None = None, **more: object) -> Layer:
    return Layer(name, None, shape, None if thickness is None else Decimal(thickness), **more)  # type: ignore[arg-type]


def test_a_cut_is_to_scale_where_every_height_and_width_is_known() -> None:
    section = cross_section(
        [
            layer("foot", "disc 4 cm", "4"),
            layer("mousse", "dome 70 mm", "31.5", holds=("heart",)),
            layer("glaze", coats=True),
        ],
        None,
    )
    assert section is not None
    assert [(each.form, each.width, each.height) for each in section.layers] == [
        (Form.SLAB, Decimal(40), Decimal(4)),
        (Form.DOME, Decimal(70), Decimal("31.5")),
    ]
    assert section.to_scale
    assert section.coats == ("glaze",)
    assert section.layers[1].inside == ("heart",)


def test_a_layer_is_as_wide_as_the_product_unless_it_says_otherwise() -> None:
    section = cross_section([layer("sponge", "", "8"), layer("cream", "slab 60 mm", "8")], Decimal(80))
    assert section is not None
    assert [each.width for each in section.layers] == [80, 60]
    assert section.to_scale


@pytest.mark.parametrize(("shape", "thickness", "width"), [("", "8", None), ("disc 40 mm", None, Decimal(80))])
def test_without_a_size_no_scale_is_pretended(shape: str, thickness: str | None, width: Decimal | None) -> None:
    section = cross_section([layer("sponge", shape, thickness)], width)
    assert section is not None
    assert not section.to_scale


def test_a_sized_product_is_as_wide_as_its_size_says(book: Book) -> None:
    tart = book.recipes[TART]
    ref = RecipeRef(TART.id, "8 cm")
    layers = (layer("shell", "shell", "3"), layer("filling", "", "15"))
    small = replace(tart, ref=ref, layers=layers, yields=make.pieces(6, "tarts", finished=100))
    other = replace(book, recipes={**book.recipes, ref: small}, sizes={TART.id: ("8 cm",)})
    section = sheets(other)[ref].section
    assert section is not None
    assert section.to_scale
    assert section.layers[0].width == 80

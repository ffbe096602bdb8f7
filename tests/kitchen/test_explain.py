"""Every figure can say how it came about, one level at a time, and its inputs add up to it."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.explain import Derivation, UnknownFigure, derivation, explain, figures_of
from bookmaker.kitchen.figures import LackKind, PriceKey
from bookmaker.kitchen.working import FigureSource, HouseSource, LineSource, StepSource, Term, Working
from bookmaker.measures.durations import Span
from bookmaker.measures.exact import exactly, total
from bookmaker.measures.money import Money
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.book import Book
from bookmaker.model.house import Channel, Equipment
from bookmaker.model.keeping import Keeping
from bookmaker.model.method import Each
from bookmaker.model.recipe import Kind, ListPrice, PackagingLine
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.stores import StoresKeeping, StoresKind
from bookmaker.model.yields import CoProduct
from tests.support import make
from tests.support.strategies import ITEMS, books

ON = date(2026, 11, 1)
NEARLY = Decimal("1e-20")

POOLISH = make.recipe(
    "poolish",
    [make.line(500, "flour"), make.line(500, "water")],
    950,
    kind=Kind.PREFERMENT,
    lose={"transfer": "0.05"},
    method=make.method(make.step(1, work=Decimal(5), wait=Span(Decimal(720), Decimal(960)))),
)
BAGUETTE = make.recipe(
    "baguette",
    [
        make.stage("Dough", make.line(500, POOLISH.ref), make.line(500, "flour"), make.line(200, "water")),
        make.stage("Wash", make.line(50, "milk", stays="0.4")),
        make.stage("Dusting", make.line(40, "flour", id="dusting")),
    ],
    make.pieces(4, "baguettes"),
    kind=Kind.PRODUCT,
    title="Poolish baguette",
    lose={"bake": "0.1"},
    method=make.method(
        make.step(1, work=Decimal(12), on="mixer"),
        make.step(2, each=Each(Decimal(1), "baguette"), takes=Span(Decimal(20), Decimal(25)), on="deck oven"),
    ),
    packaging=(PackagingLine(StoresRef("bag"), Decimal(1), per=Decimal(1)),),
    prices=(ListPrice("stall", Money(Decimal("2.20"), "EUR"), True),),
    keeps=(Keeping("baked", Decimal(1440), Temperature(Decimal(18))),),
    gives=(CoProduct("crumb", share=Decimal("0.02"), worth=Decimal("0.5")),),
)
BOOK = make.book(
    POOLISH,
    BAGUETTE,
    stores=[
        make.item("flour", flour=True, contains=frozenset({"wheat"}), fat="1.2", sugars="1"),
        make.item("water", water=1),
        make.item("milk", contains=frozenset({"milk"}), usable="0.98", water="0.875", fat="3.6", sugars="4.7",
                  salt="0.1", keeps=(StoresKeeping("opened", Decimal(720), Temperature(Decimal(18))),)),
        make.item("bag", kind=StoresKind.PACKAGING),
    ],
    prices=[
        make.price("flour", "25 kg", 25),
        make.price("water", "1000 kg", 2),
        make.price("milk", "1 kg", 2),
        make.price("bag", "1000 pieces", 40),
    ],
    own=make.house(
        labour=(("baker", Decimal(24)),),
        labour_role="baker",
        overhead=Decimal("0.1"),
        energy=Decimal("0.3"),
        equipment=(Equipment("deck oven", "oven", power=Decimal(12)),),
        food_cost=Decimal("0.3"),
        channels=(Channel("stall", Decimal("0.1")),),
        cross_contact_allergens=frozenset({"sesame"}),
    ),
)  # fmt: skip
FIGURES = compute(BOOK, ON)


def of(what: str, recipe: RecipeRef = BAGUETTE.ref) -> Working:
    return explain(BOOK, FIGURES, recipe, what)


def terms(what: str, recipe: RecipeRef = BAGUETTE.ref) -> dict[str, Decimal | None]:
    return {term.label: term.value for term in of(what, recipe).terms}


def added(working: Working) -> Decimal:
    """The terms in the result's own unit, with their sign."""
    with exactly():
        return sum(
            (-term.value if "taken off" in term.note else term.value)
            for term in working.terms
            if term.value is not None and term.unit == working.unit
        ) + Decimal(0)


def near(one: Decimal | None, two: Decimal | None) -> bool:
    if one is None or two is None:
        return one is two
    with exactly():
        return abs(one - two) <= NEARLY * max(abs(one), abs(two), Decimal(1))


def everything(found: Derivation) -> Iterator[Derivation]:
    yield found
    for below in found.below:
        yield from everything(below)


# --- one level ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "what", ["yield", "mass flow", "cost", "ingredients", "all flour", "time", "hands-on", "chain"]
)
def test_inputs_add_up_to_the_figure(what: str) -> None:
    assert near(added(of(what)), of(what).result)


def test_a_line_is_explained_by_what_is_charged_and_its_price() -> None:
    found = of("cost of milk")
    assert [round(term.value or Decimal(0), 4) for term in found.terms] == [50, 98, Decimal("51.0204"), 2]
    assert [term.unit for term in found.terms] == ["g", "%", "g", "EUR/kg"]
    assert found.terms[0].source == LineSource(BAGUETTE.ref, "milk")
    assert found.terms[-1].source == FigureSource(BAGUETTE.ref, "price of milk")


def test_a_component_line_leads_to_the_components_cost() -> None:
    found = of("cost of poolish")
    assert found.terms[-1].source == FigureSource(POOLISH.ref, "cost per kg")
    charged, price = (term.value for term in found.terms)
    assert charged is not None
    assert price is not None
    with exactly():
        assert near(charged * price / 1000, found.result)


def test_a_price_leads_to_the_price_list() -> None:
    found = of("price of flour")
    assert found.terms[0] == Term(
        "a pack of 25 kg", Decimal(25), "EUR", PriceKey("flour", "Orchard Gate", "FLOUR", date(2026, 1, 1))
    )
    assert found.terms[1].value == 25000
    assert (found.result, found.unit) == (Decimal(1), "EUR/kg")


def test_lines_of_one_name_are_told_apart_by_their_stage() -> None:
    assert {"cost of flour (Dough)", "cost of flour (Dusting)"} <= set(figures_of(BOOK, FIGURES, BAGUETTE.ref))


def test_labour_and_energy_lead_to_steps_and_house() -> None:
    labour = of("labour")
    assert [term.source for term in labour.terms] == [
        StepSource(BAGUETTE.ref, 1),
        StepSource(BAGUETTE.ref, 2),
        HouseSource("labour"),
    ]
    assert labour.result == Decimal(16) * 24 / 60
    energy = of("energy")
    assert energy.result == Decimal("1.5")
    assert terms("energy") == {"step 2, deck oven": 5, "tariff": Decimal("0.3")}


def test_packaging_and_overhead() -> None:
    assert of("packaging").result == Decimal("0.16")
    found = terms("overhead")
    base = found["own ingredients"]
    assert found["rate"] == 10
    assert base is not None
    assert near(of("overhead").result, base / 10)


def test_selling_figures() -> None:
    channel = FIGURES.recipes[BAGUETTE.ref].cost.channels[0]
    assert of("selling price in stall").result == channel.lowest_gross.value
    assert of("margin in stall").result == channel.margin.value
    food = of("food cost in stall")
    assert channel.food_cost.value is not None
    assert near(food.result, channel.food_cost.value * 100)
    assert terms("food cost in stall")["net price"] == 2


def test_percents_and_the_total_formula() -> None:
    assert of("percent of milk").result == FIGURES.recipes[BAGUETTE.ref].flow.lines[3].percent
    assert [(term.value, term.note) for term in of("all flour").terms] == [
        (Decimal(540), "in the dough itself"),
        (Decimal(250), "inside preferments and soakers"),
    ]
    hydration = terms("hydration")
    assert hydration["water"] == 450
    assert near(of("hydration").result, Decimal(45000) / Decimal(790))
    fat = terms("fat")
    assert near(fat["fat in milk"], Decimal("1.8"))


def test_an_allergen_leads_down_one_level() -> None:
    assert of("allergen wheat").terms == (
        Term("poolish", None, "", FigureSource(POOLISH.ref, "allergen wheat")),
        Term("flour", None, "", StoresRef("flour"), "by its own declaration"),
    )
    assert "1169/2011" in of("allergen wheat").rule
    assert "check against your local law" in of("allergen wheat").rule
    assert of("allergen wheat").verdict == "contains"
    assert of("may contain sesame").verdict == "may contain"
    assert of("may contain sesame").terms[0].source == HouseSource("cross contact allergens")


def test_keeping_names_the_part_that_limits() -> None:
    found = of("keeping baked")
    assert found.result == 720
    assert found.terms[1].source == StoresRef("milk")


def test_what_a_figure_lacks_is_said() -> None:
    book = replace(BOOK, prices={**BOOK.prices, "flour": ()})
    found = explain(book, compute(book, ON), BAGUETTE.ref, "cost")
    assert [(lack.kind, lack.of) for lack in found.lacks] == [(LackKind.PRICE, "flour")]


# --- names ----------------------------------------------------------------------------------------------------------


def test_names_are_forgiving() -> None:
    assert of("  Cost  PER piece ").what == "cost per piece"
    assert of("cost of a piece").what == "cost per piece"
    assert of("critical chain").what == "chain"
    # the one figure that a word alone can mean
    assert of("sesame").what == "may contain sesame"


@pytest.mark.parametrize(("asked", "meant"), [("cots", "cost"), ("alergen milk", "allergen milk")])
def test_a_near_miss_is_suggested(asked: str, meant: str) -> None:
    with pytest.raises(UnknownFigure) as caught:
        of(asked)
    assert meant in caught.value.near
    assert caught.value.what == asked


def test_an_unknown_recipe_is_refused() -> None:
    with pytest.raises(KeyError):
        of("cost", RecipeRef("nothing"))


# --- all the way down -----------------------------------------------------------------------------------------------


def test_a_cost_is_derived_down_to_price_list_lines() -> None:
    found = derivation(BOOK, FIGURES, BAGUETTE.ref, "cost")
    sources = {term.source for each in everything(found) for term in each.working.terms}
    keys = {source.item for source in sources if isinstance(source, PriceKey)}
    assert keys == {"flour", "water", "milk", "bag"}
    assert {each.working.of for each in everything(found)} == {BAGUETTE.ref, POOLISH.ref}


def test_depth_limits_the_levels() -> None:
    assert derivation(BOOK, FIGURES, BAGUETTE.ref, "cost", 0).below == ()
    one = derivation(BOOK, FIGURES, BAGUETTE.ref, "cost", 1)
    assert one.below
    assert all(not each.below for each in one.below)


def test_what_was_shown_is_not_shown_again() -> None:
    found = list(everything(derivation(BOOK, FIGURES, BAGUETTE.ref, "cost")))
    full = [(each.working.of, each.working.what) for each in found if not each.repeated]
    assert len(full) == len(set(full))
    assert any(each.repeated for each in found)
    assert all(not each.below for each in found if each.repeated)


@given(books())
def test_every_figure_of_every_book_can_be_explained(book: Book) -> None:
    """Each named figure has a working, so has every figure that it links to, and sums add up."""
    prices = {item: (make.price(item, "1 kg", 3),) for item in ITEMS}
    book = replace(book, prices=prices, house=make.house(overhead=Decimal("0.1")))
    figures = compute(book, ON)
    for ref in book.recipes:
        for what in figures_of(book, figures, ref):
            working = explain(book, figures, ref, what)
            for term in working.terms:
                if isinstance(term.source, FigureSource):
                    explain(book, figures, term.source.recipe, term.source.what)
        cost = explain(book, figures, ref, "cost")
        assert near(cost.result, figures.recipes[ref].cost.batch.value)
        assert near(added(cost), cost.result)
        ingredients = explain(book, figures, ref, "ingredients")
        assert near(total(term.value or Decimal(0) for term in ingredients.terms), ingredients.result)
        if figures.recipes[ref].flow.usable:
            made = explain(book, figures, ref, "yield")
            assert near(added(made), made.result)

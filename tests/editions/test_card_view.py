"""Bench cards: what is on them, and what changes their code."""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from bookmaker.editions.cards.code import changed_parts, code_of, parts_of
from bookmaker.editions.cards.views import (
    PARTS,
    CardAllergens,
    CardAmount,
    CardFormula,
    CardLine,
    CardStage,
    CardStep,
    CardSteps,
    CardTitle,
    CardView,
    KeyFigure,
)
from bookmaker.editions.team.views import Amount, Bound
from bookmaker.measures.durations import Span
from bookmaker.measures.scales import Scale
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.book import Book, Caution
from bookmaker.model.codes import ALPHABET
from bookmaker.model.house import Equipment
from bookmaker.model.line import Pieces
from bookmaker.model.method import Limit, Load, Method, Note, NoteKind, Reading, Section
from bookmaker.model.prose import Paragraph, Text
from bookmaker.model.recipe import Kind, Status
from bookmaker.model.refs import RecipeRef
from tests.support.cards import codes_of, demo_views, views_of
from tests.support.make import book, house, item, line, method, pieces, recipe, ref, step
from tests.support.published import DEMO, sound_book

__all__ = ["demo_views"]


def card(of: Book, path: str = "tarts/tart") -> CardView:
    return views_of(of)[ref(path)]


def told(text: str, kind: NoteKind, after: int, name: str = "") -> Note:
    return Note(kind, (Paragraph((Text(text),)),), after, name)


# --- what is on a card


def test_a_card_has_the_houses_batches_in_order_with_the_tested_one_among_them() -> None:
    tart = recipe("tarts/tart", [line(1000, "plain flour")], 1000)
    made = book(tart, own=house(batches=tuple(map(Decimal, ("4", "0.5", "2")))))
    formula = card(made).formula
    assert formula.batches == tuple(map(Decimal, ("0.5", "1", "2", "4")))
    assert [amount and amount.value for amount in formula.stages[0].lines[0].amounts] == [500, 1000, 2000, 4000]
    assert list(map(int, formula.weights)) == [500, 1000, 2000, 4000]


def test_weights_are_those_of_the_scales_and_the_fine_scale_is_named_where_the_coarse_one_errs() -> None:
    scales = (Scale(Decimal(200), Decimal("0.1")), Scale(Decimal(6000), Decimal(1)))
    tart = recipe("tarts/tart", [line(1000, "plain flour"), line("3.14", "fine salt"), line(150, "sugar")], 1000)
    made = book(tart, stores=[item("fine salt", careful=True)], own=house(scales=scales, batches=(Decimal(1),)))
    flour, salt, sugar = card(made).formula.stages[0].lines
    assert salt.amounts == (CardAmount(Decimal("3.1"), coarse=True),)
    assert salt.scale == Decimal("0.1")
    assert flour.scale is None
    assert sugar.scale is None, "half a gram of 150 is well within a hundredth: any scale will do"


def test_what_is_counted_is_counted_in_every_batch() -> None:
    disc = recipe("biscuits/disc", [line(100, "plain flour")], pieces(10, "discs"))
    tart = recipe("tarts/tart", [line(Pieces(Decimal(6), "discs"), ref("biscuits/disc"))], 60)
    shown = card(book(disc, tart, own=house(batches=(Decimal(1), Decimal(2))))).formula.stages[0].lines[0]
    assert shown.amounts == (CardAmount(Decimal(6), "discs"), CardAmount(Decimal(12), "discs"))
    assert shown.is_component


def test_components_are_named_with_how_many_of_their_batches() -> None:
    cream = recipe("creams/cream", [line(1000, "plain flour")], 1000, title="Cream", code="QC-1")
    tart = recipe("tarts/tart", [line(250, ref("creams/cream"))], 250)
    (shown,) = card(book(cream, tart)).components
    assert (shown.name, shown.weight, shown.batches, shown.code) == (
        "Cream",
        Amount(Decimal(250), "g"),
        Decimal("0.25"),
        "QC-1",
    )


def test_key_figures_are_oven_time_yield_dough_and_piece() -> None:
    bake = step(1, on="deck oven", at=Reading("200 °C", (Temperature(Decimal(200)),)))
    tart = recipe(
        "tarts/tart",
        [line(1000, "plain flour")],
        pieces(20, "buns", scaled=50),
        method=method(bake),
        dough_temperature=Temperature(Decimal(25)),
    )
    shown = card(book(tart, own=house(equipment=(Equipment("deck oven", "oven"),)))).figures
    assert [(each.label, [int(amount.value) for amount in each.amounts], each.word or each.of) for each in shown] == [
        ("oven", [200], "deck oven"),
        ("dough", [25], ""),
        ("yield", [20], "buns"),
        ("scaled at", [50], "bun"),
    ]


def test_an_oven_that_is_turned_down_shows_both_settings_in_turn() -> None:
    hot, cool = (Reading(f"{degrees} °C", (Temperature(Decimal(degrees)),)) for degrees in (250, 200))
    steps = method(step(1, on="deck oven", at=hot), step(2, on="deck oven", at=cool))
    tart = recipe("tarts/tart", [line(1000, "plain flour")], 1000, method=steps)
    oven = card(book(tart, own=house(equipment=(Equipment("deck oven", "oven"),)))).figures[0]
    assert ([int(amount.value) for amount in oven.amounts], oven.then) == ([250, 200], True)


def test_what_is_roasted_before_is_not_added_to_the_bake() -> None:
    roast, bake, dry = (Reading(f"{degrees} °C", (Temperature(Decimal(degrees)),)) for degrees in (160, 175, 150))
    steps = method(
        step(1, on="deck oven", at=roast, takes=Span(Decimal(10), Decimal(10))),
        step(2, on="bench"),
        step(3, on="deck oven", at=bake, takes=Span(Decimal(30), Decimal(30))),
        step(4, on="deck oven", at=dry, takes=Span(Decimal(8), Decimal(8))),
    )
    tart = recipe("tarts/tart", [line(1000, "plain flour")], 1000, method=steps)
    oven, baked, *_ = card(book(tart, own=house(equipment=(Equipment("deck oven", "oven"),)))).figures
    assert [int(amount.value) for amount in oven.amounts] == [175, 150]
    assert baked.time is not None
    assert baked.time.least == 38


@pytest.mark.parametrize(
    ("ends", "limited", "shown"),
    [
        (["178", "118"], 2, [118]),  # caramel: the colour, then the boil that decides
        (["180", "107", "65"], 2, [107]),  # the limit, not the last
        (["175", "45"], 0, [175]),  # praline
        (["40"], 0, None),  # pectin goes in warm: the boil has no figure
        (["28", "48, 27, 31"], 0, [48, 27, 31]),  # how to temper
        (["-18", "45"], 1, [-18]),  # frozen, then sprayed
        (["20"], 0, None),
    ],
)
def test_the_end_point_that_decides_is_shown(ends: list[str], limited: int, shown: list[int] | None) -> None:
    steps = [
        step(
            number,
            to=Reading(f"{text} °C", tuple(Temperature(Decimal(each)) for each in text.split(", "))),
            limit=Limit("as the plan says", "go on") if number == limited else None,
        )
        for number, text in enumerate(ends, 1)
    ]
    tart = recipe("tarts/tart", [line(1000, "sugar")], 1000, method=method(*steps))
    found = [figure for figure in card(book(tart)).figures if figure.label == "to"]
    assert [[int(amount.value) for amount in figure.amounts] for figure in found] == ([] if shown is None else [shown])


def test_steps_have_limits_and_look_for_points_and_nothing_private() -> None:
    notes = (
        told("shines", NoteKind.LOOK_FOR, 1),
        told("springs back", NoteKind.LOOK_FOR, 2),
        told("PRIVATE", NoteKind.PRIVATE, 1),
        told("WHY", NoteKind.WHY, 1),
        told("FIX", NoteKind.FIX, 2),
    )
    steps = (step(1, limit=Limit("core 82 °C", "heat on", "2"), load=Load(Decimal(4), "trays")), step(2))
    tart = recipe("tarts/tart", [line(1000, "plain flour")], 1000, method=Method((), (Section("", steps),), notes))
    shown = card(book(tart))
    first, second = shown.steps[0].steps
    assert first.limit is not None
    assert (first.limit.text, first.limit.if_missed, first.limit.ccp) == ("core 82 °C", "heat on", "2")
    assert (first.look_for, second.look_for, shown.look_for) == (("shines",), (), ("springs back",))
    assert not re.search("PRIVATE|WHY|FIX", repr(shown))


def test_a_house_in_fahrenheit_reads_limits_on_its_own_scale() -> None:
    made = recipe(
        "tarts/tart", [line(1000, "plain flour")], 1000, method=method(step(1, limit=Limit("core 82 °C", "to 90 °C")))
    )
    limit = card(book(made, own=house(fahrenheit=True))).steps[0].steps[0].limit
    assert limit is not None
    assert (limit.also, limit.missed_also) == ((Amount(Decimal(82), "°C"),), (Amount(Decimal(90), "°C"),))


def test_hazards_say_what_to_do_and_first_aid_is_said_once() -> None:
    burn, steam = (Caution(name, "It burns.", f"Do {name}.", "Cool it.") for name in ("hot trays", "oven steam"))
    tart = recipe("tarts/tart", [line(1000, "plain flour")], 1000, cautions=("hot trays", "oven steam"))
    shown = card(book(tart, cautions=[burn, steam]))
    assert [(each.name, each.do) for each in shown.cautions] == [
        ("hot trays", "Do hot trays."),
        ("oven steam", "Do oven steam."),
    ]
    assert [(aid.cautions, aid.words) for aid in shown.first_aid] == [(("hot trays", "oven steam"), "Cool it.")]


def test_a_card_for_mould_making_names_sheets_and_food_contact_and_no_allergens() -> None:
    made = recipe("moulding/mould", [line(1000, "silicone"), line(10, "sealer")], 1000, kind=Kind.MOULDING)
    shown = card(
        book(made, stores=[item("silicone", food_contact=True, supplier_sheet=date(2026, 3, 1))]),
        "moulding/mould",
    )
    assert shown.allergens is None
    assert [(each.name, each.sheet, each.food_contact) for each in shown.moulding] == [
        ("silicone", date(2026, 3, 1), True),
        ("sealer", None, False),
    ]


def test_allergens_are_contained_possible_or_never_declared() -> None:
    tart = recipe("tarts/tart", [line(900, "plain flour"), line(50, "nuts"), line(50, "mystery")], 1000)
    made = book(
        tart,
        stores=[
            item("plain flour", contains=frozenset({"wheat"})),
            item("nuts", contains=frozenset({"almonds"}), may_contain=frozenset({"wheat", "hazelnuts"})),
            item("mystery", contains=None),
        ],
    )
    assert card(made).allergens == CardAllergens(("wheat", "almonds"), ("hazelnuts",), ("mystery",))


def test_retired_recipes_have_no_card() -> None:
    old = recipe("tarts/old", [line(1000, "plain flour")], 1000, status=Status.RETIRED)
    assert views_of(book(old)) == {}


def test_no_card_of_the_demo_knows_money(demo_views: dict[RecipeRef, CardView]) -> None:
    assert "EUR" not in repr(demo_views)


# --- codes

PLAIN = CardView(
    head=CardTitle("Quillhaven Kitchen", "Tart", "Tarts", "product", "approved", 3, date(2026, 10, 2), "QB-1"),
    figures=(KeyFigure("yield", (Amount(Decimal(24)),), word="tarts"),),
    formula=CardFormula(
        (Decimal(1),), (CardStage("", "", (CardLine("flour", (CardAmount(Decimal(1000)),)),)),), (Decimal(1000),)
    ),
    steps=(CardSteps("", (CardStep(1, "Mix."),)),),
    allergens=CardAllergens(("wheat",)),
)


def test_a_code_is_eight_characters_that_nobody_mistakes() -> None:
    assert re.fullmatch(f"[{ALPHABET}]{{8}}", code_of(PLAIN))
    assert not set("ILOU") & set(ALPHABET)


def test_codes_stay_what_they_were_from_one_version_of_the_tool_to_the_next() -> None:
    """If this fails, every card that any house has on its walls looks replaced: find out why before it is changed."""
    assert code_of(PLAIN) == "EK0W77JJ"
    assert tuple(parts_of(PLAIN)) == PARTS


def _others(value: Any) -> Iterator[Any]:
    """The same value with one thing in it changed, for each thing in it."""
    if isinstance(value, tuple):
        yield from ((*value[:at], other, *value[at + 1 :]) for at, each in enumerate(value) for other in _others(each))
        yield from ((*value[:at], *value[at + 1 :]) for at in range(len(value)))
    elif is_dataclass(value) and not isinstance(value, type):
        for each in fields(value):
            yield from (replace(value, **{each.name: other}) for other in _others(getattr(value, each.name)))
    elif isinstance(value, bool):
        yield not value
    elif isinstance(value, Bound):
        yield Bound.AT_LEAST
    elif isinstance(value, str):
        yield value + "x"
    elif isinstance(value, int | Decimal):
        yield value + 1
    elif isinstance(value, date):
        yield value.replace(year=value.year + 1)


@pytest.mark.parametrize(
    "path", ["moulded/apricot-pebble", "moulding/pebble-mould-casting", "breads/harbour-sourdough"]
)
def test_everything_on_a_card_has_a_part_in_its_code(demo_views: dict[RecipeRef, CardView], path: str) -> None:
    view = demo_views[ref(path)]
    code, parts = code_of(view), parts_of(view)
    others = list(_others(view))
    assert len(others) > 200
    assert all(code_of(other) != code for other in others)
    assert all(len(changed_parts(parts, parts_of(other))) == 1 for other in others)


def test_what_changed_is_named() -> None:
    def changed(other: CardView) -> tuple[str, ...]:
        return changed_parts(parts_of(PLAIN), parts_of(other))

    assert changed(PLAIN) == ()
    assert changed(replace(PLAIN, allergens=CardAllergens())) == ("allergens",)
    assert changed(replace(PLAIN, steps=())) == ("steps",)
    assert changed(replace(PLAIN, formula=replace(PLAIN.formula, weights=(Decimal(999),)))) == ("weights",)
    assert changed(replace(PLAIN, head=replace(PLAIN.head, revision=4))) == ("the rest",)


# --- what changes which codes


def kitchen(flour: str = "1000", salt: str = "10") -> Book:
    """A cream; a tart of a quarter of it; a box of tarts, by the piece."""
    cream = recipe(
        "creams/cream", [line(flour, "plain flour"), line(salt, "fine salt")], Decimal(flour) + Decimal(salt)
    )
    tart = recipe("tarts/tart", [line(250, ref("creams/cream"))], pieces(10, "tarts"))
    boxed = recipe("tarts/box", [line(Pieces(Decimal(10), "tarts"), ref("tarts/tart"))], pieces(1, "pieces"))
    return book(cream, tart, boxed)


def changed_codes(before: Book, after: Book) -> set[str]:
    was, now = codes_of(before), codes_of(after)
    return {found.id for found in now if was[found] != now[found]}


def test_a_weight_changes_the_card_of_its_recipe_alone_where_users_print_nothing_of_it() -> None:
    assert changed_codes(kitchen(), kitchen(salt="10.2")) == {"creams/cream"}


def test_a_weight_changes_the_cards_of_users_too_where_they_print_something_of_it() -> None:
    assert changed_codes(kitchen(), kitchen(flour="1100")) == {"creams/cream", "tarts/tart"}


def test_prices_change_no_card() -> None:
    before = sound_book(DEMO)
    dearer = {
        name: tuple(replace(each, price=each.price * 3) for each in found) for name, found in before.prices.items()
    }
    assert dearer != before.prices
    assert changed_codes(before, replace(before, prices=dearer)) == set()


def test_money_and_who_may_see_it_change_no_card() -> None:
    before = kitchen()
    assert (
        changed_codes(before, replace(before, house=replace(before.house, money="GBP", see_costs=("office",)))) == set()
    )


def test_the_houses_batches_change_every_card() -> None:
    before = kitchen()
    after = replace(before, house=replace(before.house, batches=(Decimal(1), Decimal(3))))
    assert changed_codes(before, after) == {"creams/cream", "tarts/tart", "tarts/box"}


def test_a_house_in_fahrenheit_has_other_cards() -> None:
    before = kitchen()
    assert len(changed_codes(before, replace(before, house=replace(before.house, fahrenheit=True)))) == 3

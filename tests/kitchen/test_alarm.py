"""The change alarm: what was issued against what the label says now, with the cause down to the line of the stores."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.alarm import Alarmed, alarms_of, is_released, issued_label, withheld
from bookmaker.kitchen.alarm_problems import label_problems
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.label_figures import (
    Declaration,
    Ingredient,
    LabelFigure,
    Nutrition,
    NutritionRow,
    Phrase,
    Quantity,
)
from bookmaker.model.book import Book
from bookmaker.model.house import Region
from bookmaker.model.recipe import Kind, Status
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.register import IssuedLabel, Register
from bookmaker.model.stores import Article, MadeOf, StoresItem
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem
from bookmaker.reading.tree import KEY
from tests.support import make

DAY = date(2026, 10, 2)
PEBBLE, SLICE, MOUSSE = make.ref("moulded/pebble"), make.ref("slices/slice"), make.ref("creams/mousse")
CREAM = make.item("cream", contains=frozenset({"milk"}), anchor=Anchor("stores/dairy.yaml", ("cream",)))
PASTE = make.item("paste", contains=frozenset(), anchor=Anchor("stores/nuts.yaml", ("paste", KEY)))
FLOUR = make.item("flour", contains=frozenset({"wheat"}), anchor=Anchor("stores/dry.yaml", ("flour", KEY)))


def product(ref: RecipeRef, *lines: str, mousse: bool = True) -> Any:
    """A released product of mousse and these items, each line at its place."""
    document = f"{ref.id}.md"
    made = [make.line(50, MOUSSE, name="mousse", anchor=Anchor(document, ("formula", 0)))] if mousse else []
    made += [make.line(10, item, anchor=Anchor(document, ("formula", at + len(made)))) for at, item in enumerate(lines)]
    grams = sum(50 if one.name == "mousse" else 10 for one in made)
    more: dict[str, Any] = {"kind": Kind.PRODUCT, "status": Status.APPROVED, "title": ref.id.split("/")[1].capitalize()}
    return make.recipe(ref, made, grams, anchor=Anchor(document), **more)


def kitchen(*stores: StoresItem, house: Any = None, slice_of: tuple[str, ...] = ("flour",)) -> Book:
    """Two products, one of which takes paste in by its mousse."""
    lines = [make.line(90, "cream", anchor=Anchor("creams/mousse.md", ("formula", 0)))]
    lines.append(make.line(10, "paste", anchor=Anchor("creams/mousse.md", ("formula", 1))))
    mousse = make.recipe(MOUSSE, lines, 100, title="Mousse", anchor=Anchor("creams/mousse.md"))
    shelf = {each.id: each for each in (CREAM, PASTE, FLOUR, *stores)}
    own = house or make.house(anchor=Anchor("house.yaml"))
    return make.book(
        mousse, product(PEBBLE, "flour"), product(SLICE, *slice_of, mousse=False), stores=shelf.values(), own=own
    )


def label(
    book: Book, ref: RecipeRef = PEBBLE, declared: str = "CREAM, WHEAT flour", rows: Mapping[str, str] | None = None
) -> LabelFigure:
    """A label with the kitchen's own allergens, and a declaration and nutrition as given."""
    figures = compute(book, DAY).recipes[ref]
    ingredients = tuple(
        Ingredient((Phrase(name),), Decimal(1), ways=((StoresRef(name),),)) for name in book.stores if name in declared
    )
    return LabelFigure(
        ref=ref,
        name=book.name(ref),
        declaration=Declaration(Region.EU, ingredients, 0, (Phrase(declared),)),
        allergens=figures.allergens,
        nutrition=Nutrition(
            Region.EU, tuple(NutritionRow(name, name, amount) for name, amount in (rows or {}).items()), None, ""
        ),
        diets={},
        net=None,
    )


def issued(book: Book, ref: RecipeRef = PEBBLE, **more: Any) -> IssuedLabel:
    """What is issued of a book's product as it stands."""
    made = issued_label(label(book, ref, **more), book.recipes[ref], DAY, "Ada")
    return replace(made, anchor=Anchor("issued.csv", (0,)))


def problems(before: Book, now: Book, refs: Iterable[RecipeRef] = (PEBBLE, SLICE)) -> tuple[Problem, ...]:
    """What is heard of `now` where all labels were issued of `before`."""
    handed = tuple(issued(before, ref) for ref in refs)
    book = replace(now, register=Register(labels=handed))
    return label_problems((alarm for each in handed for alarm in alarms_of(label(now, each.recipe), each)), book)


def kinds(before: Book, now: Book) -> list[tuple[Alarmed, tuple[str, ...]]]:
    return [(alarm.what, alarm.names) for alarm in alarms_of(label(now), issued(before))]


def test_what_was_issued_and_stays_is_heard_of_no_more() -> None:
    book = kitchen()
    assert alarms_of(label(book), issued(book)) == ()
    assert not withheld(label(book), issued(book))
    assert problems(book, book) == ()


def test_what_was_never_issued_is_withheld_for_nothing() -> None:
    assert not withheld(label(kitchen()), None)


NUTTY = replace(PASTE, contains=frozenset({"hazelnuts"}))
TRACES = replace(PASTE, may_contain=frozenset({"hazelnuts"}))


@pytest.mark.parametrize(
    ("before", "now", "expected"),
    [
        (PASTE, NUTTY, (Alarmed.CONTAINS, ("hazelnuts",))),
        (NUTTY, PASTE, (Alarmed.GONE, ("hazelnuts",))),
        (PASTE, TRACES, (Alarmed.MAY_CONTAIN, ("hazelnuts",))),
        (TRACES, PASTE, (Alarmed.PERHAPS_GONE, ("hazelnuts",))),
        (NUTTY, TRACES, (Alarmed.PERHAPS, ("hazelnuts",))),
        (TRACES, NUTTY, (Alarmed.FOR_CERTAIN, ("hazelnuts",))),
        (PASTE, replace(PASTE, contains=None), (Alarmed.UNDECLARED, ())),
        (PASTE, replace(PASTE, contains=frozenset({"hazelnuts", "eggs"})), (Alarmed.CONTAINS, ("eggs", "hazelnuts"))),
        # the supplier's own article is what brings it
        (PASTE, replace(PASTE, articles=(Article("Mill", "M-1", frozenset({"sesame"})),)),
         (Alarmed.CONTAINS, ("sesame",))),
    ],
    ids=["appeared", "vanished", "may appeared", "may vanished", "now perhaps", "now for certain", "undeclared", "two",
         "article"],
)  # fmt: skip
def test_any_difference_of_allergens_withholds_the_sheet(
    before: StoresItem, now: StoresItem, expected: tuple[Alarmed, tuple[str, ...]]
) -> None:
    assert kinds(kitchen(before), kitchen(now)) == [expected]
    assert withheld(label(kitchen(now)), issued(kitchen(before)))
    (found,) = problems(kitchen(before), kitchen(now))
    assert found.code == "label-allergens"
    assert found.is_error
    assert not found.stops
    # only the product that has the mousse
    assert "'Pebble' (issued on 2026-10-02)" in found.message
    assert "Slice" not in found.message


def test_the_cause_is_the_line_of_the_stores_and_the_way_to_it() -> None:
    (found,) = problems(kitchen(), kitchen(NUTTY))
    assert found.anchor == Anchor("stores/nuts.yaml", ("paste", "contains"))
    assert found.message == (
        "the label of 'Pebble' (issued on 2026-10-02) does not hold any more: not named: hazelnuts, contained now"
    )
    assert [(each.anchor, each.note) for each in found.related] == [
        (Anchor("moulded/pebble.md", ("formula", 0)), "Mousse, in Pebble"),
        (Anchor("creams/mousse.md", ("formula", 1)), "paste, in Mousse"),
        (Anchor("issued.csv", (0,)), f"what was issued of Pebble, {issued(kitchen()).code}"),
    ]


@pytest.mark.parametrize(
    ("item", "anchor"),
    [
        (TRACES, ("paste", "may contain")),
        (replace(PASTE, articles=(Article("Mill", "M-1", frozenset({"milk", "eggs"})),)),
         ("paste", "articles", "Mill M-1", "contains")),
        (replace(PASTE, articles=(Article("Mill", "M-1", None, frozenset({"eggs"})),)),
         ("paste", "articles", "Mill M-1", "may contain")),
    ],
)  # fmt: skip
def test_the_cause_is_the_very_key(item: StoresItem, anchor: tuple[str, ...]) -> None:
    (found,) = problems(kitchen(), kitchen(item))
    assert found.anchor.path == anchor


def test_what_is_gone_is_said_at_the_formula() -> None:
    (found,) = problems(kitchen(NUTTY), kitchen())
    assert found.anchor == Anchor("moulded/pebble.md", ("formula",))
    assert found.message.endswith("still named: hazelnuts, contained no longer")


def test_what_an_ingredient_names_no_more_is_said_at_that_ingredient() -> None:
    was = issued(kitchen(NUTTY), declared="cream, paste (HAZELNUTS, sugar)")
    now = label(kitchen(), declared="cream, paste (sugar)")
    book = replace(kitchen(), register=Register(labels=(was,)))
    (found,) = label_problems(alarms_of(now, was), book)
    assert found.message.endswith("still named: hazelnuts, contained no longer")
    assert found.anchor == Anchor("stores/nuts.yaml", ("paste", "contains"))


def test_one_cause_is_said_once_with_all_its_products() -> None:
    now = make.house(anchor=Anchor("house.yaml"), cross_contact_allergens=frozenset({"sesame"}))
    (found,) = problems(kitchen(), kitchen(house=now))
    assert found.anchor == Anchor("house.yaml", ("cross contact allergens",))
    assert found.message == (
        "the labels of 'Pebble' and 'Slice' (issued on 2026-10-02) do not hold any more: "
        "not named: sesame, perhaps contained now"
    )
    assert found.fix == (
        'if that is right, issue these labels again: bookmaker issue labels "Pebble" "Slice"; '
        "until then their sheets are withheld"
    )


def test_another_supplier_or_another_ingredient_is_one_cause_each() -> None:
    oil = make.item("oil", contains=frozenset({"peanuts"}), anchor=Anchor("stores/oil.yaml", ("oil",)))
    before, now = kitchen(oil), kitchen(NUTTY, oil, slice_of=("flour", "oil"))
    heard = [(each.anchor.document, each.message.partition(" any more: ")[2]) for each in problems(before, now)]
    assert heard == [
        ("stores/nuts.yaml", "not named: hazelnuts, contained now"),
        ("stores/oil.yaml", "not named: peanuts, contained now"),
    ]


def heard_of_text(before: Mapping[str, Any], now: Mapping[str, Any]) -> Problem:
    book = kitchen(replace(PASTE, made_of=(MadeOf("sugar"),)))
    was = issued(book, **before)
    alarms = alarms_of(label(book, **now), was)
    assert not withheld(label(book, **now), was)
    (found,) = label_problems(alarms, replace(book, register=Register(labels=(was,))))
    assert found.code == "label-changed"
    assert not found.is_error
    return found


def test_another_declaration_is_a_sheet_to_send_again() -> None:
    found = heard_of_text({"declared": "cream, paste 10 % (sugar)"}, {"declared": "cream, paste 12 % (sugar, salt)"})
    assert found.message == (
        "the sheet of 'Pebble' (issued on 2026-10-02) is to be sent again: "
        "paste goes from 10 % to 12 %; salt is new in paste"
    )
    assert found.anchor == Anchor("stores/nuts.yaml", ("paste", "made of"))


def test_other_nutrition_is_a_sheet_to_send_again() -> None:
    found = heard_of_text({"rows": {"fat": "12 g", "salt": "1 g"}}, {"rows": {"fat": "14 g", "salt": "1 g"}})
    assert found.message.endswith("is to be sent again: the nutrition table says fat 14 g instead of 12 g")
    assert found.anchor == Anchor("moulded/pebble.md", ("formula",))
    assert "has a nutrition table now" in heard_of_text({}, {"rows": {"fat": "14 g"}}).message
    assert "has no nutrition table any more" in heard_of_text({"rows": {"fat": "14 g"}}, {}).message
    found = heard_of_text({"rows": {"fat": "14 g", "salt": "1 g"}}, {"rows": {"fat": "14 g", "fibre": "2 g"}})
    assert found.message.endswith("says fibre 2 g for the first time, nothing instead of salt 1 g")
    found = heard_of_text({"rows": {"fat": "14 g", "salt": "1 g"}}, {"rows": {"salt": "1 g", "fat": "14 g"}})
    assert found.message.endswith("the nutrition table has another order")


def test_another_legal_name_or_note_is_a_sheet_to_send_again() -> None:
    book = kitchen()
    was = issued(book)
    now = replace(label(book), name="Chocolate dessert", notes=("Defrosted.",))
    assert [alarm.text for alarm in alarms_of(now, was)] == [
        "it is sold as 'Chocolate dessert' instead of 'Pebble'",
        "beside the name stands 'Defrosted' instead of nothing",
    ]
    assert not withheld(now, was)


def test_another_quantity_beside_the_name_is_a_sheet_to_send_again() -> None:
    """A group's share stands nowhere in the list; one within the list is the declaration's."""
    first = replace(label(kitchen()), quantities=(Quantity("seeds", Decimal("0.11"), "11 %", False),))
    was = issued_label(first, kitchen().recipes[PEBBLE], DAY, "chef")
    now = replace(first, quantities=(Quantity("seeds", Decimal("0.13"), "13 %", False),), notes=("Defrosted.",))
    assert [alarm.text for alarm in alarms_of(now, was)] == [
        "beside the name stands 'seeds 13 %. Defrosted' instead of 'seeds 11 %'"
    ]
    within = replace(first, quantities=(*first.quantities, Quantity("flour", Decimal("0.2"), "20 %", True)))
    assert alarms_of(within, was) == ()


def test_all_that_is_new_in_a_product_is_one_sheet() -> None:
    found = heard_of_text(
        {"declared": "cream, flour", "rows": {"fat": "1 g"}}, {"declared": "flour, cream", "rows": {"fat": "2 g"}}
    )
    assert found.message.endswith("flour stands in another place; the nutrition table says fat 2 g instead of 1 g")
    assert found.anchor == Anchor("stores/dry.yaml", ("flour", KEY))


def test_of_a_sheet_that_is_withheld_only_the_allergens_are_said() -> None:
    was, now = issued(kitchen()), label(kitchen(NUTTY), declared="flour, cream")
    alarms = alarms_of(now, was)
    assert {alarm.what for alarm in alarms} == {Alarmed.CONTAINS, Alarmed.TEXT}
    heard = label_problems(alarms, replace(kitchen(NUTTY), register=Register(labels=(was,))))
    assert [each.code for each in heard] == ["label-allergens"]


def test_only_approved_products_are_released() -> None:
    recipe = kitchen().recipes[PEBBLE]
    assert is_released(recipe)
    assert not is_released(replace(recipe, kind=Kind.COMPONENT))
    for status in (Status.DRAFT, Status.TRIAL, Status.RETIRED):
        assert not is_released(replace(recipe, status=status))

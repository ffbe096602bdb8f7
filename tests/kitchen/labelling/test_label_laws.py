"""What holds for the label of any book."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.label import label_of
from bookmaker.kitchen.label_figures import Ingredient, LabelFigure, every
from bookmaker.kitchen.labelling.mix import Mixes
from bookmaker.kitchen.labelling.wording import said
from bookmaker.measures.exact import exactly
from bookmaker.model.book import Book
from bookmaker.model.house import Compounds, LabelRules, Region
from bookmaker.model.line import Grams, Line
from bookmaker.model.recipe import Recipe
from tests.kitchen.labelling.labels import ON, label
from tests.support import make
from tests.support.strategies import books

ALLERGENS = {"plain flour": "wheat", "butter": "milk", "milk": "milk", "egg": "eggs"}
HAIR = Decimal("1e-18")
FEW = settings(max_examples=40)

compounds = st.sampled_from(Compounds)
regions = st.sampled_from(Region)


def labelled(book: Book, how: Compounds = Compounds.MERGED, region: Region = Region.EU) -> Book:
    """The book with allergens, nutrition, and a house that labels in this way."""
    stores = {
        name: make.item(
            name,
            contains=frozenset({ALLERGENS[name]} if name in ALLERGENS else ()),
            fat=str(at * 7),
            sugars=str(at * 5),
            protein="2",
            salt="0.5",
        )
        for at, name in enumerate(book.stores)
    }
    house = replace(book.house, region=region, labels=LabelRules(compounds=how))
    return replace(book, stores=stores, house=house)


def with_last(book: Book, recipe: Recipe) -> Book:
    return replace(book, recipes={**book.recipes, recipe.ref: recipe})


def last(book: Book) -> Recipe:
    return list(book.recipes.values())[-1]


def says(found: LabelFigure) -> tuple[object, ...]:
    """All that a label prints."""
    printed = [(row.key, row.per_100, row.reference) for row in found.nutrition.rows]
    return found.declaration.plain(), found.quantities, printed, found.diets.keys()


def same_to_a_hair(one: tuple[Ingredient, ...], other: tuple[Ingredient, ...]) -> bool:
    pairs = list(zip(every(one), every(other), strict=True))
    return all(a.name == b.name and abs(a.share - b.share) < HAIR for a, b in pairs)


@FEW
@given(books(), compounds)
def test_the_order_of_lines_changes_nothing(book: Book, how: Compounds) -> None:
    book = labelled(book, how)
    recipe = last(book)
    turned = replace(recipe, stages=tuple(replace(stage, lines=stage.lines[::-1]) for stage in recipe.stages))
    before, after = label(book), label(with_last(book, turned))
    assert before.declaration.plain() == after.declaration.plain()
    assert same_to_a_hair(before.declaration.ingredients, after.declaration.ingredients)
    assert says(before) == says(after)


@FEW
@given(books(), compounds)
def test_a_line_in_two_halves_is_the_line(book: Book, how: Compounds) -> None:
    book = labelled(book, how)
    recipe = last(book)
    halved = replace(recipe, stages=tuple(replace(stage, lines=tuple(_halves(stage.lines))) for stage in recipe.stages))
    before, after = label(book), label(with_last(book, halved))
    assert same_to_a_hair(before.declaration.ingredients, after.declaration.ingredients)
    assert before.declaration.plain() == after.declaration.plain()


def _halves(lines: tuple[Line, ...]) -> Iterator[Line]:
    for line in lines:
        if isinstance(line.quantity, Grams) and line.working is None:
            half = Grams(line.quantity.grams / 2)
            yield replace(line, quantity=half)
            yield replace(line, id=f"{line.id} again", quantity=half)
        else:
            yield line


@FEW
@given(st.lists(st.integers(1, 500), min_size=2, max_size=5), st.integers(2, 40), compounds, regions)
def test_a_larger_batch_has_the_same_label(grams: list[int], times: int, how: Compounds, region: Region) -> None:
    def cake(by: int) -> Book:
        names = ("plain flour", "butter", "sugar", "milk", "egg")
        lines = [make.line(weight * by, name) for weight, name in zip(grams, names, strict=False)]
        return labelled(make.book(make.recipe("cake", lines, 1, lose={"bake": "0.1"})), how, region)

    assert says(label(cake(1))) == says(label(cake(times)))


@FEW
@given(books(), compounds, st.sampled_from(["trim", "portion", "break"]), st.decimals("0.01", "0.9", places=2))
def test_waste_changes_nothing(book: Book, how: Compounds, word: str, share: Decimal) -> None:
    book = labelled(book, how)
    recipe = last(book)
    if recipe.cut is not None or recipe.keep_back or recipe.gives or any(loss.name == word for loss in recipe.losses):
        return
    wasted = replace(recipe, losses=(*recipe.losses, *make.losses(**{word: share})))
    seeded = any(line.target == recipe.ref for line in recipe.lines)
    if not seeded:  # of a smaller batch the same seed is a larger part
        assert label(book).declaration.plain() == label(with_last(book, wasted)).declaration.plain()


@FEW
@given(books())
def test_the_mix_holds_just_what_the_flow_says(book: Book) -> None:
    """Down all levels the shares of each stores item come to its content in the mass flow."""
    figures = compute(book, ON)
    with exactly():
        mixes = Mixes(book, figures)
        for ref, found in figures.recipes.items():
            sums = dict.fromkeys(found.flow.content, Decimal(0))
            for _, item, share in mixes.walk(ref):
                if found.flow.content:
                    sums[item] += share
            assert all(abs(sums[item] - found.flow.content[item]) < HAIR for item in sums)


@FEW
@given(books(), compounds, regions)
def test_shares_come_to_the_whole_and_what_the_water_took(book: Book, how: Compounds, region: Region) -> None:
    """Without added water the entries of a list come to the product and the moisture that each gram of it lost."""
    book = labelled(book, how, region)
    figures = compute(book, ON)
    recipe = last(book)
    found = label_of(recipe.ref, book, figures)
    entries = found.declaration.ingredients
    assert descend(entries)
    if all(not line.seed for line in figures.recipes[recipe.ref].flow.lines):
        assert sum(each.share for each in entries) >= 1 - HAIR
    for each in every(entries):
        if each.parts:
            assert sum(part.share for part in each.parts) >= each.share - HAIR


def descend(entries: tuple[Ingredient, ...]) -> bool:
    """Whether shares descend but for the dust of divisions."""
    return all(one.share > other.share - HAIR for one, other in pairwise(entries))


@FEW
@given(books(), compounds)
def test_every_allergen_contained_is_set_apart_in_the_list(book: Book, how: Compounds) -> None:
    book = labelled(book, how)
    found = label(book)
    shown = {phrase.text.casefold() for phrase in found.declaration.text if phrase.allergen}
    assert {said(name, Region.EU) for name in found.allergens.contains} == shown


@FEW
@given(st.lists(st.integers(1, 999), min_size=1, max_size=6), st.integers(0, 200))
def test_small_entries_are_counted_by_fractions(grams: list[int], lost: int) -> None:
    """Below 2 % by exact fractions, whatever the decimals do."""
    into = sum(grams)
    out = into - min(lost, into // 2)
    lines = [make.line(weight, f"item {at}") for at, weight in enumerate(grams)]
    cake = make.recipe("cake", lines, out, lose={"bake": 1 - Decimal(out) / into} if out < into else {"mix": "0.01"})
    expected = sum(Fraction(weight, out) < Fraction(2, 100) for weight in grams)
    assert label(make.book(cake)).declaration.small == expected

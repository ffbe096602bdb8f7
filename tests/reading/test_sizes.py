"""Sizes: the whole recipe again, with what differs."""

from decimal import Decimal

from bookmaker.measures.amounts import Amount
from bookmaker.measures.durations import Span
from bookmaker.model.line import Loss, Rest
from bookmaker.model.written.recipe import WrittenRecipe
from bookmaker.model.yields import PieceYield
from bookmaker.reading.recipe import written_recipe

D = Decimal

TART = """\
---
title: Custard tart
yields: 4 tarts
formula:
  Shell:
    - 1040 g tart dough
  Filling:
    - {line: 2 kg custard, warm, stays: 90 %, rest: air}
    - 3 leaves gelatine
losses: {Shell: {trim: 3 %}, whole: {bake: 12 %}}
price: {tea room: 29.00 EUR incl, hotel: 18.50 EUR net}
packaging: [1 cake box per 1 tart]
servings: 8
sizes:
  24 cm: {code: QB-31}
  8 cm:
    yields: 24 tarts of 86 g
    servings: 1
    code: QB-32
    formula: [864 g tart dough, 1200 g custard, 2 leaves gelatine]
    losses: {whole: {bake: 15 %}}
    steps: {bake: {takes: 22 min}, 1: {each: 20 s per tart}}
    price: {tea room: 4.40 EUR incl}
---
1. Line. {each="2 min per tart"}
2. Bake. {name="bake" takes="40 min" at="180 °C"}
""".replace("2 kg custard, warm", '"2 kg custard, warm"')


def _sizes() -> tuple[WrittenRecipe, WrittenRecipe]:
    read = written_recipe("tarts/custard-tart.md", TART)
    assert read.problems == ()
    assert read.recipe
    large, small = read.recipe.sizes
    return large, small


def _grams(recipe: WrittenRecipe) -> list[object]:
    return [line.said.quantity for line in recipe.lines]


def test_a_size_without_overrides_is_the_recipe() -> None:
    large, _ = _sizes()
    assert (large.size, large.yields) == ("24 cm", PieceYield(D(4), "tarts"))
    assert large.code
    assert large.code.text == "QB-31"
    assert large.losses == (Loss("bake", D("0.12")),)
    assert [size.servings for size in _sizes()] == [8, 1]


def test_a_size_changes_the_amounts_of_lines_and_keeps_what_else_they_say() -> None:
    _, small = _sizes()
    amounts = [quantity.number for quantity in _grams(small) if isinstance(quantity, Amount)]
    assert amounts == [D(864), D(1200), D(2)]
    custard = small.stages[1].lines[0]
    assert (custard.stays, custard.rest, custard.said.preparation) == (D("0.9"), Rest.AIR, "warm")
    assert custard.anchor.path == ("sizes", "8 cm", "formula", 1)


def test_a_size_changes_losses_steps_and_prices_by_name() -> None:
    _, small = _sizes()
    assert small.losses == (Loss("bake", D("0.15")),)
    assert small.stages[0].losses == (Loss("trim", D("0.03")),)
    line, bake = small.method.steps
    assert line.each
    assert line.each.minutes.quantize(D("0.001")) == D("0.333")
    assert (bake.takes, bake.at and bake.at.text) == (Span(D(22), D(22)), "180 °C")
    assert [(price.channel.text, price.money.amount) for price in small.prices] == [
        ("hotel", D("18.50")),
        ("tea room", D("4.40")),
    ]
    assert len(small.packaging) == 1


def test_a_line_that_stands_twice_needs_its_stage() -> None:
    twice = TART.replace("  Filling:", "    - 20 g custard\n  Filling:")
    assert [found.code for found in written_recipe("t.md", twice).problems] == ["size-names-several"]
    staged = twice.replace(
        "[864 g tart dough, 1200 g custard, 2 leaves gelatine]", "{Filling: [1200 g custard, 2 leaves gelatine]}"
    )
    assert written_recipe("t.md", staged).problems == ()

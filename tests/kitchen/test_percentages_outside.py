"""Baker's percentages against printed formulas (tests/reference/percentages.yaml names each source)."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from bookmaker.kitchen.figures import MassFlow, TotalFormula
from bookmaker.kitchen.flow import flow_of
from bookmaker.kitchen.total_formula import total_formula_of
from bookmaker.measures.amounts import skip_space, take_amount
from bookmaker.measures.exact import exactly
from bookmaker.measures.units import Spoons
from bookmaker.model.line import Line
from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.refs import RecipeRef, StoresRef
from tests.support import make
from tests.support.reference import cases

CASES = cases("percentages")


def grams(text: str) -> Decimal:
    """Grams of `5 lb 4 oz`, `1 3/4 oz`."""
    at, found = 0, Decimal(0)
    with exactly():
        while at < len(text):
            taken = take_amount(text, at)
            assert taken is not None, text
            found += taken.amount.in_base(Spoons.US)
            at = skip_space(text, taken.end)
    return found


def weighed(amounts: Mapping[str, str], unit: str) -> dict[str, Decimal]:
    return {name: grams(f"{amount} {unit}") for name, amount in amounts.items()}


def flow(lines: list[Line], flours: set[str], **more: Any) -> MassFlow:
    recipe = make.recipe("dough", lines, more.pop("yields", 1), base=make.FLOUR, lose={"mix": 0}, **more)
    items = {line.name for line in lines}
    book = make.book(recipe, stores=[make.item(name, flour=name in flours) for name in items])
    with exactly():
        return flow_of(recipe, book, {})


def percents(weights: Mapping[str, Decimal], flours: set[str]) -> dict[str, Decimal]:
    """Our percents of a formula given in weights."""
    found = flow([make.line(amount, name) for name, amount in weights.items()], flours)
    return {line.line: line.percent for line in found.lines if line.percent is not None}


def weights(shares: Mapping[str, str], batch: Decimal, flours: set[str]) -> dict[str, Decimal]:
    """Our weights of a formula given in percent."""
    lines = [make.percent(share, name) for name, share in shares.items() if Decimal(share)]
    found = flow(lines, flours, batch=batch)
    return {line.line: line.bowl for line in found.lines if line.bowl is not None}


@dataclass(frozen=True)
class Weighed:
    """A case whose weights are given and whose percents are printed, each within its tolerance."""

    name: str
    weights: Callable[[dict[str, Any]], dict[str, Decimal]]
    flours: tuple[str, ...]
    printed: Callable[[dict[str, Any]], Mapping[str, str]]
    within: float


def _in(unit: str, key: str = "") -> Callable[[dict[str, Any]], dict[str, Decimal]]:
    return lambda given: weighed(given[key or f"weights_{unit}"], unit)


def _plus_water(found: dict[str, Decimal], water: Decimal) -> dict[str, Decimal]:
    return {**found, "water": water}


# Pounds in a US quart of water, as the cases reckon
QUART = Decimal("2.086")

WEIGHED = [
    Weighed(
        "bp-straight-weight-to-percent",
        lambda given: {"flour": grams(f"{given['flour_lb']} lb"), "water": grams(f"{given['water_lb']} lb")},
        ("flour",),
        lambda expect: {"water": expect["water_pct"]},
        0.01,
    ),
    Weighed(
        "bp-lean-dough-mixed-units",
        lambda given: {"flour" if name == "ap_flour" else name: grams(text) for name, text in given.items()},
        ("flour",),
        lambda expect: expect["pct"],
        0.05,
    ),
    Weighed(
        "bp-afrs-whole-wheat-bread",
        lambda given: weighed(
            {key: amount for key, amount in given["weights_oz"].items() if not key.endswith("_water")}
            | {"water": str(sum(Decimal(given["weights_oz"][key]) for key in ("warm_water", "cold_water")))},
            "oz",
        ),
        ("whole_wheat_flour", "wheat_base"),
        lambda expect: {"water": expect["water_pct"], "salt": expect["salt_pct"]},
        0.05,
    ),
    Weighed(
        "bp-usda-yeast-rolls-by-weight",
        lambda given: {name: grams(given[name]) for name in ("flour", "nonfat_dry_milk", "sugar")},
        ("flour",),
        lambda expect: {"nonfat_dry_milk": expect["nonfat_dry_milk_pct"], "sugar": expect["sugar_pct"]},
        0.1,
    ),
    Weighed("bp-muffin-cake-method", _in("oz"), ("ap_flour",), lambda expect: expect["pct"], 0.02),
    Weighed("bp-two-flours-burger-bun", _in("g"), ("bread_flour", "whole_wheat"), lambda expect: expect["pct"], 0.05),
    Weighed("bp-water-flour-butter", _in("oz"), ("flour",), lambda expect: expect["pct"], 1e-9),
    Weighed(
        "bp-army-pie-crust",
        lambda given: (
            {name: grams(given[name]) for name in ("flour", "fat", "salt")}
            # a quarter of a US pint of water at 1 g/ml
            | {"water": grams("1/4 pint")}
        ),
        ("flour",),
        lambda expect: expect["pct"],
        0.2,
    ),
    Weighed(
        "bp-usda-b04-biscuits",
        # water at 1 g/ml
        lambda given: _plus_water(weighed(given["oz"], "oz"), grams(f"{given['water_cups']} cups")),
        ("flour",),
        lambda expect: expect["pct"],
        0.3,
    ),
    *(
        Weighed(
            name,
            lambda given: _plus_water(weighed(given["lb"], "lb"), grams(f"{Decimal(given['water_qt']) * QUART} lb")),
            ("flour",),
            lambda expect: expect["pct"],
            0.5,
        )
        for name in ("bp-treatise-home-made-bread", "bp-treatise-milk-bread-2")
    ),
]


@pytest.mark.parametrize("weighed_case", WEIGHED, ids=lambda each: each.name)
def test_weights_to_percents(weighed_case: Weighed) -> None:
    case = CASES[weighed_case.name]
    found = percents(weighed_case.weights(case["given"]), set(weighed_case.flours))
    printed = weighed_case.printed(case["expect"])
    assert printed
    for name, value in printed.items():
        assert float(found[name]) == pytest.approx(float(value), abs=weighed_case.within), name


POUNDS = {"salt": "salt_lb", "sugar": "sugar_lb", "water": "water_lb"}
GRAMS = {name: f"{name}_g" for name in ("flour", "water", "shortening", "milk_solids", "eggs", "sugar", "salt")}


@pytest.mark.parametrize(
    ("name", "batch", "unit", "printed", "within"),
    [
        ("bp-straight-percent-to-weight", "64.85 lb", "lb", POUNDS, 1e-3),
        ("bp-pound-cake-row", "1930 g", "g", GRAMS, 0.5),
        ("bp-textbook-cake-6lb", "96 oz", "oz", {"cake_flour": "flour_oz_exact"}, 5e-3),
        ("bp-textbook-cake-6lb", "3000 g", "g", {"cake_flour": "flour_g_exact"}, 0.05),
    ],
)
def test_percents_to_weights(name: str, batch: str, unit: str, printed: dict[str, str], within: float) -> None:
    case = CASES[name]
    found = weights(case["given"]["pct"], grams(batch), {"flour", "cake_flour"})
    for line, key in printed.items():
        assert float(found[line] / grams(f"1 {unit}")) == pytest.approx(float(case["expect"][key]), abs=within), line


def test_a_stiff_levain_of_60_percent() -> None:
    case = CASES["bp-stiff-levain-60-hydration"]
    shares = {"flour": "100", "water": case["given"]["levain_hydration_pct"]}
    found = weights(shares, Decimal(case["given"]["levain_g"]), {"flour"})
    assert found == {name: Decimal(case["expect"][f"{name}_g"]) for name in ("flour", "water")}


def test_dough_weight_to_flour() -> None:
    case = CASES["bp-textbook-dough-weight-to-flour"]
    rest = str(Decimal(case["given"]["total_pct"]) - 100)
    found = weights({"flour": "100", "all else": rest}, grams("8 lb"), {"flour"})
    assert float(found["flour"] / grams("1 oz")) == pytest.approx(float(case["expect"]["flour_oz"]), abs=0.01)


def test_half_of_one_pound_eight() -> None:
    case = CASES["bp-textbook-half-of-1lb8oz"]
    found = flow(
        [make.line(grams(case["given"]["weight"]), "flour"), make.percent(case["given"]["pct"], "butter")], {"flour"}
    )
    assert found.lines[1].bowl == grams(f"{case['expect']['oz']} oz")


@pytest.mark.parametrize("name", ["bp-straight-total-percent", "bp-textbook-cake-377-5-total"])
def test_total_percent(name: str) -> None:
    case = CASES[name]
    found = flow(
        [make.percent(share, line) for line, share in case["given"]["pct"].items()], {"flour", "cake_flour"}, batch=1000
    )
    assert sum(line.percent or Decimal(0) for line in found.lines) == Decimal(case["expect"]["total_pct"])


# --- preferments ---


def preferment(name: str, amounts: Mapping[str, Decimal]) -> Recipe:
    lines = [make.line(amount, item) for item, amount in amounts.items()]
    return make.recipe(name, lines, sum(amounts.values(), Decimal(0)), kind=Kind.PREFERMENT, base=make.FLOUR)


def total(first: Recipe, dough: Recipe) -> tuple[TotalFormula, MassFlow]:
    book = make.book(
        first, dough, stores=[make.item("flour", flour=True), make.item("water", water=1), make.item("salt", salt=100)]
    )
    flows: dict[RecipeRef, MassFlow] = {}
    with exactly():
        for recipe in (first, dough):
            flows[recipe.ref] = flow_of(recipe, book, flows)
        found = total_formula_of(dough, flows[dough.ref], book, flows)
    assert found is not None
    return found, flows[dough.ref]


def unfolded(first: Mapping[str, Decimal], final: Mapping[str, Decimal], used: Decimal) -> dict[str, Decimal]:
    """Percents of all flour by our total formula, with `used` grams of the preferment in the final dough."""
    one = preferment("preferment", first)
    lines = [make.line(amount, item) for item, amount in final.items()]
    dough = make.recipe("dough", [*lines, make.line(used, one.ref)], 1, lose={"mix": 0}, base=make.FLOUR)
    found, _ = total(one, dough)
    by_item = {line.item.id: line.percent for line in found.lines if isinstance(line.item, StoresRef)}
    return by_item | {
        "prefermented flour": found.prefermented_flour,
        "hydration": found.hydration,
        "all flour": found.flour,
    }


def numbers(values: Mapping[str, str], *without: str) -> dict[str, Decimal]:
    return {name.removesuffix("_g"): Decimal(value) for name, value in values.items() if name not in without}


def test_a_poolish_counts_as_a_line_of_the_final_dough() -> None:
    case = CASES["bp-poolish-baguette-final-dough"]
    given = numbers(case["given"])
    one = preferment("poolish", {"flour": Decimal(468), "water": Decimal(468)})
    lines = [make.line(given[name], name) for name in ("flour", "water", "instant_yeast", "salt")]
    dough = make.recipe("dough", [*lines, make.line(given["poolish"], one.ref)], 1, lose={"mix": 0}, base=make.FLOUR)
    _, found = total(one, dough)
    percent = {line.line: float(line.percent or 0) for line in found.lines}
    assert percent == pytest.approx(
        {k: float(v) for k, v in case["expect"]["percent_of_final_dough_flour"].items()}, abs=0.05
    )
    assert sum(percent.values()) == pytest.approx(float(case["expect"]["total_percent"]), abs=0.05)
    assert found.into == Decimal(case["expect"]["total_g"])


def test_a_poolish_unfolds_into_the_overall_formula() -> None:
    case = CASES["bp-bakemag-poolish-overall"]
    first = numbers(case["given"]["poolish_kg"])
    final = numbers(case["given"]["final_dough_kg"], "poolish")
    found = unfolded(first, final, Decimal(case["given"]["final_dough_kg"]["poolish"]))
    for name, value in case["expect"]["overall_pct"].items():
        assert float(found[name]) == pytest.approx(float(value), abs=0.05), name
    assert float(found["prefermented flour"]) == pytest.approx(
        float(case["expect"]["prefermented_flour_pct"]), abs=0.05
    )
    assert float(found["all flour"]) == pytest.approx(float(case["expect"]["overall_kg"]["flour"]), abs=0.0005)


@pytest.mark.parametrize(
    ("name", "first", "final", "percents_key"),
    [
        ("bp-bakemag-poolish-build-from-overall", "poolish_kg", "final_dough_kg", "overall_pct"),
        ("bp-guild-layout-poolish-from-total", "poolish", "final_dough", "total_formula_pct"),
    ],
)
def test_builds_worked_out_from_a_total_formula_unfold_into_it_again(
    name: str, first: str, final: str, percents_key: str
) -> None:
    case = CASES[name]
    poolish = numbers(case["expect"][first])
    found = unfolded(poolish, numbers(case["expect"][final], "poolish"), sum(poolish.values(), Decimal(0)))
    for item, value in case["given"][percents_key].items():
        assert float(found[item]) == pytest.approx(float(value), abs=0.05), item
    share = case["given"]["prefermented_flour_pct"]
    assert float(found["prefermented flour"]) == pytest.approx(float(share), abs=0.05)


def test_a_biga_of_which_a_little_stays_in_the_bowl() -> None:
    """The printed example contradicts itself; what is checked is the arithmetic on its weights."""
    case = CASES["bp-biga-subtracted-flour"]
    final = numbers(case["given"]["final_dough_g"], "biga")
    found = unfolded(numbers(case["given"]["biga_g"], "total"), final, Decimal(case["given"]["final_dough_g"]["biga"]))
    assert float(found["all flour"]) == pytest.approx(float(case["expect"]["total_flour_g"]), abs=1)
    assert float(found["hydration"]) == pytest.approx(float(case["expect"]["hydration_pct"]), abs=0.3)


def test_every_case_is_used() -> None:
    """A case that nobody checks is no check."""
    source = Path(__file__).read_text(encoding="utf-8")
    assert not [name for name in CASES if f'"{name}"' not in source]

"""What public guidance asks of a standardised recipe."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from bookmaker.kitchen.completeness import expected
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.elements import Element
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.line import Unmeasured
from bookmaker.model.method import Limit, Reading
from bookmaker.model.recipe import Kind, Portion, Recipe, Status
from tests.support import make

FULL = make.step(
    1,
    work=Decimal(5),
    on="hob",
    to=Reading("core 75 °C", (Temperature(Decimal(75)),)),
    limit=Limit("core 75 °C", "discard", "2"),
)


def elements(recipe: Recipe) -> dict[str, Element]:
    figures = compute(make.book(recipe), date(2026, 11, 1)).recipes[recipe.ref]
    return {element.name: element for element in figures.completeness}


def custard(*steps: Any, lines: Any = None, **more: Any) -> Recipe:
    about = {"kind": Kind.PRODUCT, "code": "QC-01", "section": "creams"} | more
    return make.recipe(
        "custard", lines or [make.line(100, "milk")], about.pop("yields", 100), method=make.method(*steps), **about
    )


def missing(recipe: Recipe) -> list[str]:
    return [name for name, element in elements(recipe).items() if not element.present]


def test_a_complete_recipe_lacks_nothing() -> None:
    found = elements(custard(FULL, portion=Portion(grams=Decimal(50))))
    assert [name for name in found if not found[name].present] == []
    assert list(found) == [
        "title",
        "category",
        "number",
        "ingredients",
        "weights",
        "directions",
        "times",
        "temperatures",
        "yield",
        "portion size",
        "equipment",
        "critical limits",
    ]
    assert all(not element.advice for element in found.values())


@pytest.mark.parametrize(
    ("recipe", "lacks"),
    [
        (custard(FULL, code=""), ["number", "portion size"]),
        (custard(FULL, section=""), ["category", "portion size"]),
        (
            custard(
                FULL, yields=make.pieces(4), lines=[make.line(Unmeasured("to taste"), "salt"), make.line(1, "milk")]
            ),
            ["weights"],
        ),
        (custard(FULL, make.step(2, on="bench"), yields=make.pieces(4)), ["times"]),
        (
            custard(make.step(1, work=Decimal(5)), yields=make.pieces(4)),
            ["temperatures", "equipment", "critical limits"],
        ),
        (
            custard(yields=make.pieces(4)),
            ["directions", "times", "temperatures", "equipment", "critical limits"],
        ),
    ],
    ids=["number", "category", "weight", "time", "bare step", "no method"],
)
def test_what_is_missing_is_named(recipe: Recipe, lacks: list[str]) -> None:
    assert missing(recipe) == lacks


def test_a_batch_that_comes_to_nothing_has_no_yield() -> None:
    found = elements(custard(FULL, keep_back=200))
    assert not found["yield"].present


def test_every_missing_element_comes_with_advice() -> None:
    found = elements(make.recipe("x", [make.line(1, "milk")], 1, kind=Kind.PRODUCT))
    assert all(element.advice for element in found.values() if not element.present)


def test_advice_names_the_lines_and_steps_that_it_is_about() -> None:
    found = elements(
        custard(FULL, make.step(2), lines=[make.line(1, "milk"), make.line(Unmeasured("to taste"), "salt")])
    )
    assert "salt" in found["weights"].advice
    assert found["times"].advice.endswith("step 2")


def test_a_portion_is_asked_of_products_and_a_limit_of_food() -> None:
    assert "portion size" not in elements(custard(FULL, kind=Kind.COMPONENT))
    assert "critical limits" not in elements(custard(FULL, kind=Kind.MOULDING))


def test_expectations_rise_with_the_status() -> None:
    found = elements(custard(FULL)).values()
    counts = [
        sum(expected(status, element) for element in found) for status in (Status.DRAFT, Status.TRIAL, Status.APPROVED)
    ]
    assert counts == [0, 5, 12]

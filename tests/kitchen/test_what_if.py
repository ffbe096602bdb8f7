"""The effect of changed prices on every product."""

from datetime import date
from decimal import Decimal

import pytest

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.what_if import ByAmount, ByShare, Change, what_if
from bookmaker.model.recipe import Kind, Status
from tests.support import make

BASE = make.recipe("base", [make.line(1000, "butter")], 1000)
BOOK = make.book(
    BASE,
    make.recipe("tart", [make.line(500, BASE.ref), make.line(500, "flour")], make.pieces(10), kind=Kind.PRODUCT),
    make.recipe("roll", [make.line(1000, "flour")], make.pieces(10), kind=Kind.PRODUCT),
    make.recipe("old", [make.line(1000, "butter")], make.pieces(10), kind=Kind.PRODUCT, status=Status.RETIRED),
    prices=[
        make.price("butter", "10 kg", 100, supplier="Lowfield Dairy"),
        make.price("butter", "1 kg", 11, supplier="Orchard Gate"),
        make.price("flour", "1 kg", 1),
    ],
)
FIGURES = compute(BOOK, date(2026, 11, 1))


def effects(**changes: Change) -> dict[str, tuple[Decimal | None, Decimal | None]]:
    found = what_if(BOOK, FIGURES, changes)
    return {effect.recipe.id: (effect.before.batch.value, effect.after.batch.value) for effect in found}


def test_a_fall_reaches_every_product_through_its_components() -> None:
    assert effects(butter=ByShare(Decimal("-0.2"))) == {
        "tart": (Decimal("5.5"), Decimal("4.5")),
        "roll": (Decimal(1), Decimal(1)),
    }


def test_an_amount_is_per_pack() -> None:
    assert effects(flour=ByAmount(Decimal("0.5")))["roll"] == (Decimal(1), Decimal("1.5"))


def test_a_rise_may_send_the_house_to_another_supplier() -> None:
    """2.00 more on each pack is 0.20 a kilogram at Lowfield Dairy and 2.00 at Orchard Gate."""
    assert effects(butter=ByAmount(Decimal(2)))["tart"][1] == Decimal("5.6")


def test_no_change_changes_nothing() -> None:
    assert all(effect.before == effect.after for effect in what_if(BOOK, FIGURES, {}))


def test_several_changes_add_up() -> None:
    assert effects(butter=ByShare(Decimal("-0.2")), flour=ByShare(Decimal(1)))["tart"][1] == 5


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(KeyError, match="saffron"):
        effects(saffron=ByShare(Decimal("0.1")))
    with pytest.raises(ValueError, match="below zero"):
        effects(flour=ByAmount(Decimal(-2)))

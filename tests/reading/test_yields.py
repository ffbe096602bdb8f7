from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.measures.numbers import Unreadable
from bookmaker.model.recipe import Portion
from bookmaker.model.shapes import Disc, Rectangle
from bookmaker.model.yields import (
    BoilTo,
    CutSpec,
    FrameYield,
    MassYield,
    MouldYield,
    PieceYield,
    SheetYield,
    TinYield,
    TrayYield,
    Yield,
)
from bookmaker.reading.yields import read_cut, read_end_point, read_portion, read_yield
from tests.support.refusals import outcome

D = Decimal


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1.1 kg", MassYield(D(1100))),
        ("24 pieces", PieceYield(D(24), "pieces")),
        ("24 pieces of 46 g", PieceYield(D(24), "pieces", finished=D(46))),
        ("6 loaves scaled at 950 g", PieceYield(D(6), "loaves", scaled=D(950))),
        ("6 éclairs", PieceYield(D(6), "éclairs")),
        ("fills 4 pebble mould", MouldYield(D(4), "pebble mould")),
        ("fills 4 moulds of pebble mould", MouldYield(D(4), "pebble mould")),
        ("1 sheet of 60 × 40 cm at 4 mm", SheetYield(D(1), Rectangle(D(600), D(400)), D(4))),
        ("2 sheets of 60 x 40 cm", SheetYield(D(2), Rectangle(D(600), D(400)))),
        ("1 sheet of 600 mm × 40 cm", SheetYield(D(1), Rectangle(D(600), D(400)))),
        ("1 frame of bar frame", FrameYield(D(1), "bar frame")),
        ("2 tins of loaf tin 900", TinYield(D(2), "loaf tin 900")),
        ("3 trays", TrayYield(D(3))),
    ],
)
def test_forms_of_a_yield(text: str, expected: Yield) -> None:
    assert read_yield(text) == expected


@pytest.mark.parametrize(
    ("text", "at_fault", "hint"),
    [
        ("24 peices", "peices", "did you mean 'pieces'?"),
        ("24", "24", "write 24 pieces, or a weight"),
        ("2 l", "2 l", "weigh it once and write g or kg"),
        ("2 tins", "2 tins", "write it as 2 tins of loaf tin 900"),
        ("1 sheet", "1 sheet", "write it as 1 sheet of 60 × 40 cm at 4 mm"),
        ("24 pieces at 46 g", " at 46 g", "write 'of 46 g' for finished pieces, 'scaled at …' for raw ones"),
        ("24 pieces of 46", " 46", "did you mean 46 g?"),
        ("1 sheet of 60 × 40 mm at 5 cm", "5 cm", "check the unit"),
        ("12 t", "12 t", "check the number and its unit"),
    ],
)
def test_a_yield_is_refused_with_its_remedy(text: str, at_fault: str, hint: str) -> None:
    with pytest.raises(Unreadable) as refused:
        read_yield(text)
    assert text[refused.value.start : refused.value.end].strip() == at_fault.strip()
    assert refused.value.hint == hint


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("30 × 80 mm", CutSpec(Rectangle(D(30), D(80)))),
        ("3 × 8 cm, trim 5 mm", CutSpec(Rectangle(D(30), D(80)), D(5))),
        ("discs of 40 mm", CutSpec(Disc(D(40)), word="discs")),
        ("bars of 30 × 80 mm", CutSpec(Rectangle(D(30), D(80)), word="bars")),
    ],
)
def test_forms_of_a_cut(text: str, expected: CutSpec) -> None:
    assert read_cut(text) == expected


def test_a_cut_without_a_unit_is_asked_about() -> None:
    with pytest.raises(Unreadable) as refused:
        read_cut("30 × 80")
    assert refused.value.hint == "did you mean 30 × 80 mm?"


def test_end_points() -> None:
    assert read_end_point("65 °Brix") == BoilTo(brix=D("0.65"))
    assert read_end_point("1.2 kg") == BoilTo(grams=D(1200))
    with pytest.raises(Unreadable):
        read_end_point("118 °C")


def test_portions() -> None:
    assert read_portion("1 piece") == Portion(pieces=D(1))
    assert read_portion("120 g") == Portion(grams=D(120))


@given(
    st.text(max_size=40)
    | st.from_regex(r"(fills )?\d{1,3} ?(sheets?|pieces|tins|kg|loaves)? ?(of|at|scaled at)? ?[\d ×x]{0,8} ?(mm|cm|g)?")
)
def test_any_text_is_read_or_refused_within_itself(text: str) -> None:
    for grammar in (read_yield, read_cut, read_end_point, read_portion):
        refused = outcome(lambda grammar=grammar: grammar(text))  # type: ignore[misc]
        if isinstance(refused, Unreadable):
            assert 0 <= refused.start <= (len(text) if refused.end is None else refused.end) <= len(text)

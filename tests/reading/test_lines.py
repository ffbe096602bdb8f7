from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.measures.amounts import Amount
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.units import Dimension
from bookmaker.model.shapes import Disc, Rectangle
from bookmaker.model.written.line import LineText, Vague, WrittenCut
from bookmaker.reading.lines import read_line
from tests.support.refusals import outcome


def _weight(number: str, unit: str = "g") -> Amount:
    return Amount(Decimal(number), unit, Dimension.MASS)


_SHAPES = "write 'discs of 40 mm', 'squares of 40 mm', or two sides such as 30 × 80 mm"


def _count(number: str) -> Amount:
    return Amount(Decimal(number), "", Dimension.COUNT)


@pytest.mark.parametrize(
    ("text", "quantity", "name"),
    [
        ("480 g plain flour", _weight("480"), "plain flour"),
        ("480g plain flour", _weight("480"), "plain flour"),
        ("  480 g  plain flour ", _weight("480"), "plain flour"),
        ("500 gr. plain flour", _weight("500"), "plain flour"),
        ("500 g of plain flour", _weight("500"), "plain flour"),
        ("1½ kg plain flour", _weight("1.5", "kg"), "plain flour"),
        ("1 1/2 kg plain flour", _weight("1.5", "kg"), "plain flour"),
        ("½ l milk", Amount(Decimal("0.5"), "l", Dimension.VOLUME), "milk"),
        ("60 % water", Amount(Decimal(60), "%", Dimension.SHARE), "water"),
        ("2 vanilla pods", _count("2"), "vanilla pods"),
        ("3 leaves gelatine", _count("3"), "leaves gelatine"),
        ("1/2 batch pastry cream", _count("0.5"), "batch pastry cream"),
        ("1 sheet almond sablé", _count("1"), "sheet almond sablé"),
        ("2 xanthan sachets", _count("2"), "xanthan sachets"),
        ("24 discs of 40 mm almond sablé", WrittenCut(Decimal(24), "discs", Disc(Decimal(40))), "almond sablé"),
        ("12 rounds of 4 cm almond sablé", WrittenCut(Decimal(12), "rounds", Disc(Decimal(40))), "almond sablé"),
        (
            "12 pieces of 30 × 80 mm almond sablé",
            WrittenCut(Decimal(12), "pieces", Rectangle(Decimal(30), Decimal(80))),
            "almond sablé",
        ),
        (
            "6 squares of 4 cm almond sablé",
            WrittenCut(Decimal(6), "squares", Rectangle(Decimal(40), Decimal(40))),
            "almond sablé",
        ),
        (
            "3 × 24 discs of 40 mm almond sablé",
            WrittenCut(Decimal(72), "discs", Disc(Decimal(40))),
            "almond sablé",
        ),
        ("to taste fine salt", Vague("to taste"), "fine salt"),
        ("as needed icing sugar", Vague("as needed"), "icing sugar"),
    ],
)
def test_forms_of_a_line(text: str, quantity: object, name: str) -> None:
    said = read_line(text)
    assert (said.quantity, said.name) == (quantity, name)
    assert text[said.start : said.end] == name


@pytest.mark.parametrize(
    "text",
    ["24 × 42 g honey mousse", "24 x 42 g honey mousse", "24x42g honey mousse", "24 pieces of 42 g honey mousse"],
)
def test_times_are_kept_beside_the_amount_of_one(text: str) -> None:
    said = read_line(text)
    assert (said.times, said.quantity, said.name) == (Decimal(24), _weight("42"), "honey mousse")


def test_what_stands_behind_the_comma_is_preparation() -> None:
    said = read_line("340 g unsalted butter, 14 °C, diced")
    assert (said.name, said.preparation, said.as_bought) == ("unsalted butter", "14 °C, diced", False)


@pytest.mark.parametrize("text", ["1 kg apricot, halved, as bought", "1 kg apricot, as bought, halved"])
def test_as_bought_is_no_preparation(text: str) -> None:
    said = read_line(text)
    assert (said.name, said.preparation, said.as_bought) == ("apricot", "halved", True)


def test_as_bought_without_its_comma() -> None:
    said = read_line("1 kg apricot as bought")
    assert (said.name, said.as_bought) == ("apricot", True)


def test_as_needed_with_an_amount_is_weighed() -> None:
    said = read_line("as needed 20 g icing sugar")
    assert (said.quantity, said.as_needed, said.name) == (_weight("20"), True, "icing sugar")


@pytest.mark.parametrize(
    "text",
    [
        "about 520 g whole egg (480..560)",
        "520 g whole egg (480..560 g)",
        "480..560 g whole egg",
        "about 480 .. 560 g whole egg",
    ],
)
def test_a_range_has_a_middle_and_two_ends(text: str) -> None:
    said = read_line(text)
    assert (said.quantity, said.low, said.high) == (_weight("520"), Decimal(480), Decimal(560))
    assert said.name == "whole egg"


def test_preparation_may_follow_a_range() -> None:
    said = read_line("about 520 g whole egg (480..560), beaten")
    assert (said.name, said.preparation, said.low) == ("whole egg", "beaten", Decimal(480))


@pytest.mark.parametrize(
    ("text", "at_fault", "hint"),
    [
        ("1,5 kg plain flour", "1,5", "write 1.5"),
        ("1,500 g plain flour", "1,500", "write 1500 for thousands, or 1.5"),
        ("1 500 g plain flour", "1 500", "write 1500"),
        ("1.500 g plain flour", "1.500", "write 1500 g for thousands, or 1.5 g"),
        ("-5 g salt", "-5", "leave the sign out"),
        ("0 g salt", "0", "write how much, or leave it out"),
        ("11 t icing sugar", "11 t", "check the number and its unit"),
        ("300 × 50 kg icing sugar", "300 × 50 kg", "check the number and its unit"),
        ("5 cm vanilla", "5 cm", "write grams, or how many pieces of that length"),
        ("500 g", "500 g", "write what it is"),
        ("500 g, sifted", "500 g", "write what it is"),
        ("plain flour 500 g", "plain flour 500 g", "put the amount first: 500 g plain flour"),
        ("plain flour: 500g", "plain flour: 500g", "put the amount first: 500g plain flour"),
        ("salt to taste", "salt to taste", "write 'to taste salt'"),
        ("salt, as needed", "salt, as needed", "write 'as needed salt'"),
        ("two eggs", "two eggs", "write the number in figures"),
        ("a pinch of salt", "a pinch of salt", "weigh it and write grams, or write 'to taste salt'"),
        ("kg flour", "kg flour", "write how many kg"),
        ("to taste 5 g salt", "to taste", "write 'to taste salt', or the amount alone"),
        ("about 520 g egg (560..480)", "560..480", "write 480..560"),
        ("about 520 g egg (480..500)", "480..500", "let the range reach from the least to the most"),
        ("about 520 g egg (1..2 kg)", "1..2 kg", "write the range without a unit: (1..2)"),
        ("12 pieces of 40 mm sablé", "40 mm", _SHAPES),
        ("2 × 3 × 5 g salt", "2 × 3 × 5 g", "multiply two of the numbers"),
    ],
)  # fmt: skip
def test_what_is_refused_says_where_and_how_to_mend_it(text: str, at_fault: str, hint: str) -> None:
    with pytest.raises(Unreadable) as refused:
        read_line(text)
    assert text[refused.value.start : refused.value.end] == at_fault
    assert refused.value.hint == hint


@given(
    st.text(max_size=60)
    | st.from_regex(
        r"(about |as needed |to taste )?[\d.,/½ ×x]{0,6} ?(g|kg|%|pieces of|discs of|mm)? ?[a-zé ,().]{0,30}"
    )
)
def test_any_text_is_read_or_refused_within_itself(text: str) -> None:
    match outcome(lambda: read_line(text)):
        case Unreadable() as refused:
            assert 0 <= refused.start <= (len(text) if refused.end is None else refused.end) <= len(text)
            assert refused.why
        case LineText() as said:
            assert said.name
            assert text[said.start : said.end] == said.name
            assert 0 <= said.amount_start <= said.amount_end <= said.start

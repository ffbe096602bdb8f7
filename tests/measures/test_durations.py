"""Durations and spans."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.measures.durations import Span, minutes, span
from bookmaker.measures.numbers import Unreadable
from tests.support.refusals import outcome


@pytest.mark.parametrize(
    ("text", "value"),
    [("90 min", "90"), ("1 h 30 min", "90"), ("1h30min", "90"), ("1.5 h", "90"), ("½ h", "30"), ("30 s", "0.5"),
     ("3 days", "4320"), ("2 weeks", "20160"), ("9 months", "388800"), ("1 year", "525600"), (" 4 h ", "240")],
)  # fmt: skip
def test_durations(text: str, value: str) -> None:
    assert minutes(text) == Decimal(value)


@pytest.mark.parametrize("text", ["", "  ", "soon", "4", "4 hous", "h", "4 h and a bit", "1,5 h", "-2 h"])
def test_what_is_no_duration(text: str) -> None:
    with pytest.raises(Unreadable):
        minutes(text)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("60–90 min", "a span has two dots: write 60..90 min"),
        ("60-90 min", "a span has two dots: write 60..90 min"),
        ("4 h to 16 h", "a span has two dots: write 4 h..16 h"),
        ("1:30", "write 1 h 30 min"),
        ("0:45 h", "write 45 min"),
        ("2:00", "write 2 h"),
        ("soon", "write a number and s, min, h, days, weeks or months"),
    ],
)
def test_how_cooks_write_times_is_turned_into_ours(text: str, hint: str) -> None:
    with pytest.raises(Unreadable) as refused:
        span(text)
    assert refused.value.hint == hint


@pytest.mark.parametrize(
    ("text", "least", "most"),
    [("4 h..16 h", 240, 960), ("18..22 min", 18, 22), ("18 min..22 min", 18, 22), ("45 min", 45, 45),
     ("30 min..2 h", 30, 120)],
)  # fmt: skip
def test_spans(text: str, least: int, most: int) -> None:
    assert span(text) == Span(Decimal(least), Decimal(most))


def test_an_open_end() -> None:
    open_end = span("4 h..")
    assert open_end == Span(Decimal(240), None)
    assert open_end.long_end == 240


def test_a_plan_reckons_with_the_long_end() -> None:
    assert span("18..22 min").long_end == 22


def test_a_span_that_runs_backwards_is_turned_round_in_the_advice() -> None:
    with pytest.raises(Unreadable, match="runs backwards") as refused:
        span("16 h..4 h")
    assert refused.value.hint == "write 4 h..16 h"


@given(st.integers(0, 23), st.integers(0, 59), st.integers(1, 59))
def test_parts_add_up(hours: int, mins: int, seconds: int) -> None:
    found = minutes(f"{hours} h {mins} min {seconds} s")
    assert abs(found * 60 - (hours * 3600 + mins * 60 + seconds)) < Decimal("1e-20")


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    found = outcome(lambda: span(text))
    if isinstance(found, Unreadable):
        assert found.why
    else:
        assert found.most is None or found.least <= found.most

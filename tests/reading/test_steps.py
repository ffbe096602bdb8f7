from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.measures.durations import Span
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.method import Each, Hold, Load, Reading
from bookmaker.reading.steps import ATTRIBUTES, WrittenAttribute, split_attributes
from tests.support.refusals import outcome

D = Decimal


@pytest.mark.parametrize(
    ("name", "text", "expected"),
    [
        ("work", "10 min", D(10)),
        ("work", "1 h 30 min", D(90)),
        ("each", "30 s per piece", Each(D("0.5"), "piece")),
        ("each", "30 s per loaf", Each(D("0.5"), "piece")),
        ("each", "2 min per 1 tray", Each(D(2), "tray")),
        ("each", "1 min per mould", Each(D(1), "mould")),
        ("takes", "18..22 min", Span(D(18), D(22))),
        ("takes", "40 min", Span(D(40), D(40))),
        ("wait", "4 h..", Span(D(240), None)),
        ("hold", "2 h at 4 °C", Hold(Span(D(120), D(120)), Temperature(D(4)))),
        ("hold", "2 h", Hold(Span(D(120), D(120)))),
        ("at", "top 180 °C, steam", Reading("top 180 °C, steam", (Temperature(D(180)),))),
        ("to", "65 °Brix", Reading("65 °Brix")),
        ("load", "4 sheets", Load(D(4), "sheets")),
        ("load", "12 loaves", Load(D(12), "pieces")),
        ("load", "12 kg", Load(D(12000))),
        ("load", "2 moulds", Load(D(2), "moulds")),
        ("needs", "2 people", 2),
        ("repeat", "3 times", 3),
        ("uses", "Wash, icing sugar", ("Wash", "icing sugar")),
        ("kill", "yes", True),
        ("limit", "4 °C  within 2 h", "4 °C within 2 h"),
    ],
)
def test_what_an_attribute_says(name: str, text: str, expected: object) -> None:
    assert ATTRIBUTES[name].read(text) == expected


@pytest.mark.parametrize(
    ("name", "text", "hint"),
    [
        ("work", "8..10 min", "write the usual time; a span belongs to `takes`"),
        ("work", "10", "write a number and s, min, h, days, weeks or months"),
        ("each", "20 s", "write 20 s per piece"),
        ("each", "20 s per bun's head", "count pieces, trays, sheets, frames, moulds or tins"),
        ("each", "5 min per batch", "time for the whole making is `work`"),
        ("takes", "22..18 min", "write 18 min..22 min"),
        ("at", "160", "did you mean 160 °C?"),
        ("load", "4", "write it as 4 sheets, or 12 kg"),
        ("load", "4 trys", "did you mean 'trays'?"),
        ("needs", "two", "write it in figures: 2"),
        ("kill", "perhaps", "write yes or no"),
        ("name", "  ", "fill it in or leave it out"),
        ("hold", "2 h at four", "write it as 2 h at 4 °C"),
        ("at", "1800 °C", "did you mean 180 °C?"),
        ("at", "top 230 °C, bottom 2300 °C", "did you mean 230 °C?"),
        ("at", "-300 °C", "did you mean -30 °C?"),
        ("at", "1500 °F", "did you mean 150 °F?"),
        ("at", "9999 °C", "check the number, its sign and its scale"),
        ("at", "30 °C, 750 % humidity", "did you mean 75 %?"),
        ("to", "500 °Brix", "did you mean 50 °Brix?"),
        ("to", "core 850 °C", "did you mean 85 °C?"),
        ("to", "350 °C", "did you mean 35 °C?"),
        ("limit", "core 700 °C within 2 h", "did you mean 70 °C?"),
        ("hold", "2 h at 400 °C", "did you mean 40 °C?"),
        ("work", "300 h", "did you mean 300 min?"),
        ("takes", "4 years", "did you mean 4 days?"),
    ],
)
def test_what_an_attribute_refuses(name: str, text: str, hint: str) -> None:
    with pytest.raises(Unreadable) as refused:
        ATTRIBUTES[name].read(text)
    assert refused.value.hint == hint


@pytest.mark.parametrize(
    ("name", "text", "at_fault"),
    [
        ("at", "top 230 °C, bottom 2300 °C", "2300 °C"),
        ("hold", "2 h at 400 °C", "400 °C"),
        ("limit", "core 700 °C within 2 h", "700 °C"),
        ("at", "30 °C, 750 % humidity", "750 %"),
    ],
)
def test_what_cannot_be_is_pointed_at(name: str, text: str, at_fault: str) -> None:
    with pytest.raises(Unreadable) as refused:
        ATTRIBUTES[name].read(text)
    assert text[refused.value.start : refused.value.end] == at_fault


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("at", "-196 °C"),
        ("at", "500 °C"),
        ("at", "28 °C, 85 % humidity"),
        ("to", "190 °C"),
        ("to", "75 °Brix"),
        ("to", "100 %"),
        ("limit", "-18 °C within 90 min"),
        ("wait", "18 months"),
        ("work", "20 h"),
    ],
)
def test_what_a_kitchen_does_is_within_bounds(name: str, text: str) -> None:
    assert ATTRIBUTES[name].read(text) is not None


def test_every_attribute_reads_its_own_example() -> None:
    for name, attribute in ATTRIBUTES.items():
        assert attribute.read(attribute.example) is not None, name


@pytest.mark.parametrize(
    "text",
    [
        """work="10 min" on="planetary mixer\"""",
        """work='10 min' on='planetary mixer'""",
        """work=“10 min” on=“planetary mixer”""",
        """work: "10 min", on: "planetary mixer\"""".replace(",", ""),
        """  WORK = "10 min"\n   on="planetary mixer"  """,
    ],
)
def test_ways_of_writing_pairs(text: str) -> None:
    pairs = split_attributes(text)
    assert [(pair.key, pair.value) for pair in pairs] == [("work", "10 min"), ("on", "planetary mixer")]
    assert [text[pair.start : pair.end] for pair in pairs] == ["10 min", "planetary mixer"]
    assert [text[pair.key_start :][: len(pair.key)].lower() for pair in pairs] == ["work", "on"]


def test_a_bare_word_and_an_escaped_mark() -> None:
    assert [pair.value for pair in split_attributes(r'kill=yes name="the \"long\" rest"')] == ["yes", 'the "long" rest']


@pytest.mark.parametrize(
    ("text", "at_fault", "hint"),
    [
        ("work=10 min", "min", 'put the value in quotation marks: work="10 min"'),
        ('work "10 min"', "work", 'write each as key="value", as in {work="10 min" at="160 °C"}'),
        ('work="10 min", on="bench"', ",", 'write each as key="value", as in {work="10 min" at="160 °C"}'),
    ],
)
def test_what_is_no_pair(text: str, at_fault: str, hint: str) -> None:
    with pytest.raises(Unreadable) as refused:
        split_attributes(text)
    assert text[refused.value.start : refused.value.end] == at_fault
    assert refused.value.hint == hint


@given(st.text(max_size=60) | st.from_regex(r"""( ?(work|at|é|x-y)[=: ]{1,2}["'“]?[^{}]{0,8}["'”]?){0,3}"""))
def test_any_text_is_split_or_refused_within_itself(text: str) -> None:
    pairs: list[WrittenAttribute] | Unreadable = outcome(lambda: split_attributes(text))
    if isinstance(pairs, Unreadable):
        assert 0 <= pairs.start < (pairs.end or 0) <= len(text)
    else:
        assert all(0 <= pair.key_start < pair.start <= pair.end <= len(text) for pair in pairs)


@given(
    st.sampled_from(sorted(ATTRIBUTES)),
    st.text(max_size=30)
    | st.from_regex(r"[\d.½/ ]{0,5}(h|min|s|°C|kg|x)?(\.\.| per | at )?[\d ]{0,3}(h|min|tray|°C)?"),
)
def test_any_value_is_read_or_refused_within_itself(name: str, text: str) -> None:
    refused = outcome(lambda: ATTRIBUTES[name].read(text))
    if isinstance(refused, Unreadable):
        assert 0 <= refused.start <= (len(text) if refused.end is None else refused.end) <= len(text)

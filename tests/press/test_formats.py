"""Numbers, durations, temperatures and dates as a house prints them."""

from datetime import date
from decimal import Decimal
from gettext import NullTranslations

import pytest

from bookmaker.editions.team.views import Amount, Bound, Known, Lacking, Link, Size, Time
from bookmaker.press.formats import Formats

ENGLISH = Formats.of("en")
GERMAN = Formats.of("de-AT")


def plain(text: str) -> str:
    """No-break spaces as spaces: what matters for them has a test of its own."""
    return text.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("number", "english", "german"),
    [
        ("7", "7", "7"),
        ("0.7", "0.7", "0,7"),
        ("3.40", "3.40", "3,40"),
        ("1200", "1200", "1200"),
        ("12400", "12 400", "12 400"),
        ("1234567.5", "1 234 567.5", "1 234 567,5"),
        ("-1.29", "−1.29", "−1,29"),
        ("1E+3", "1000", "1000"),
    ],
)
def test_numbers_keep_their_decimals(number: str, english: str, german: str) -> None:
    assert plain(ENGLISH.number(Decimal(number))) == english
    assert plain(GERMAN.number(Decimal(number))) == german


def test_a_whole_number_has_no_decimals() -> None:
    assert ENGLISH.number(68) == "68"


def test_number_and_unit_stay_together() -> None:
    assert ENGLISH.amount(Amount(Decimal(480), "g")) == "480\N{NO-BREAK SPACE}g"
    assert " " not in ENGLISH.amount(Amount(Decimal(12400), "g"))


@pytest.mark.parametrize(
    ("factor", "shown"), [("0.5", "½"), ("0.50", "½"), ("2", "2"), ("1.5", "1½"), ("0.15", "0.15")]
)
def test_batch_factors(factor: str, shown: str) -> None:
    assert ENGLISH.factor(Decimal(factor)) == shown


@pytest.mark.parametrize(
    ("minutes", "shown"),
    [
        ("0", "0 min"),
        ("0.5", "30 s"),
        ("1", "1 min"),
        ("1.5", "1.5 min"),
        ("90", "90 min"),
        ("119", "119 min"),
        ("120", "2 h"),
        ("150", "2 h 30 min"),
        ("960", "16 h"),
        ("1440", "24 h"),
        ("2880", "2 days"),
        ("3000", "2 days 2 h"),
        ("4320", "3 days"),
        ("20160", "2 weeks"),
        ("14400", "10 days"),
        ("43200", "1 month"),
        ("86400", "2 months"),
        ("525600", "1 year"),
    ],
)
def test_durations(minutes: str, shown: str) -> None:
    assert plain(ENGLISH.duration(Decimal(minutes))) == shown


@pytest.mark.parametrize(
    ("least", "most", "shown"),
    [
        ("18", "22", "18–22 min"),
        ("18", "18", "18 min"),
        ("240", "960", "4–16 h"),
        ("180", "210", "3 h – 3 h 30 min"),
        ("90", "150", "90 min – 2 h 30 min"),
        ("240", None, "4 h or longer"),
    ],
)
def test_spans(least: str, most: str | None, shown: str) -> None:
    assert plain(ENGLISH.time(Time(Decimal(least), None if most is None else Decimal(most)))) == shown


def test_temperatures_follow_the_house() -> None:
    assert plain(ENGLISH.temperature(Decimal(-18))) == "−18 °C"
    assert plain(Formats.of("en", fahrenheit=True).temperature(Decimal(-18))) == "0 °F"
    assert plain(Formats.of("en", fahrenheit=True).amount(Amount(Decimal(160), "°C"))) == "320 °F"


def test_a_date_has_its_month_in_words() -> None:
    assert ENGLISH.date(date(2026, 10, 2)) == "2 October 2026"


@pytest.mark.parametrize(
    ("size", "shown"),
    [(("30", "80"), "30 × 80 mm"), (("600", "400"), "60 × 40 cm"), (("40", None), "40 mm"), (("240", None), "24 cm")],
)
def test_sizes(size: tuple[str, str | None], shown: str) -> None:
    width, depth = size
    assert plain(ENGLISH.size(Size(Decimal(width), None if depth is None else Decimal(depth)))) == shown


def test_an_incomplete_figure_says_so() -> None:
    lack = Lacking("price", Link("long pepper"))
    at_least = Known(Amount(Decimal("3.40"), "EUR", Bound.AT_LEAST), (lack,))
    assert plain(ENGLISH.known(at_least)) == "at least 3.40 EUR"
    assert ENGLISH.known(Known(None, (lack,))) == "not known"
    assert plain(ENGLISH.amount(Amount(Decimal("0.01"), "EUR", Bound.UNDER))) == "under 0.01 EUR"


def test_lacks_are_grouped_by_kind_and_named_once() -> None:
    pepper, salt = Link("long pepper"), Link("salt")
    lacks = [
        Lacking("price", pepper),
        Lacking("time", Link("step 1")),
        Lacking("price", salt),
        Lacking("price", pepper),
    ]
    groups = ENGLISH.lacking(lacks)
    assert [(group.words, [link.name for link in group.of]) for group in groups] == [
        ("no price for", ["long pepper", "salt"]),
        ("no times for", ["step 1"]),
    ]


class Shouting(NullTranslations):
    """A language that one can tell from English."""

    def gettext(self, message: str) -> str:
        return message.upper()


def test_our_words_go_through_the_catalogue() -> None:
    formats = Formats(words=Shouting())
    assert formats.word("look for") == "LOOK FOR"
    assert formats.word("") == ""
    assert formats.known(Known(None)) == "NOT KNOWN"
    assert formats.lacking([Lacking("price", Link("salt"))])[0].words == "NO PRICE FOR"

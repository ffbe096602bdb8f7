"""The workbook's pages: what a browser, a checker and a screen reader make of them, and what stands on them."""

from decimal import Decimal
from pathlib import Path

import pytest

from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.views_parts import Clock, Filled, Gap, Word, say
from bookmaker.press.formats import Formats
from bookmaker.press.workbook.sentences import Sentences, fill, leading
from bookmaker.press.workbook.site import WorkbookPress, pages
from tests.support.axe import violations
from tests.support.chromium import WIDTHS, Chromium
from tests.support.links import broken
from tests.support.nu import messages
from tests.support.workbook import THEMES, publish, workbook

D = Decimal

PAGES = ("index", "topics", "safety", "glossary", "progress", "recipes/breads/harbour-sourdough",
         "recipes/moulded/apricot-pebble", "answers/index", "answers/recipes/moulded/apricot-pebble")  # fmt: skip


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return publish(tmp_path_factory.mktemp("workbook"))


def test_pages_have_nothing_that_the_checker_minds(site: Path) -> None:
    assert [str(message) for message in messages(site)] == []


def test_links_hold_and_nothing_leads_from_the_workbook_to_its_answers(site: Path) -> None:
    assert [str(link) for link in broken(site / "answers")] == []
    assert [str(link) for link in broken(site)] == []
    own = [path for path in site.rglob("*.html") if site / "answers" not in path.parents]
    assert len(own) >= 8
    assert not [path for path in own if "answers/" in path.read_text("utf-8")]


def test_no_page_of_the_workbook_tells_an_answer() -> None:
    book, answers = workbook()
    press = WorkbookPress(book.frame, book.group, THEMES)
    for view in pages(book):
        html = press.set(view).decode()
        assert 'class="filled"' not in html
        assert 'class="found"' not in html
        assert 'class="working"' not in html
    other = WorkbookPress(answers.frame, answers.group, THEMES)
    assert any('class="filled"' in other.set(page).decode() for page in answers.pages)


def test_every_exercise_stands_under_its_number_in_both(site: Path) -> None:
    book, _ = workbook()
    for lesson in book.lessons:
        page = (site / f"{lesson.route.key}.html").read_text("utf-8")
        answer = (site / "answers" / f"{lesson.route.key}.html").read_text("utf-8")
        for task in lesson.tasks:
            for html in (page, answer):
                assert f'id="{task.place}"' in html
                assert f'<span class="exercise-number">{task.number}</span>' in html


@pytest.mark.browser
@pytest.mark.parametrize("name", PAGES)
def test_pages_are_open_to_everybody(chromium: Chromium, site: Path, name: str) -> None:
    with chromium.visit(site / f"{name}.html") as visit:
        assert visit.errors == []
        assert visit.outside == []
        assert violations(visit.page) == []
        for width in WIDTHS:
            visit.page.set_viewport_size({"width": width, "height": 900})
            assert visit.overflow <= 0, width


# --- sentences


@pytest.fixture
def english() -> Sentences:
    return Sentences(Formats())


def test_values_stand_apart_from_the_words_around_them(english: Sentences) -> None:
    sentence = say(
        "%(mass)s of %(name)s, %(share)s %% of it", mass=Amount(D("1250"), "g"), name="a & b", share=D("2.5")
    )
    assert english.say(sentence) == "<b>1250\N{NO-BREAK SPACE}g</b> of a &amp; b, <b>2.5</b> % of it"


def test_a_sentence_begins_with_a_capital_and_keeps_those_it_has(english: Sentences) -> None:
    assert english.say(say("%(name)s is 100 %%.", name="plain flour")) == "Plain flour is 100 %."
    assert english.clause(say("%(name)s is 100 %%.", name="plain flour")) == "plain flour is 100 %."
    assert leading(english.value(Word("HACCP"))) == "HACCP"


@pytest.mark.parametrize(
    ("minutes", "shown"),
    [
        (0, "00:00"),
        (375, "06:15"),
        (1439, "23:59"),
        (-1, "23:59, the day before"),
        (-1440, "00:00, the day before"),
        (-1441, "23:59, 2 days before"),
        (-4000, "05:20, 3 days before"),
    ],
)
def test_times_of_day_count_back_over_midnight(english: Sentences, minutes: int, shown: str) -> None:
    assert english.plain(Clock(minutes)) == shown


def test_temperatures_keep_the_scale_of_their_exercise() -> None:
    american = Sentences(Formats.of("en", fahrenheit=True))
    assert american.plain(Amount(D(75), "°F")) == "75\N{NO-BREAK SPACE}°F"
    assert american.plain(Amount(D(24), "°C")) == "24\N{NO-BREAK SPACE}°C"


def test_decimals_are_the_language_s() -> None:
    assert Sentences(Formats.of("de")).plain(D("2.5")) == "2,5"


def test_cells_are_told_apart() -> None:
    cells = (Gap(), Filled(D(1)), D(1), "words", say("words"), Word("yes"), "–", Amount(D(1), "g"))
    assert [fill(cell) for cell in cells] == [
        "gap", "filled", "number", "words", "words", "words", "number", "number",
    ]  # fmt: skip

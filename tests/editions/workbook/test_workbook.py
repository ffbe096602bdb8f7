"""The workbook as a whole: who gets which exercises, what it must never show, and that all hangs together."""

import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from bookmaker.editions.team.views import Link, Route
from bookmaker.editions.team.views_prose import PageLink
from bookmaker.editions.workbook.choosing import MOST, sees_costs
from bookmaker.editions.workbook.edition import classes_page, folder_of, groups, project
from bookmaker.editions.workbook.views import Answers, Workbook
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import Figures
from bookmaker.model.book import Book
from bookmaker.model.house import Region
from bookmaker.model.recipe import Recipe, Status, Teaching
from bookmaker.model.teaching import EXERCISES, TOPICS
from bookmaker.press.workbook.site import pages
from bookmaker.reading.book import read_book
from tests.support.published import DEMO, ON, ROOT, sound_book

CLASS = "autumn intake"


@cache
def demo() -> Book:
    """The demo book."""
    return sound_book(DEMO)


def made(book: Book, group: str = CLASS) -> tuple[Workbook, Answers]:
    """A workbook with its answers."""
    figures = computed() if book.stores is demo().stores else compute(book, ON)
    return project(book, figures, group)


@cache
def computed() -> Figures:
    """The demo book's figures, which stand whatever is taught of it."""
    return compute(demo(), ON)


@cache
def shown() -> tuple[Workbook, Answers]:
    """The demo book's."""
    return made(demo())


def inside(view: Any) -> Iterator[Any]:
    """Every value in a view, however deep."""
    yield view
    if is_dataclass(view) and not isinstance(view, type):
        for field in fields(view):
            yield from inside(getattr(view, field.name))
    elif isinstance(view, tuple):
        for each in view:
            yield from inside(each)


def with_teaching(book: Book, **changes: Any) -> Book:
    """The book with the first taught recipe's teaching changed."""
    ref = next(iter(_taught(book)))
    recipe = book.recipes[ref]
    taught = replace(recipe, teaching=replace(recipe.teaching, **changes))
    return replace(book, recipes={**book.recipes, ref: taught})


def _taught(book: Book) -> dict[Any, Recipe]:
    return {ref: recipe for ref, recipe in book.recipes.items() if recipe.teaching.teach}


def test_lessons_are_the_recipes_marked_for_teaching() -> None:
    workbook, _ = shown()
    titles = {lesson.title.split(" (")[0] for lesson in workbook.lessons}
    assert titles == {recipe.title for recipe in _taught(demo()).values()}
    assert [lesson.number for lesson in workbook.lessons] == [*range(1, len(titles) + 1)]
    levels = [lesson.level for lesson in workbook.lessons]
    assert levels == sorted(levels)
    assert {*levels} == {1, 2, 3}


def test_a_retired_recipe_is_not_taught() -> None:
    book = demo()
    ref, recipe = next(iter(_taught(book).items()))
    retired = replace(book, recipes={**book.recipes, ref: replace(recipe, status=Status.RETIRED)})
    workbook, _ = made(retired)
    assert recipe.title not in {lesson.title for lesson in workbook.lessons}
    assert len(workbook.lessons) == len(shown()[0].lessons) - 1


def test_exercises_keep_to_the_level_but_for_those_added() -> None:
    workbook, _ = shown()
    added = {recipe.title: {*recipe.teaching.add} for recipe in _taught(demo()).values()}
    alone = {kind for kind in EXERCISES if sum(kind in _kinds(lesson) for lesson in workbook.lessons) == 1}
    for lesson in workbook.lessons:
        title = lesson.title.split(" (")[0]
        own = [task for task in lesson.tasks if task.kind not in added[title] and task.kind not in alone]
        assert all(task.step <= lesson.level for task in own), title
        assert len(own) <= MOST
        steps = [task.step for task in lesson.tasks]
        assert steps == sorted(steps)


def _kinds(lesson: Any) -> set[str]:
    return {task.kind for task in lesson.tasks}


def test_every_kind_comes_up_that_some_recipe_allows() -> None:
    workbook, _ = made(replace(demo(), house=replace(demo().house, see_costs=("apprentices",))))
    assert {kind for lesson in workbook.lessons for kind in _kinds(lesson)} == {*EXERCISES}


def test_left_out_and_added() -> None:
    first = shown()[0].lessons
    recipe = next(iter(_taught(demo()).values()))
    before = next(_kinds(lesson) for lesson in first if lesson.title.split(" (")[0] == recipe.title)
    kind = min(before - {*recipe.teaching.add})
    without, _ = made(with_teaching(demo(), leave_out=(kind,)))
    after = next(_kinds(each) for each in without.lessons if each.title.split(" (")[0] == recipe.title)
    assert kind not in after
    harder = next(name for name, each in EXERCISES.items() if each.step > recipe.teaching.level and not each.money)
    more, answers = made(with_teaching(demo(), add=(harder,), leave_out=()))
    page = next(each for each in answers.pages if each.title.split(" (")[0] == recipe.title)
    kinds = next(_kinds(each) for each in more.lessons if each.title.split(" (")[0] == recipe.title)
    assert (harder in kinds) != (harder in page.impossible)


def test_what_cannot_be_made_is_told_to_the_teacher() -> None:
    ref, recipe = next((ref, each) for ref, each in _taught(demo()).items() if not each.dough_temperature)
    asked = replace(recipe, teaching=replace(recipe.teaching, add=("water temperature",)))
    _, answers = made(replace(demo(), recipes={**demo().recipes, ref: asked}))
    page = next(each for each in answers.pages if each.title.split(" (")[0] == recipe.title)
    assert page.impossible == ("water temperature",)


def test_answers_mirror_the_numbers_of_the_tasks() -> None:
    workbook, answers = shown()
    for lesson, page in zip(workbook.lessons, answers.pages, strict=True):
        assert (page.route, page.number, page.title) == (lesson.route, lesson.number, lesson.title)
        assert [(task.number, task.kind, task.place) for task in lesson.tasks] == [
            (answer.number, answer.kind, answer.place) for answer in page.answers
        ]


def test_every_topic_of_examination_has_an_exercise_and_a_page_to_read() -> None:
    workbook, _ = shown()
    topics = {topic.name: topic for topic in workbook.topics.topics if topic.examined}
    assert [*topics] == [*TOPICS]
    for name, topic in topics.items():
        assert topic.reading, name
        assert topic.do, name
    assert {name for name, topic in topics.items() if topic.exercises} >= {*TOPICS} - {
        "flour dust",
        "acrylamide",
        "costing",
    }


@pytest.mark.parametrize("region", [*Region])
def test_readings_stand_for_every_region(region: Region) -> None:
    book = replace(demo(), house=replace(demo().house, region=region))
    workbook, _ = made(book)
    allergens = next(topic for topic in workbook.topics.topics if topic.name == "allergen control")
    named = str(allergens.reading[0]["names"])
    assert ("lupin" in named) == (region is not Region.US)
    assert "sesame" in named


def test_links_lead_to_pages_of_the_workbook_alone() -> None:
    for book in shown():
        routes = {page.route.key for page in pages(book)}
        places = {(page.route.key, place) for page in pages(book) for place in _places(page)}
        for page in pages(book):
            for view in inside(page):
                to = view.route if isinstance(view, Link) else view.to if isinstance(view, PageLink) else None
                if isinstance(to, Route):
                    assert to.key in routes, (page.route, to)
                    assert not to.place or (to.key, to.place) in places, (page.route, to)


def _places(page: Any) -> set[str]:
    return {str(view.place) for view in inside(page) if hasattr(view, "place") and not isinstance(view, Route)}


def test_words_and_glossary_point_at_each_other() -> None:
    workbook, _ = shown()
    assert workbook.glossary is not None
    using = {term.word: [link.name for link in term.lessons] for term in workbook.glossary.terms}
    for lesson in workbook.lessons:
        for word in lesson.words:
            assert lesson.title in using[word.name]
    assert sum(bool(lessons) for lessons in using.values()) > 20


def test_safety_names_every_danger_of_every_lesson() -> None:
    workbook, _ = shown()
    named = {hazard.caution.name for part in workbook.safety.parts for hazard in part.hazards}
    assert {caution.name for lesson in workbook.lessons for caution in lesson.cautions} <= named
    headings = {part.heading for part in workbook.safety.parts}
    assert headings >= {"Sugar burns and hot liquids", "Mixers and rollers", "Blades", "Ovens and steam", "Flour dust",
                        "Allergens", "Cold", "Moulding materials"}  # fmt: skip


# --- what apprentices must not see


def test_money_shows_only_where_the_house_lets_apprentices_see_costs() -> None:
    house = demo().house
    hidden = replace(demo(), house=replace(house, see_costs=("office", "development chef")))
    assert not sees_costs(hidden)
    for book in made(hidden):
        text = repr(book)
        assert house.money not in text
        assert "kind='cost'" not in text
        assert "kind='selling price'" not in text
    open_ = replace(demo(), house=replace(house, see_costs=("Apprentice",)))
    assert sees_costs(open_)
    assert house.money in repr(made(open_)[0])


CANARY = "the reserve is in the second jar"

SMALL = {
    "house.yaml": "format: 1\nname: Small\nscales: [up to 5 kg in 1 g]\nmoney: GBP\nclasses: [first, second]\n",
    "glossary.md": "# Words\n\n## Crumb\n\nThe inside of a loaf.\n",
    "stores/pantry.yaml": (
        "plain flour:\n  flour: yes\n  contains: [wheat]\nwater:\n  contains: []\n  water: 100 %\n"
        "fine salt:\n  contains: []\n  weigh: careful\n"
    ),
    "stores/prices.csv": "item,supplier,code,pack,price,currency,from\nplain flour,Mill,M1,25 kg,43.21,GBP,2026-01-02",
    "breads/loaf.md": f"""---
title: Loaf
yields: 4 loaves scaled at 500 g
base: flour
formula: [1.2 kg plain flour, 780 g water, 24 g fine salt]
losses: {{bake: 12 %}}
price: {{}}
teach: yes
---
A plain loaf with an open crumb.

1. Mix. {{work="10 min"}}
2. Prove. {{takes="1 h..2 h"}}
3. Bake. {{takes="35 min" limit="core 94 °C" if-missed="bake on"}}

::: why
Time makes flavour.
:::

::: private
{CANARY}, {{x}}
:::
""",
}


def _small(folder: Path) -> Book:
    for name, text in SMALL.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text.replace("price: {}\n", "").replace(", {x}", ""), encoding="utf-8")
    reading = read_book(folder)
    assert reading.book is not None
    assert not [problem.message for problem in reading.problems if problem.is_error]
    return reading.book


def test_private_notes_and_prices_stay_in_the_team_book(tmp_path: Path) -> None:
    book = _small(tmp_path)
    assert CANARY in repr(book)
    workbook, answers = made(book)
    for shown_ in (workbook, answers):
        text = repr(shown_)
        assert CANARY not in text
        assert "43.21" not in text
        assert "GBP" not in text
        assert "Mill" not in text
    assert "Time makes flavour" in repr(workbook)


def test_a_small_book_gets_a_workbook_of_its_own(tmp_path: Path) -> None:
    book = _small(tmp_path)
    workbook, _ = made(book, "first")
    (lesson,) = workbook.lessons
    assert {"step order", "percents", "yield", "weighing", "limits"} <= _kinds(lesson)
    assert [link.name for link in lesson.words] == ["Crumb"]
    assert groups(book.house) == ("first", "second")
    assert [folder_of(group, book.house) for group in groups(book.house)] == ["workbook/first", "workbook/second"]
    assert classes_page(book.house) is not None
    one = replace(book.house, classes=("first",))
    assert folder_of("first", one) == "workbook"
    assert classes_page(one) is None
    assert groups(replace(book.house, classes=())) == ("",)
    other, _ = made(book, "second")
    assert other.lessons[0].tasks != lesson.tasks
    assert made(book, "first")[0] == workbook


def test_a_book_that_teaches_nothing_has_an_empty_workbook(tmp_path: Path) -> None:
    book = _small(tmp_path)
    ref, recipe = next(iter(book.recipes.items()))
    workbook, answers = made(replace(book, recipes={ref: replace(recipe, teaching=Teaching())}))
    assert (workbook.lessons, answers.pages, workbook.contents.exercises) == ((), (), 0)


def test_the_same_on_every_run() -> None:
    """Nothing depends on the order of sets, which differs from process to process."""
    said = {_digest(seed) for seed in ("1", "2")}
    assert len(said) == 1


def _digest(hash_seed: str) -> str:
    code = (
        "import hashlib; from tests.editions.workbook.test_workbook import shown; "
        "print(hashlib.sha256(repr(shown()).encode()).hexdigest())"
    )
    environment = os.environ | {"PYTHONHASHSEED": hash_seed, "PYTHONPATH": str(ROOT)}
    run = subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True, env=environment, cwd=ROOT
    )
    return run.stdout

"""The printed book's order, its indexes, and what becomes of links on paper."""

from dataclasses import dataclass, replace

import pytest

from bookmaker.editions.book.edition import arrange
from bookmaker.editions.book.paper import on_paper
from bookmaker.editions.book.views import PrintedBook
from bookmaker.editions.team.cards import card_of
from bookmaker.editions.team.project_overview import front
from bookmaker.editions.team.views import Link, Route
from bookmaker.editions.team.views_overview import IndexEntry, TeamSite
from bookmaker.editions.team.views_prose import PageLink, Para, Points, Prose, Stress, WebLink, Words
from bookmaker.model.book import Book
from tests.support.published import TINY, sound_book, team_site

BISCUIT, PEBBLE = Route("recipes/biscuits", "butter-biscuit"), Route("recipes/moulded", "pebble")


@pytest.fixture(scope="module")
def tiny() -> Book:
    return sound_book(TINY)


@pytest.fixture(scope="module")
def site(tiny: Book) -> TeamSite:
    return team_site(tiny)


@pytest.fixture(scope="module")
def printed(site: TeamSite, tiny: Book) -> PrintedBook:
    return arrange(site, tiny.house)


def test_parts_follow_the_houses_sections_and_leave_out_what_is_retired(printed: PrintedBook) -> None:
    assert [(part.heading, [line.title for line in part.contents]) for part in printed.parts] == [
        ("Moulded & glazed", ["Pebble", "Pepper pebble"]),
        ("Biscuits", ["Butter biscuit"]),
    ]
    assert [[view.head.title for view in part.recipes] for part in printed.parts] == [
        ["Pebble", "Pepper pebble"],
        ["Butter biscuit"],
    ]


def test_a_part_of_retired_recipes_alone_is_left_out(site: TeamSite, tiny: Book) -> None:
    retired = tuple(
        replace(view, head=replace(view.head, status="retired")) if "biscuit" in view.head.title else view
        for view in site.recipes
    )
    assert [part.heading for part in arrange(replace(site, recipes=retired), tiny.house).parts] == ["Moulded & glazed"]


def test_the_cover_counts_what_is_printed_and_bears_the_newest_revision(printed: PrintedBook) -> None:
    cover = printed.cover
    assert (cover.house, cover.recipes, cover.products) == ("Quillhaven Kitchen", 3, 2)
    assert str(cover.newest) == "2026-06-01"


def test_a_recipe_in_two_sizes_counts_once_and_has_two_lines(site: TeamSite, tiny: Book) -> None:
    pebble = next(view for view in site.recipes if view.head.title == "Pebble")
    small = replace(pebble, route=Route("recipes/moulded", "pebble-small"), head=replace(pebble.head, size="small"))
    book = arrange(replace(site, recipes=(*site.recipes, small)), tiny.house)
    counted = front(map(card_of, (*site.recipes, small)), site.sections, ())
    assert (counted.recipes, counted.products) == (book.cover.recipes, book.cover.products) == (3, 2)
    assert [line.title for line in book.parts[0].contents] == ["Pebble", "Pepper pebble", "Pebble (small)"]


def test_links_lead_to_printed_pages_alone(printed: PrintedBook) -> None:
    stores = [entry.to for entry in printed.by_ingredient.entries if entry.word == "caster sugar"]
    assert stores == [(Link("Pebble", PEBBLE), Link("Butter biscuit", BISCUIT))]
    pebble = printed.parts[0].recipes[0]
    lines = [line.ingredient for stage in pebble.formula.stages for line in stage.lines]
    assert [link.route for link in lines] == [None, None, BISCUIT]


def test_index_pages_stand_in_the_books_order_each_once(site: TeamSite, tiny: Book) -> None:
    doubled = IndexEntry(
        "cream", "C", (Link("b", BISCUIT), Link("again", BISCUIT), Link("a", PEBBLE), Link("s", Route("stores", "x")))
    )
    index = replace(site.by_name, entries=(doubled,))
    found = arrange(replace(site, by_name=index), tiny.house).by_name.entries[0].to
    assert [link.route for link in found] == [PEBBLE, BISCUIT]


def test_an_other_name_keeps_the_word_that_it_sends_to(printed: PrintedBook) -> None:
    butter = next(entry for entry in printed.by_ingredient.entries if entry.word == "butter")
    assert butter.other_name
    assert butter.to == (Link("unsalted butter"),)


@dataclass(frozen=True, slots=True)
class Page:
    link: Link
    words: Prose
    route: Route = Route("", "unprinted")


def test_words_of_a_link_that_leads_off_the_paper_stay() -> None:
    gone, stays = Route("", "gone"), Route("", "stays")
    page = Page(
        Link("gone", gone),
        (
            Para((Words("See "), PageLink(gone, (Words("this "), Stress((PageLink(gone, (Words("one"),)),)))))),
            Points(
                (
                    (
                        Para(
                            (
                                PageLink(stays.at("step-2"), (Words("that"),)),
                                WebLink("https://x.example", (Words("x"),)),
                            )
                        ),
                    ),
                )
            ),
        ),
    )
    assert on_paper(page, {"stays"}) == Page(
        Link("gone"),
        (
            Para((Words("See "), Words("this "), Stress((Words("one"),)))),
            Points(((Para((PageLink(stays, (Words("that"),)), WebLink("https://x.example", (Words("x"),)))),),)),
        ),
    )


def test_what_needs_no_change_is_the_same_value() -> None:
    page = Page(Link("stays", Route("", "stays")), (Para((Words("See."),)),))
    assert on_paper(page, {"stays"}) == page

"""How names become pages."""

import pytest

from bookmaker.editions.team.places import contents_of, places_of
from bookmaker.editions.team.routes import collisions, fold, fold_path
from bookmaker.editions.team.views import Route
from bookmaker.model.refs import RecipeRef, StoresRef
from tests.support.make import book, house, line, recipe, ref


@pytest.mark.parametrize(
    ("words", "stem"),
    [
        ("Almond sablé", "almond-sable"),
        ("Lemon & almond bars", "lemon-and-almond-bars"),
        ("Crème brûlée, 8 cm", "creme-brulee-8-cm"),
        ("Weißbrot/Œuf", "weissbrot-oeuf"),
        ("½ tin", "1-2-tin"),
        ("  --  ", "x"),
    ],
)
def test_stems_are_plain(words: str, stem: str) -> None:
    assert fold(words) == stem


def test_letters_of_other_scripts_stay_apart() -> None:
    assert fold("хлеб") != fold("мёд")
    assert fold("хлеб").isascii()


def test_a_path_keeps_its_folders() -> None:
    assert fold_path("Feine Backwaren/Baba au rhum") == ("feine-backwaren", "baba-au-rhum")
    assert fold_path("bread") == ("", "bread")


def test_two_names_for_one_page_are_found() -> None:
    found = collisions([("a", Route("", "x")), ("b", Route("", "y")), ("c", Route("", "x", "place"))])
    assert [(each.first, each.second, each.route.key) for each in found] == [("a", "c", "x")]


def test_a_book_whose_recipes_share_a_page_is_reported() -> None:
    clash = book(recipe("breads/rye loaf", [line(1, "salt")], 1), recipe("breads/rye-loaf", [line(1, "salt")], 1))
    found = contents_of(clash).collisions()
    assert [(each.first, each.second) for each in found] == [("breads/rye loaf", "breads/rye-loaf")]
    assert not contents_of(book(recipe("breads/rye loaf", [line(1, "salt")], 1))).collisions()


def test_the_first_size_has_the_recipes_own_page() -> None:
    tarts = book(
        recipe(ref("tarts/plum", "24 cm"), [line(1, "plum")], 1, title="Plum tart"),
        recipe(ref("tarts/plum", "8 cm"), [line(1, "plum")], 1, title="Plum tart"),
    )
    assert contents_of(tarts).route(ref("tarts/plum", "24 cm")).key == "recipes/tarts/plum"
    assert contents_of(tarts).route(ref("tarts/plum", "8 cm")).key == "recipes/tarts/plum-8-cm"
    places = places_of(tarts)
    assert places.link(RecipeRef("tarts/plum")).name == "Plum tart"
    assert places.routes[RecipeRef("tarts/plum")] == places.routes[ref("tarts/plum", "24 cm")]
    assert places.link(StoresRef("plum")).route == Route("stores", "plum")
    assert places.working(ref("tarts/plum", "8 cm")) == Route("working/tarts", "plum-8-cm")


def test_sections_follow_the_house_then_the_alphabet() -> None:
    made = book(
        *(
            recipe(f"{section}/x", [line(1, "salt")], 1, section=section)
            for section in ("tarts", "breads", "ice-creams")
        ),
        own=house(sections=(("tarts", "Tarts & pies"),)),
    )
    assert [link.name for link in places_of(made).sections.values()] == ["Tarts & pies", "Breads", "Ice creams"]

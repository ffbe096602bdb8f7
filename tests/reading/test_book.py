"""Documents bound to a book: names, amounts, sizes, order; what is left out and what is blamed."""

import pickle
import shutil
from decimal import Decimal
from pathlib import Path

import pytest

from bookmaker.measures.amounts import Amount
from bookmaker.measures.units import Dimension
from bookmaker.model.book import Book
from bookmaker.model.line import Batches, Cut, Grams, Line, Percent, Pieces, Quantity, Sheets, Unmeasured
from bookmaker.model.prose import RecipeLink
from bookmaker.model.recipe import Base, BaseKind, Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef
from bookmaker.model.shapes import Disc
from bookmaker.model.yields import MouldYield
from bookmaker.reading.book import Reading, read_book

D = Decimal
SOUND = Path(__file__).parent / "sound"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The sound book, to be added to."""
    return Path(shutil.copytree(SOUND, tmp_path / "book"))


def _add(folder: Path, name: str, *, title: str = "", body: str = "1. Mix.\n", **keys: str) -> None:
    usual = {"title": title or name.rpartition("/")[2].replace("-", " ").capitalize(), "yields": "1 kg"}
    front = "".join(f"{key.replace('_', ' ')}: {value}\n" for key, value in (usual | keys).items())
    path = folder / f"{name}.md"
    path.parent.mkdir(exist_ok=True)
    path.write_text(f"---\n{front}---\n{body}", encoding="utf-8")


def _book(folder: Path) -> Book:
    reading = read_book(folder)
    assert reading.problems == ()
    assert reading.book
    return reading.book


def _codes(reading: Reading) -> list[str]:
    return [found.code for found in reading.problems]


def _recipe(folder: Path, name: str, size: str = "") -> Recipe:
    return _book(folder).recipes[RecipeRef(name, size)]


def _line(folder: Path, text: str) -> Line:
    _add(folder, "cakes/try", formula=f"['{text}']")
    return _recipe(folder, "cakes/try").lines[0]


def _in_grams(grams: str, number: str, unit: str, dimension: Dimension, by: str) -> Grams:
    return Grams(D(grams), Amount(D(number), unit, dimension), by)


@pytest.mark.parametrize(
    ("text", "quantity"),
    [
        ("480 g plain flour", Grams(D(480))),
        ("1/2 lb plain flour", Grams(D("226.796185"))),
        ("24 × 2 g plain flour", Grams(D(48))),
        ("200 ml whole milk", _in_grams("206", "200", "ml", Dimension.VOLUME, "density 1.03 g/ml")),
        ("2 tbsp whole milk", _in_grams("30.9", "2", "tbsp", Dimension.VOLUME, "density 1.03 g/ml")),
        ("3 leaves gelatine", _in_grams("7.5", "3", "leaves", Dimension.COUNT, "2.5 g each")),
        ("1 leaf of gelatine", _in_grams("2.5", "1", "leaf", Dimension.COUNT, "2.5 g each")),
        ("4 whole egg", _in_grams("200", "4", "piece", Dimension.COUNT, "50 g each")),
        ("4 pieces whole egg", _in_grams("200", "4", "pieces", Dimension.COUNT, "50 g each")),
        ("to taste fine salt", Unmeasured("to taste")),
        ("1/2 batch custard", Batches(D("0.5"))),
        ("2 sheets almond sablé", Sheets(D(2))),
        ("24 discs of 40 mm almond sablé", Cut(D(24), Disc(D(40)), "discs")),
    ],
)
def test_amounts_become_what_the_kitchen_computes_with(folder: Path, text: str, quantity: Quantity) -> None:
    assert _line(folder, text).quantity == quantity


def test_a_range_is_in_grams_for_all_times(folder: Path) -> None:
    line = _line(folder, "2 × about 100 ml whole milk (90..110)".replace("2 × about", "about"))
    assert line.quantity == _in_grams("103", "100", "ml", Dimension.VOLUME, "density 1.03 g/ml")
    assert (line.low, line.high) == (D("92.7"), D("113.3"))


def test_pieces_of_a_component_that_comes_in_pieces(folder: Path) -> None:
    _add(folder, "cakes/small-cake", yields="24 buns", formula="[1 kg plain flour]")
    assert _line(folder, "6 buns small cake").quantity == Pieces(D(6), "buns")
    assert _line(folder, "6 small cake").quantity == Pieces(D(6), "pieces")


@pytest.mark.parametrize("text", ["1 kg BUTTER", "1 kg  unsalted  butter", "1 kg Unsalted Butter", "1 kg butter"])
def test_case_spacing_and_other_names_are_forgiven(folder: Path, text: str) -> None:
    assert _line(folder, text).target == StoresRef("unsalted butter")


def test_recipes_and_co_products_are_names_like_any_other(folder: Path) -> None:
    _add(folder, "cakes/cake", formula="[1 kg plain flour]", gives="{cake crumbs: 50 g}", aka="[house cake]")
    assert _line(folder, "1 kg house cake").target == RecipeRef("cakes/cake")
    assert _line(folder, "20 g cake crumbs").target == CoProductRef(RecipeRef("cakes/cake"), "cake crumbs")
    assert list(_book(folder).recipes).index(RecipeRef("cakes/try")) > 0


def test_components_come_before_their_users(folder: Path) -> None:
    _add(folder, "a/first", formula="[500 g middle, 500 g custard]")
    _add(folder, "b/middle", formula="[500 g last, {line: 500 g plain flour, or: [levain]}]")
    _add(folder, "c/last", formula="[1 kg plain flour]")
    order = [ref.id for ref in _book(folder).recipes]
    for earlier, later in (("c/last", "b/middle"), ("breads/levain", "b/middle"), ("b/middle", "a/first")):
        assert order.index(earlier) < order.index(later)


def test_the_base_is_flour_in_preferments_and_else_the_total(folder: Path) -> None:
    _add(folder, "breads/dough", formula="[1000 g strong white flour, 700 g water]", base="Strong white flour")
    book = _book(folder)
    assert book.recipes[RecipeRef("breads/levain")].base == Base(BaseKind.FLOUR)
    assert book.recipes[RecipeRef("creams/custard")].base == Base(BaseKind.TOTAL)
    assert book.recipes[RecipeRef("breads/dough")].base == Base(BaseKind.ITEM, StoresRef("strong white flour"))


def test_percent_lines(folder: Path) -> None:
    assert _line(folder, "100 % plain flour").quantity == Percent(D(100))


def test_the_seed_of_a_preferment_is_no_cycle(folder: Path) -> None:
    levain = _recipe(folder, "breads/levain")
    assert levain.lines[0].target == levain.ref


def test_sizes_are_recipes_and_components_follow_the_size_of_their_user(folder: Path) -> None:
    _add(
        folder,
        "tarts/case",
        formula="[1 kg plain flour]",
        sizes="{24 cm: {yields: 4 pieces}, 8 cm: {yields: 24 pieces}}",
    )
    sizes = "{24 cm: {yields: 4 tarts}, 8 cm: {formula: [24 pieces case]}, 3 cm: {formula: [40 pieces case (8 cm)]}}"
    _add(folder, "tarts/tart", yields="24 tarts", formula="[4 pieces case]", sizes=sizes)
    book = _book(folder)
    assert book.sizes["tarts/tart"] == ("24 cm", "8 cm", "3 cm")
    targets = {size: book.recipes[RecipeRef("tarts/tart", size)].lines[0].target for size in book.sizes["tarts/tart"]}
    assert targets["24 cm"] == RecipeRef("tarts/case", "24 cm")
    assert targets["8 cm"] == RecipeRef("tarts/case", "8 cm")
    assert RecipeRef("tarts/tart") not in book.recipes
    assert book.recipe(RecipeRef("tarts/tart")).ref.size == "24 cm"


def test_names_of_the_house_take_its_spelling(folder: Path) -> None:
    step_text = '1. Cast. {on="PLANETARY mixer" caution="Hot Trays" uses="Plain  Flour"}'
    _add(
        folder,
        "cakes/cast",
        yields="fills 2 Pebble Mould",
        formula="[1 kg plain flour]",
        cautions="Hot trays",
        price="{Tea Room: 4 EUR incl}",
        labour_role="Pastry Cook",
        packaging="[1 piece cake box per 6 pieces]",
        body=f"{step_text}\n\n::: caution HOT trays\n:::\n",
    )
    recipe = _recipe(folder, "cakes/cast")
    assert recipe.yields == MouldYield(D(2), "pebble mould")
    (step,) = recipe.method.steps
    assert (step.on, step.cautions, step.uses) == ("planetary mixer", ("hot trays",), ("plain flour",))
    assert (recipe.method.notes[0].name, recipe.cautions) == ("hot trays", ("hot trays",))
    assert (recipe.prices[0].channel, recipe.labour_role) == ("tea room", "pastry cook")
    assert recipe.packaging[0].target == StoresRef("cake box")


def test_links_lead_to_recipes(folder: Path) -> None:
    _add(folder, "cakes/cake", formula="[1 kg plain flour]", body="From [it](../creams/custard.md).\n\n1. Mix.\n")
    paragraph = _recipe(folder, "cakes/cake").method.introduction[0]
    links = [node for node in getattr(paragraph, "content", ()) if isinstance(node, RecipeLink)]
    assert [link.to for link in links] == [RecipeRef("creams/custard")]


def test_what_cannot_be_computed_is_left_out_with_all_that_is_made_from_it(folder: Path) -> None:
    _add(folder, "a/wrong", formula="[1 kg nothing at all]")
    _add(folder, "b/user", formula="[1 kg wrong]")
    _add(folder, "c/users-user", formula="[1 kg user]")
    reading = read_book(folder)
    assert _codes(reading) == ["unknown-name"]
    assert reading.book
    assert [ref.id for ref in reading.book.recipes] == ["biscuits/almond-sable", "breads/levain", "creams/custard"]


def test_an_unreadable_file_is_blamed_and_not_those_who_name_it(folder: Path) -> None:
    (folder / "creams" / "custard.md").write_text("---\ntitle: Custard\nyields: [\n---\n", encoding="utf-8")
    _add(folder, "cakes/cake", formula="[1 kg custard]", body="See [it](../creams/custard.md).\n\n1. Mix.\n")
    assert _codes(read_book(folder)) == ["yaml-syntax"]


def test_a_file_that_is_no_text_is_blamed_and_not_those_who_name_it(folder: Path) -> None:
    (folder / "creams" / "custard.md").write_bytes("---\ntitle: Custard ü\n---\n".encode("latin-1"))
    _add(folder, "cakes/cake", formula="[1 kg custard]", body="See [it](../creams/custard.md).\n\n1. Mix.\n")
    assert _codes(read_book(folder)) == ["not-utf8"]


def test_a_cycle_is_said_once_and_its_recipes_are_left_out(folder: Path) -> None:
    _add(folder, "a/one", formula="[1 kg two]")
    _add(folder, "b/two", formula="[1 kg three]")
    _add(folder, "c/three", formula="[1 kg one]")
    _add(folder, "d/user", formula="[1 kg two]")
    reading = read_book(folder)
    (found,) = reading.problems
    assert found.message.endswith("One → Two → Three → One")
    assert [each.note for each in found.related] == ["Two needs Three", "Three needs One"]
    assert reading.book
    assert len(reading.book.recipes) == 3


def test_a_slip_shared_by_all_sizes_is_said_once(folder: Path) -> None:
    sizes = "{big: {yields: 2 kg}, small: {yields: 1 kg}}"
    _add(folder, "cakes/cake", formula="[1 kg plan flour]", sizes=sizes, cautions="[hot tray]")
    assert _codes(read_book(folder)) == ["unknown-name", "unknown-caution"]


def test_a_us_house_may_measure_in_cups(folder: Path) -> None:
    house = folder / "house.yaml"
    house.write_text(house.read_text("utf-8") + "region: US\nspoons: US\n", encoding="utf-8")
    quantity = _line(folder, "1 cup whole milk").quantity
    assert isinstance(quantity, Grams)
    # 1 US cup is 236.5882365 ml (NIST Handbook 44, Appendix C)
    assert quantity.grams == D("236.5882365") * D("1.03")


def test_a_house_without_equipment_names_what_it_likes(folder: Path) -> None:
    (folder / "house.yaml").write_text("format: 1\nname: Small\n", encoding="utf-8")
    _add(folder, "cakes/cake", formula="[1 kg plain flour]", body='1. Mix. {work="1 min" on="the big bowl"}\n')
    assert _recipe(folder, "cakes/cake").method.steps[0].on == "the big bowl"


def test_a_book_pickles_to_itself(folder: Path) -> None:
    reading = read_book(folder)
    assert pickle.loads(pickle.dumps(reading)) == reading


def test_reading_twice_gives_the_same(folder: Path) -> None:
    assert read_book(folder) == read_book(folder)


def test_what_is_named_may_be_a_group_that_something_in_the_formula_belongs_to(folder: Path) -> None:
    seeds = "sesame seeds: {contains: [sesame], groups: [seeds]}\npoppy seeds: {contains: []}\n"
    (folder / "stores/seeds.yaml").write_text(seeds, "utf-8")
    _add(folder, "cakes/of-a-group", formula="[1 kg sesame seeds]", named="seeds")
    _add(folder, "cakes/of-none", formula="[1 kg poppy seeds]", named="seeds")
    reading = read_book(folder)
    assert [(found.code, found.anchor.document) for found in reading.problems] == [
        ("unknown-named", "cakes/of-none.md")
    ]


def test_a_claim_that_the_house_forbids_is_found_in_what_clients_read(folder: Path) -> None:
    house = folder / "house.yaml"
    house.write_text(house.read_text("utf-8") + "forbid claims: [gluten-free, halal]\n", encoding="utf-8")
    told = {"kind": "product", "sold_as": "Halal cake", "describe": "Light and Gluten free.", "serve": "Not halally."}
    _add(folder, "cakes/told", formula="[1 kg caster sugar]", **told)
    _add(folder, "cakes/silent", formula="[1 kg caster sugar]", **{**told, "kind": "component"})
    found = [(each.anchor.document, each.anchor.path, each.message) for each in read_book(folder).problems]
    assert [(document, path) for document, path, message in found if "forbids that claim" in message] == [
        ("cakes/told.md", ("sold as",)),
        ("cakes/told.md", ("describe",)),
    ]

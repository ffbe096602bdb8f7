"""`stores/*.yaml`: items by themselves, then all of them together."""

from datetime import date
from decimal import Decimal

import pytest

from bookmaker.measures.temperatures import Temperature
from bookmaker.model.allergens import ALLERGENS, CEREALS, NUTS, US_NUTS
from bookmaker.model.book import Caution
from bookmaker.model.stores import (
    Additive,
    Article,
    Composition,
    FromList,
    MadeOf,
    Nutrients,
    StoresItem,
    StoresKeeping,
    StoresKind,
)
from bookmaker.problems.problem import Problem
from bookmaker.reading.stores import bind_cautions, by_name, claimed_names, gather, read_stores
from bookmaker.reading.tree import compose
from tests.reading.settings import read_text

BUTTER = """\
unsalted butter:
  label: butter
  aka: [butter, pats of butter]
  contains: [milk]
  may contain: []
  usable: 98 %
  density: 0.911 g/ml
  measures: {block: 250 g, pat: 10 g}
  water: 16 %
  fat: 82 %
  nutrition:
    {fat: 81.11 g, saturates: 51.37 g, carbohydrate: 0.06, sugars: 60 mg, fibre: 0 g, protein: 0.85 g, salt: 0.03 g}
  nutrition source: USDA SR28 01145
  carbohydrate basis: by difference
  diet: [vegetarian, Halal]
  keeps: {closed: 60 days at 4 °C, opened: 3 weeks at 4 °C}
  cautions: [allergens]
  supplier sheet: 2026-03-01
  articles:
    Lowfield Dairy LD-82: {contains: [milk], may contain: [soybeans]}
  note: Cultured.
"""


def items(text: str) -> tuple[tuple[StoresItem, ...], list[str]]:
    """The items of a file and its problems."""
    return read_text(text, read_stores)


def item(text: str) -> tuple[StoresItem, list[str]]:
    """One item with these keys, called `x`."""
    (found,), problems = items("x:\n" + "".join(f"  {line}\n" for line in text.splitlines()))
    return found, problems


def test_a_whole_item() -> None:
    (found,), problems = items(BUTTER)
    d = Decimal
    assert problems == []
    assert found == StoresItem(
        id="unsalted butter",
        label="butter",
        aka=("butter", "pats of butter"),
        contains=frozenset({"milk"}),
        usable=d("0.98"),
        density=d("0.911"),
        measures=(("block", d(250)), ("pat", d(10))),
        composition=Composition(water=d("0.16"), fat=d("0.82")),
        nutrients=Nutrients(
            fat=d("81.11"), saturates=d("51.37"), carbohydrate=d("0.06"), sugars=d("0.06"), fibre=d(0),
            protein=d("0.85"), salt=d("0.03"), by_difference=True, source="USDA SR28 01145",
        ),
        diet=frozenset({"vegetarian", "halal"}),
        keeps=(
            StoresKeeping("closed", d(60 * 1440), Temperature(d(4))),
            StoresKeeping("opened", d(21 * 1440), Temperature(d(4))),
        ),
        cautions=("allergens",),
        supplier_sheet=date(2026, 3, 1),
        articles=(Article("Lowfield Dairy", "LD-82", frozenset({"milk"}), frozenset({"soybeans"})),),
        note="Cultured.",
    )  # fmt: skip


def test_bought_compounds_additives_packaging_and_moulding_materials() -> None:
    found, problems = items(
        "couverture:\n  made of: [cocoa mass 54 %, sugar 35.5 %, emulsifier (soya lecithin) 0.4 %, vanilla]\n"
        "lecithin:\n  additive: {class: emulsifier, number: e322}\n  weigh: careful\n"
        "dried apricot:\n  sulphites: 1200 mg/kg\n  brix: 70 %\n"
        "glucose syrup:\n  contains: [wheat]\n  exempt: {EU: [wheat], UK: wheat}\n"
        "cake box:\n  kind: packaging\n"
        "silicone:\n  kind: moulding\n  food contact: declared\n"
        "plain flour:\n  flour: yes\n"
    )
    d = Decimal
    assert problems == []
    by = {each.id: each for each in found}
    assert by["couverture"].made_of == (
        MadeOf("cocoa mass", d("0.54")), MadeOf("sugar", d("0.355")), MadeOf("emulsifier (soya lecithin)", d("0.004")),
        MadeOf("vanilla"),
    )  # fmt: skip
    assert by["lecithin"].additive == Additive("emulsifier", "e322")
    assert by["lecithin"].careful
    assert by["dried apricot"].sulphites == 1200
    assert by["dried apricot"].composition.solids == d("0.7")
    assert by["glucose syrup"].exempt == (("EU", frozenset({"wheat"})), ("UK", frozenset({"wheat"})))
    assert by["cake box"].kind is StoresKind.PACKAGING
    assert by["silicone"].food_contact
    assert by["plain flour"].flour
    assert not by["cake box"].flour


def test_an_item_may_say_nothing_at_all() -> None:
    found, problems = items("tap water:\nsalt: {}\n")
    assert problems == []
    assert found == (StoresItem("tap water", "tap water"), StoresItem("salt", "salt"))


def test_none_declared_and_declared_none_differ() -> None:
    assert item("label: y")[0].contains is None
    assert item("contains: []")[0].contains == frozenset()


def test_allergens_that_cannot_be_read_count_as_not_declared() -> None:
    found, problems = item("contains: [milk, nuts]")
    assert len(problems) == 1
    assert found.contains is None


@pytest.mark.parametrize("word", ALLERGENS)
def test_every_word_of_the_law_is_known(word: str) -> None:
    assert item(f"contains: [{word.upper()}]") == (StoresItem("x", "x", contains=frozenset({word})), [])


def test_the_law_names_fourteen_groups() -> None:
    """Regulation (EU) No 1169/2011, Annex II: gluten cereals, nuts, and twelve more."""
    assert len(set(ALLERGENS) - set(CEREALS) - set(NUTS) - set(US_NUTS)) + 2 == 14


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("contain: [milk]", "unknown-key: contain: did you mean 'contains'?"),
        ("contains: [dairy]", "unknown-allergen: dairy: did you mean 'milk'?"),
        ("contains: milk, egg", "unknown-allergen: egg: did you mean 'eggs'?"),
        ("contains: [almond]", "unknown-allergen: almond: did you mean 'almonds'?"),
        ("contains: none", "unknown-allergen: none: write [] for none"),
        ("contains: [gluten]", "allergen-group: gluten: write wheat, rye, barley, oats, spelt or kamut"),
        ("contains: [shellfish]", "allergen-group: shellfish: write crustaceans or molluscs"),
        ("usable: 120 %", "bad-share: 120 %: write a share of at most 100 %"),
        ("usable: 0 %", "bad-share: 0 %: "),
        ("usable: 0.9", "bad-share: 0.9: did you mean 90 %?"),
        ("density: 911 g/ml", "bad-density: 911 g/ml: did you mean 0.911 g/ml?"),
        ("density: 0.9", "bad-density: 0.9: write it as 0.911 g/ml"),
        ("density: 0,9 g/ml", "comma-number: 0,9: write 0.9"),
        ("measures: {cup: 250 ml}", "bad-amount: 250 ml: write a number and g or kg"),
        ("measures: {leaf: 0 g}", "bad-amount: 0: write how much, or leave it out"),
        ("flour: perhaps", "not-yes-or-no: perhaps: write yes or no"),
        ("kind: drink", "unknown-word: drink: write one of: food, packaging, moulding"),
        ("weigh: carefully", "unknown-word: carefully: did you mean 'careful'?"),
        ("water: 60 %\nfat: 60 %", "over-100-percent: x: check the numbers"),
        ("made of: [a 60 %, b 50 %]", "over-100-percent: [a 60 %, b 50 %]: check the numbers"),
        ("made of: [sugar 3,5 %]", "bad-amount: 5 %: numbers take a decimal point: write sugar 3.5 %"),
        ("made of: [54 %]", "bad-amount: 54 %: write it as sugar 36 %"),
        ("additive: {class: emulsifier, number: 322}", "bad-number: 322: write E and its digits, as in E322"),
        ("additive: {number: E322}", "missing-key: additive: add a line `class: …`"),
        ("sulphites: 12", "bad-amount: 12: write it as 12 mg/kg"),
        ("exempt: {France: [wheat]}", "unknown-word: France: write one of: EU, UK, US"),
        ("diet: [vegn]", "unknown-word: vegn: did you mean 'vegan'?"),
        ("keeps: {open: 3 days}", "unknown-word: open: did you mean 'opened'?"),
        ("keeps: {opened: ages}",
         "bad-keeping: ages: write it as 3 days at 4 °C, or 2 months at -18 °C, from baked within 12 h"),
        ("supplier sheet: 01.03.2026", "bad-date: 01.03.2026: write 2026-03-01 or 2026-01-03"),
        ("supplier sheet: 15.03.2026", "bad-date: 15.03.2026: write 2026-03-15"),
        ("supplier sheet: 3/15/2026", "bad-date: 3/15/2026: write 2026-03-15"),
        ("supplier sheet: 2026/3/1", "bad-date: 2026/3/1: write 2026-03-01"),
        ("supplier sheet: 2026-02-30", "bad-date: 2026-02-30: write year-month-day"),
        ("supplier sheet: March 2026", "bad-date: March 2026: write year-month-day, as in 2026-03-01"),
        ("articles: {MR114: {}}", "bad-article: MR114: write it as Millstone & Reed MR-114"),
        ("nutrition: {fat: 81 ml}\nnutrition source: s", "bad-amount: 81 ml: write it as 81.11 g"),
        ("nutrition: {fat: 181 g}\nnutrition source: s", "bad-amount: 181 g: check the number"),
        ("nutrition: {energy: 717 kcal}\nnutrition source: s",
         ("unknown-key: energy: known here: fat, saturates, carbohydrate, sugars, fibre, protein, salt, polyols, "
          "acids, trans fat, cholesterol, added sugars, vitamin d, calcium, iron, potassium")),
        ("nutrition: {fat: 81 g}", "no-nutrition-source: nutrition: add `nutrition source: …`"),
        ("nutrition: {fat: 10 g, saturates: 12 g}\nnutrition source: s", "nutrition-part: 12 g: check both numbers"),
        ("nutrition: {carbohydrate: 10 g, sugars: 11.5 g}\nnutrition source: s",
         "nutrition-part: 11.5 g: check both numbers"),
    ],
)  # fmt: skip
def test_one_mistake_is_said_once_at_its_place(text: str, problem: str) -> None:
    assert item(text)[1] == [problem]


def test_nutrition_of_more_than_everything() -> None:
    _, problems = item("nutrition: {fat: 60 g, carbohydrate: 30 g, fibre: 12 g}\nnutrition source: s")
    assert [each.partition(": check")[0] for each in problems] == ["nutrition-sum: nutrition"]
    # by difference the fibre is in the carbohydrate already
    basis = "carbohydrate basis: by difference"
    _, problems = item(f"nutrition: {{fat: 60 g, carbohydrate: 30 g, fibre: 12 g}}\nnutrition source: s\n{basis}")
    assert problems == []


def test_two_analyses_side_by_side_may_differ_a_little() -> None:
    """Milk in the USDA table: 5.05 g of sugars in 4.8 g of carbohydrate."""
    assert item("nutrition: {carbohydrate: 4.8 g, sugars: 5.05 g}\nnutrition source: USDA SR28 01077")[1] == []


@pytest.mark.parametrize(
    ("name", "problem"),
    [
        ("flour, plain", "comma-in-name: flour, plain: write 'plain flour'"),
        ("00 flour", "number-in-name: 00 flour: put a word first"),
    ],
)
def test_names_that_a_recipe_could_not_write(name: str, problem: str) -> None:
    assert items(f"{name}:\n  label: y\n") == ((), [problem])


def test_an_empty_file() -> None:
    assert items("\n") == ((), ["empty-file: : write something into it, or delete the file"])


def test_one_faulty_item_does_not_take_the_others_along() -> None:
    found, problems = items("a: [1]\nb: {label: y}\n")
    assert [each.id for each in found] == ["b"]
    assert problems == ["wrong-kind: [1]: write `key: value` lines indented under it"]


# --- all files together


def gathered(*texts: str) -> tuple[dict[str, StoresItem], list[Problem]]:
    """The items of several files together."""
    files = []
    for index, text in enumerate(texts):
        tree, _ = compose(text, f"stores/{index}.yaml")
        assert tree is not None
        files.append(read_stores(tree)[0])
    found, problems = gather(files)
    return dict(found), problems


def test_the_same_item_in_two_files() -> None:
    found, problems = gathered("butter: {label: a}\n", "Butter: {label: b}\n")
    assert found == {"butter": StoresItem("butter", "a")}
    assert [(each.code, each.anchor.document) for each in problems] == [("duplicate-item", "stores/1.yaml")]
    assert problems[0].related[0].anchor.document == "stores/0.yaml"


def test_one_alias_for_two_items_and_an_alias_that_is_an_item() -> None:
    _, problems = gathered("a: {aka: [z, b]}\n", "b: {aka: Z}\n")
    assert [(each.code, each.message) for each in problems] == [
        ("alias-clash", "'b' would mean both 'a' and 'b'"),
        ("alias-clash", "'Z' would mean both 'b' and 'a'"),
    ]


def test_an_alias_that_repeats_the_name_does_no_harm() -> None:
    assert gathered("crème: {aka: [creme, Crème]}\n")[1] == []


def test_names_and_aliases_lead_to_items() -> None:
    found, _ = gathered("Unsalted butter: {aka: [butter]}\nbutter cream:\n")
    names = by_name(found)
    assert names["unsalted butter"] is names["butter"] is found["Unsalted butter"]
    assert len(names) == 3


def test_a_file_that_cannot_be_read_still_claims_its_names() -> None:
    """Recipes and prices that use them are not to blame for a bracket left open."""
    text = "# dairy\nunsalted butter:\n  aka: [butter, beurre]\n  contains: [milk\n'x': y\nwhole milk: {}\n\tbad: z\n"
    assert claimed_names(text) == ("unsalted butter", "butter", "beurre", "whole milk")


def test_cautions_are_bound_to_their_own_spelling() -> None:
    found, _ = gathered("a: {cautions: [Hot Sugar]}\nb: {cautions: [hot sugr]}\n")
    bound, problems = bind_cautions(found, {"hot sugar": Caution("hot sugar", "h", "d")})
    assert bound["a"].cautions == ("hot sugar",)
    assert bound["b"].cautions == ()
    assert [(each.code, each.fix) for each in problems] == [("unknown-caution", "did you mean 'hot sugar'?")]


def test_what_labels_want_to_know_of_an_item() -> None:
    found, problems = item(
        "groups: [fruit, berries]\nexempt from list: Processing aid\ndefined by law: yes\n"
        "labelled as: Orchard Gate OG-7\narticles: {Orchard Gate OG-7: {made of: [apricots]}, Cold Quay CQ-1: {}}"
    )
    assert problems == []
    assert found.groups == ("fruit", "berries")
    assert found.exempt_from_list is FromList.PROCESSING_AID
    assert found.defined_by_law
    assert found.labelled_as == ("Orchard Gate", "OG-7")
    plain, _ = item("contains: []")
    assert (plain.groups, plain.exempt_from_list, plain.defined_by_law, plain.labelled_as) == ((), None, False, None)


def test_an_article_is_pinned_by_a_name_that_articles_has() -> None:
    found, problems = item("labelled as: Orchard Gate OG-8\narticles: {Orchard Gate OG-7: {contains: []}}")
    assert found.labelled_as is None
    assert problems == ["unknown-word: Orchard Gate OG-8: did you mean 'Orchard Gate OG-7'?"]


def test_nutrients_of_american_labels_are_grams_too() -> None:
    found, problems = item(
        "nutrition: {fat: 81 g, trans fat: 3.3 g, cholesterol: 215 mg, vitamin d: 1.5 µg, iron: 20 mcg}\n"
        "nutrition source: s"
    )
    assert problems == []
    assert found.nutrients is not None
    assert found.nutrients.trans_fat == Decimal("3.3")
    assert found.nutrients.cholesterol == Decimal("0.215")
    assert found.nutrients.vitamin_d == Decimal("0.0000015")
    assert found.nutrients.iron == Decimal("0.00002")
    assert found.nutrients.polyols is None


@pytest.mark.parametrize(
    ("nutrition", "part"),
    [
        ("fat: 1 g, trans fat: 2 g", "trans fat"),
        ("sugars: 5 g, added sugars: 6 g", "added sugars"),
        ("carbohydrate: 50 g, polyols: 60 g", "polyols"),
    ],
)
def test_a_part_is_no_more_than_its_whole(nutrition: str, part: str) -> None:
    _, problems = item(f"nutrition: {{{nutrition}}}\nnutrition source: s")
    assert [each.split(":")[0] for each in problems] == ["nutrition-part"], part


@pytest.mark.parametrize(
    ("keys", "problems"),
    [
        (
            "contains: [milk]\ndiet: [vegan, vegetarian]",
            ["diet-contradicted: [vegan, vegetarian]: ask the supplier, and correct"],
        ),
        ("contains: [fish]\ndiet: [vegetarian]", ["diet-contradicted: [vegetarian]: ask the supplier, and correct"]),
        ("contains: [milk]\ndiet: [vegetarian]", []),
        ("contains: [almonds]\ndiet: [vegan]", []),
        ("diet: [vegan]", []),
    ],
)
def test_a_diet_that_the_items_own_allergens_rule_out(keys: str, problems: list[str]) -> None:
    assert [each.partition(" `")[0] for each in item(keys)[1]] == problems


def test_an_item_may_be_declared_unfit_for_a_diet() -> None:
    found, problems = item("diet: [not vegan, Not Vegetarian, alcohol-free]")
    assert problems == []
    assert found.diet == frozenset({"not vegan", "not vegetarian", "alcohol-free"})
    assert item("diet: [no vegan]")[1] == ["unknown-word: no vegan: did you mean 'not vegan'?"]

"""A label as the terminal prints it, of small books."""

from decimal import Decimal
from typing import Any

from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.label_figures import LabelFigure
from bookmaker.model.house import Compounds, Region
from bookmaker.model.recipe import ClientText, Kind, Status
from bookmaker.model.stores import Nutrients
from bookmaker.workshop.terminal.figures import desk_for
from bookmaker.workshop.terminal.label import label_text
from bookmaker.workshop.terminal.labels_lacking import incomplete_labels, lacking_table
from bookmaker.workshop.terminal.table import width_of
from tests.kitchen.labelling.labels import BUTTER, FLOUR, ON, house, label, product
from tests.support import make


def printed(*recipes: Any, stores: Any = (), **how: Any) -> str:
    book = make.book(*recipes, stores=[FLOUR, BUTTER, *stores], own=house(**how))
    text = label_text(desk_for(book), label(book))
    assert [line for line in text.splitlines() if width_of(line) > 80] == []
    return text


def flat(text: str) -> str:
    return " ".join(text.split())


PLAIN = make.item("oil", fat="100", sugars="0", protein="0", salt="0")


def test_an_american_label_has_its_own_words() -> None:
    lines = [make.line(99, "oil"), make.line(1, "butter")]
    text = printed(product(lines, make.pieces(2, "tarts")), stores=[PLAIN], region=Region.US)
    assert "label by the law of the US" in text
    assert "contains 2% or less of: butter. Contains: MILK." in flat(text)
    assert "Nutrition Facts" in text
    assert "% DV" in text
    assert "per tart (50 g)" in text


def test_the_column_of_the_day_says_whose_share_it_is() -> None:
    pieces = printed(product([make.line(100, "oil")], make.pieces(2, "tarts")), stores=[PLAIN])
    assert "RI per tart" in pieces
    whole = printed(product([make.line(100, "oil")], 100), stores=[PLAIN])
    assert "RI per 100 g" in whole
    assert "net" not in whole


def test_what_is_missing_reads_missing_and_not_like_nothing() -> None:
    text = printed(product([make.line(50, "oil"), make.line(50, "flour")], 100), stores=[PLAIN])
    rows = {line.split("  ")[0]: line for line in text.splitlines()}
    assert rows["fat"].endswith("missing")
    assert "Incomplete: no nutrition data for flour, oil." in text


def test_quantities_without_a_place_stand_under_the_name() -> None:
    cream = make.recipe("cream", [make.line(50, "butter"), make.line(50, "oil")], 100)
    cake = product([make.line(50, cream.ref), make.line(50, "butter")], 100, named=("butter",), title="Cake")
    text = printed(cream, cake, stores=[PLAIN], compounds=Compounds.NESTED)
    lines = text.splitlines()
    assert lines[lines.index("Cake") + 1] == "butter 75 %"


def test_notes_and_the_houses_own_sentence_are_there() -> None:
    cake = product([make.line(1, "oil")], 1, client=ClientText(defrosted=True))
    text = printed(cake, stores=[PLAIN], cross_contact="Made where nuts are handled.")
    assert "Defrosted." in text.splitlines()
    assert "Made where nuts are handled." in text
    assert "none that a declaration names" in text


def test_what_was_never_declared_frees_nothing() -> None:
    text = flat(printed(product([make.line(1, "secret")], 1), stores=[make.item("secret", contains=None)]))
    assert "not declared secret: nothing here is free from anything" in text
    assert "Not fit to print: allergens not declared by secret." in text
    assert "none that" not in text


def test_forbidden_claims_are_not_printed() -> None:
    forbid = ("vegan", "vegetarian", "halal", "kosher", "alcohol-free")
    assert "Diets" not in printed(product([make.line(1, "oil")], 1), stores=[PLAIN], forbid_claims=forbid)


# --- what `check` says of labels --------------------------------------------------------------------------------------


def lacking(*items: Any, **more: Any) -> list[LabelFigure]:
    lines = [make.line(10, each.id) for each in items]
    cake = product(lines, 10 * len(lines), **{"kind": Kind.PRODUCT, "status": Status.APPROVED, **more})
    book = make.book(cake, stores=items, own=house())
    return list(incomplete_labels(book, compute(book, ON)))


ONE = Decimal(1)
FULL = make.item("jam", nutrients=Nutrients(ONE, ONE, ONE, ONE, ONE, ONE, ONE))


def test_only_released_products_are_asked_for() -> None:
    secret = make.item("secret", contains=None)
    assert len(lacking(secret)) == 1
    assert lacking(secret, status=Status.TRIAL) == []
    assert lacking(secret, kind=Kind.COMPONENT) == []


def test_nutrition_is_asked_for_where_it_was_begun() -> None:
    bare = make.item("bare")
    assert lacking(bare) == []
    assert len(lacking(bare, FULL)) == 1
    assert lacking(FULL) == []


def test_the_table_names_a_few_and_counts_the_rest() -> None:
    items = [FULL, *(make.item(name) for name in ("anise", "basil", "cumin", "dill", "fennel"))]
    cake = product([make.line(10, each.id) for each in items], 60, kind=Kind.PRODUCT, status=Status.APPROVED)
    book = make.book(cake, stores=items, own=house())
    text = lacking_table(desk_for(book), list(incomplete_labels(book, compute(book, ON))))
    assert "no nutrition data for anise, basil, cumin, and 2 more" in " ".join(text.split())
    assert [line for line in text.splitlines() if width_of(line) > 80] == []

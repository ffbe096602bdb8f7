"""A label as the record and `label --json` have it."""

import json
from typing import Any

from bookmaker.editions.record.labels import label_record
from bookmaker.kitchen.label_figures import CHECK
from tests.kitchen.labelling.labels import house, label, product
from tests.support import make


def record() -> dict[str, Any]:
    base = make.recipe("base", [make.line(70, "flour"), make.line(30, "vanilla")], 100, title="Base")
    cake = product([make.line(80, make.ref("base")), make.line(20, "oil")], make.pieces(4), named=("oil",))
    stores = [
        make.item("flour", label="wheat flour", contains=frozenset({"wheat"}), fat="1", protein="10", salt="0"),
        make.item("oil", fat="100", protein="0", salt="0", diet=frozenset({"vegan"})),
    ]
    book = make.book(base, cake, stores=stores, own=house())
    found: dict[str, Any] = json.loads(json.dumps(label_record(book, label(book))))
    return found


def test_entries_carry_their_exact_share_and_their_ways() -> None:
    ingredients = record()["ingredients"]
    assert ingredients["text"] == "WHEAT flour, vanilla, oil 20 %"
    assert ingredients["list"][0] == {
        "name": "wheat flour",
        "allergens": ["wheat"],
        "share": 0.56,
        "quantity": "",
        "parts": [],
        "ways": [["Base", "flour"]],
    }
    assert ingredients["any order at the end"] == 0


def test_quantities_say_where_they_stand() -> None:
    assert record()["quantities"] == [{"of": "oil", "share": 0.2, "printed": "20 %", "in the list": True}]


def test_what_is_missing_is_named_and_what_is_known_is_at_least() -> None:
    rows = {row["key"]: row for row in record()["nutrition"]["rows"]}
    assert rows["fat"]["exact"] == {"at least": 20.56, "lacks": ["nutrition: vanilla ← base"]}
    assert rows["fat"]["per 100 g"] == ""


def test_diets_name_what_is_in_the_way() -> None:
    assert record()["diets"]["vegan"] == {"suits": "unknown", "because of": [["Base", "flour"], ["Base", "vanilla"]]}


def test_the_record_says_to_check_it() -> None:
    assert record()["check"] == CHECK

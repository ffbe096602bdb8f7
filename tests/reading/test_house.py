"""`house.yaml`."""

from decimal import Decimal

import pytest

from bookmaker.measures.scales import Scale
from bookmaker.measures.units import Spoons
from bookmaker.model.house import (
    Additives,
    CardPaper,
    Channel,
    Choose,
    Compounds,
    Equipment,
    Flat,
    Holds,
    House,
    LabelRules,
    Mould,
    OverheadBase,
    Packed,
    Paper,
    PriceRule,
    Region,
    Staff,
    Tin,
)
from bookmaker.model.shapes import Rectangle
from bookmaker.reading.house import read_house
from tests.reading.settings import read_text

HOUSE = """\
format: 1
name: Quillhaven Kitchen
language: en
region: eu
paper: a4
money: EUR
batches: [1/2, 1, 2, 4]
temperature: F
spoons: metric
prices: {choose: preferred, preferred: [Millstone & Reed, Lowfield Dairy], stale after: 180 days}
food cost: 28 %
labour: {pastry cook: 21.50 EUR/h, night baker: 22 EUR / h}
overhead: 12 % of ingredients and labour
energy: 0.28 EUR/kWh
channels:
  tea room: {tax: 10 %, food cost: 30 %}
  hotel: {}
scales:
  - up to 200 g in 0.1 g
  - up to 6 kg in 1 g
equipment:
  deck oven: {kind: oven, count: 2, holds: "6 trays, 12 kg", power: 12 kW}
  hob: {kind: hob, power: 3500 W}
moulds:
  pebble mould: {cavities: 24, volume: 62 ml, fill: 95 %, food contact: declared, made of: moulding silicone}
tins: {loaf tin 900: {volume: 2.3 l}, tart ring 24 cm: {diameter: 24 cm, height: 25 mm}}
frames: {bar frame: {size: 60 × 40 cm, height: 40 mm}}
trays: {baking tray: {size: 600 x 400 mm}}
staff:
  night baker: {role: Night Baker, hours: 22:00..06:00}
  cooks: {role: pastry cook, people: 2, hours: 06:00..14:30}
see costs: office, development chef
published at: https://book.quillhaven.example/
cross contact: Made where nuts are handled.
cross contact allergens: [wheat, milk]
forbid claims: [gluten-free]
contact: kitchen@quillhaven.example
sections: {breads: Breads, biscuits: Biscuits & sponges}
"""


def house(text: str) -> tuple[House, list[str]]:
    """The house of a text and its problems; `format` and `name` are put before it."""
    value, problems = read_text(f"format: 1\nname: x\n{text}", read_house)
    assert value is not None
    return value, problems


def test_a_whole_house() -> None:
    value, problems = read_text(HOUSE, read_house)
    d = Decimal
    assert problems == []
    assert value == House(
        name="Quillhaven Kitchen",
        region=Region.EU,
        paper=Paper.A4,
        batches=(d("0.5"), d(1), d(2), d(4)),
        fahrenheit=True,
        spoons=Spoons.METRIC,
        prices=PriceRule(Choose.PREFERRED, ("Millstone & Reed", "Lowfield Dairy"), d(180 * 1440)),
        food_cost=d("0.28"),
        labour=(("pastry cook", d("21.50")), ("night baker", d(22))),
        labour_role="pastry cook",
        overhead=d("0.12"),
        overhead_base=OverheadBase.BOTH,
        energy=d("0.28"),
        channels=(Channel("tea room", d("0.1"), d("0.3")), Channel("hotel")),
        scales=(Scale(d(200), d("0.1")), Scale(d(6000), d(1))),
        equipment=(
            Equipment("deck oven", "oven", 2, (Holds(d(6), "tray"), Holds(d(12000))), d(12)),
            Equipment("hob", "hob", power=d("3.5")),
        ),
        moulds=(Mould("pebble mould", 24, d(62), d("0.95"), True, "moulding silicone"),),
        tins=(Tin("loaf tin 900", d(2300)), Tin("tart ring 24 cm", None, d(240), d(25))),
        frames=(Flat("bar frame", Rectangle(d(600), d(400)), d(40)),),
        trays=(Flat("baking tray", Rectangle(d(600), d(400))),),
        staff=(Staff("night baker", "night baker", 1, 1320, 1800), Staff("cooks", "pastry cook", 2, 360, 870)),
        see_costs=("office", "development chef"),
        published_at="https://book.quillhaven.example/",
        cross_contact="Made where nuts are handled.",
        cross_contact_allergens=frozenset({"wheat", "milk"}),
        forbid_claims=("gluten-free",),
        contact="kitchen@quillhaven.example",
        sections=(("breads", "Breads"), ("biscuits", "Biscuits & sponges")),
    )


def test_the_smallest_house_has_sensible_defaults() -> None:
    value, problems = house("")
    assert problems == []
    assert value == House("x")


def test_an_empty_file() -> None:
    value, problems = read_text("# nothing yet\n", read_house)
    assert value is None
    assert problems == ["empty-file: # nothing yet: write at least `format: 1` and `name: …`"]


def test_what_is_missing_is_said_and_the_rest_is_read() -> None:
    value, problems = read_text("region: UK\n", read_house)
    assert value is not None
    assert value.region is Region.UK
    assert problems == ["missing-key: region: add a line `format: …`", "missing-key: region: add a line `name: …`"]


def test_another_format() -> None:
    _, problems = read_text("format: 2\nname: x\n", read_house)
    assert [each.partition(": ")[0] for each in problems] == ["house-format"]


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("region: Europe", "unknown-word: Europe: write one of: EU, UK, US"),
        ("papre: A4", "unknown-key: papre: did you mean 'paper'?"),
        ("paper: A5", "unknown-word: A5: write one of: A4, Letter"),
        ("money: €", "bad-currency: €: write EUR"),
        ("money: eur", "bad-currency: eur: write EUR"),
        ("money: Taler", "bad-currency: Taler: write a code such as EUR, GBP or USD"),
        ("language: English", "unknown-word: English: write a code such as en, de or fr"),
        ("food cost: 28", "bad-share: 28: did you mean 28 %?"),
        ("food cost: 128 %", "bad-share: 128 %: write a share of at most 100 %"),
        ("food cost: 28,5 %", "comma-number: 28,5: write 28.5"),
        ("batches: [1, 0]", "bad-number: 0: "),
        ("batches: [1, two]", "bad-number: two: write digits only"),
        ("labour: {cook: 21 USD/h}", "rate-currency: 21 USD/h: write it in the house's currency"),
        ("labour: {cook: 21 EUR}", "bad-price: 21 EUR: write 21 EUR/h"),
        ("labour: {cook: 21}", "bad-price: 21: write it as 21.50 EUR/h"),
        ("labour: {cook: 21 EUR/h}\nlabour role: cok", "unknown-role: cok: did you mean 'cook'?"),
        ("labour: {cook: 21 EUR/h}\nstaff: {a: {role: baker}}",
         "unknown-role: baker: add its rate under `labour`: baker: 20 EUR/h"),
        ("energy: 0.28 EUR/h", "bad-price: 0.28 EUR/h: write 0.28 EUR/kWh"),
        ("overhead: 12 %", "bad-share: 12 %: write it as 12 % of ingredients"),
        ("overhead: 12 % of everything",
         "unknown-word: everything: write one of: ingredients, labour, ingredients and labour"),
        ("prices: {choose: cheap}", "unknown-word: cheap: did you mean 'cheapest'?"),
        ("prices: {choose: preferred}", "missing-key: preferred: list the suppliers"),
        ("prices: {stale after: 6 moons}",
         "bad-duration: 6 moons: write a number and s, min, h, days, weeks or months"),
        ("scales: [up to 6 kg]", "bad-amount: up to 6 kg: write it as: up to 6 kg in 1 g"),
        ("scales: [up to 2 g in 1 kg]", "bad-amount: up to 2 g in 1 kg: write: up to 1 kg in 2 g"),
        ("scales: [up to 6 l in 1 g]", "bad-amount: 6 l: write a number and g or kg"),
        ("equipment: {oven: {kind: stove}}",
         "unknown-word: stove: write one of: bench, mixer, oven, hob, cold, freezer, proofer, sheeter, other"),
        ("equipment: {oven: {kind: oven, holds: 6 things}}",
         "bad-amount: 6 things: write it as 8 kg, 6 trays or 4 sheets"),
        ("equipment: {oven: {kind: oven, power: 12}}", "bad-amount: 12: write it as 12 kW"),
        ("equipment: {oven: {kind: oven, count: 1.5}}", "bad-number: 1.5: write it in figures: 2"),
        ("equipment: {oven: {}}", "missing-key: oven: add a line `kind: …`"),
        ("moulds: {m: {cavities: 24, volume: 62}}", "bad-amount: 62: write a number and ml or l"),
        ("moulds: {m: {cavities: 24, volume: 1 cup}}",
         "bad-amount: 1 cup: write 237 ml, or set `region: US` in house.yaml"),
        ("moulds: {m: {cavities: 0, volume: 62 ml}}", "bad-number: 0: write it in figures: 2"),
        ("moulds: {m: {cavities: 2, volume: 62 ml, fill: 105 %}}", "bad-share: 105 %: write a share of at most 100 %"),
        ("moulds: {m: {cavities: 2, volume: 62 ml, food contact: yes}}", "unknown-word: yes: write declared"),
        ("tins: {t: {height: 2 cm}}", "missing-key: t: add `volume: …`, or `diameter: …` and `height: …`"),
        ("tins: {t: {volume: 1 l}, T: {volume: 1 l}}", "duplicate-key: T: keep one of them"),
        ("frames: {f: {size: 60 cm}}", "bad-size: 60 cm: write it as 60 × 40 cm"),
        ("staff: {a: {role: x, hours: 22-06}}", "bad-hours: 22-06: write them as 06:00..14:30"),
        ("staff: {a: {role: x, hours: 06:00..25:00}}", "bad-hours: 06:00..25:00: write them as 06:00..14:30"),
        ("published at: book.example", "bad-address: book.example: write it as https://book.example"),
        ("cross contact allergens: [gluten]",
         "allergen-group: gluten: write wheat, rye, barley, oats, spelt or kamut"),
        ("channels: {hotel: {tax: 10}}", "bad-share: 10: did you mean 10 %?"),
        ("channels: [hotel]", "wrong-kind: [hotel]: write `key: value` lines indented under it"),
    ],
)  # fmt: skip
def test_one_mistake_is_said_once_at_its_place(text: str, problem: str) -> None:
    _, problems = house(text)
    assert problems == [problem]


def test_an_address_ends_with_a_stroke_so_that_pages_can_stand_behind_it() -> None:
    value, problems = house("published at: https://book.example/ours\n")
    assert problems == []
    assert value.published_at == "https://book.example/ours/"


def test_cards_are_printed_on_the_houses_paper_or_on_their_own() -> None:
    assert house("paper: A4\n")[0].card_paper is CardPaper.A4
    assert house("paper: Letter\n")[0].card_paper is CardPaper.LETTER
    assert house("cards: {paper: A5}\n")[0].card_paper is CardPaper.A5


def test_a_faulty_setting_keeps_its_default_and_the_others_are_read() -> None:
    value, problems = house("paper: A5\nmoney: GBP\nscales: [nonsense]\n")
    assert len(problems) == 2
    assert (value.paper, value.money, value.scales) == (Paper.A4, "GBP", House("x").scales)


def test_us_measures_in_a_us_house() -> None:
    value, problems = house("region: US\nmoulds: {m: {cavities: 1, volume: 1 cup}}")
    assert problems == []
    assert value.moulds[0].volume == Decimal("236.5882365")


def test_the_report_points_at_an_anchor_of_the_house() -> None:
    value, _ = house("moulds: {m: {cavities: 1, volume: 1 l}}")
    assert value.anchor.document == value.moulds[0].anchor.document == "d.yaml"


# --- labels

LABELS = """\
format: 1
name: Quillhaven Kitchen
channels: {tea room: {tax: 10 %}}
labels:
  price: Tea Room
  stickers:
    small: {size: 70 × 37 mm, across: 3, down: 8, left: 0 mm, top: 0.5 mm}
    boxes: {size: 9 x 5 cm, across: 2, down: 5, gap across: 10 mm}
    bonbons: {size: 45 × 20 mm, across: 4, down: 10, small packs: yes}
"""


def test_label_sheets_stand_in_the_middle_unless_their_place_is_stated() -> None:
    house, problems = read_text(LABELS, read_house)
    assert problems == []
    assert house is not None
    small, boxes, bonbons = house.labels.stickers
    assert house.labels.price == "tea room"
    assert (small.left, small.top, small.across, small.down) == (Decimal(0), Decimal("0.5"), 3, 8)
    assert boxes.size == Rectangle(Decimal(90), Decimal(50))
    assert (boxes.left, boxes.top) == (Decimal(10), Decimal("23.5"))  # (210 - 2 × 90 - 10) / 2, (297 - 5 × 50) / 2
    assert (bonbons.small_packs, small.small_packs) == (True, False)


def test_label_sheets_that_cannot_be_are_left_out() -> None:
    text = LABELS.replace("70 × 37 mm", "70 × 38 mm").replace("9 x 5 cm", "9 cm").replace("45 × 20 mm", "45 × 29 cm")
    house, problems = read_text(text.replace("Tea Room", "market"), read_house)
    assert house is not None
    assert house.labels.stickers == ()
    assert problems == [
        "unknown-word: market: write tea room",
        "bad-size: small: measure again: the paper is 210 × 297 mm",
        "bad-size: 9 cm: write it as 70 × 37 mm",
        "bad-size: yes: leave `small packs` out",
        "bad-size: bonbons: measure again: the paper is 210 × 297 mm",
    ]


def with_labels(text: str) -> tuple[LabelRules, list[str]]:
    house, problems = read_text(f"format: 1\nname: Quillhaven Kitchen\n{text}", read_house)
    assert house is not None
    return house.labels, problems


def test_how_ingredient_lists_are_made_is_the_houses_choice() -> None:
    labels, problems = with_labels("labels: {compounds: Nested, additives: numbers, packed: on premises}\n")
    assert problems == []
    assert (labels.compounds, labels.additives) == (Compounds.NESTED, Additives.NUMBERS)
    assert labels.packed is Packed.ON_PREMISES
    usual, _ = with_labels("")
    assert (usual.compounds, usual.additives) == (Compounds.MERGED, Additives.NAMES)
    assert usual.packed is Packed.ELSEWHERE


def test_words_that_no_label_knows_are_reported() -> None:
    labels, problems = with_labels("labels: {compounds: nestled, packed: in bags}\n")
    assert (labels.compounds, labels.packed) == (Compounds.MERGED, Packed.ELSEWHERE)
    assert problems == [
        "unknown-word: nestled: did you mean 'nested'?",
        "unknown-word: in bags: write one of: for sale elsewhere, on premises",
    ]

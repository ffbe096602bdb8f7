"""One recipe file by itself: what it says, and where."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.measures.durations import Span
from bookmaker.measures.money import Money
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.keeping import Keeping
from bookmaker.model.line import Loss, Rest, StageKind
from bookmaker.model.method import Limit, NoteKind
from bookmaker.model.recipe import Kind, Portion, Status, Teaching
from bookmaker.model.written.line import Words
from bookmaker.model.written.recipe import WrittenRecipe
from bookmaker.model.yields import CoProduct, Making, PieceYield
from bookmaker.problems.anchors import Anchor
from bookmaker.reading.recipe import RecipeDocument, written_recipe

D = Decimal

WHOLE = """\
---
title: Honey slice
kind: product
code: QB-20
revision: 3
revised: 2026-09-30
status: approved
tags: slice, honey
aka: [honey slices]
yields: 24 slices of 80 g
base: flour
formula:
  Sponge (preferment):
    - 400 g plain flour, sifted
    - {line: 12 g fine salt, note: "fine, not coarse", optional: yes}
  Glaze:
    - line: 300 g glaze
      stays: 60 %
      rest: back
      working: 2 kg
      or: [icing sugar, fondant]
      at most: 25 %
      loss: 2 %
losses: {Sponge: {mix: 1 %}, whole: {bake: 9 %, trim: 2 %}}
tray: 24 pieces
keep back: 50 g
gives:
  honey crumbs: {amount: 5 %, worth: 50 %, keeps: {raw: 3 days at 4 °C}}
make: {least: 2 kg, step: 500 g, most: 8 kg, whole: yes}
layers: ["Sponge, 24 mm", "honey mousse > apricot heart, dome at 30 mm", glaze coats]
packaging: [1 cake box per 6 slices, 2 product label]
dough temperature: 25 °C
labour role: night baker
portion: 1 slice
servings: 4
price: {tea room: 4.20 EUR incl, hotel: 2.60 EUR net}
describe: Soft.
sold as: Honey cake
named: [honey]
defrosted: yes
keeps:
  baked: 10 days dry at 18 °C, best before
  frozen: 2 months at -18 °C, from baked within 12 h
cautions: [hot trays]
teach: {level: 2, topics: [sponges], exercises: {add: [scaling], leave out: [cost]}}
photo: images/slice.jpg
photo text: A slice
---
A soft slice. See [the glaze](../creams/glaze.md).

## First day

1. Mix. {name="mix" work="10 min" on="planetary mixer" caution="moving machinery" uses="Sponge"}
2. Rest. {wait="4 h..16 h" at="4 °C"}

::: caution hot trays
Use the long gloves.
:::

## Second day

7. Bake. {takes="18..22 min" after="mix" limit="core 75 °C" if-missed="bake on" ccp="2" kill="yes"}

Leave it in the tin.

::: look for
Gold.
:::
"""


def _read(text: str, document: str = "slices/honey-slice.md") -> RecipeDocument:
    return written_recipe(document, text)


def _recipe(text: str) -> WrittenRecipe:
    read = _read(text)
    assert read.problems == ()
    assert read.recipe
    return read.recipe


def _small(**keys: str) -> str:
    usual = {"title": "Cake", "yields": "1 kg", "formula": "[1 kg flour]"}
    front = "".join(f"{key.replace('_', ' ')}: {value}\n" for key, value in (usual | keys).items())
    return f"---\n{front}---\n1. Mix.\n"


def test_the_facts_of_a_recipe() -> None:
    recipe = _recipe(WHOLE)
    assert (recipe.id, recipe.section) == ("slices/honey-slice", "slices")
    assert (recipe.title.text, recipe.kind, recipe.status) == ("Honey slice", Kind.PRODUCT, Status.APPROVED)
    assert (recipe.revision, recipe.revised) == (3, date(2026, 9, 30))
    assert [tag.text for tag in recipe.tags] == ["slice", "honey"]
    assert recipe.yields == PieceYield(D(24), "slices", finished=D(80))
    assert recipe.losses == (Loss("bake", D("0.09")), Loss("trim", D("0.02")))
    assert (recipe.tray, recipe.keep_back, recipe.dough_temperature) == (D(24), D(50), Temperature(D(25)))
    assert recipe.gives == (
        CoProduct(
            "honey crumbs",
            share=D("0.05"),
            worth=D("0.5"),
            keeps=(Keeping("raw", D(4320), Temperature(D(4))),),
        ),
    )
    assert recipe.make == Making(D(2000), D(500), D(8000), whole=True)
    assert recipe.portion == Portion(pieces=D(1))
    assert recipe.servings == 4
    assert [(price.channel.text, price.money, price.taxed) for price in recipe.prices] == [
        ("tea room", Money(D("4.20"), "EUR"), True),
        ("hotel", Money(D("2.60"), "EUR"), False),
    ]
    assert [(line.name.text, line.count, line.per) for line in recipe.packaging] == [
        ("cake box", D(1), D(6)),
        ("product label", D(2), None),
    ]
    assert recipe.keeps == (
        Keeping("baked", D(14400), Temperature(D(18)), "dry", date_word="best before"),
        Keeping("frozen", D(86400), Temperature(D(-18)), from_state="baked", within=D(720)),
    )
    assert recipe.teaching == Teaching(True, 2, (), ("scaling",), ("cost",))
    assert [words.text for words in recipe.topics] == ["sponges"]
    assert recipe.client.defrosted
    assert recipe.client.named == ("honey",)


def test_stages_and_lines() -> None:
    sponge, glaze = _recipe(WHOLE).stages
    assert (sponge.name, sponge.kind, sponge.losses) == ("Sponge", StageKind.PREFERMENT, (Loss("mix", D("0.01")),))
    assert (glaze.name, glaze.kind) == ("Glaze", StageKind.PLAIN)
    flour, salt = sponge.lines
    assert flour.said.preparation == "sifted"
    assert (salt.optional, salt.note) == (True, "fine, not coarse")
    (line,) = glaze.lines
    assert (line.stays, line.rest, line.working, line.at_most, line.loss) == (
        D("0.6"),
        Rest.BACK,
        D(2000),
        D("0.25"),
        D("0.02"),
    )
    assert [words.text for words in line.alternatives] == ["icing sugar", "fondant"]


def test_layers_from_bottom_to_top() -> None:
    sponge, mousse, glaze = _recipe(WHOLE).layers
    assert (sponge.name.text, sponge.shape, sponge.thickness) == ("Sponge", "", D(24))
    assert (mousse.name.text, mousse.shape, mousse.thickness) == ("honey mousse", "dome", D(30))
    assert [words.text for words in mousse.holds] == ["apricot heart"]
    assert (glaze.name.text, glaze.coats) == ("glaze", True)


def test_the_method_counts_on_through_its_headings() -> None:
    method = _recipe(WHOLE).method
    assert [(section.heading, [step.number for step in section.steps]) for section in method.sections] == [
        ("First day", [1, 2]),
        ("Second day", [3]),
    ]
    mix, rest, bake = method.steps
    assert (mix.work, mix.on, mix.cautions, mix.uses) == (D(10), "planetary mixer", ("moving machinery",), ("Sponge",))
    assert rest.wait == Span(D(240), D(960))
    assert (bake.after, bake.limit, bake.kill) == ((1,), Limit("core 75 °C", "bake on", "2"), True)
    assert [(note.kind, note.after, note.name) for note in method.notes] == [
        (NoteKind.CAUTION, 2, "hot trays"),
        (NoteKind.NOTE, 3, ""),
        (NoteKind.LOOK_FOR, 3, ""),
    ]
    assert len(method.introduction) == 1


@pytest.mark.parametrize(
    ("path", "part", "words"),
    [
        (("title",), None, "Honey slice"),
        (("formula", "Sponge (preferment)", 0), (6, 17), "plain flour"),
        (("formula", "Glaze", 0, "line"), (6, 11), "glaze"),
        (("losses", "whole", "bake"), None, "9 %"),
        (("keeps", "frozen"), None, "2 months at -18 °C, from baked within 12 h"),
        (("steps", 1), None, '1. Mix. {name="mix"'),
        (("steps", 1, "on"), None, "planetary mixer"),
        (("steps", 1, "uses", 0), None, "Sponge"),
        (("steps", 2, "wait"), None, "4 h..16 h"),
        (("steps", 3, "limit"), None, "core 75 °C"),
        (("links", 0), None, "[the glaze](../creams/glaze.md)"),
        (("notes", 0), None, "::: caution hot trays"),
    ],
)
def test_anchors_lead_to_the_words(path: tuple[str | int, ...], part: tuple[int, int] | None, words: str) -> None:
    source = _read(WHOLE).source
    anchor = Anchor(source.document, path)
    place = source.place(anchor.part(*part) if part else anchor)
    assert place.text[place.column - 1 :].startswith(words)
    assert place.length >= len(words)
    assert WHOLE.splitlines()[place.line - 1] == place.text


def test_edits_above_leave_what_was_read_as_it_was() -> None:
    moved = WHOLE.replace("---\ntitle", "---\n# a remark\n\ntitle").replace(
        "A soft slice.", "A remark.\n\nA soft slice."
    )
    before, after = _recipe(WHOLE), _recipe(moved)
    assert replace(before, method=after.method, links=after.links) == after
    assert [step.anchor for step in before.method.steps] == [step.anchor for step in after.method.steps]


def test_the_smallest_recipe() -> None:
    recipe = _recipe("---\ntitle: Bread\nyields: 1 kg\nformula:\n  - 600 g flour\n  - 400 g water\n---\n1. Bake.\n")
    assert (recipe.kind, recipe.status, recipe.revision) == (Kind.COMPONENT, Status.DRAFT, 1)
    assert recipe.sound


def test_names_in_one_text_stand_at_their_own_places() -> None:
    read = _read(_small(tags="festive,  light"))
    assert read.recipe
    assert [(tag.text, read.source.place(tag.anchor).column) for tag in read.recipe.tags] == [
        ("festive", 7),
        ("light", 17),
    ]


@pytest.mark.parametrize(
    ("keys", "code"),
    [
        ({"title": "Cake, plain"}, "comma-in-name"),
        ({"title": "7 layer cake"}, "number-in-name"),
        ({"status": "approved"}, "code-missing"),
        ({"yields": "3 trays"}, "tray-missing"),
        ({"cut": "30 × 80 mm"}, "cut-without-sheet"),
        ({"gives": "{crumbs: rest of the cut}"}, "rest-without-cut"),
        ({"formula": "{Dough: []}"}, "empty-stage"),
        ({"formula": "[]"}, "empty-formula"),
        ({"formula": "{Dough: [1 kg flour], dough: [1 g salt]}"}, "stage-twice"),
        ({"formula": "{Dough (starter): [1 kg flour]}"}, "unknown-word"),
        ({"losses": "{bake: 101 %}"}, "bad-loss"),
        ({"dough_temperature": "warm"}, "bad-temperature"),
        ({"revised": "2026-02-30"}, "bad-date"),
        ({"make": "{least: 2}"}, "bad-amount"),
        ({"gives": "{crumbs: a few}"}, "bad-amount"),
        ({"layers": '["> jelly"]'}, "bad-layer"),
        ({"defrosted": "perhaps"}, "not-yes-or-no"),
        ({"teach": "{level: hard}"}, "unknown-word"),
        ({"teach": "{level: 4}"}, "unknown-word"),
        ({"teach": "{exercises: {add: [percent]}}"}, "unknown-word"),
        ({"teach": "{exercises: {leave out: [costing]}}"}, "unknown-word"),
        ({"sizes": "{big: {yields: 2 kg}, Big: {yields: 3 kg}}"}, "size-twice"),
        ({"servings": "a few"}, "bad-number"),
        ({"servings": "0"}, "bad-number"),
    ],
)
def test_one_slip_is_one_problem(keys: dict[str, str], code: str) -> None:
    problems = _read(_small(**keys)).problems
    assert [found.code for found in problems] == [code]


def test_a_recipe_that_cannot_be_weighed_is_not_sound() -> None:
    for keys in ({"formula": "[flour]"}, {"yields": "plenty"}, {"losses": "{bake: lots}"}):
        recipe = _read(_small(**keys)).recipe
        assert recipe
        assert not recipe.sound
    harmless = _read(_small(portion="plenty")).recipe
    assert harmless
    assert harmless.sound


def test_a_file_that_cannot_be_read_still_claims_its_names() -> None:
    read = _read('---\ntitle: "Rum cream"\nyields: [\n---\n', "creams/cream-with-rum.md")
    assert read.recipe is None
    assert read.claims == ("Rum cream", "cream with rum")


def test_words_are_where_they_were_written() -> None:
    recipe = _recipe(_small(base="flour"))
    assert recipe.base == Words("flour", Anchor(recipe.document, ("base",)))


@given(st.lists(st.sampled_from(WHOLE.splitlines(keepends=True)), max_size=40).map("".join) | st.text(max_size=80))
def test_any_text_is_read_with_its_problems_in_the_file(text: str) -> None:
    for body in (text, f"---\n{text}", f"---\ntitle: Cake\n{text}\n---\n{text}"):
        read = _read(body)
        for found in read.problems:
            place = read.source.place(found.anchor)
            assert 1 <= place.line <= body.count("\n") + 1
            assert 1 <= place.column <= len(place.text) + 1

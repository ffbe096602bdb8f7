"""Blocks into columns: what fits where, worked by hand."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.press.cards.blocks import code_width
from bookmaker.press.cards.edges import edge
from bookmaker.press.cards.packing import Arrangement, Blocks, on_one_side, on_two_sides
from bookmaker.press.cards.papers import PAPERS


def blocks(formula: float, steps: list[float], cautions: float = 0, tail: dict[str, float] | None = None) -> Blocks:
    tail = tail or {}
    names = {f"step {number}": height for number, height in enumerate(steps, 1)}
    hazards = {"cautions": cautions} if cautions else {}
    return Blocks(
        {"formula": formula, **hazards, **names, **tail}, ("formula",), tuple(hazards), tuple(names), tuple(tail)
    )


def test_what_to_take_stands_left_and_what_to_do_right() -> None:
    found = on_one_side(blocks(50, [30, 30], cautions=20, tail={"keeping": 10}), 100)
    assert found == Arrangement(((("formula", "keeping"), ("cautions", "step 1", "step 2")),))


def test_cautions_move_under_the_formula_where_the_steps_need_their_column() -> None:
    found = on_one_side(blocks(50, [60, 40], cautions=20, tail={"keeping": 10}), 100)
    assert found == Arrangement(((("formula", "cautions", "keeping"), ("step 1", "step 2")),))


def test_steps_begin_under_a_short_formula_rather_than_on_the_back() -> None:
    found = on_one_side(blocks(40, [50, 50, 50]), 100)
    assert found == Arrangement(((("formula", "step 1"), ("step 2", "step 3")),))


def test_too_much_for_one_side_goes_on_at_a_step_on_the_back() -> None:
    made = blocks(60, [40, 40, 40, 40], cautions=30)
    assert on_one_side(made, 100) is None
    found = on_two_sides(made, 100, 140)
    assert found == Arrangement(
        ((("formula",), ("cautions", "step 1")), (("step 2", "step 3"), ("step 4",))),
    )


def test_a_formula_in_two_parts_takes_the_front() -> None:
    made = Blocks({"one": 90, "two": 60, "cautions": 30, "step 1": 50}, ("one", "two"), ("cautions",), ("step 1",))
    assert on_two_sides(made, 100, 140) == Arrangement(((("one",), ("two", "cautions")), (("step 1",), ())))


def test_never_a_third_side() -> None:
    assert on_two_sides(blocks(60, [100] * 6), 100, 140) is None


@given(
    st.floats(10, 120), st.lists(st.floats(5, 60), max_size=12), st.floats(0, 60),
    st.dictionaries(st.sampled_from(["look for", "keeping", "first aid"]), st.floats(5, 30)),
)  # fmt: skip
def test_every_block_has_one_place_within_its_column_and_steps_keep_their_order(
    formula: float, steps: list[float], cautions: float, tail: dict[str, float]
) -> None:
    made = blocks(formula, steps, cautions, tail)
    for found in (on_one_side(made, 120), on_two_sides(made, 120, 160)):
        if found is None:
            continue
        assert len(found.sides) <= 2
        placed = [each for side in found.sides for column in side for each in column]
        assert sorted(placed) == sorted(made.heights)
        for side, room in zip(found.sides, (120, 160), strict=False):
            assert all(made.high(column) <= room + 1e-9 for column in side)
        order = [placed.index(each) for each in (*made.cautions, *made.steps)]
        assert order == sorted(order)
        assert placed[0] == "formula"


@pytest.mark.parametrize("name", PAPERS)
def test_type_shrinks_level_by_level_and_stays_above_its_floor(name: str) -> None:
    paper = PAPERS[name]
    for larger, smaller in pairwise(paper.levels):
        for size in ("tested", "others", "names", "steps", "small", "key", "title"):
            assert getattr(larger, size) >= getattr(smaller, size)
    floor = paper.levels[-1]
    assert min(floor.tested, floor.others) >= (10 if name == "A5" else 14)


def test_every_section_has_an_edge_of_its_own() -> None:
    assert len({edge(number) for number in range(16)}) == 16
    assert edge(16) == edge(0)


@pytest.mark.parametrize("name", PAPERS)
def test_a_long_address_has_a_code_that_stays_in_the_head(name: str) -> None:
    paper = PAPERS[name]
    usual = code_width("https://book.quillhaven.example/c/7K2M9QXA.html", paper)
    assert usual == pytest.approx(41 * paper.module, abs=0.01)
    long = code_width("https://kitchens.a-long-name-of-a-house.example/the/recipe/book/of/ours/c/7K2M9QXA.html", paper)
    assert usual <= long <= paper.head + paper.figures - 10

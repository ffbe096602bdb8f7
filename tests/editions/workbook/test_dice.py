"""Chance that is the same on every computer."""

from collections import Counter

import pytest

from bookmaker.editions.workbook.dice import Dice


def test_the_numbers_never_change() -> None:
    """Written down once: another version of Python, or of ours, must draw the same."""
    dice = Dice("autumn intake", "breads/harbour-sourdough", "yield")
    assert [dice.below(1000) for _ in range(6)] == [656, 380, 538, 704, 153, 120]


def test_each_seed_has_numbers_of_its_own() -> None:
    seeds = [("a", "b"), ("ab",), ("a", "b", ""), ("", "ab"), ("b", "a")]
    rows = {tuple(Dice(*seed).below(10**6) for _ in range(4)) for seed in seeds}
    assert len(rows) == len(seeds)


def test_all_numbers_are_as_likely() -> None:
    dice = Dice("fair")
    seen = Counter(dice.below(6) for _ in range(6000))
    assert sorted(seen) == [0, 1, 2, 3, 4, 5]
    # five standard deviations of 6,000 throws
    assert all(abs(count - 1000) < 145 for count in seen.values())


def test_between_holds_both_ends_and_the_step() -> None:
    dice = Dice("steps")
    assert {dice.between(10, 30, 5) for _ in range(300)} == {10, 15, 20, 25, 30}
    assert {dice.between(7, 7) for _ in range(5)} == {7}


def test_some_of_keeps_the_order_and_shuffled_the_things() -> None:
    dice = Dice("rows")
    things = tuple("abcdefgh")
    for _ in range(50):
        some = dice.some_of(things, 3)
        assert len(some) == 3
        assert list(some) == sorted(some)
        assert sorted(dice.shuffled(things)) == list(things)
    assert dice.some_of(things, 20) == things
    assert len({dice.shuffled(things) for _ in range(20)}) > 15


def test_nothing_is_below_zero() -> None:
    with pytest.raises(ValueError, match="no number below 0"):
        Dice("nothing").below(0)

"""Every kind of exercise: a module with `make`. Its `NAME` stands in the model's table, which says how hard it is."""

from collections.abc import Callable, Mapping

from bookmaker.editions.workbook.exercises import (
    allergens,
    cost,
    ingredient_list,
    latest_start,
    limits,
    loads,
    making_enough,
    percents,
    quantity_declared,
    scaling,
    selling_price,
    step_order,
    total_formula,
    use_up,
    water_temperature,
    weighing,
    weights,
    words,
    yield_,
)
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import Exercise

MAKERS: Mapping[str, Callable[[Lesson], Exercise | None]] = {
    module.NAME: module.make
    for module in (
        words, step_order, percents, yield_, weighing, allergens, limits, weights, water_temperature, scaling, use_up,
        making_enough, loads, latest_start, ingredient_list, cost, total_formula, quantity_declared, selling_price,
    )
}  # fmt: skip
"""By name. `make` gives None where the recipe's data do not allow the exercise, or would give two right answers."""

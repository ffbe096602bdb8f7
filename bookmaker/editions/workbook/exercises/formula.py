"""A formula as exercises print it: every line weighed, rounded once, with its base."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import Say, say
from bookmaker.kitchen.formula import in_base
from bookmaker.measures.exact import total
from bookmaker.model.recipe import BaseKind


@dataclass(frozen=True, slots=True)
class Formula:
    """Printed grams by line name; the names that make up the base, its weight, and a sentence that says so."""

    lines: Mapping[str, Decimal]
    in_base: tuple[str, ...]
    base: Decimal
    hundred: Say


def formula_of(lesson: Lesson) -> Formula | None:
    """The recipe's formula; None where a line is not weighed, there are too few, or nothing is in the base."""
    if not lesson.all_weighed or len(lesson.weighed()) < 3:
        return None
    names = lesson.names
    lines = {names[line.id]: trimmed(moved.bowl or Decimal(0), 1) for line, moved in lesson.weighed()}
    if not all(lines.values()):
        return None
    recipe, book = lesson.recipe, lesson.book
    if recipe.base.kind is BaseKind.TOTAL:
        return Formula(lines, (), total(lines.values()), say("All lines together are 100 %%."))
    base = tuple(names[line.id] for line, _ in lesson.weighed() if in_base(line, recipe, book))
    if not base:
        return None
    if recipe.base.kind is BaseKind.FLOUR:
        sentence = say("All flour together is 100 %%.") if len(base) > 1 else say("%(flour)s is 100 %%.", flour=base[0])
    else:
        sentence = say("%(item)s is 100 %%.", item=" + ".join(base))
    return Formula(lines, base, total(lines[name] for name in base), sentence)

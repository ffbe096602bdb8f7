"""What a recipe's figures contradict: the flow of its mass held against what the cook wrote.

Each finding is a `Problem` at the place that would be changed. A cause is reported where it is, never again at those
who use it.
"""

from collections.abc import Iterator
from decimal import Decimal

from bookmaker.kitchen.cuts import cut_sheet
from bookmaker.kitchen.figures import LineFlow, MassFlow
from bookmaker.kitchen.formula import base_percent, in_base, in_percent
from bookmaker.kitchen.masses import Flows
from bookmaker.kitchen.moulds import mould_findings
from bookmaker.kitchen.parts import part_of, sheet_size
from bookmaker.kitchen.stages import IN_THE_OVEN
from bookmaker.kitchen.yields import drives_off_water, stated_yield
from bookmaker.measures.exact import HUNDRED, ONE
from bookmaker.measures.rounding import to_step
from bookmaker.model.book import Book
from bookmaker.model.line import Batches, Cut, Line, Percent, Pieces, Sheets
from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.stores import StoresKind
from bookmaker.model.yields import MouldYield
from bookmaker.problems.problem import Problem, problem

DISAGREEMENT = Decimal("0.02")
"""Stated and computed mass may differ by so much before it is said: weighing and judgement account for less."""


def findings_of(recipe: Recipe, flow: MassFlow, book: Book, flows: Flows) -> tuple[Problem, ...]:
    """Contradictions in one recipe. `flows` holds at least those of its components."""
    return (
        *_lines(recipe, flow, book, flows),
        *_percents(recipe, flow, book),
        *_yield(recipe, flow, book),
        *_own_cut(recipe, flow, book),
        *_end_point(recipe, flow),
        *_mould(recipe, book),
        *_cast(recipe, flow, book),
        *mould_findings(recipe, flow, book, flows),
    )


def _lines(recipe: Recipe, flow: MassFlow, book: Book, flows: Flows) -> Iterator[Problem]:
    for line, moved in zip(recipe.lines, flow.lines, strict=True):
        if line.at_most is not None and moved.bowl is not None and moved.bowl > line.at_most * flow.into:
            share, most = _percent(moved.bowl / flow.into), _percent(line.at_most)
            yield problem("over-cap", line.anchor, name=line.name, share=share, most=most)
        if moved.bowl is None and isinstance(line.quantity, Pieces | Cut | Sheets | Batches):
            yield from _uncounted(line, moved, book, flows)


def _uncounted(line: Line, moved: LineFlow, book: Book, flows: Flows) -> Iterator[Problem]:
    """A line whose pieces, sheets or batches weigh nothing that we know."""
    part = part_of(line.target, book)
    if moved.seed:
        yield problem("seed-not-weighed", line.anchor, name=line.name)
    elif part is None or not isinstance(line.target, RecipeRef):
        yield problem("piece-without-weight", line.anchor, name=line.name)
    elif flows[part].yields.usable.value is None:
        return  # reported at the component
    elif isinstance(line.quantity, Cut):
        size = sheet_size(book.recipes[part], book.house)
        if size is None:
            yield problem("not-in-sheets", line.anchor, name=line.name)
        elif cut_sheet(size, line.quantity.shape) is None:
            yield problem("cut-too-large", line.anchor, name=line.name)
    elif isinstance(line.quantity, Pieces | Sheets):
        code = "not-in-pieces" if isinstance(line.quantity, Pieces) else "not-in-sheets"
        yield problem(code, line.anchor, name=line.name)


def _percents(recipe: Recipe, flow: MassFlow, book: Book) -> Iterator[Problem]:
    """The base of a formula in percent, and what it weighs."""
    if not in_percent(recipe):
        if recipe.batch is not None and _apart(recipe.batch, flow.into):
            stated, found = _mass(recipe.batch), _mass(flow.into)
            yield problem("batch-contradicts", recipe.anchor.at("batch"), stated=stated, found=found)
        return
    based = [line for line in recipe.lines if in_base(line, recipe, book)]
    weighed = any(not isinstance(line.quantity, Percent) for line in based)
    percent = base_percent(recipe, book)
    if not based:
        yield problem("base-not-in-formula", recipe.anchor.at("base"), base=_base_word(recipe, book))
    elif weighed and percent >= HUNDRED:
        yield problem("base-over-full", recipe.anchor.at("formula"), percent=_plain(percent))
    elif not weighed and percent != HUNDRED:
        yield problem("base-not-hundred", recipe.anchor.at("formula"), percent=_plain(percent))
    if based and not weighed and recipe.batch is None and flow.base is None:
        yield problem("percent-without-weight", recipe.anchor.at("formula"))


def _base_word(recipe: Recipe, book: Book) -> str:
    return book.name(recipe.base.target) if recipe.base.target else recipe.base.kind.value


def _yield(recipe: Recipe, flow: MassFlow, book: Book) -> Iterator[Problem]:
    at = recipe.anchor.at("yields")
    yields = flow.yields
    if yields.usable.value is None:
        if flow.into > 0 and not any(line.bowl is None for line in flow.lines):
            yield problem("nothing-left", at, out=_mass(flow.out), kept=_mass(flow.kept_back))
        return
    if yields.usable.lacks or yields.stated is None or yields.computed is None:
        return
    implied = any(loss.implied and loss.name == "implied" for loss in flow.losses)
    if not implied and _apart(yields.stated, yields.computed):
        stated, computed = _mass(yields.stated), _mass(yields.computed)
        lossless = not flow.losses and not any(stage.losses for stage in flow.stages)
        code = "more-out-than-in" if lossless else "contradictory-yield"
        apart = _percent(abs(yields.stated - yields.computed) / yields.computed)
        yield problem(code, at, stated=stated, computed=computed, apart=apart)
    said = stated_yield(recipe)
    oven = any(loss.name in IN_THE_OVEN for loss in (*flow.losses, *(each for s in flow.stages for each in s.losses)))
    if said and said.raw and not oven and drives_off_water(recipe, book.house):
        yield problem("no-baking-loss", at)


def _own_cut(recipe: Recipe, flow: MassFlow, book: Book) -> Iterator[Problem]:
    if recipe.cut is None or sheet_size(recipe, book.house) is None:
        return
    if flow.yields.cut is None:
        yield problem("cut-too-large", recipe.anchor.at("cut"), name=recipe.title)
    for loss in (*(loss for stage in recipe.stages for loss in stage.losses), *recipe.losses):
        if loss.name == "trim" and flow.yields.cut is not None:
            rest = _percent(ONE - flow.yields.cut.used_share)
            yield problem("trim-beside-cut", loss.anchor, share=_percent(loss.share), rest=rest)


def _end_point(recipe: Recipe, flow: MassFlow) -> Iterator[Problem]:
    boiled = any(loss.implied and loss.name == "boil" for loss in flow.losses)
    if recipe.boil_to is not None and flow.into > 0 and not boiled and not flow.lacks:
        yield problem("past-end-point", recipe.anchor.at("to"))


def _mould(recipe: Recipe, book: Book) -> Iterator[Problem]:
    """Food may only touch a mould whose material is declared for it."""
    if recipe.kind is Kind.MOULDING or not isinstance(recipe.yields, MouldYield):
        return
    name = recipe.yields.mould
    if any(mould.name == name and not mould.food_contact for mould in book.house.moulds):
        yield problem("mould-not-for-food", recipe.anchor.at("yields"), mould=name)


def _cast(recipe: Recipe, flow: MassFlow, book: Book) -> Iterator[Problem]:
    """What stays in a mould that the house declares for food must itself be declared for it."""
    if recipe.kind is not Kind.MOULDING:
        return
    names = {" ".join(name.casefold().split()) for name in (recipe.title, *recipe.aka)}
    cast = [
        mould
        for mould in book.house.moulds
        if mould.food_contact and " ".join(mould.made_of.casefold().split()) in names
    ]
    for line, moved in zip(recipe.lines, flow.lines, strict=True) if cast else ():
        item = book.stores[line.target.id] if moved.stays and isinstance(line.target, StoresRef) else None
        if item is not None and item.kind is StoresKind.MOULDING and not item.food_contact:
            yield problem("material-not-for-food", line.anchor, name=line.name, mould=cast[0].name)


def _apart(stated: Decimal, found: Decimal) -> bool:
    return abs(stated - found) > DISAGREEMENT * found


def _percent(share: Decimal) -> str:
    return f"{_plain(to_step(share * HUNDRED, Decimal('0.1')))} %"


def _mass(grams: Decimal) -> str:
    if grams >= 1000:
        return f"{_plain(to_step(grams / 1000, Decimal('0.01')))} kg"
    return f"{_plain(to_step(grams, Decimal('0.1')))} g"


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"

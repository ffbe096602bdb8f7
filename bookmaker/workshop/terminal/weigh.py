"""What `weigh` prints: every component's batch in the order of making, then what to draw from the stores."""

from collections.abc import Iterator
from decimal import Decimal

from bookmaker.editions.team.project_method import cautions as recipe_cautions
from bookmaker.editions.team.project_method import readings_again
from bookmaker.editions.team.rounding import lacking
from bookmaker.kitchen.batches import LoadPlan
from bookmaker.kitchen.scale_cautions import WORDS
from bookmaker.kitchen.scaled import DrawLine, Scaled, ScaledLine, ScaledRecipe
from bookmaker.kitchen.weighing import RoundingFlag
from bookmaker.measures.exact import ONE, ZERO
from bookmaker.model.line import Cut, Line, Pieces, Sheets, Unmeasured
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import CoProductRef
from bookmaker.press.formats import NBSP
from bookmaker.workshop.terminal.figures import Desk, Pen
from bookmaker.workshop.terminal.table import Column, paragraph, table

INDENT = 3
_SIZED = {"at least": "never made smaller", "in steps": "made in steps"}
_ALMOST = Decimal("1e-9")
_HAIR = Decimal("0.05")
"""Grams below which a left-over is nobody's business."""


def weigh_text(desk: Desk, scaled: Scaled, target: str) -> str:
    """The whole sheet."""
    parts = [f"{desk.name(scaled.ref)} · {target}", _outcome(scaled.own, desk.pen)]
    if scaled.limiting is not None:
        parts.append(f"{desk.name(scaled.limiting)} runs out first.")
    parts += ["\n" + _recipe(number, made, desk, scaled) for number, made in enumerate(scaled.recipes, 1)]
    parts += list(_stores(scaled, desk))
    if scaled.lacks:
        parts.append("\n" + paragraph("Not complete: " + desk.pen.lacks(lacking(scaled.lacks, desk.places)) + "."))
    parts += list(_cautions(scaled, desk))
    return "\n".join(parts)


def _outcome(own: ScaledRecipe, pen: Pen) -> str:
    made = pen.mass(own.usable)
    if own.pieces is not None and own.pieces:
        made = f"{pen.number(own.pieces, 1)} of {pen.mass(own.usable / own.pieces)}, {made}"
    over = _over(own, pen)
    return paragraph(f"makes {made}{', ' + over if over else ''}; {_plan(own, pen)}")


def _over(made: ScaledRecipe, pen: Pen) -> str:
    if made.left_over <= _HAIR:
        return ""
    pieces = made.left_over_pieces
    if pieces is not None and abs(pieces - pieces.to_integral_value()) < _ALMOST:
        return f"{pen.number(pieces)} left over ({pen.mass(made.left_over)})"
    return f"{pen.mass(made.left_over)} left over"


def _plan(made: ScaledRecipe, pen: Pen) -> str:
    plan = made.plan
    times = "the tested batch" if plan.each == ONE else f"{pen.number(plan.each, 3)} × the tested batch"
    batches = times if plan.batches == 1 else f"{plan.batches} equal batches, each {times}"
    held = {"": "", "make": "more is not made at once"}.get(plan.held, f"the {plan.held} holds no more")
    why = ", ".join(filter(None, (_SIZED.get(plan.sized, plan.sized), held)))
    return batches + (f" ({why})" if why else "")


def _recipe(number: int, made: ScaledRecipe, desk: Desk, scaled: Scaled) -> str:
    recipe, pen = desk.book.recipes[made.ref], desk.pen
    head = f"{number}. {desk.name(made.ref)}"
    need = f"{pen.mass(made.needed)} needed" if made.ref != scaled.ref else pen.mass(made.usable)
    out = [f"{head}  {need:>{max(1, 78 - len(head))}}"]
    if made.ref != scaled.ref:
        over = _over(made, pen)
        out.append(paragraph(_plan(made, pen) + (f"; {over}" if over else ""), indent=INDENT))
    split = made.plan.batches > 1
    columns = [Column("each batch" if split else "", wraps=True), Column("weigh", right=True)]
    if split:
        columns.append(Column("together", right=True))
    columns.append(Column("", wraps=True))
    lines = {line.id: line for line in recipe.lines}
    rows = [_row(lines[line.line], line, desk, split=split) for line in made.lines]
    out.append(table(columns, rows, indent=INDENT))
    out += [paragraph(_loads(load, pen), indent=INDENT, hanging=2) for load in made.loads if load.loads > 1]
    for given, grams in made.co_products.items():
        out.append(f"{' ' * INDENT}also gives {pen.mass(grams)} {given.name}")
    if made.kept_back > ZERO:
        out.append(f"{' ' * INDENT}keep back {pen.mass(made.kept_back)} as seed")
    out += list(_flags(made, lines, pen))
    out += list(_limits(recipe, desk))
    return "\n".join(out)


def _loads(load: LoadPlan, pen: Pen) -> str:
    """How often it goes in, and over how many machines that spreads."""
    word = load.word or "g"
    spread = ""
    if load.machines > 1:
        turns = f"{load.turns} turns" if load.turns > 1 else "side by side"
        spread = f" in each of {load.machines}: {turns}"
    return (
        f"step {load.step}: {load.loads} loads on the {load.on or 'equipment'}, "
        f"{pen.number(load.units, 1)} {word} in all, {pen.number(load.per_load, 1)} at once{spread}"
    )


def _row(line: Line, scaled: ScaledLine, desk: Desk, *, split: bool) -> list[str]:
    pen = desk.pen
    name = desk.name(scaled.target) + (f", {line.preparation}" if line.preparation else "")
    each = scaled.each
    match line.quantity:
        case Unmeasured(words):
            shown, together = words, ""
        case Pieces(word=word) | Cut(word=word) if each.count is not None:
            shown, together = f"{pen.number(each.count, 2)} {word}", _sum(scaled, pen)
        case Sheets() if each.count is not None:
            shown, together = f"{pen.number(each.count, 2)} sheets", _sum(scaled, pen)
        case _:
            shown = pen.weight(each.weighed) if each.weighed else "?"
            together = _sum(scaled, pen)
    row = [name, shown + (" *" if each.flag else "")]
    if split:
        row.append(together)
    return [*row, _remark(scaled, pen)]


def _sum(scaled: ScaledLine, pen: Pen) -> str:
    return pen.mass(scaled.bowl) if scaled.bowl is not None else ""


def _remark(scaled: ScaledLine, pen: Pen) -> str:
    if scaled.seed:
        return "seed"
    if scaled.bowl is not None and scaled.drawn > scaled.bowl:
        return f"work with {pen.mass(scaled.drawn)}, {pen.mass(scaled.returns)} goes back"
    if isinstance(scaled.target, CoProductRef):
        return "offcuts, from stock"
    return f"{pen.mass(scaled.returns)} goes back" if scaled.returns > _HAIR else ""


def _flags(made: ScaledRecipe, lines: dict[str, Line], pen: Pen) -> Iterator[str]:
    for line in made.lines:
        if line.each.flag and line.each.grams is not None:
            yield paragraph(
                f"* {lines[line.line].name}: {pen.number(line.each.grams, 3)} g, the scale errs by "
                f"{pen.number(line.each.flag.error * 100, 1)} %: {_remedy(line.each.flag, pen)}",
                indent=INDENT,
                hanging=2,
            )


def _limits(recipe: Recipe, desk: Desk) -> Iterator[str]:
    """The food-safety limits of the steps, in the house's own degrees too, and what to do when one is missed."""
    for step in recipe.method.steps:
        if step.limit:
            what = f"critical control point {step.limit.ccp}" if step.limit.ccp else "limit"
            missed = f". If missed: {step.limit.if_missed}" if step.limit.if_missed else ""
            also = readings_again(step.limit.text, fahrenheit=desk.book.house.fahrenheit)
            degrees = f" ({', '.join(map(desk.pen.amount, also))})" if also else ""
            said = f"! step {step.number}, {what}: {step.limit.text}{degrees}{missed}"
            yield paragraph(said, indent=INDENT, hanging=2)


def _remedy(flag: RoundingFlag, pen: Pen) -> str:
    ways = [f"use a scale in steps of {pen.number(flag.finer, 3)} g"] if flag.finer is not None else []
    if flag.dilute:
        ways.append("stir one part into nine of the formula's own liquid and weigh ten times as much")
    return ", or ".join([*ways, f"make {pen.number(flag.larger, 1)} times as much"])


def _stores(scaled: Scaled, desk: Desk) -> Iterator[str]:
    pen = desk.pen
    yield "\nDraw from the stores"
    columns = (Column("item", wraps=True), Column("as bought", right=True), Column("goes back", right=True))
    yield table(columns, [_drawn(line, desk) for line in scaled.draw], indent=INDENT)
    if scaled.packaging:
        yield "\nPackaging"
        rows = [(desk.name(line.item), pen.number(line.pieces or ZERO)) for line in scaled.packaging]
        yield table((Column(wraps=True), Column(right=True)), rows, indent=INDENT)
    for use in scaled.co_products:
        told = [
            f"gives {pen.mass(use.produced)}" if use.produced else "",
            f"takes {pen.mass(use.used)}" if use.used else "",
        ]
        short = f"; {pen.mass(use.short)} must be there already" if use.short > _HAIR else ""
        yield paragraph(f"{use.ref.name}: this plan {' and '.join(filter(None, told))}{short}.")


def _drawn(line: DrawLine, desk: Desk) -> tuple[str, str, str]:
    pen = desk.pen
    amount = pen.mass(line.bought) if line.bought else ""
    if line.pieces is not None:
        amount = f"{pen.number(line.pieces, 1)} pieces" + (f", {amount}" if amount else "")
    if line.unmeasured:
        amount = f"{amount} and to taste" if amount else "to taste"
    return desk.name(line.item), amount, pen.mass(line.returns) if line.returns > _HAIR else ""


def _cautions(scaled: Scaled, desk: Desk) -> Iterator[str]:
    """Once each, with the recipes they hold for: first what the size brings, then what recipes and stores items do."""
    by_size: dict[str, list[str]] = {}
    own: dict[tuple[str, str, str], list[str]] = {}
    for made in scaled.recipes:
        recipe = desk.book.recipes[made.ref]
        for caution in made.cautions:
            by_size.setdefault(WORDS[caution], []).append(recipe.title)
        for view in recipe_cautions(recipe, desk.book, desk.places):
            own.setdefault((view.name, view.hazard, view.do), []).append(recipe.title)
    if by_size or own:
        yield "\n! Cautions"
    for words, titles in by_size.items():
        yield paragraph(f"! {', '.join(titles)}: {words}", indent=INDENT, hanging=2)
    for (name, hazard, do), titles in own.items():
        words = f"! {name} ({', '.join(titles)}). {hazard} {do}"
        yield paragraph(words.replace(NBSP, " "), indent=INDENT, hanging=2)

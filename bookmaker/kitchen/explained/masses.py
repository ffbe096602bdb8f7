"""Yield, mass flow, piece weight, and percents of the base."""

from collections.abc import Iterable
from functools import partial

from bookmaker.kitchen.explained.asked import Asked, Workings, line_names
from bookmaker.kitchen.figures import LineFlow, LossFlow
from bookmaker.kitchen.working import FigureSource, LineSource, Term, Working
from bookmaker.model.refs import RecipeRef


def workings(asked: Asked) -> Workings:
    """`yield`, `mass flow`, `piece weight`, and `percent of` each weighed line."""
    names = line_names(asked.recipe)
    made = {"yield": partial(_yield, asked), "mass flow": partial(_flow, asked)}
    if asked.flow.yields.piece is not None:
        made["piece weight"] = partial(_piece, asked)
    for line in asked.flow.lines:
        if line.percent is not None:
            what = f"percent of {names[line.line]}"
            made[what] = partial(_percent, asked, what, line)
    return made


def _yield(asked: Asked) -> Working:
    flow = asked.flow
    taken = [("goes back to stores", flow.back), ("leaves as moisture", flow.moisture), ("is lost", flow.waste)]
    taken += [("is kept back as seed", flow.kept_back)]
    terms = [Term("goes in", flow.into, "g", FigureSource(asked.ref, "mass flow"))]
    terms += [Term(label, grams, "g", note="taken off") for label, grams in taken if grams]
    terms += [Term(given.ref.name, given.grams, "g", note="given besides, taken off") for given in flow.co_products]
    rule = "what goes in, less what goes back, dries off, is lost, is kept back and is given besides"
    return asked.working("yield", rule, terms, flow.yields.usable, "g")


def _flow(asked: Asked) -> Working:
    flow, names = asked.flow, line_names(asked.recipe)
    by_id = {line.line: line for line in flow.lines}
    terms: list[Term] = []
    for stage, amounts in zip(asked.recipe.stages, flow.stages, strict=False):
        for line in stage.lines:
            terms += _line(asked.ref, names[line.id], by_id[line.id], stage.name)
        terms += [_loss(loss, stage.name) for loss in amounts.losses]
    terms += [_loss(loss, "") for loss in flow.losses]
    rule = "lines join stage by stage; a loss acts on the mass that is in by then"
    return asked.working("mass flow", rule, terms, flow.out, "g", lacks=flow.lacks)


def _line(ref: RecipeRef, name: str, line: LineFlow, stage: str) -> Iterable[Term]:
    yield Term(name, line.bowl, "g", LineSource(ref, line.line), f"goes in, {stage}" if stage else "goes in")
    leaves = (("back to stores", line.back), ("wasted", line.wasted), ("evaporates", line.air), ("offcut", line.offcut))
    for words, grams in leaves:
        if grams:
            yield Term(name, grams, "g", LineSource(ref, line.line), f"{words}, taken off")


def _loss(loss: LossFlow, stage: str) -> Term:
    words = [loss.kind.value, "follows from the yield" if loss.implied else "", f"after {stage}" if stage else ""]
    return Term(loss.name, loss.grams, "g", note=", ".join(word for word in (*words, "taken off") if word))


def _piece(asked: Asked) -> Working:
    yields = asked.flow.yields
    terms = [
        Term("usable", yields.usable.value, "g", FigureSource(asked.ref, "yield")),
        Term(yields.word or "pieces", yields.pieces, "pieces"),
    ]
    if yields.scaled is not None:
        terms.append(Term("scaled at", yields.scaled, "g", note="raw weight of one piece"))
    return asked.working("piece weight", "usable mass ÷ pieces", terms, yields.piece, "g", lacks=yields.usable.lacks)


def _percent(asked: Asked, what: str, line: LineFlow) -> Working:
    terms = (
        Term("the line", line.bowl, "g", LineSource(asked.ref, line.line)),
        Term("the base", asked.flow.base, "g", note=f"what counts as 100 %: {_base(asked)}"),
    )
    return asked.working(what, "line ÷ base × 100", terms, line.percent, "%")


def _base(asked: Asked) -> str:
    base = asked.recipe.base
    return asked.book.name(base.target) if base.target is not None else base.kind.value

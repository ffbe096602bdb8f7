"""Sizes: each becomes the whole recipe with its own overrides, so that nothing after this needs to know of them."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from bookmaker.model.line import Loss
from bookmaker.model.method import Method, Step
from bookmaker.model.written.front import SizeFront
from bookmaker.model.written.line import Words, WrittenLine
from bookmaker.model.written.recipe import WrittenPrice, WrittenRecipe, WrittenStage
from bookmaker.problems.anchors import Anchor
from bookmaker.reading.facts import read_making, read_packaging, read_prices
from bookmaker.reading.formula import read_formula
from bookmaker.reading.losses import WHOLE, read_losses
from bookmaker.reading.method import read_step_overrides
from bookmaker.reading.suggest import did_you_mean, fold
from bookmaker.reading.texts import Texts, grams, whole
from bookmaker.reading.tree import key_of
from bookmaker.reading.yields import read_cut, read_end_point, read_piece_count, read_portion, read_yield

_SIZE = re.compile(r"\s*\([^()]*\)$")


def read_sizes(
    written: Mapping[str, SizeFront], recipe: WrittenRecipe, texts: Texts, at: Anchor
) -> tuple[WrittenRecipe, ...]:
    """The recipe in each size, in the order written."""
    sizes: list[WrittenRecipe] = []
    for name, front, anchor in texts.each(written, at):
        if any(fold(name) == fold(other.size) for other in sizes):
            texts.report("size-twice", key_of(anchor), name=name)
            continue
        sizes.append(_size(name, front, recipe, texts, anchor))
    return tuple(sizes)


def _size(name: str, front: SizeFront, recipe: WrittenRecipe, texts: Texts, at: Anchor) -> WrittenRecipe:
    if front.yields is None and recipe.yields is None:
        fix = f"add `yields: …` to {name}, or to the recipe for all sizes"
        texts.report("missing-key", key_of(at), key="yields", of=f" from '{name}'", fix=fix)
    overrides: dict[str, Any] = {
        "yields": texts.read(front.yields, at.at("yields"), read_yield, "bad-yields"),
        "yields_anchor": at.at("yields") if front.yields else None,
        "code": Words(front.code.strip(), at.at("code")) if front.code else None,
        "batch": texts.read(front.batch, at.at("batch"), grams, "bad-amount"),
        "cut": texts.read(front.cut, at.at("cut"), read_cut, "bad-cut"),
        "tray": texts.read(front.tray, at.at("tray"), read_piece_count, "bad-amount"),
        "keep_back": texts.read(front.keep_back, at.at("keep back"), grams, "bad-amount"),
        "boil_to": texts.read(front.to, at.at("to"), read_end_point, "bad-amount"),
        "make": read_making(front.make, texts, at.at("make")) if front.make else None,
        "packaging": read_packaging(front.packaging, texts, at.at("packaging")) or None,
        "portion": texts.read(front.portion, at.at("portion"), read_portion, "bad-amount"),
        "servings": texts.read(front.servings, at.at("servings"), whole, "bad-number"),
        "prices": _prices(recipe.prices, read_prices(front.price, texts, at.at("price"))) or None,
    }
    sized = replace(recipe, size=name, **{key: value for key, value in overrides.items() if value is not None})
    if front.formula is not None:
        own = read_formula(front.formula, texts, at.at("formula"))
        sized = replace(sized, stages=_with_lines(recipe.stages, own, texts, at.at("formula")))
    if front.losses is not None:
        sized = _with_losses(sized, front, texts, at.at("losses"))
    if front.steps is not None:
        sized = replace(sized, method=_with_steps(recipe.method, front.steps, texts, at.at("steps")))
    return sized


def _prices(usual: tuple[WrittenPrice, ...], own: tuple[WrittenPrice, ...]) -> tuple[WrittenPrice, ...]:
    channels = {fold(price.channel.text) for price in own}
    return (*(price for price in usual if fold(price.channel.text) not in channels), *own)


def _with_lines(
    usual: tuple[WrittenStage, ...], own: tuple[WrittenStage, ...], texts: Texts, at: Anchor
) -> tuple[WrittenStage, ...]:
    """The usual stages with lines of the same name replaced; a name that stands in several needs its stage."""
    stages = {stage.name: list(stage.lines) for stage in usual}
    for stage in own:
        if stage.name and stage.name not in stages:
            fix = did_you_mean(stage.name, stages) or f"stages here: {', '.join(stages)}"
            texts.report("unknown-stage", key_of(at.at(stage.name)), fix=fix, name=stage.name)
            continue
        among = [stage.name] if stage.name else list(stages)
        for line in stage.lines:
            _replace_line(line, {name: stages[name] for name in among}, texts)
    return tuple(replace(stage, lines=tuple(stages[stage.name])) for stage in usual)


def _replace_line(line: WrittenLine, stages: Mapping[str, list[WrittenLine]], texts: Texts) -> None:
    found = [(name, index) for name, lines in stages.items() for index, each in enumerate(lines) if _same(each, line)]
    if not found:
        known = [each.said.name for lines in stages.values() for each in lines]
        fix = did_you_mean(line.said.name, known) or "a size changes lines that the recipe has"
        texts.report("size-names-nothing", line.name_anchor, fix=fix, what="line", name=line.said.name)
    elif len(found) > 1:
        texts.report("size-names-several", line.name_anchor, name=line.said.name)
    else:
        name, index = found[0]
        stages[name][index] = _merged(stages[name][index], line)


def _same(one: WrittenLine, other: WrittenLine) -> bool:
    """Whether two lines are of the same thing.

    A measure may stand before either name (`3 leaves gelatine`), and a size behind it (`tart case (8 cm)`).
    """
    first, second = (fold(_SIZE.sub("", line.said.name)) for line in (one, other))
    return first == second or first.endswith(f" {second}") or second.endswith(f" {first}")


def _merged(usual: WrittenLine, own: WrittenLine) -> WrittenLine:
    kept = ("stays", "stays_grams", "rest", "working", "loss", "optional", "at_most")
    given = own.stays is not None or own.stays_grams is not None
    values = {name: getattr(own, name) for name in kept}
    for name in kept:
        if values[name] is None and not (given and name in ("stays", "stays_grams")):
            values[name] = getattr(usual, name)
    said = own.said if own.said.preparation else replace(own.said, preparation=usual.said.preparation)
    return replace(
        own, said=said, alternatives=own.alternatives or usual.alternatives, note=own.note or usual.note, **values
    )


def _with_losses(sized: WrittenRecipe, front: SizeFront, texts: Texts, at: Anchor) -> WrittenRecipe:
    own = read_losses(front.losses, [stage.name for stage in sized.stages], texts, at)
    stages = tuple(
        replace(stage, losses=_replaced(stage.losses, own.get(stage.name, ()), texts)) for stage in sized.stages
    )
    return replace(sized, stages=stages, losses=_replaced(sized.losses, own.get(WHOLE, ()), texts))


def _replaced(usual: tuple[Loss, ...], own: tuple[Loss, ...], texts: Texts) -> tuple[Loss, ...]:
    by_name = {loss.name: loss for loss in own}
    known = {loss.name for loss in usual}
    for loss in own:
        if loss.name not in known:
            fix = did_you_mean(loss.name, known) or "a size changes losses that the recipe has"
            texts.report("size-names-nothing", key_of(loss.anchor), fix=fix, what="loss", name=loss.name)
    return tuple(by_name.get(loss.name, loss) for loss in usual)


def _with_steps(method: Method, written: Mapping[str, Mapping[str, str]], texts: Texts, at: Anchor) -> Method:
    """The method with some steps' times changed, found by name or number."""
    changed: dict[int, dict[str, Any]] = {}
    known: dict[str, int] = {}
    for step in method.steps:
        known |= {str(step.number): step.number} | ({fold(step.name): step.number} if step.name else {})
    for name, attributes, anchor in texts.each(written, at):
        number = known.get(fold(name))
        values = read_step_overrides(attributes, texts, anchor)
        if number is None:
            fix = did_you_mean(name, known) or 'give the step name="…", or write its number'
            texts.report("size-names-nothing", key_of(anchor), fix=fix, what="step", name=name)
        else:
            changed.setdefault(number, {}).update(values)

    def own(step: Step) -> Step:
        return replace(step, **changed[step.number]) if step.number in changed else step

    sections = tuple(replace(section, steps=tuple(map(own, section.steps))) for section in method.sections)
    return replace(method, sections=sections)

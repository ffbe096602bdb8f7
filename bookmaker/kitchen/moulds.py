"""Whether what is made fits the moulds that it is said to fill.

Cavities × volume × fill is what the moulds hold. Held against it is what goes in: where its density is stated, to
within a tenth; where not, only what cannot be at all. More than a tenth too much without any air in it does not fit,
and what is lighter than a foam is not enough. Coatings go round what was moulded, and what is counted or cut may stand
outside it, so neither is held against a mould as too much.
"""

from collections.abc import Iterator
from decimal import Decimal

from bookmaker.kitchen.density import least_volume, stated_density
from bookmaker.kitchen.figures import LineFlow, MassFlow
from bookmaker.kitchen.masses import Flows
from bookmaker.measures.exact import ONE, ZERO, total
from bookmaker.measures.rounding import to_step
from bookmaker.model.book import Book
from bookmaker.model.line import Cut, Line, Pieces, Sheets
from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.yields import MouldYield
from bookmaker.problems.problem import Problem, Related, problem

APART = Decimal("0.1")
"""A mould is filled by eye and levelled with a knife: a tenth is no contradiction (common practice, no source)."""

LIGHTEST = Decimal("0.2")
"""g/ml of the lightest foam that is piped, a meringue (common practice, no source)."""

_Moved = tuple[Line, LineFlow]


def mould_findings(recipe: Recipe, flow: MassFlow, book: Book, flows: Flows) -> Iterator[Problem]:
    """Too much or too little for the moulds that a food is said to fill."""
    if recipe.kind is Kind.MOULDING or not isinstance(recipe.yields, MouldYield):
        return
    filled = recipe.yields
    mould = next((each for each in book.house.moulds if each.name == filled.mould), None)
    inside = [each for each in _inside(recipe, flow) if each[1].stays]
    if mould is None or not inside or any(line.bowl is None for line in flow.lines):
        return
    room = filled.count * mould.cavities * mould.volume * mould.fill
    left = (
        flow.out / (mass - flow.moisture)
        if (mass := total(line.stays for line in flow.lines)) > flow.moisture
        else ZERO
    )
    grams = (total(moved.stays for _, moved in inside) - flow.moisture) * left
    said = {
        "cavities": _plain(filled.count * mould.cavities),
        "volume": _millilitres(mould.volume),
        "fill": f"{_plain(mould.fill * 100)} %",
        "room": _millilitres(room),
        "mass": _mass(grams),
    }
    at, related = recipe.anchor.at("yields"), [Related(mould.anchor, "the mould")]
    density = _stated(recipe, inside, book)
    if density is not None:
        wanted = room * density
        if abs(grams - wanted) > APART * wanted:
            said |= {"density": f"{_plain(to_step(density, Decimal('0.01')))} g/ml", "wanted": _mass(wanted)}
            yield problem("mould-contradicts", at, related=related, **said)
        return
    weighed = [each for each in inside if not isinstance(each[0].quantity, Cut | Pieces | Sheets)]
    volume = total(moved.stays * least_volume(line.target, book, flows) for line, moved in weighed)
    least = max(volume - flow.moisture, ZERO) * left
    if least > (ONE + APART) * room:
        yield problem("mould-overfull", at, related=related, least=_millilitres(least), **said)
    elif grams < LIGHTEST * room:
        yield problem("mould-underfull", at, related=related, **said)


def _inside(recipe: Recipe, flow: MassFlow) -> Iterator[_Moved]:
    """Lines that are not a coating by the recipe's layers, with where their mass goes."""
    coats = {layer.name.casefold() for layer in recipe.layers if layer.coats}
    coated = {layer.target for layer in recipe.layers if layer.coats and layer.target}
    moved = iter(flow.lines)
    for stage in recipe.stages:
        for line in stage.lines:
            gone = next(moved)
            if stage.name.casefold() not in coats and line.name.casefold() not in coats and line.target not in coated:
                yield line, gone


def _stated(recipe: Recipe, inside: list[_Moved], book: Book) -> Decimal | None:
    """g/ml of what goes in, where it is stated: by the recipe itself, or by the one thing that it is."""
    if recipe.density is not None or len(inside) > 1:
        return recipe.density
    return stated_density(inside[0][0].target, book)


def _mass(grams: Decimal) -> str:
    if grams >= 1000:
        return f"{_plain(to_step(grams / 1000, Decimal('0.01')))} kg"
    return f"{_plain(to_step(grams, Decimal(1)))} g"


def _millilitres(volume: Decimal) -> str:
    if volume >= 1000:
        return f"{_plain(to_step(volume / 1000, Decimal('0.01')))} l"
    return f"{_plain(to_step(volume, Decimal('0.1')))} ml"


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"

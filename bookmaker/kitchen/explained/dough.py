"""The total formula: all flour, hydration, and what a dough holds of water, salt, sugar and fat."""

from collections.abc import Callable, Iterable
from decimal import Decimal
from functools import partial

from bookmaker.kitchen.content import water_share
from bookmaker.kitchen.explained.asked import Asked, Workings
from bookmaker.kitchen.figures import Figure, TotalFormula
from bookmaker.kitchen.formula import is_flour
from bookmaker.kitchen.parts import part_of
from bookmaker.kitchen.total_formula import fat_share, is_water, salt_share, sugar_share
from bookmaker.kitchen.working import FigureSource, Source, Term, Working
from bookmaker.measures.exact import ONE, ZERO
from bookmaker.model.refs import StoresRef, Target
from bookmaker.model.stores import StoresItem

_Share = Callable[[StoresItem], Decimal | None]

_FLOUR = "all flour"


def workings(asked: Asked) -> Workings:
    """`all flour`, `prefermented flour`, `hydration`, `effective hydration`, `salt`, `sugar` and `fat`, where there are
    preferments or soakers to unfold.
    """
    total = asked.own.total_formula
    if total is None:
        return {}
    held = (
        ("effective hydration", "water", total.effective_hydration, water_share),
        ("salt", "salt", total.salt, salt_share),
        ("sugar", "sugars", total.sugar, sugar_share),
        ("fat", "fat", total.fat, fat_share),
    )
    return {
        _FLOUR: partial(_flour, asked, total),
        "prefermented flour": partial(_prefermented, asked, total),
        "hydration": partial(_hydration, asked, total),
        **{what: partial(_held, asked, what, of, result, share) for what, of, result, share in held},
    }


def _source(asked: Asked, target: Target) -> Source:
    if isinstance(target, StoresRef):
        return target
    part = part_of(target, asked.book)
    assert part is not None
    return part


def _all_flour(asked: Asked, total: TotalFormula) -> Term:
    return Term(_FLOUR, total.flour, "g", FigureSource(asked.ref, _FLOUR))


def _flour(asked: Asked, total: TotalFormula) -> Working:
    terms = []
    for line in total.lines:
        if is_flour(line.item, asked.book):
            parts = ((line.own, "in the dough itself"), (line.inside, "inside preferments and soakers"))
            name = asked.book.name(line.item)
            terms += [Term(name, grams, "g", _source(asked, line.item), note) for grams, note in parts if grams]
    return asked.working(_FLOUR, "everything that the stores mark as flour, seed flour too", terms, total.flour, "g")


def _prefermented(asked: Asked, total: TotalFormula) -> Working:
    fermented = total.flour * total.prefermented_flour / 100
    terms = (Term("flour inside preferments", fermented, "g"), _all_flour(asked, total))
    rule = "flour that ferments beforehand ÷ all flour × 100"
    return asked.working("prefermented flour", rule, terms, total.prefermented_flour, "%")


def _hydration(asked: Asked, total: TotalFormula) -> Working:
    water = [
        Term(asked.book.name(line.item), line.own + line.inside, "g", _source(asked, line.item))
        for line in total.lines
        if is_water(line.item, asked.book)
    ]
    rule = "water itself ÷ all flour × 100"
    return asked.working("hydration", rule, (*water, _all_flour(asked, total)), total.hydration, "%")


def _held(asked: Asked, what: str, of: str, result: Figure, share: _Share) -> Working:
    total = asked.own.total_formula
    assert total is not None
    terms = []
    for line in total.lines:
        grams = sum(
            (line.own + line.inside) * amount * (share(item) or ZERO) for item, amount in _items(asked, line.item)
        )
        if grams:
            terms.append(Term(f"{of} in {asked.book.name(line.item)}", grams, "g", _source(asked, line.item)))
    rule = f"{of} inside everything but the flour ÷ all flour × 100, by what the stores say of each item"
    return asked.working(what, rule, (*terms, _all_flour(asked, total)), result, "%")


def _items(asked: Asked, target: Target) -> Iterable[tuple[StoresItem, Decimal]]:
    """What a gram of a line consists of, flour left out."""
    if isinstance(target, StoresRef):
        content: Iterable[tuple[StoresRef, Decimal]] = ((target, ONE),)
    else:
        part = part_of(target, asked.book)
        assert part is not None
        content = asked.figures.recipes[part].flow.content.items()
    for item, amount in content:
        if not is_flour(item, asked.book):
            yield asked.book.stores[item.id], amount

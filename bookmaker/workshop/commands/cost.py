"""`cost`: what a recipe costs and must sell for, all products beside each other, or what a price change would do."""

import json
import re
from collections.abc import Mapping, Sequence
from decimal import Decimal

from bookmaker.editions.record.parts import cost as cost_record
from bookmaker.editions.record.plain import figure
from bookmaker.editions.record.scaled import order_record
from bookmaker.editions.team import project_overview as overview
from bookmaker.editions.team.cards import cost_row
from bookmaker.editions.team.places import contents_of
from bookmaker.editions.team.project_cost import cost
from bookmaker.editions.team.project_recipe import recipe_view
from bookmaker.editions.team.rounding import fine_money
from bookmaker.kitchen.figures import CostFigure
from bookmaker.kitchen.order import order_cost
from bookmaker.kitchen.scaling import Unscalable, scale
from bookmaker.kitchen.targets import parse_target
from bookmaker.kitchen.what_if import ByAmount, ByShare, Change, Effect, what_if
from bookmaker.measures.numbers import Unreadable, take_number
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef
from bookmaker.workshop.console import say
from bookmaker.workshop.naming import find_item, find_recipe
from bookmaker.workshop.opening import Sound, Usage, open_sound, say_usage
from bookmaker.workshop.terminal.cost import changes_text, cost_text, order_text, products_text
from bookmaker.workshop.terminal.figures import desk_for


def run(
    named: str | None,
    recipe: str | None,
    *,
    target: str | None,
    changes: Sequence[str],
    on: str | None,
    as_json: bool,
) -> int:
    """Print costs; exit code 1 for an unsound book, 2 for a name or a change that cannot be."""
    try:
        book = open_sound(named, on)
        if book is None:
            return 1
        if target is not None and (recipe is None or changes):
            raise Usage("--for goes with one recipe, and without --if")
        if target is not None and recipe is not None:
            say(_order(book, find_recipe(book.book, recipe), target, as_json))
        elif changes:
            say(_what_if(book, recipe, changes, as_json))
        elif recipe is not None:
            say(_one(book, find_recipe(book.book, recipe), as_json))
        else:
            say(_all(book, as_json))
    except Usage as wrong:
        return say_usage(wrong)
    return 0


def _one(book: Sound, ref: RecipeRef, as_json: bool) -> str:
    recipe, figures = book.book.recipes[ref], book.figures.recipes[ref]
    if as_json:
        return _json({"recipe": str(ref), "on": book.on.isoformat(), **cost_record(book.book, recipe, figures.cost)})
    desk = desk_for(book.book)
    places, pen = desk.places, desk.pen
    view = cost(recipe, figures.cost, figures.flow.yields.word, book.book.house.money, places)
    yields = figures.flow.yields
    batch = pen.mass(figures.flow.usable)
    if yields.pieces is not None:
        batch = f"{pen.number(yields.pieces, 1)} {yields.word} ({batch})"
    return cost_text(places.names[ref], batch, view, book.on.isoformat(), pen)


def _order(book: Sound, ref: RecipeRef, target: str, as_json: bool) -> str:
    try:
        scaled = scale(book.book, book.figures, ref, parse_target(target, book.book, book.book.recipe(ref)))
    except Unreadable as unread:
        raise Usage(f"--for {target!r}: {unread.why}" + (f"; {unread.hint}" if unread.hint else "")) from None
    except Unscalable as stuck:
        raise Usage(str(stuck)) from None
    order = order_cost(book.book, book.figures, scaled)
    if as_json:
        return _json(order_record(ref, order))
    desk = desk_for(book.book)
    return order_text(desk, desk.name(ref), target, order, book.on.isoformat())


def _all(book: Sound, as_json: bool) -> str:
    recipes = book.book.recipes
    contents = contents_of(book.book)
    places = contents.places()
    products = [ref for ref in contents.in_order() if recipes[ref].kind is Kind.PRODUCT and ref in places.listed]
    if as_json:
        found = {
            str(ref): cost_record(book.book, book.book.recipes[ref], book.figures.recipes[ref].cost) for ref in products
        }
        return _json({"on": book.on.isoformat(), "products": found})
    flows = {ref: each.flow for ref, each in book.figures.recipes.items()}
    views = [recipe_view(ref, book.book, book.figures.recipes[ref], flows, places) for ref in products]
    house = book.book.house
    page = overview.costs((row for view in views if (row := cost_row(view, house))), house)
    return products_text(page.rows, page.channels, book.book.house.money, book.on.isoformat(), desk_for(book.book).pen)


def _what_if(book: Sound, recipe: str | None, changes: Sequence[str], as_json: bool) -> str:
    asked = dict(_change(book, change) for change in changes)
    try:
        effects: Sequence[Effect] = what_if(book.book, book.figures, asked)
    except ValueError as wrong:
        raise Usage(str(wrong)) from None
    if recipe is not None:
        only = find_recipe(book.book, recipe)
        effects = [effect for effect in effects if effect.recipe == only]
    moved = [effect for effect in effects if effect.before.parts.ingredients != effect.after.parts.ingredients]
    if as_json:
        return _json(
            {
                str(effect.recipe): {"before": _each_json(effect.before), "after": _each_json(effect.after)}
                for effect in moved
            }
        )
    currency = book.book.house.money
    rows = [row for effect in moved if (row := _row(book, effect, currency)) is not None]
    return changes_text(changes, rows, currency)


def _each_json(cost: CostFigure) -> Mapping[str, object]:
    return {"ingredients per piece": figure(cost.ingredients_per_piece), "per piece": figure(cost.per_piece)}


def _row(book: Sound, effect: Effect, currency: str) -> tuple[str, str, str, str] | None:
    before, after = effect.before.ingredients_per_piece.value, effect.after.ingredients_per_piece.value
    if before is None or after is None:
        before, after = effect.before.ingredients_per_gram.value, effect.after.ingredients_per_gram.value
        if before is None or after is None:
            return None
        before, after = before * 1000, after * 1000
    pen = desk_for(book.book).pen
    share = (after / before - 1) * 100 if before else Decimal(0)
    sign = "+" if share >= 0 else "−"
    shown = [pen.formats.number(fine_money(value, currency).value) for value in (before, after)]
    return book.book.name(effect.recipe), shown[0], shown[1], f"{sign}{pen.number(abs(share), 1)} %"


_CHANGE = re.compile(r"(?P<item>[^:]+):\s*(?P<sign>[+−-])\s*(?P<amount>.+)")


def _change(book: Sound, text: str) -> tuple[str, Change]:
    """`unsalted butter: +12 %` or `flower honey: -2 EUR` (a pack). Raises `Usage`."""
    found = _CHANGE.fullmatch(text.strip())
    shape = 'write it as "unsalted butter: +12 %" or "flower honey: -2 EUR" (a pack)'
    if found is None:
        raise Usage(f"--if {text!r} is no price change; {shape}")
    item = find_item(book.book, found["item"])
    try:
        taken = take_number(found["amount"])
    except Unreadable as wrong:
        raise Usage(f"--if {text!r}: {wrong.why}") from None
    unit = found["amount"][taken.end :].strip() if taken else ""
    if taken is None or unit not in {"%", book.book.house.money}:
        raise Usage(f"--if {text!r} is no price change; {shape}")
    amount = taken.value if found["sign"] == "+" else -taken.value
    return item, ByShare(amount / 100) if unit == "%" else ByAmount(amount)


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, indent=1)

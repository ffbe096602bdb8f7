"""Small books built in code: recipes, lines, items, prices and houses with sensible defaults.

Numbers may be written as text (`"0.5"`), so that no test carries a float. A target given as text is a stores item;
recipes are named by `ref(...)`, co-products by `rest(...)`.
"""

from collections.abc import Iterable, Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from bookmaker.measures.amounts import parse_amount
from bookmaker.model.book import Book, Caution
from bookmaker.model.house import House
from bookmaker.model.line import Grams, Line, Loss, Percent, Quantity, Stage, StageKind
from bookmaker.model.method import Method, Section, Step
from bookmaker.model.recipe import Base, BaseKind, Kind, Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target
from bookmaker.model.stores import Composition, Nutrients, Price, StoresItem
from bookmaker.model.yields import MassYield, PieceYield, Yield

Number = Decimal | int | str

TOTAL = Base(BaseKind.TOTAL)
FLOUR = Base(BaseKind.FLOUR)

_NUTRIENTS = ("fat", "saturates", "carbohydrate", "sugars", "fibre", "protein", "salt")


def number(value: Number) -> Decimal:
    """A decimal from what a test finds handy to write."""
    return Decimal(value)


def ref(path: str, size: str = "") -> RecipeRef:
    """A recipe's name."""
    return RecipeRef(path, size)


def rest(recipe: str, name: str) -> CoProductRef:
    """The name of a co-product."""
    return CoProductRef(RecipeRef(recipe), name)


def item(name: str, **more: Any) -> StoresItem:
    """A stores item; composition and nutrients may be given flat (`water="0.16"`, `salt="99.8"`)."""
    composition = {key: number(more.pop(key)) for key in ("water", "alcohol", "solids") if key in more}
    nutrients: dict[str, Any] = {
        key: number(more.pop(key)) for key in ("fat", "sugars", "salt", "protein") if key in more
    }
    for key in ("usable", "density"):
        if key in more:
            more[key] = number(more[key])
    more.setdefault("label", name)
    more.setdefault("contains", frozenset())
    more.setdefault("composition", Composition(**composition))
    more.setdefault("nutrients", Nutrients(**nutrients) if nutrients else None)
    return StoresItem(name, **more)


def line(amount: Number | Quantity, target: Target | str, **more: Any) -> Line:
    """A formula line: grams where the amount is a number. Its id and name follow from the target unless given."""
    aim: Target = StoresRef(target) if isinstance(target, str) else target
    quantity: Quantity = Grams(number(amount)) if isinstance(amount, Decimal | int | str) else amount
    for key in ("stays", "stays_grams", "working", "loss", "low", "high", "at_most", "times"):
        if key in more:
            more[key] = number(more[key])
    name = more.pop("name", "") or (aim.name if isinstance(aim, CoProductRef) else aim.id)
    return Line(more.pop("id", "") or name, name, aim, quantity, **more)


def percent(amount: Number, target: Target | str, **more: Any) -> Line:
    """A formula line in percent of the base."""
    return line(Percent(number(amount)), target, **more)


def losses(**shares: Number) -> tuple[Loss, ...]:
    """Losses in the order given, as fractions: `losses(mix="0.01", bake="0.09")`."""
    return tuple(Loss(name, number(share)) for name, share in shares.items())


def stage(
    name: str, *lines: Line, lose: Mapping[str, Number] | None = None, kind: StageKind = StageKind.PLAIN
) -> Stage:
    """A stage of lines with its own losses."""
    return Stage(name, lines, losses(**(lose or {})), kind)


def pieces(
    count: Number, word: str = "pieces", *, finished: Number | None = None, scaled: Number | None = None
) -> Yield:
    """A yield in pieces."""
    return PieceYield(
        number(count),
        word,
        None if finished is None else number(finished),
        None if scaled is None else number(scaled),
    )


def step(index: int, **more: Any) -> Step:
    """A step of the method without words."""
    return Step(index, (), **more)


def method(*steps: Step) -> Method:
    """A method of one section."""
    return Method(sections=(Section("", steps),))


def recipe(
    path: str | RecipeRef,
    formula: Iterable[Line | Stage],
    yields: Yield | Number,
    *,
    lose: Mapping[str, Number] | None = None,
    **more: Any,
) -> Recipe:
    """A recipe: lines make one stage without a name; a number as yield is grams; `lose` are the whole's losses."""
    parts = tuple(formula)
    loose = tuple(part for part in parts if isinstance(part, Line))
    stages = (Stage("", loose), *(part for part in parts if isinstance(part, Stage)))
    for key in ("batch", "tray", "keep_back"):
        if key in more:
            more[key] = number(more[key])
    own = RecipeRef(path) if isinstance(path, str) else path
    title = more.pop("title", own.id)
    return Recipe(
        ref=own,
        title=title,
        section=more.pop("section", ""),
        kind=more.pop("kind", Kind.COMPONENT),
        yields=MassYield(number(yields)) if isinstance(yields, Decimal | int | str) else yields,
        stages=tuple(part for part in stages if part.lines),
        base=more.pop("base", TOTAL),
        losses=losses(**(lose or {})),
        **more,
    )


def price(
    item: str,
    pack: str,
    amount: Number,
    *,
    supplier: str = "Orchard Gate",
    code: str = "",
    since: date = date(2026, 1, 1),
    currency: str = "EUR",
    count: Number = 1,
) -> Price:
    """A price-list line: `price("unsalted butter", "250 g", "58", count=25)`."""
    return Price(
        item, supplier, code or item.upper(), number(count), parse_amount(pack), number(amount), currency, since
    )


def house(**more: Any) -> House:
    """A house with defaults."""
    return House(**{"name": "Quillhaven Kitchen", **more})


def book(
    *recipes: Recipe,
    stores: Iterable[StoresItem] = (),
    prices: Iterable[Price] = (),
    own: House | None = None,
    cautions: Iterable[Caution] = (),
) -> Book:
    """A bound book of recipes given components first; items that lines name and nobody gave are made up."""
    shelf = {each.id: each for each in stores}
    for target in _targets(recipes):
        if isinstance(target, StoresRef):
            shelf.setdefault(target.id, item(target.id))
    listed: dict[str, tuple[Price, ...]] = {}
    for each in prices:
        listed[each.item] = (*listed.get(each.item, ()), each)
    sizes: dict[str, tuple[str, ...]] = {}
    for one in recipes:
        if one.ref.size:
            sizes[one.ref.id] = (*sizes.get(one.ref.id, ()), one.ref.size)
    return Book(
        house=own or house(),
        stores=shelf,
        prices=listed,
        recipes={one.ref: one for one in recipes},
        sizes=sizes,
        cautions={each.name: each for each in cautions},
    )


def _targets(recipes: Iterable[Recipe]) -> Iterable[Target]:
    for one in recipes:
        for each in one.lines:
            yield each.target
            yield from each.alternatives
        for wrap in one.packaging:
            yield wrap.target

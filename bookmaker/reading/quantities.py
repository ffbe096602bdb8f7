"""How much a line takes: volumes by density, counts by measure, pieces and sheets by the component's yield."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from bookmaker.measures.amounts import LARGEST_GRAMS, Amount
from bookmaker.measures.counts import COUNT_WORDS, VESSEL_WORDS, singular
from bookmaker.measures.exact import exactly
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.units import UNITS, Dimension, Spoons
from bookmaker.model.house import House, Region
from bookmaker.model.line import Batches, Cut, Grams, Percent, Pieces, Quantity, Sheets, Unmeasured
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target
from bookmaker.model.stores import StoresItem
from bookmaker.model.written.line import Vague, WrittenCut, WrittenLine
from bookmaker.model.written.recipe import WrittenRecipe
from bookmaker.model.yields import FrameYield, MassYield, SheetYield, TinYield, TrayYield
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Related
from bookmaker.reading.names import Named, Names
from bookmaker.reading.suggest import did_you_mean, near
from bookmaker.reading.texts import Texts
from bookmaker.reading.values import us_checked

_UNITS = {
    spelling: unit.symbol
    for spelling, unit in UNITS.items()
    if unit.dimension in (Dimension.MASS, Dimension.VOLUME) and unit.symbol not in ("lb", "t", "pint")
}
"""Units that a misspelt one is compared with; not those that ordinary words come close to (pods, pounds)."""

FEW = 12
"""Up to so many of a thing are more likely pieces than grams whose unit was forgotten."""


@dataclass(frozen=True, slots=True)
class Shelf:
    """What a quantity is worked out from: names, stores, recipes by id and size, and the house's spoons and frames."""

    names: Names
    stores: Mapping[str, StoresItem]
    recipes: Mapping[RecipeRef, WrittenRecipe]
    house: House

    def recipe(self, ref: RecipeRef) -> WrittenRecipe | None:
        """The recipe in that size; without one, in its first."""
        found = self.recipes.get(ref)
        return found.sizes[0] if found and found.sizes else found


@dataclass(frozen=True, slots=True)
class Meant:
    """What a line's name stands for; for a bare count, the measure before it."""

    named: Named
    name: str
    measure: str
    anchor: Anchor


@dataclass(frozen=True, slots=True)
class Taken:
    """A quantity for all times together, and the ends of its range."""

    quantity: Quantity
    low: Decimal | None = None
    high: Decimal | None = None


def meant(line: WrittenLine, shelf: Shelf) -> Meant | None:
    """What the line names: the longest name that is known, with the measure that a bare count puts before it."""
    said = line.said
    counted = isinstance(said.quantity, Amount) and said.quantity.dimension is Dimension.COUNT
    for measure, name, offset in _splits(said.name) if counted else iter([("", said.name, 0)]):
        if named := shelf.names.find(name):
            return Meant(named, name, measure, line.anchor.part(said.start + offset, said.end))
    return None


def _splits(name: str) -> Iterator[tuple[str, str, int]]:
    """`leaves gelatine`: first all of it as the name, then with the first words as its measure."""
    words = name.split(" ")
    offset = 0
    for index in range(len(words)):
        rest = " ".join(words[index:])
        of = rest.lower().startswith("of ") and index > 0
        yield " ".join(words[:index]).strip(), rest[3:].lstrip() if of else rest, offset + (3 if of else 0)
        offset += len(words[index]) + 1


def quantity(line: WrittenLine, what: Meant, shelf: Shelf, texts: Texts) -> Taken | None:
    """How much of it the line takes, or nothing where that cannot be known: the cause is reported."""
    said, target = line.said, what.named.target
    match said.quantity:
        case Vague(words):
            return Taken(Unmeasured(words))
        case WrittenCut() as cut:
            return _cut(line, cut, what, shelf, texts)
        case Amount(number, _, Dimension.SHARE):
            with exactly():
                ends = [None if end is None else end * said.times for end in (said.low, said.high)]
                return Taken(Percent(number * said.times), *ends)
        case Amount(_, _, Dimension.COUNT) as amount:
            return _counted(line, amount, what, shelf, texts)
        case Amount() as amount:
            grams = _mass(line, amount, target, shelf, texts)
            return _taken(line, amount, *grams) if grams else None


def _taken(line: WrittenLine, amount: Amount, each: Decimal, by: str) -> Taken:
    """Grams for all times; `each` is the mass of one unit of the amount."""
    with exactly():
        factor = each * line.said.times
        written = replace(amount, number=amount.number * line.said.times) if by else None
        ends = [None if end is None else end * factor for end in (line.said.low, line.said.high)]
        return Taken(Grams(amount.number * factor, written, by), *ends)


def _mass(
    line: WrittenLine, amount: Amount, target: Target | None, shelf: Shelf, texts: Texts
) -> tuple[Decimal, str] | None:
    """Grams in one unit of the amount, and by what."""
    us = shelf.house.region is Region.US or shelf.house.spoons is Spoons.US
    try:
        us_checked(amount, f"{amount.number} {amount.unit}", us)
    except Unreadable as refused:
        texts.report("us-measure", line.amount_anchor, fix=refused.hint, why=refused.why)
        return None
    one = replace(amount, number=Decimal(1)).in_base(shelf.house.spoons)
    if amount.dimension is Dimension.MASS:
        return one, ""
    item = shelf.stores.get(target.id) if isinstance(target, StoresRef) else None
    if item is None:
        texts.report("volume-of-recipe", line.amount_anchor, name=line.said.name)
        return None
    if item.density is None:
        fix = (
            f"add `density: … g/ml` to '{item.id}' in {item.anchor.document or 'its stores file'}, or write the weight"
        )
        texts.report("density-missing", line.amount_anchor, fix=fix, name=item.id)
        return None
    with exactly():
        return one * item.density, f"density {item.density} g/ml"


def _counted(line: WrittenLine, amount: Amount, what: Meant, shelf: Shelf, texts: Texts) -> Taken | None:
    match what.named.target:
        case StoresRef(id):
            return _measured(line, amount, what, shelf.stores[id], texts)
        case RecipeRef() as ref:
            return _of_recipe(line, amount, what, shelf.recipe(ref), texts)
        case CoProductRef():
            texts.report("co-product-counted", line.amount_anchor, name=what.name)
    return None


def _measured(line: WrittenLine, amount: Amount, what: Meant, item: StoresItem, texts: Texts) -> Taken | None:
    measures = {name.casefold(): grams for name, grams in item.measures}
    wanted = what.measure.casefold() or "piece"
    grams = measures.get(wanted) or measures.get(singular(wanted))
    if grams is None:
        _no_measure(line, amount, what, item, texts)
        return None
    taken = _taken(line, replace(amount, unit=what.measure or "piece"), grams, f"{_plain(grams)} g each")
    if isinstance(taken.quantity, Grams) and taken.quantity.grams > LARGEST_GRAMS:
        texts.report("bad-line", line.amount_anchor, why="this comes to more than ten tonnes", fix="check the number")
        return None
    return taken


def _no_measure(line: WrittenLine, amount: Amount, what: Meant, item: StoresItem, texts: Texts) -> None:
    where = item.anchor.document or "its stores file"
    written = line.anchor.part(line.said.amount_start, what.anchor.start)
    words = what.measure
    number = _plain(amount.number)
    add = f"add `measures: {{{words or 'piece'}: … g}}` to '{item.id}' in {where}"
    if item.measures and words:
        names = [name for name, _ in item.measures]
        meant_measure = near(words, names)
        unit = () if meant_measure else near(words, _UNITS)
        add = f"did you mean '{meant_measure[0]}'?" if meant_measure else add
    else:
        unit = near(words, _UNITS) if words else ()
    if unit and words.lower() not in COUNT_WORDS:
        place = line.anchor.part(line.said.start, line.said.start + len(words))
        texts.report("unknown-unit", place, fix=f"did you mean {number} {_UNITS[unit[0]]}?", unit=words, name=item.id)
    elif not words:
        fix = add if amount.number <= FEW else f"did you mean {number} g {what.name}? Otherwise {add}"
        texts.report("unit-missing", written, fix=fix, name=item.id)
    else:
        texts.report("measure-missing", written, fix=add, measure=words, name=item.id)


def _of_recipe(
    line: WrittenLine, amount: Amount, what: Meant, component: WrittenRecipe | None, texts: Texts
) -> Taken | None:
    if component is None or component.yields is None:
        return None
    with exactly():
        count = amount.number * line.said.times
    word = what.measure.lower()
    if singular(word) in ("batch", "batches"):
        return Taken(Batches(count))
    written = line.anchor.part(line.said.amount_start, what.anchor.start)
    related = [Related(component.yields_anchor, "what it yields")]
    if word in VESSEL_WORDS:
        if isinstance(component.yields, SheetYield | FrameYield | TinYield | TrayYield):
            return Taken(Sheets(count))
        texts.report("no-sheets", written, related=related, name=component.title.text, word=what.measure)
        return None
    if word and word not in COUNT_WORDS:
        texts.report(
            "unknown-unit",
            written,
            fix=did_you_mean(word, (*COUNT_WORDS, *VESSEL_WORDS, "batch", *_UNITS)) or "write grams or pieces",
            unit=what.measure,
            name=component.title.text,
        )
        return None
    if isinstance(component.yields, MassYield) or (
        isinstance(component.yields, SheetYield | FrameYield) and component.cut is None
    ):
        fix = f"write its weight, such as {_plain(count)} g {component.title.text}"
        if isinstance(component.yields, SheetYield | FrameYield):
            fix = f"say what to cut: {_plain(count)} discs of 40 mm {component.title.text}"
        elif word:
            fix = "write its weight in grams"
        texts.report("no-pieces", written, fix=fix, related=related, name=component.title.text)
        return None
    return Taken(Pieces(count, what.measure or "pieces"))


def _cut(line: WrittenLine, cut: WrittenCut, what: Meant, shelf: Shelf, texts: Texts) -> Taken | None:
    target = what.named.target
    component = shelf.recipe(target) if isinstance(target, RecipeRef) else None
    if not isinstance(target, RecipeRef):
        texts.report("cut-of-no-sheet", line.amount_anchor, name=what.name)
        return None
    if component is None or component.yields is None:
        return None
    if not isinstance(component.yields, SheetYield | FrameYield):
        related = [Related(component.yields_anchor, "what it yields")]
        texts.report("cut-of-no-sheet", line.amount_anchor, related=related, name=component.title.text)
        return None
    return Taken(Cut(cut.count, cut.shape, cut.word))


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"

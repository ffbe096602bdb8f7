"""The formula: lines with weights a scale can show, batch columns, the total formula, losses, components' trays."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.editions.team.places import Places
from bookmaker.editions.team.rounding import (
    known,
    mass,
    percent,
    percent_places,
    places_after_point,
    scale_weight,
    sum_weight,
    trimmed,
)
from bookmaker.editions.team.views import Amount, Size
from bookmaker.editions.team.views_recipe import (
    ComponentTray,
    FormulaView,
    LineView,
    LossView,
    StageView,
    TotalFormulaView,
    TotalLineView,
    TrayLine,
    Weight,
)
from bookmaker.kitchen.figures import LineFlow, LossFlow, MassFlow, TotalFormula
from bookmaker.measures.counts import counted
from bookmaker.measures.exact import ONE, ZERO
from bookmaker.measures.scales import Scale
from bookmaker.measures.units import Dimension
from bookmaker.model.book import Book
from bookmaker.model.line import Batches, Cut, Grams, Line, Pieces, Quantity, Rest, Sheets, Unmeasured
from bookmaker.model.recipe import BaseKind, Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target
from bookmaker.model.shapes import Disc, Shape

Measure = tuple[Decimal | None, str, Size | None]


@dataclass(frozen=True, slots=True)
class _Columns:
    """How a formula's columns are made: batch factors, decimals of the percents, the house's scales."""

    factors: tuple[Decimal, ...]
    decimals: int
    scales: tuple[Scale, ...]

    def cell(self, grams: Decimal | None, *, careful: bool) -> Weight | None:
        return None if grams is None else scale_weight(grams, self.scales, careful=careful)

    def cells(self, grams: Decimal | None, *, careful: bool) -> tuple[Weight | None, ...]:
        return tuple(
            None if grams is None else scale_weight(grams * factor, self.scales, careful=careful)
            for factor in self.factors
        )


def formula(recipe: Recipe, flow: MassFlow, book: Book, places: Places) -> FormulaView:
    """The formula as it is weighed: the tested batch, and the house's other batches beside it."""
    factors = tuple(trimmed(factor, 3) for factor in book.house.batches if factor != ONE)
    lines = {line.line: line for line in flow.lines}
    columns = _Columns(factors, percent_places(line.percent for line in flow.lines), book.house.scales)
    stages = []
    for stage in recipe.stages:
        shown = tuple(_line(line, lines[line.id], columns, book, places) for line in stage.lines)
        joined = sum((lines[line.id].bowl or ZERO for line in stage.lines), ZERO)
        stages.append(StageView(stage.name, stage.kind.value, shown, sum_weight(joined), _sums(joined, factors)))
    percents = [line.percent for line in flow.lines if line.percent is not None]
    return FormulaView(
        base=_base(recipe, places),
        batches=factors,
        stages=tuple(stages),
        weight=sum_weight(flow.into),
        weights=_sums(flow.into, factors),
        percent=places_after_point(sum(percents, ZERO), columns.decimals) if percents else None,
    )


def is_coarse(formula_: FormulaView, trays_: Iterable[ComponentTray]) -> bool:
    """Whether the house's scales round some weight of the batch, or of its components, by too much."""
    lines = [line for stage in formula_.stages for line in stage.lines]
    cells = [*(cell for line in lines for cell in (line.weight, *line.weights))]
    cells += [line.weight for tray in trays_ for line in tray.lines]
    return any(cell is not None and cell.coarse for cell in cells)


def size(shape: Shape) -> Size:
    """A shape as it is shown."""
    match shape:
        case Disc(diameter):
            return Size(trimmed(diameter, 1))
        case _:
            return Size(trimmed(shape.width, 1), trimmed(shape.depth, 1))


def is_careful(target: Target, book: Book) -> bool:
    """Whether the item is weighed with double care: leaven, salt, gelling agents, preservatives."""
    return isinstance(target, StoresRef) and book.stores[target.id].careful


def _base(recipe: Recipe, places: Places) -> str:
    if recipe.base.kind is BaseKind.ITEM and recipe.base.target is not None:
        return places.names[recipe.base.target]
    return recipe.base.kind.value


def _sums(grams: Decimal, factors: Sequence[Decimal]) -> tuple[Weight, ...]:
    return tuple(sum_weight(grams * factor) for factor in factors)


def _line(line: Line, flow: LineFlow, columns: _Columns, book: Book, places: Places) -> LineView:
    careful = is_careful(line.target, book)
    measure, word, shape = own_measure(line.quantity)
    times = line.times if line.times != ONE else None
    if measure == times and shape is None:
        measure = None  # `24 × 1 piece` says it already
    each = columns.cell(flow.bowl / line.times, careful=careful) if flow.bowl is not None and times else None
    stays = _stays(line, flow)
    return LineView(
        ingredient=places.link(line.target),
        weight=columns.cell(flow.bowl, careful=careful),
        weights=columns.cells(flow.bowl, careful=careful),
        percent=None if flow.percent is None else places_after_point(flow.percent, columns.decimals),
        words=line.quantity.words if isinstance(line.quantity, Unmeasured) else "",
        measure=None if measure is None else trimmed(measure, 3),
        measure_word=word,
        shape=shape,
        times=None if times is None else trimmed(times, 3),
        each=each,
        low=None if line.low is None else trimmed(line.low, 1),
        high=None if line.high is None else trimmed(line.high, 1),
        preparation=line.preparation,
        note=line.note,
        as_bought=line.as_bought,
        as_needed=line.as_needed,
        optional=line.optional,
        seed=flow.seed,
        alternatives=tuple(places.link(other) for other in line.alternatives),
        stays=stays,
        rest="" if stays is None else line.rest.value,
        working=columns.cell(line.working, careful=careful),
        loss=percent(line.loss) if line.loss else None,
        at_most=percent(line.at_most) if line.at_most is not None else None,
        is_component=isinstance(line.target, RecipeRef | CoProductRef) and not flow.seed,
    )


def _stays(line: Line, flow: LineFlow) -> Amount | None:
    """How much of the line stays, where not all of it does."""
    if line.stays_grams is not None:
        return mass(line.stays_grams)
    if line.stays is not None and line.stays != ONE:
        return percent(line.stays)
    if line.rest is Rest.BACK and flow.bowl and flow.back:
        return percent(flow.stays / flow.bowl)
    return None


def own_measure(quantity: Quantity) -> Measure:
    """The cook's own amount where it is no mass: how many, of what, and the shape of what is cut."""
    match quantity:
        case Grams(written=written, by=by) if written is not None and written.dimension is not Dimension.MASS:
            return written.number, written.unit or (by if by.isalpha() else ""), None
        case Pieces(count, word):
            return count, counted(word, count), None
        case Cut(count, shape, word):
            return count, word, size(shape)
        case Sheets(count):
            return count, "sheets" if count > 1 else "sheet", None
        case Batches(count):
            return count, "batches" if count > 1 else "batch", None
        case _:
            return None, "", None


def losses(flow: MassFlow) -> tuple[LossView, ...]:
    """All losses in the order in which they act."""
    staged = [(stage.name, loss) for stage in flow.stages for loss in stage.losses]
    whole = [("", loss) for loss in flow.losses]
    return tuple(_loss(stage, loss) for stage, loss in (*staged, *whole))


def _loss(stage: str, loss: LossFlow) -> LossView:
    return LossView(loss.name, loss.kind.value, percent(loss.share), mass(loss.grams), stage, loss.implied)


def total_formula(total: TotalFormula, places: Places) -> TotalFormulaView:
    """The total formula, heaviest first as the kitchen orders it."""
    decimals = percent_places(line.percent for line in total.lines)

    def share(value: Decimal) -> Amount:
        return Amount(trimmed(value, 1), "%")

    return TotalFormulaView(
        lines=tuple(
            TotalLineView(
                places.link(line.item),
                sum_weight(line.own).grams,
                sum_weight(line.inside).grams,
                sum_weight(line.own + line.inside).grams,
                places_after_point(line.percent, decimals),
            )
            for line in total.lines
        ),
        flour=mass(total.flour),
        prefermented=share(total.prefermented_flour),
        hydration=share(total.hydration),
        effective_hydration=known(total.effective_hydration, share, places),
        salt=known(total.salt, share, places),
        sugar=known(total.sugar, share, places),
        fat=known(total.fat, share, places),
    )


def demands(recipe: Recipe, flow: MassFlow, book: Book) -> dict[RecipeRef, Decimal]:
    """Grams of each component that a batch takes, in the order of the lines; the seed is the recipe's own."""
    found: dict[RecipeRef, Decimal] = {}
    by_id = {line.line: line for line in flow.lines}
    for line in recipe.lines:
        if isinstance(line.target, RecipeRef) and not by_id[line.id].seed:
            ref = book.sized(line.target)
            found[ref] = found.get(ref, ZERO) + (by_id[line.id].bowl or ZERO) + by_id[line.id].working_extra
    return found


def trays(recipe: Recipe, flows: Mapping[RecipeRef, MassFlow], book: Book, places: Places) -> tuple[ComponentTray, ...]:
    """Every component that is weighed, with its own weights for this batch, one level deep."""
    found = []
    for ref, grams in demands(recipe, flows[recipe.ref], book).items():
        if not grams:
            continue
        component, flow = book.recipes[ref], flows[ref]
        factor = grams / flow.usable if flow.usable else None
        lines = {line.line: line for line in flow.lines}
        pieces = flow.yields.pieces * factor if factor is not None and flow.yields.pieces is not None else None
        found.append(
            ComponentTray(
                component=places.link(ref),
                kind=component.kind.value,
                weight=mass(grams),
                batches=trimmed(factor, 2) if factor is not None else ZERO,
                lines=tuple(_tray_line(line, lines[line.id], factor, book, places) for line in component.lines),
                count=Amount(trimmed(pieces, 1 if pieces < 10 else 0)) if pieces is not None else None,
                word=flow.yields.word if pieces is not None else "",
                make_least=mass(component.make.least) if component.make.least is not None else None,
            )
        )
    return tuple(found)


def _tray_line(line: Line, flow: LineFlow, factor: Decimal | None, book: Book, places: Places) -> TrayLine:
    words = line.quantity.words if isinstance(line.quantity, Unmeasured) else ""
    if factor is None or flow.bowl is None:
        return TrayLine(places.link(line.target), None, words)
    careful = is_careful(line.target, book)
    return TrayLine(places.link(line.target), scale_weight(flow.bowl * factor, book.house.scales, careful=careful))

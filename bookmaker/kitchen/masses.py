"""One line's mass: how many grams go into the bowl, and what becomes of them."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.cuts import cut_sheet
from bookmaker.kitchen.figures import Lack, LackKind, LineFlow, MassFlow
from bookmaker.kitchen.parts import is_seed, part_of, sheet_size
from bookmaker.measures.exact import HUNDRED, ONE, ZERO
from bookmaker.measures.units import Dimension
from bookmaker.model.book import Book
from bookmaker.model.line import Batches, Cut, Grams, Line, Percent, Pieces, Rest, Sheets, Unmeasured
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef, StoresRef

Flows = Mapping[RecipeRef, MassFlow]


@dataclass(frozen=True, slots=True)
class Bowl:
    """What a line puts into the bowl: grams (None: unknown), of which `offcut` is the geometric rest of a cut."""

    grams: Decimal | None
    offcut: Decimal = ZERO
    sheets: Decimal | None = None
    pieces: Decimal | None = None
    lacks: tuple[Lack, ...] = ()


def bowl_of(line: Line, recipe: Recipe, book: Book, flows: Flows, base: Decimal | None) -> Bowl:
    """A line's bowl. `base` is what 100 % weighs, None while that is not known: then a line in percent has no grams."""
    match line.quantity:
        case Grams(grams, written):
            counted = written.number if written and written.dimension is Dimension.COUNT else None
            return Bowl(grams * _prepared(line, book), pieces=counted)
        case Percent(percent):
            if base is None:
                return Bowl(None, lacks=(Lack(LackKind.YIELD, line.name),))
            return Bowl(base * percent / HUNDRED * _prepared(line, book))
        case Unmeasured():
            return Bowl(None, lacks=(Lack(LackKind.AMOUNT, line.name),))
        case _:
            return _drawn(line, recipe, book, flows)


def _prepared(line: Line, book: Book) -> Decimal:
    """What is left of a gram as bought when it is peeled, stoned ..., where the line is written as bought."""
    return book.stores[line.target.id].usable if line.as_bought and isinstance(line.target, StoresRef) else ONE


def _drawn(line: Line, recipe: Recipe, book: Book, flows: Flows) -> Bowl:
    """A line counted in pieces, cuts, sheets or batches of what it draws on."""
    part = part_of(line.target, book)
    if part is None:
        return _counted_item(line, book)
    if is_seed(line, recipe, book) or not isinstance(line.target, RecipeRef):
        return _unknown(line)
    flow = flows[part]
    yields = flow.yields
    below = tuple(Lack(lack.kind, lack.of, (part, *lack.via)) for lack in yields.usable.lacks)
    match line.quantity:
        case Pieces(count) if yields.piece is not None:
            return Bowl(count * yields.piece, pieces=count, lacks=below)
        case Sheets(count) if (sheet := yields.sheet or yields.piece) is not None:
            return Bowl(count * sheet, sheets=count, lacks=below)
        case Batches(count) if yields.usable.value is not None:
            return Bowl(count * yields.usable.value, lacks=below)
        case Cut(count, shape) if yields.sheet is not None:
            size = sheet_size(book.recipes[part], book.house)
            cut = cut_sheet(size, shape) if size else None
            if cut is None:
                return _unknown(line)
            sheets = count / cut.per_sheet
            grams = sheets * yields.sheet
            return Bowl(grams, grams * (ONE - cut.used_share), sheets, count, below)
        case _:
            return _unknown(line)


def _counted_item(line: Line, book: Book) -> Bowl:
    piece = dict(book.stores[line.target.id].measures).get("piece") if isinstance(line.target, StoresRef) else None
    if not isinstance(line.quantity, Pieces) or piece is None:
        return _unknown(line)
    return Bowl(line.quantity.count * piece, pieces=line.quantity.count)


def _unknown(line: Line) -> Bowl:
    count = line.quantity.count if isinstance(line.quantity, Pieces | Cut) else None
    return Bowl(None, pieces=count, lacks=(Lack(LackKind.AMOUNT, line.name),))


def line_flow(line: Line, bowl: Bowl, base: Decimal | None, seed: bool) -> LineFlow:
    """Divide a line's bowl into what stays, goes back, is wasted or evaporates.

    `stays` as written is of the whole line; the line's own `loss` is then taken from the rest. Where nothing says
    what stays, all but the loss does.
    """
    if bowl.grams is None:
        return LineFlow(line.id, line.target, None, ZERO, sheets=bowl.sheets, pieces=bowl.pieces, seed=seed)
    whole = bowl.grams - bowl.offcut
    if line.stays is None and line.stays_grams is None:
        stays = whole * (ONE - line.loss)
        lost, rest = whole - stays, ZERO
    else:
        stays = whole * line.stays if line.stays is not None else min(line.stays_grams or ZERO, whole)
        lost = min(whole * line.loss, whole - stays)
        rest = whole - stays - lost
    return LineFlow(
        line=line.id,
        target=line.target,
        bowl=bowl.grams,
        stays=stays,
        back=rest if line.rest is Rest.BACK else ZERO,
        wasted=lost + (rest if line.rest is Rest.WASTE else ZERO),
        air=rest if line.rest is Rest.AIR else ZERO,
        offcut=bowl.offcut,
        working_extra=max(line.working - bowl.grams, ZERO) if line.working is not None else ZERO,
        sheets=bowl.sheets,
        pieces=bowl.pieces,
        percent=bowl.grams / base * HUNDRED if base else None,
        seed=seed,
    )

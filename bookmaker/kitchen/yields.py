"""What a batch comes to: what the cook states, what the losses leave, and how that divides into pieces and sheets."""

from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.cuts import cut_sheet
from bookmaker.kitchen.figures import CutFlow, Figure, YieldFlow
from bookmaker.kitchen.parts import sheet_count, sheet_size
from bookmaker.measures.exact import ZERO
from bookmaker.model.book import Book
from bookmaker.model.house import House
from bookmaker.model.recipe import Recipe
from bookmaker.model.yields import MassYield, MouldYield, PieceYield, TinYield, TrayYield

HOT = Decimal(90)
"""°C from which a method counts as driving water off, where no loss is stated."""


@dataclass(frozen=True, slots=True)
class Stated:
    """The mass that the cook says comes out; `raw` when it is weighed before the oven."""

    grams: Decimal
    raw: bool = False


def stated_yield(recipe: Recipe) -> Stated | None:
    """The mass in the recipe's `yields`, if it names one."""
    match recipe.yields:
        case MassYield(grams):
            return Stated(grams)
        case PieceYield(count=count, finished=finished) if finished is not None:
            return Stated(count * finished)
        case PieceYield(count=count, scaled=scaled) if scaled is not None:
            return Stated(count * scaled, raw=True)
        case _:
            return None


def own_cut(recipe: Recipe, house: House) -> CutFlow | None:
    """How the recipe's own sheets are cut; None where they are not, or where nothing fits."""
    size = sheet_size(recipe, house)
    if recipe.cut is None or size is None:
        return None
    return cut_sheet(size, recipe.cut.shape, recipe.cut.trim)


def drives_off_water(recipe: Recipe, house: House) -> bool:
    """Whether the method bakes, boils or dries: an oven, or an end point or setting of 90 °C and more."""
    ovens = {machine.name for machine in house.equipment if machine.kind == "oven"}
    for step in recipe.method.steps:
        readings = [*(step.at.temperatures if step.at else ()), *(step.to.temperatures if step.to else ())]
        if step.on in ovens or any(reading.celsius >= HOT for reading in readings):
            return True
    return False


def piece_count(recipe: Recipe, book: Book, cut: CutFlow | None) -> tuple[Decimal | None, str]:
    """How many pieces one batch comes to, and the cook's word for them."""
    match recipe.yields:
        case PieceYield(count=count, word=word):
            return count, word
        case MouldYield(count=count, mould=name):
            cavities = next((mould.cavities for mould in book.house.moulds if mould.name == name), None)
            return (None if cavities is None else count * cavities), "pieces"
        case TinYield(count=count):
            return count, "pieces"
        case TrayYield(count=count) if recipe.tray is not None:
            return count * recipe.tray, "pieces"
        case _:
            sheets = sheet_count(recipe)
            if cut is not None and recipe.cut is not None and sheets is not None:
                return sheets * cut.per_sheet, recipe.cut.word
            return None, ""


def yield_flow(
    recipe: Recipe, book: Book, usable: Figure, cut: CutFlow | None, *, raw: Decimal | None, computed: Decimal
) -> YieldFlow:
    """Divide the usable mass into pieces and sheets; `raw` was portioned, `computed` is what the losses leave."""
    pieces, word = piece_count(recipe, book, cut)
    grams = usable.value or ZERO
    stated = stated_yield(recipe)
    scaled = recipe.yields.scaled if isinstance(recipe.yields, PieceYield) else None
    if scaled is None and raw is not None and pieces:
        scaled = raw / pieces
    sheets = sheet_count(recipe)
    known = usable.value is not None
    return YieldFlow(
        usable=usable,
        word=word,
        pieces=pieces,
        piece=grams / pieces if pieces and known else None,
        scaled=scaled,
        sheets=sheets,
        sheet=grams / sheets if sheets and known else None,
        cut=cut,
        stated=stated.grams if stated else None,
        computed=computed if stated else None,
    )

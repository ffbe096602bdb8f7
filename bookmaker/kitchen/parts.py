"""How recipes hang together: what a line draws on, what counts as a sheet or a tray, what a co-product is made of."""

from decimal import Decimal

from bookmaker.kitchen.figures import MassFlow
from bookmaker.measures.counts import COUNT_WORDS, singular
from bookmaker.model.book import Book
from bookmaker.model.house import House
from bookmaker.model.line import Cut, Line
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, Target
from bookmaker.model.shapes import Rectangle
from bookmaker.model.yields import FrameYield, MouldYield, SheetYield, TinYield, TrayYield


def part_of(target: Target, book: Book) -> RecipeRef | None:
    """The sized recipe that makes `target` (a co-product's is its parent); None for a stores item."""
    match target:
        case RecipeRef():
            return book.sized(target)
        case CoProductRef(recipe, _):
            return book.sized(recipe)
        case _:
            return None


def is_seed(line: Line, recipe: Recipe, book: Book) -> bool:
    """Whether the line is the recipe's own culture, kept from the batch before."""
    return isinstance(line.target, RecipeRef) and book.sized(line.target) == recipe.ref


def components_of(recipe: Recipe, book: Book) -> tuple[RecipeRef, ...]:
    """The recipes that the formula draws on, in the order of its lines, each once; the seed is none of them."""
    found = (part_of(line.target, book) for line in recipe.lines)
    return tuple(dict.fromkeys(part for part in found if part is not None and part != recipe.ref))


def sheet_size(recipe: Recipe, house: House) -> Rectangle | None:
    """The size of one sheet or frame that the recipe yields; None where it yields neither."""
    match recipe.yields:
        case SheetYield(size=size):
            return size
        case FrameYield(frame=name):
            return next((flat.size for flat in house.frames if flat.name == name), None)
        case _:
            return None


def sheet_count(recipe: Recipe) -> Decimal | None:
    """How many sheets, frames or trays one batch comes to; None where it is not made in them."""
    match recipe.yields:
        case SheetYield(count=count) | FrameYield(count=count) | TrayYield(count=count):
            return count
        case _:
            return None


def count_of(word: str, recipe: Recipe, flow: MassFlow) -> Decimal | None:
    """How many pieces, trays, sheets, frames, tins or moulds one batch comes to; None where nothing says so.

    Exact, so seldom whole: 30 buns at 12 to a tray are 2.5 trays.
    """
    unit = singular(word)
    match unit, recipe.yields:
        case ("mould", MouldYield(count=count)) | ("tin", TinYield(count=count)):
            return count
        case "sheet" | "frame" | "tray", SheetYield(count=count) | FrameYield(count=count) | TrayYield(count=count):
            return count
        case "tray", _:
            return flow.yields.pieces / recipe.tray if recipe.tray and flow.yields.pieces else None
        case _:
            return flow.yields.pieces if unit in COUNT_WORDS and unit != "mould" else None


def cut_lines(recipe: Recipe) -> tuple[Line, ...]:
    """The lines that are cut from another recipe's sheets."""
    return tuple(line for line in recipe.lines if isinstance(line.quantity, Cut))


def sources_of(given: CoProductRef, book: Book) -> tuple[RecipeRef, ...]:
    """The recipes whose product a co-product consists of: the parent, or those of whose sheets it is the rest."""
    parent = book.recipe(given.recipe)
    product = next(each for each in parent.gives if each.name == given.name)
    cut = cut_lines(parent)
    if not (product.rest_of_cut and cut):
        return (book.sized(given.recipe),)
    found = (part_of(line.target, book) for line in cut)
    return tuple(dict.fromkeys(part for part in found if part is not None))

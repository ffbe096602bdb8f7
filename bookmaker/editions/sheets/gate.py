"""The gate: the one module of this edition that sees the book. It takes out what sheets are given, and no more."""

from collections.abc import Iterable, Mapping
from decimal import Decimal

from bookmaker.editions.sheets.given import HouseGiven, PieceGiven, PriceGiven, ProductGiven, SheetGiven
from bookmaker.editions.sheets.views import ALL, INDEX, Address
from bookmaker.editions.team.places import Entry
from bookmaker.editions.team.routes import fold
from bookmaker.kitchen.figures import RecipeFigures
from bookmaker.kitchen.label_figures import LabelFigure
from bookmaker.measures.exact import ZERO
from bookmaker.model.book import Book
from bookmaker.model.house import House
from bookmaker.model.recipe import Kind, Recipe, Status
from bookmaker.model.refs import RecipeRef
from bookmaker.model.shapes import Disc, Rectangle
from bookmaker.model.yields import TinYield


def released(contents: Mapping[RecipeRef, Entry], order: Iterable[RecipeRef]) -> tuple[RecipeRef, ...]:
    """The products that clients may see, in the book's order: approved ones."""
    return tuple(ref for ref in order if contents[ref].kind is Kind.PRODUCT and contents[ref].status is Status.APPROVED)


def addresses(names: Mapping[RecipeRef, str]) -> dict[RecipeRef, Address]:
    """A page for each product, after its name, and never after the file that it is written in.

    Where two names come to the same, the later one is numbered.
    """
    taken = {INDEX.stem, ALL.stem}
    found = {}
    for ref, name in names.items():
        stem = free = fold(name)
        number = 1
        while free in taken:
            number += 1
            free = f"{stem}-{number}"
        taken.add(free)
        found[ref] = Address(free)
    return found


def house_given(house: House) -> HouseGiven:
    """What clients may know of the house."""
    return HouseGiven(
        name=house.name,
        language=house.language,
        contact=house.contact,
        region=house.region,
        fahrenheit=house.fahrenheit,
        paper=house.paper.value,
        cross_contact=house.cross_contact,
        forbid_claims=house.forbid_claims,
    )


def sheet_given(ref: RecipeRef, book: Book, figures: RecipeFigures, label: LabelFigure) -> SheetGiven:
    """What may be told of one product."""
    recipe = book.recipes[ref]
    made = figures.flow.yields
    return SheetGiven(
        product=ProductGiven(
            title=recipe.title,
            size=ref.size,
            revision=recipe.revision,
            revised=recipe.revised,
            client=recipe.client,
            portion=recipe.portion,
            servings=recipe.servings,
            layers=recipe.layers,
            photo=recipe.photo_text if recipe.photo else None,
        ),
        piece=PieceGiven(made.word, made.piece, _width(recipe, book.house)),
        label=label,
        keeping=figures.keeping,
        price=_price(recipe, book.house),
    )


def _width(recipe: Recipe, house: House) -> Decimal | None:
    """Across what a piece is cut open: the longer side of its cut, or the ring that it is made in."""
    match recipe.cut.shape if recipe.cut else recipe.yields:
        case Rectangle(width, depth):
            return max(width, depth)
        case Disc(diameter):
            return diameter
        case TinYield(tin=name):
            return next((tin.diameter for tin in house.tins if tin.name == name), None)
        case _:
            return None


def _price(recipe: Recipe, house: House) -> PriceGiven | None:
    """The price as authored for the channel that sheets show, if the house wants one shown."""
    listed = next((price for price in recipe.prices if price.channel == house.labels.price), None)
    tax = next((channel.tax for channel in house.channels if channel.name == house.labels.price), ZERO)
    return PriceGiven(listed, tax) if listed is not None else None

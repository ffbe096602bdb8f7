"""What a label of one recipe says by law: name, ingredient list, quantities, allergens, nutrition, diets."""

from bookmaker.kitchen.figures import Figures
from bookmaker.kitchen.label_figures import LabelFigure, Quantity
from bookmaker.kitchen.labelling.declaration import declaration_of, entries_of, place_of
from bookmaker.kitchen.labelling.diets import diets_of
from bookmaker.kitchen.labelling.mix import Mixes
from bookmaker.kitchen.labelling.notes import notes_of
from bookmaker.kitchen.labelling.nutrients import nutrients_per_gram
from bookmaker.kitchen.labelling.nutrition import nutrition_of, sold_of
from bookmaker.kitchen.labelling.quantities import quid_of
from bookmaker.kitchen.labelling.rules import LISTS, law_note
from bookmaker.measures.exact import exactly
from bookmaker.model.book import Book
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef


class NotFood(ValueError):
    """A label was asked of a moulding recipe: none of it is food."""


def label_of(ref: RecipeRef, book: Book, figures: Figures) -> LabelFigure:
    """The label of a recipe in one size. Raises `NotFood` for kind moulding, `KeyError` for an unknown recipe."""
    ref = book.sized(ref)
    recipe = book.recipes[ref]
    if recipe.kind is Kind.MOULDING:
        raise NotFood(recipe.title)
    with exactly():
        mixes = Mixes(book, figures)
        quid = quid_of(ref, mixes)
        allergens = figures.recipes[ref].allergens
        per_gram = nutrients_per_gram(ref, mixes)
        nutrition = nutrition_of(ref, mixes, per_gram)
        entries = entries_of(ref, mixes, quid)
        quantities = tuple(
            Quantity(named.name, named.share, quid.printed(named.share), place_of(named, entries) is not None)
            for named in quid.named
            if LISTS[book.house.region].quantities
        )
        return LabelFigure(
            ref=ref,
            name=recipe.client.sold_as or recipe.title,
            declaration=declaration_of(ref, mixes, quid, allergens),
            allergens=allergens,
            nutrition=nutrition,
            diets=diets_of(ref, mixes),
            net=sold_of(ref, mixes).grams,
            notes=tuple(notes_of(ref, mixes, per_gram)),
            law=law_note(book.house.region, book.house.labels.packed),
            quantities=quantities,
        )

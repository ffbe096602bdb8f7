"""What the labels of released products still lack: the list of `check`."""

from collections.abc import Iterator

from bookmaker.editions.team.rounding import lacking
from bookmaker.kitchen.figures import Figures, Lack
from bookmaker.kitchen.label import label_of
from bookmaker.kitchen.label_figures import LabelFigure
from bookmaker.model.book import Book
from bookmaker.model.recipe import Kind, Status
from bookmaker.model.refs import RecipeRef
from bookmaker.workshop.terminal.figures import Desk
from bookmaker.workshop.terminal.table import Column, table

_MOST = 3
"""Lacks named of one product; the rest are counted."""


def incomplete_labels(book: Book, figures: Figures) -> Iterator[LabelFigure]:
    """The labels of released products that cannot be printed whole.

    Nutrition counts as begun where something in the product has any: a house that states none is not told of it.
    """
    for ref, recipe in book.recipes.items():
        if recipe.kind is not Kind.PRODUCT or recipe.status is not Status.APPROVED:
            continue
        label = label_of(ref, book, figures)
        if label.declaration.lacks or (label.nutrition.lacks and _begun(ref, book, figures)):
            yield label


def _begun(ref: RecipeRef, book: Book, figures: Figures) -> bool:
    return any(book.stores[item.id].nutrients is not None for item in figures.recipes[ref].flow.content)


def lacking_table(desk: Desk, labels: list[LabelFigure]) -> str:
    """One line a product: what its ingredient list lacks, and what its nutrition."""
    columns = (Column("label of", wraps=True), Column("ingredient list", wraps=True), Column("nutrition", wraps=True))
    rows = [
        (desk.name(label.ref), _words(desk, label.declaration.lacks), _words(desk, label.nutrition.lacks))
        for label in labels
    ]
    return table(columns, rows)


def _words(desk: Desk, lacks: tuple[Lack, ...]) -> str:
    more = f", and {len(lacks) - _MOST} more" if len(lacks) > _MOST else ""
    return desk.pen.lacks(lacking(lacks[:_MOST], desk.places)) + more

"""Recipe and figures → a bench card. It is given no costs: what a card may not say, it cannot know."""

from collections.abc import Sequence
from dataclasses import dataclass

from bookmaker.editions.cards.formula import card_components, card_formula
from bookmaker.editions.cards.key_figures import key_figures
from bookmaker.editions.cards.method import card_steps, cautions, first_aid, look_for, mould_materials
from bookmaker.editions.cards.views import CardAllergens, CardKeeping, CardTitle, CardView
from bookmaker.editions.team.places import Places
from bookmaker.editions.team.project_recipe import yields
from bookmaker.editions.team.rounding import minutes, trimmed
from bookmaker.kitchen.figures import AllergenFigure, KeepingFigure, MassFlow, RecipeFigures, TimeFigure
from bookmaker.kitchen.masses import Flows
from bookmaker.model.book import Book
from bookmaker.model.recipe import Kind, Recipe, Status
from bookmaker.model.refs import RecipeRef

FOLDER = "cards"
"""Where the edition is published within the output folder."""

PATTERNS = 16
"""So many edges there are to tell sections by; a book with more sections begins anew, and has the words."""


@dataclass(frozen=True, slots=True)
class CardFigures:
    """The figures that a card is made from."""

    flow: MassFlow
    time: TimeFigure
    allergens: AllergenFigure
    keeping: tuple[KeepingFigure, ...]

    @classmethod
    def of(cls, figures: RecipeFigures) -> "CardFigures":
        """These of all figures of a recipe."""
        return cls(figures.flow, figures.time, figures.allergens, figures.keeping)


def has_card(status: str) -> bool:
    """Whether a recipe of this status has a card: what is no longer made has none."""
    return status != Status.RETIRED.value


def card_view(ref: RecipeRef, book: Book, figures: CardFigures, flows: Flows, places: Places) -> CardView:
    """The card of a recipe in one size. `flows` are also those of its components."""
    recipe = book.recipes[ref]
    is_food = recipe.kind is not Kind.MOULDING
    return CardView(
        head=_title(recipe, book, places),
        figures=key_figures(recipe, figures.time, yields(recipe, figures.flow, book, places), book.house),
        formula=card_formula(recipe, figures.flow, book, places),
        steps=card_steps(recipe, figures.time, book),
        allergens=_allergens(figures.allergens, places) if is_food else None,
        components=card_components(recipe, flows, book, places),
        cautions=cautions(recipe, book, places),
        first_aid=first_aid(recipe, book, places),
        keeping=tuple(map(_keeping, figures.keeping)) if is_food else (),
        look_for=look_for(recipe),
        moulding=() if is_food else mould_materials(recipe, book),
        language=book.house.language,
        fahrenheit=book.house.fahrenheit,
    )


def pattern_of(section: str, sections: Sequence[str]) -> int:
    """The edge of a section, by its place among the book's sections."""
    return sections.index(section) % PATTERNS


def _title(recipe: Recipe, book: Book, places: Places) -> CardTitle:
    return CardTitle(
        house=book.house.name,
        title=recipe.title,
        section=places.sections[recipe.section].name,
        kind=recipe.kind.value,
        status=recipe.status.value,
        revision=recipe.revision,
        revised=recipe.revised,
        code=recipe.code,
        size=recipe.ref.size,
        aka=recipe.aka,
    )


def _allergens(figure: AllergenFigure, places: Places) -> CardAllergens:
    undeclared = dict.fromkeys(places.names[path[-1]] for path in figure.undeclared if path)
    return CardAllergens(
        contains=tuple(figure.contains),
        may_contain=tuple(name for name in figure.may_contain if name not in figure.contains),
        undeclared=tuple(undeclared),
    )


def _keeping(state: KeepingFigure) -> CardKeeping:
    return CardKeeping(
        state=state.state,
        most=minutes(state.minutes),
        temperature=trimmed(state.temperature.celsius, 1) if state.temperature else None,
        words=state.words,
        from_state=state.from_state,
        within=minutes(state.within) if state.within is not None else None,
        date_word=state.date_word,
    )

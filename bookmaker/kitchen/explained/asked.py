"""What a working is made from: the book, its figures, and the recipe that is asked about."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.figures import CostFigure, Figure, Lack, MassFlow, RecipeFigures
from bookmaker.kitchen.figures import Figures as BookFigures
from bookmaker.kitchen.working import Term, Working
from bookmaker.measures.exact import HUNDRED
from bookmaker.model.book import Book
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef

THOUSAND = Decimal(1000)

Workings = Mapping[str, Callable[[], Working]]
"""What a family can explain about a recipe: the figure's name, and what makes its working."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One recipe (in one size) of a book with its figures."""

    book: Book
    figures: BookFigures
    ref: RecipeRef

    @property
    def recipe(self) -> Recipe:
        """The recipe itself."""
        return self.book.recipes[self.ref]

    @property
    def own(self) -> RecipeFigures:
        """All its figures."""
        return self.figures.recipes[self.ref]

    @property
    def flow(self) -> MassFlow:
        """Its mass flow."""
        return self.own.flow

    @property
    def cost(self) -> CostFigure:
        """Its cost."""
        return self.own.cost

    @property
    def money(self) -> str:
        """The house's currency, as a unit."""
        return self.book.house.money

    @property
    def money_a_kilogram(self) -> str:
        """The unit of prices by weight."""
        return f"{self.money}/kg"

    def working(
        self,
        what: str,
        rule: str,
        terms: Iterable[Term],
        result: Decimal | Figure | None,
        unit: str,
        *,
        lacks: tuple[Lack, ...] = (),
    ) -> Working:
        """A working of this recipe; a figure as result brings its own lacks."""
        if isinstance(result, Figure):
            return Working(what, self.ref, rule, tuple(terms), result.value, unit, result.lacks)
        return Working(what, self.ref, rule, tuple(terms), result, unit, lacks)


def line_names(recipe: Recipe) -> Mapping[str, str]:
    """By line id the name that tells a line from the recipe's others: its own, with stage or number where that is not
    enough.
    """
    plain = Counter(line.name for line in recipe.lines)
    names: dict[str, str] = {}
    for stage in recipe.stages:
        for line in stage.lines:
            name = line.name if plain[line.name] == 1 or not stage.name else f"{line.name} ({stage.name})"
            taken = sum(other == name or other.startswith(f"{name} (#") for other in names.values())
            names[line.id] = f"{name} (#{taken + 1})" if taken else name
    return names


def a_kilogram(per_gram: Decimal | None) -> Decimal | None:
    """Money per gram as money per kilogram."""
    return None if per_gram is None else per_gram * THOUSAND


def in_percent(share: Decimal | None) -> Decimal | None:
    """A fraction as percent."""
    return None if share is None else share * HUNDRED

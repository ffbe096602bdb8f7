"""What an exercise is made from: a recipe with the book's figures, and dice."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.dice import Dice
from bookmaker.kitchen.explained.asked import line_names
from bookmaker.kitchen.figures import Figures, LineFlow, MassFlow, RecipeFigures
from bookmaker.kitchen.parts import is_seed, part_of
from bookmaker.measures.exact import HUNDRED
from bookmaker.model.book import Book
from bookmaker.model.line import Grams, Line, Percent
from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.refs import RecipeRef


@dataclass(frozen=True, slots=True)
class Lesson:
    """One recipe to be taught. `dice` are for one exercise alone."""

    book: Book
    figures: Figures
    ref: RecipeRef
    dice: Dice

    @property
    def recipe(self) -> Recipe:
        """The recipe."""
        return self.book.recipes[self.ref]

    @property
    def own(self) -> RecipeFigures:
        """Its figures."""
        return self.figures.recipes[self.ref]

    @property
    def flow(self) -> MassFlow:
        """Its mass flow."""
        return self.own.flow

    @property
    def title(self) -> str:
        """What the kitchen calls it."""
        return self.book.name(self.ref)

    @property
    def names(self) -> Mapping[str, str]:
        """By line id a name that no other line of the recipe has."""
        return line_names(self.recipe)

    @property
    def is_food(self) -> bool:
        """Whether it is eaten."""
        return self.recipe.kind is not Kind.MOULDING

    def weighed(self) -> tuple[tuple[Line, LineFlow], ...]:
        """The lines that are weighed into the bowl for good: not dusting, not pieces or cuts, not what is to taste."""
        return tuple(
            (line, moved)
            for line, moved in zip(self.recipe.lines, self.flow.lines, strict=True)
            if isinstance(line.quantity, Grams | Percent) and moved.bowl and not line.as_needed and not line.optional
        )

    @property
    def all_weighed(self) -> bool:
        """Whether every line is weighed, but for what is taken as needed."""
        firm = [line for line in self.recipe.lines if not line.as_needed and not line.optional]
        return len(firm) == len(self.weighed())

    def component(self, line: Line) -> RecipeRef | None:
        """The recipe that makes the line, where it is not a stores item, a co-product or the recipe's own seed."""
        if isinstance(line.target, RecipeRef) and not is_seed(line, self.recipe, self.book):
            return part_of(line.target, self.book)
        return None


@dataclass(frozen=True, slots=True)
class Ratio:
    """How often something is made: `over` ÷ `under`, divided last, so that a half comes out as a half."""

    over: Decimal
    under: Decimal

    def of(self, value: Decimal) -> Decimal:
        """So often `value`."""
        return value * self.over / self.under

    @property
    def shown(self) -> Decimal:
        """To four decimals, for a working."""
        return trimmed(self.over / self.under, 4)


def whole_number(value: Decimal | None) -> int | None:
    """A count that is whole; None for halves of pieces."""
    return int(value) if value is not None and value == value.to_integral_value() else None


def grams(value: Decimal) -> Amount:
    """Grams as exercises print them: to the gram, below 100 g to a tenth."""
    return Amount(trimmed(value, 1 if value < HUNDRED else 0), "g")


def percent(value: Decimal, places: int = 1) -> Amount:
    """Percent with at most so many decimals."""
    return Amount(trimmed(value, places), "%")


ROUND_GRAMS = "Round to the gram, and below 100 g to a tenth of a gram."
"""What `grams` does, in words."""

"""The register: what was issued, when, by whom. Only the `issue` command writes it, into the book's `issued.csv`."""

from dataclasses import dataclass
from datetime import date

from bookmaker.model.refs import RecipeRef


@dataclass(frozen=True, slots=True)
class IssuedCard:
    """A bench card that was handed out.

    `code` stands for everything that is printed on it; `parts` has a digest for each thing that a cook would ask about
    (`weights`, `steps`, `allergens`, `cautions`, `the rest`), so that a replaced card can say what was changed.
    """

    code: str
    recipe: RecipeRef
    title: str
    revision: int
    on: date
    by: str
    parts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class IssuedLabel:
    """What a product's label said when it was handed out: allergens by name, declaration and nutrition as plain text.

    `code` stands for all of it.
    """

    code: str
    recipe: RecipeRef
    title: str
    revision: int
    on: date
    by: str
    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    declaration: str
    nutrition: str


@dataclass(frozen=True, slots=True)
class Register:
    """Everything that was ever issued, oldest first. No entry means never issued."""

    cards: tuple[IssuedCard, ...] = ()
    labels: tuple[IssuedLabel, ...] = ()

    def label(self, recipe: RecipeRef) -> IssuedLabel | None:
        """What counts as handed out for a product: the last label issued."""
        return next((each for each in reversed(self.labels) if each.recipe == recipe), None)

    def card(self, recipe: RecipeRef) -> IssuedCard | None:
        """The last card issued of a recipe."""
        return next((each for each in reversed(self.cards) if each.recipe == recipe), None)

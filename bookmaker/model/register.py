"""The register: what was issued, when, by whom. Only the `issue` command writes it, into the book's `issued.csv`."""

from dataclasses import dataclass, field
from datetime import date

from bookmaker.model.codes import content_code
from bookmaker.model.refs import RecipeRef
from bookmaker.problems.anchors import NOWHERE, Anchor


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
    anchor: Anchor = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class IssuedLabel:
    """What a product's label said when it was handed out: allergens by name, declaration and nutrition as plain text.

    `sold_as` is the legal name, `notes` are the sentences beside it (`Defrosted.`). `code` stands for all of it.
    """

    code: str
    recipe: RecipeRef
    title: str
    revision: int
    on: date
    by: str
    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    sold_as: str
    declaration: str
    nutrition: str
    notes: str = ""
    anchor: Anchor = field(default=NOWHERE, compare=False)


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

    def last_labels(self) -> dict[RecipeRef, IssuedLabel]:
        """What counts as handed out, product by product."""
        return {each.recipe: each for each in self.labels}

    def last_cards(self) -> dict[RecipeRef, IssuedCard]:
        """The last card of each recipe."""
        return {each.recipe: each for each in self.cards}


def label_code(contains: tuple[str, ...], may_contain: tuple[str, ...], *texts: str) -> str:
    """The code that stands for what a label says; `texts` are its legal name, declaration, nutrition and notes."""
    return content_code(", ".join(contains), ", ".join(may_contain), *texts)


def one_line(text: str) -> str:
    """A text as the register holds it: on one line, with single spaces, so that a record is a line of the file."""
    return " ".join(text.split())

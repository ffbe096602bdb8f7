"""What the printed book shows. Recipes, lists and indexes are the team book's own views; here they get an order."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from bookmaker.editions.team.cards import RecipeCard
from bookmaker.editions.team.views import Amount, Frame, Route
from bookmaker.editions.team.views_overview import (
    AboutPage,
    CautionsPage,
    CostsPage,
    FrontPage,
    GlossaryPage,
    IndexPage,
    MatrixPage,
    SectionPage,
)
from bookmaker.editions.team.views_recipe import RecipeView


@dataclass(frozen=True, slots=True)
class Material:
    """What the printed book is arranged from: the team book, with cards in the place of its recipes."""

    frame: Frame
    front: FrontPage
    sections: tuple[SectionPage, ...]
    cards: tuple[RecipeCard, ...]
    about: AboutPage
    cautions: CautionsPage
    allergens: MatrixPage
    costs: CostsPage
    glossary: GlossaryPage | None
    by_name: IndexPage
    by_ingredient: IndexPage


@dataclass(frozen=True, slots=True)
class Cover:
    """The cover: whose book, how much is in it, and the newest revision among its recipes (build dates never show)."""

    house: str
    newest: date | None
    recipes: int
    products: int
    contact: str = ""


@dataclass(frozen=True, slots=True)
class ContentsLine:
    """One line of the contents; `note` says what a batch gives."""

    title: str
    route: Route
    kind: str
    code: str
    usable: Amount | None
    count: Amount | None
    word: str


@dataclass(frozen=True, slots=True)
class Part:
    """A section of the book with its recipes, in the order of its contents."""

    heading: str
    route: Route
    contents: tuple[ContentsLine, ...]
    recipes: Sequence[RecipeView]


@dataclass(frozen=True, slots=True)
class PrintedBook:
    """The whole book. `paper` names the theme's sheet for it; links lead only to pages that are printed."""

    frame: Frame
    paper: str
    currency: str
    cover: Cover
    about: AboutPage
    parts: tuple[Part, ...]
    cautions: CautionsPage
    allergens: MatrixPage
    costs: CostsPage
    glossary: GlossaryPage | None
    by_name: IndexPage
    by_ingredient: IndexPage

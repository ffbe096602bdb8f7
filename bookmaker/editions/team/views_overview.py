"""Pages about the whole book: front, sections, matrix, summary, indexes."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from bookmaker.editions.team.views import Amount, Frame, Known, Lacking, Link, Route
from bookmaker.editions.team.views_money import SoldBy
from bookmaker.editions.team.views_prose import Prose
from bookmaker.editions.team.views_recipe import CautionView, RecipeView
from bookmaker.editions.team.views_stores import StoresIndexView, StoresItemView
from bookmaker.editions.team.views_working import WorkingPage


@dataclass(frozen=True, slots=True)
class RecipeRow:
    """A recipe in a list: who it is, what a batch gives."""

    recipe: Link
    code: str
    kind: str
    status: str
    revision: int
    revised: date | None
    usable: Known
    count: Amount | None = None
    word: str = ""


@dataclass(frozen=True, slots=True)
class SectionPage:
    """One section of the book: its recipes, products first."""

    route: Route
    heading: str
    recipes: tuple[RecipeRow, ...]


@dataclass(frozen=True, slots=True)
class SectionEntry:
    """A section on the front page: its products, and its other recipes."""

    section: Link
    products: tuple[Link, ...]
    others: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class Attention:
    """A recipe whose figures lack something."""

    recipe: Link
    lacks: tuple[Lacking, ...]


@dataclass(frozen=True, slots=True)
class FrontPage:
    """The way in. `unfinished` are drafts and trials; `stale` stores items whose price is old."""

    route: Route
    sections: tuple[SectionEntry, ...]
    latest: tuple[RecipeRow, ...]
    unfinished: tuple[RecipeRow, ...]
    incomplete: tuple[Attention, ...]
    stale: tuple[Link, ...]
    recipes: int
    products: int
    items: int


@dataclass(frozen=True, slots=True)
class ComponentRow:
    """A component: what it uses itself, and who uses it."""

    component: Link
    kind: str
    status: str
    uses: tuple[Link, ...]
    used_in: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class ComponentsPage:
    """Every recipe that others use."""

    route: Route
    rows: tuple[ComponentRow, ...]


@dataclass(frozen=True, slots=True)
class MatrixCell:
    """`state` is the worst that holds: contains, may contain, not declared, or empty; `names` the members it is for.

    A group of several holds more than one truth: `possible` are members that it may contain beside those in `names`,
    `undeclared` says that some item never declared and so could bring any other.
    """

    state: str
    names: tuple[str, ...] = ()
    possible: tuple[str, ...] = ()
    undeclared: bool = False


@dataclass(frozen=True, slots=True)
class MatrixRow:
    """One product across the legal groups."""

    product: Link
    cells: tuple[MatrixCell, ...]


@dataclass(frozen=True, slots=True)
class MatrixPage:
    """Products by legal groups of the house's region. `law` names the rule that lists the groups."""

    route: Route
    law: str
    groups: tuple[str, ...]
    rows: tuple[MatrixRow, ...]
    cross_contact: str = ""


@dataclass(frozen=True, slots=True)
class ChannelCost:
    """One channel's part of a product's row; without a price there it shows the lowest one."""

    net: Amount | None
    food_cost: Known | None
    over: bool
    lowest: Known


@dataclass(frozen=True, slots=True)
class CostRow:
    """One product's costs."""

    product: Link
    batch: Known
    each: Known | None
    ingredients_each: Known | None
    sold: SoldBy
    channels: tuple[ChannelCost | None, ...]


@dataclass(frozen=True, slots=True)
class CostsPage:
    """Costs of all products beside each other; `channels` heads the groups of columns."""

    route: Route
    currency: str
    channels: tuple[str, ...]
    targets: tuple[Amount | None, ...]
    rows: tuple[CostRow, ...]


@dataclass(frozen=True, slots=True)
class IndexEntry:
    """One word of an index. `see` is where an other name leads; else `to` lists pages."""

    word: str
    letter: str
    to: tuple[Link, ...]
    other_name: bool = False


@dataclass(frozen=True, slots=True)
class IndexPage:
    """An alphabetical index: `by` is a key, name or ingredient."""

    route: Route
    by: str
    entries: tuple[IndexEntry, ...]


@dataclass(frozen=True, slots=True)
class TermEntry:
    """A word of the trade explained."""

    word: str
    place: str
    meaning: Prose
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class GlossaryPage:
    """The trade's words."""

    route: Route
    terms: tuple[TermEntry, ...]


@dataclass(frozen=True, slots=True)
class CautionEntry:
    """A hazard, what to do, and where it is met."""

    caution: CautionView
    place: str
    recipes: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class CautionsPage:
    """Every hazard that the book names."""

    route: Route
    cautions: tuple[CautionEntry, ...]


@dataclass(frozen=True, slots=True)
class Setting:
    """A setting of the house that figures depend on: `name` is a key."""

    name: str
    value: Amount | str


@dataclass(frozen=True, slots=True)
class AboutPage:
    """What the figures are, how far they hold, and on which of the house's settings they rest."""

    route: Route
    settings: tuple[Setting, ...]
    region: str
    batches: tuple[Decimal, ...]


@dataclass(frozen=True, slots=True)
class TeamSite:
    """The whole team book. `recipes` in the book's order: sections, then products before components, by title."""

    frame: Frame
    front: FrontPage
    sections: tuple[SectionPage, ...]
    recipes: tuple[RecipeView, ...]
    workings: tuple[WorkingPage, ...]
    stores_index: StoresIndexView
    stores: tuple[StoresItemView, ...]
    components: ComponentsPage
    allergens: MatrixPage
    costs: CostsPage
    by_name: IndexPage
    by_ingredient: IndexPage
    glossary: GlossaryPage | None
    cautions: CautionsPage
    about: AboutPage

"""What the house buys, and what it costs."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum

from bookmaker.measures.amounts import Amount
from bookmaker.measures.temperatures import Temperature
from bookmaker.problems.anchors import NOWHERE, Anchor


class StoresKind(StrEnum):
    """What an item is for."""

    FOOD = "food"
    PACKAGING = "packaging"
    MOULDING = "moulding"


@dataclass(frozen=True, slots=True)
class Nutrients:
    """Grams per 100 g of the item; None is not known, which is not zero.

    `by_difference` says that carbohydrate still includes the fibre (as in tables that compute it by difference).
    Polyols are part of the carbohydrate; `acids` are organic acids. All from `trans_fat` on are for US labels.
    """

    fat: Decimal | None = None
    saturates: Decimal | None = None
    carbohydrate: Decimal | None = None
    sugars: Decimal | None = None
    fibre: Decimal | None = None
    protein: Decimal | None = None
    salt: Decimal | None = None
    by_difference: bool = False
    source: str = ""
    polyols: Decimal | None = None
    acids: Decimal | None = None
    trans_fat: Decimal | None = None
    cholesterol: Decimal | None = None
    added_sugars: Decimal | None = None
    vitamin_d: Decimal | None = None
    calcium: Decimal | None = None
    iron: Decimal | None = None
    potassium: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Composition:
    """Fractions of the item's mass; None is not known. `solids` are dissolved solids (°Brix / 100)."""

    water: Decimal | None = None
    fat: Decimal | None = None
    sugars: Decimal | None = None
    alcohol: Decimal | None = None
    solids: Decimal | None = None


@dataclass(frozen=True, slots=True)
class MadeOf:
    """One part of a bought compound ingredient; `share` None where the supplier does not say."""

    name: str
    share: Decimal | None = None


def heaviest_first(made_of: tuple[MadeOf, ...]) -> tuple[MadeOf, ...]:
    """A compound ingredient's parts by weight where every share is known; else as its supplier wrote them, who must
    keep the same order.
    """
    if any(part.share is None for part in made_of):
        return made_of
    return tuple(sorted(made_of, key=lambda part: -(part.share or 0)))


class FromList(StrEnum):
    """Why an item need not stand in an ingredient list (Regulation (EU) No 1169/2011, Article 20); allergens must."""

    PROCESSING_AID = "processing aid"
    CARRY_OVER = "carry-over"
    CARRIER = "carrier"


@dataclass(frozen=True, slots=True)
class Additive:
    """An additive's legal class and E number."""

    category: str
    number: str


@dataclass(frozen=True, slots=True)
class Article:
    """One supplier's version of an item. `contains` and `may_contain` None where it says nothing of its own."""

    supplier: str
    code: str
    contains: frozenset[str] | None = None
    may_contain: frozenset[str] | None = None
    made_of: tuple[MadeOf, ...] | None = None


@dataclass(frozen=True, slots=True)
class StoresKeeping:
    """How long an item keeps, closed or opened."""

    state: str
    minutes: Decimal
    temperature: Temperature | None = None


@dataclass(frozen=True, slots=True)
class StoresItem:
    """A bought thing. `contains` None means that allergens were never declared: never free from anything.

    `diet` has what is declared of it: `vegan`, `not vegan`. `groups` are the categories whose quantity may have to be
    declared together (fruit, seeds). `exempt_from_list` says why it need not stand in an ingredient list.
    `defined_by_law` is said of a compound ingredient whose composition the law lays down, and of mixtures of spices or
    herbs: below 2 % of the product its own list may be left out. `labelled_as` pins the article (supplier, code) whose
    list labels print where articles differ.
    """

    id: str
    label: str
    kind: StoresKind = StoresKind.FOOD
    aka: tuple[str, ...] = ()
    flour: bool = False
    contains: frozenset[str] | None = None
    may_contain: frozenset[str] = frozenset()
    usable: Decimal = Decimal(1)
    density: Decimal | None = None
    measures: tuple[tuple[str, Decimal], ...] = ()
    careful: bool = False
    composition: Composition = Composition()
    nutrients: Nutrients | None = None
    made_of: tuple[MadeOf, ...] = ()
    additive: Additive | None = None
    sulphites: Decimal | None = None
    exempt: tuple[tuple[str, frozenset[str]], ...] = ()
    diet: frozenset[str] | None = None
    keeps: tuple[StoresKeeping, ...] = ()
    cautions: tuple[str, ...] = ()
    supplier_sheet: date | None = None
    food_contact: bool = False
    articles: tuple[Article, ...] = ()
    groups: tuple[str, ...] = ()
    exempt_from_list: FromList | None = None
    defined_by_law: bool = False
    labelled_as: tuple[str, str] | None = None
    note: str = ""
    anchor: Anchor = field(default=NOWHERE, compare=False)

    def differs_by_article(self, bought: Iterable[tuple[str, str]]) -> bool:
        """Whether an ingredient list depends on which article is delivered: their own lists or allergens differ, and
        none is pinned.

        Permitted are those that are described and those that are `bought`, by supplier and code; one that says nothing
        of its own is as the item. Possible traces stand in no ingredient list.
        """
        if self.labelled_as is not None or not self.articles:
            return False
        own = {(each.supplier, each.code): each for each in self.articles}
        return len({self._declared(own.get(key)) for key in own.keys() | set(bought)}) > 1

    def _declared(self, article: Article | None) -> tuple[tuple[str, ...], frozenset[str] | None]:
        made_of = self.made_of if article is None or article.made_of is None else article.made_of
        contains = self.contains if article is None or article.contains is None else article.contains
        return tuple(part.name for part in heaviest_first(made_of)), contains


@dataclass(frozen=True, slots=True)
class Price:
    """One line of the price list.

    `count` packs of `each` make the pack (`25 × 250 g`); `price` is net, for the pack.
    """

    item: str
    supplier: str
    code: str
    count: Decimal
    each: Amount
    price: Decimal
    currency: str
    since: date
    anchor: Anchor = field(default=NOWHERE, compare=False)

"""QUID: how much of the product its named ingredients are (Regulation (EU) No 1169/2011, Article 22 and Annex VIII).

Ingoing weight over the weight of the finished product, so that moisture loss raises it and waste does not touch it.
Where foods have lost moisture and a quantity, or all of them together, passes 100 %, they are given as grams used for
100 g of the finished product (Annex VIII, no. 4(a)). The law lays no rounding down: whole percents from 5 % on, below
it one decimal (common practice, no source).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.figures import Lack, LackKind, Path
from bookmaker.kitchen.labelling.mix import Mixes, settled
from bookmaker.measures.exact import HUNDRED, ONE, ZERO
from bookmaker.measures.rounding import to_step
from bookmaker.model.allergens import NUTS
from bookmaker.model.refs import RecipeRef, StoresRef

_WHOLE_FROM = Decimal(5)


@dataclass(frozen=True, slots=True)
class Named:
    """What one name of `named` stands for: components, declared labels, or ways (a stage's, a group's)."""

    name: str
    recipes: frozenset[RecipeRef]
    labels: frozenset[str]
    share: Decimal


@dataclass(frozen=True, slots=True)
class Quid:
    """The quantities of a product, in the order named; `over` says that they are grams for 100 g."""

    named: tuple[Named, ...]
    over: bool
    lacks: tuple[Lack, ...]

    def printed(self, share: Decimal) -> str:
        """A share as it is printed."""
        percent = share * HUNDRED
        step = ONE if settled(percent) >= _WHOLE_FROM else Decimal("0.1")
        if 0 < percent < Decimal("0.1"):
            step = Decimal("0.01")
        number = f"{to_step(percent, step).normalize():f}"
        return f"{number} g per 100 g" if self.over else f"{number} %"


def quid_of(ref: RecipeRef, mixes: Mixes) -> Quid:
    """The quantities of everything `named` that goes into a recipe. A name that nothing answers to is a lack."""
    recipe = mixes.book.recipes[ref]
    inside = _Inside.of(ref, mixes)
    found: list[Named] = []
    lacks: list[Lack] = []
    for name in recipe.client.named:
        one = inside.named(name)
        if one is None:
            lacks.append(Lack(LackKind.AMOUNT, name))
        else:
            found.append(one)
    return Quid(tuple(found), _passes_100(found, inside), tuple(lacks))


@dataclass(frozen=True, slots=True)
class _Inside:
    """Everything inside a recipe: each item with its way, stage and share, and each component with its share."""

    mixes: Mixes
    items: tuple[tuple[Path, StoresRef, Decimal], ...]
    recipes: dict[RecipeRef, Decimal]
    stages: dict[str, tuple[tuple[Path, Decimal], ...]]

    @classmethod
    def of(cls, ref: RecipeRef, mixes: Mixes) -> "_Inside":
        recipes: dict[RecipeRef, Decimal] = {}
        _components(ref, ONE, mixes, recipes)
        stages: dict[str, tuple[tuple[Path, Decimal], ...]] = {}
        for part in mixes.of(ref).parts:
            stages[folded(part.stage)] = (*stages.get(folded(part.stage), ()), (part.through, part.share))
        return cls(mixes, tuple(mixes.walk(ref)), recipes, stages)

    def named(self, name: str) -> Named | None:
        book, meant = self.mixes.book, folded(name)
        recipes = frozenset(
            ref for ref in self.recipes if meant in map(folded, (book.recipes[ref].title, *book.recipes[ref].aka))
        )
        if recipes:
            only = book.recipes[min(recipes)]
            return Named(
                only.client.sold_as or name, recipes, frozenset(), sum((self.recipes[ref] for ref in recipes), ZERO)
            )
        stage = self.stages.get(meant)
        if stage and meant:
            return Named(name, frozenset(), frozenset(), sum((share for _, share in stage), ZERO))
        items = {item for _, item, _ in self.items}
        called = {item for item in items if meant in map(folded, self._names(item))}
        labels = {book.stores[item.id].label for item in called}
        meant_items = {item for item in items if book.stores[item.id].label in labels}
        if not meant_items:
            meant_items = {item for item in items if self._is_of(item, meant)}
            labels = {book.stores[item.id].label for item in meant_items} if len(meant_items) == 1 else set()
        if not meant_items:
            return None
        share = sum((share for _, item, share in self.items if item in meant_items), ZERO)
        # what is one entry of the list is called as it is there
        name = next(iter(labels)) if len(labels) == 1 else name
        return Named(name, frozenset(), frozenset(labels), share)

    def _names(self, ref: StoresRef) -> tuple[str, ...]:
        item = self.mixes.book.stores[ref.id]
        return (item.id, item.label, *item.aka)

    def _is_of(self, ref: StoresRef, group: str) -> bool:
        """Whether an item belongs to a group: one of its own, or `nuts`."""
        item = self.mixes.book.stores[ref.id]
        if group in map(folded, item.groups):
            return True
        return group == "nuts" and not item.made_of and bool((item.contains or frozenset()) & frozenset(NUTS))


def _components(ref: RecipeRef, scale: Decimal, mixes: Mixes, into: dict[RecipeRef, Decimal]) -> None:
    for part in mixes.of(ref).parts:
        if isinstance(part.target, RecipeRef):
            share = scale * part.share
            into[part.target] = into.get(part.target, ZERO) + share
            _components(part.target, share, mixes, into)


def _passes_100(named: Iterable[Named], inside: _Inside) -> bool:
    """Whether moisture was lost and one quantity, or what all cover together, passes 100 %."""
    whole = sum((share for _, _, share in inside.items), ZERO)
    if settled(whole) <= ONE:
        return False
    named = tuple(named)
    if any(settled(each.share) > ONE for each in named):
        return True
    # what is named twice, as a component and as an ingredient of it, is there once
    recipes = frozenset[RecipeRef]().union(*(each.recipes for each in named))
    labels = frozenset[str]().union(*(each.labels for each in named))
    others = sum((each.share for each in named if not each.recipes and not each.labels), ZERO)
    components = sum((share for share in _outermost(inside, recipes)), ZERO)
    items = sum(
        (
            share
            for way, item, share in inside.items
            if inside.mixes.book.stores[item.id].label in labels and recipes.isdisjoint(way)
        ),
        ZERO,
    )
    return settled(components + items + others) > ONE


def _outermost(inside: _Inside, recipes: frozenset[RecipeRef]) -> Iterable[Decimal]:
    """The shares of named components that are not within another one that is named."""
    covered: set[RecipeRef] = set()
    for way, _, _ in inside.items:
        seen = [step for step in way if isinstance(step, RecipeRef) and step in recipes]
        covered.update(seen[1:])
    return [inside.recipes[ref] for ref in recipes - covered]


def folded(name: str) -> str:
    """A name as it is compared: case and spacing forgiven."""
    return " ".join(name.casefold().split())

"""One namespace for everything a formula line may name: stores items, recipes, co-products, and their other names."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target
from bookmaker.model.stores import StoresItem
from bookmaker.model.written.recipe import WrittenRecipe
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem, Related, problem
from bookmaker.reading.suggest import fold, near
from bookmaker.reading.tree import key_of


@dataclass(frozen=True, slots=True)
class Named:
    """What a name stands for; no target where its file could not be read, so that nobody else is to blame."""

    target: Target | None
    spelt: str
    what: str
    anchor: Anchor


@dataclass(frozen=True, slots=True)
class Names:
    """The namespace of a book: what stands for what, by the folded name."""

    named: Mapping[str, Named]

    def find(self, name: str) -> Named | None:
        """What `name` stands for; None for a name that nobody bears."""
        return self.named.get(fold(name))

    def suggest(self, name: str) -> str:
        """Advice for an unknown name."""
        found = near(name, (each.spelt for each in self.named.values()))
        return f"did you mean '{found[0]}'?" if found else ""


def gather(
    stores: Mapping[str, StoresItem], recipes: Iterable[WrittenRecipe], claims: Mapping[str, Iterable[str]]
) -> tuple[Names, list[Problem]]:
    """All names of a book. `claims` are the names of files that could not be read, by document."""
    entered: dict[str, Named] = {}
    problems = [clash for named in _names(stores, recipes) if (clash := _enter(named, entered))]
    for document, claimed in claims.items():
        for name in claimed:
            entered.setdefault(fold(name), Named(None, name, "recipe", Anchor(document)))
    return Names(entered), problems


def _enter(named: Named, entered: dict[str, Named]) -> Problem | None:
    """Enter a name; a problem where something else bears it already."""
    first = entered.setdefault(fold(named.spelt), named)
    both = (first.target, named.target)
    if first is named or both[0] == both[1] or all(isinstance(target, StoresRef) for target in both):
        # two of the stores are the stores' own business and reported there
        return None
    code = "duplicate-title" if first.what == named.what == "recipe" else "name-clash"
    related = [Related(first.anchor, f"the {'other ' if first.what == named.what else ''}{first.what}")]
    return problem(code, named.anchor, related=related, name=named.spelt, what=named.what, other=first.what)


def _names(stores: Mapping[str, StoresItem], recipes: Iterable[WrittenRecipe]) -> Iterator[Named]:
    items = sorted(stores.items())
    known = list(recipes)
    yield from (Named(StoresRef(name), name, "stores item", item.anchor) for name, item in items)
    yield from (Named(RecipeRef(each.id), each.title.text, "recipe", each.title.anchor) for each in known)
    for name, item in items:
        at = Anchor(item.anchor.document, (name, "aka"))
        yield from (Named(StoresRef(name), aka, "stores item", at) for aka in item.aka)
    for recipe in known:
        yield from _other_names(recipe)


def _other_names(recipe: WrittenRecipe) -> Iterator[Named]:
    for aka in recipe.aka:
        yield Named(RecipeRef(recipe.id), aka.text, "recipe", aka.anchor)
    for given in recipe.gives:
        yield Named(CoProductRef(RecipeRef(recipe.id), given.name), given.name, "co-product", key_of(given.anchor))
    for size in recipe.sizes:
        title = f"{recipe.title.text} ({size.size})"
        yield Named(RecipeRef(recipe.id, size.size), title, "recipe", recipe.title.anchor)

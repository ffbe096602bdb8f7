"""Showing the working: how any figure of a recipe came about, one level at a time, down to steps, lines and price
lists.
"""

from dataclasses import dataclass
from difflib import get_close_matches

from bookmaker.kitchen.explained import allergens, costs, dough, keeps, labels, masses, selling, times
from bookmaker.kitchen.explained.asked import Asked, Workings
from bookmaker.kitchen.figures import Figures
from bookmaker.kitchen.working import FigureSource, Working
from bookmaker.measures.exact import exactly
from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef

FAMILIES = (masses, dough, costs, selling, allergens, times, keeps)
"""What pages explain. A new family is a module with `workings`."""

ASKED_FOR = (*FAMILIES, labels)
"""What can be explained: labels only where somebody asks, as no page of the team's shows them."""

_ALSO = {
    "batch cost": "cost",
    "cost of a batch": "cost",
    "cost of a piece": "cost per piece",
    "piece cost": "cost per piece",
    "cost per gram": "cost per kg",
    "cost per kilogram": "cost per kg",
    "cost of a kilogram": "cost per kg",
    "yields": "yield",
    "ingredient list": "declaration",
    "ingredients list": "declaration",
    "kilojoules": "nutrition energy",
    "calories": "nutrition energy",
    "kcal": "nutrition energy",
    "kj": "nutrition energy",
    "food energy": "nutrition energy",
    "whole time": "chain",
    "critical chain": "chain",
}


class UnknownFigure(LookupError):
    """Nothing of that name can be explained; `near` holds the names that were probably meant."""

    def __init__(self, what: str, near: tuple[str, ...]) -> None:
        super().__init__(what)
        self.what = what
        self.near = near


def figures_of(book: Book, figures: Figures, ref: RecipeRef) -> tuple[str, ...]:
    """The names of all figures of a recipe that can be explained."""
    with exactly():
        return tuple(_workings(_asked(book, figures, ref)))


def workings_of(book: Book, figures: Figures, ref: RecipeRef) -> tuple[Working, ...]:
    """Every working of a recipe that its pages show, in the order of `figures_of`."""
    asked = _asked(book, figures, ref)
    with exactly():
        return tuple(make() for family in FAMILIES for make in family.workings(asked).values())


def explain(book: Book, figures: Figures, ref: RecipeRef, what: str) -> Working:
    """The working of one figure. Raises `UnknownFigure` with suggestions for a name that is none, `KeyError` for a
    recipe.
    """
    with exactly():
        made = _workings(_asked(book, figures, ref))
        return made[_name(what, tuple(made))]()


@dataclass(frozen=True, slots=True)
class Derivation:
    """A working with those of its inputs below it. `repeated` when it stands in full further up and is not shown
    again.
    """

    working: Working
    below: "tuple[Derivation, ...]" = ()
    repeated: bool = False


def derivation(book: Book, figures: Figures, ref: RecipeRef, what: str, depth: int | None = None) -> Derivation:
    """A figure's working with those of its inputs, `depth` levels down (None: all the way to price lists and steps).

    Raises as `explain` does.
    """
    with exactly():
        made = _workings(_asked(book, figures, ref))
        shown: set[tuple[RecipeRef, str]] = set()
        return _derive(book, figures, FigureSource(book.sized(ref), _name(what, tuple(made))), depth, shown)


def _derive(
    book: Book, figures: Figures, at: FigureSource, depth: int | None, shown: set[tuple[RecipeRef, str]]
) -> Derivation:
    working = _workings(_asked(book, figures, at.recipe))[at.what]()
    if depth == 0:
        return Derivation(working)
    if (at.recipe, at.what) in shown:
        return Derivation(working, repeated=True)
    shown.add((at.recipe, at.what))
    next_depth = None if depth is None else depth - 1
    further = dict.fromkeys(term.source for term in working.terms if isinstance(term.source, FigureSource))
    return Derivation(working, tuple(_derive(book, figures, source, next_depth, shown) for source in further))


def _asked(book: Book, figures: Figures, ref: RecipeRef) -> Asked:
    return Asked(book, figures, book.sized(ref))


def _workings(asked: Asked) -> Workings:
    return {what: make for family in ASKED_FOR for what, make in family.workings(asked).items()}


def _name(what: str, names: tuple[str, ...]) -> str:
    folded = {_folded(name): name for name in names}
    asked = _folded(what)
    found = folded.get(asked) or folded.get(_ALSO.get(asked, "")) or _by_its_last_words(asked, folded)
    if found is None:
        raise UnknownFigure(what, _near(asked, folded))
    return found


def _by_its_last_words(asked: str, folded: dict[str, str]) -> str | None:
    """The one figure that a word alone can mean: `milk` is `allergen milk` where milk has no price of its own."""
    # an entry of the ingredient list is asked for by its whole name: any of them might end in `milk`
    meant = [name for name in folded if asked and name.endswith(f" {asked}") and not name.startswith("declared ")]
    return folded[meant[0]] if len(meant) == 1 else None


def _near(asked: str, folded: dict[str, str]) -> tuple[str, ...]:
    """Names that are spelt alike, else those that hold the word."""
    alike = get_close_matches(asked, folded, n=3, cutoff=0.6)
    holding = [name for name in folded if asked and asked in name]
    return tuple(folded[name] for name in dict.fromkeys([*alike, *holding]))[:5]


def _folded(name: str) -> str:
    return " ".join(name.casefold().split())

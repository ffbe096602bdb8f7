"""The whole book, bound: what the kitchen computes from."""

from collections.abc import Mapping
from dataclasses import dataclass

from bookmaker.model.house import House
from bookmaker.model.prose import Blocks
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target
from bookmaker.model.register import Register
from bookmaker.model.stores import Price, StoresItem


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard and what to do about it."""

    name: str
    hazard: str
    do: str
    first_aid: str = ""


@dataclass(frozen=True, slots=True)
class Term:
    """A word of the trade, explained; `also` are its other names."""

    word: str
    meaning: Blocks
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Book:
    """A bound book.

    `recipes` holds every recipe in every size, keyed by ref, in an order in which components come before their users; a
    recipe with sizes appears under each sized ref, and `sizes` lists them in the order written (the first stands for
    the recipe where no size is named).
    """

    house: House
    stores: Mapping[str, StoresItem]
    prices: Mapping[str, tuple[Price, ...]]
    recipes: Mapping[RecipeRef, Recipe]
    sizes: Mapping[str, tuple[str, ...]]
    cautions: Mapping[str, Caution]
    glossary: tuple[Term, ...] = ()
    register: Register = Register()

    def recipe(self, ref: RecipeRef) -> Recipe:
        """The recipe of `ref`; without a size, its first one. Raises `KeyError` for an unknown recipe."""
        return self.recipes[self.sized(ref)]

    def sized(self, ref: RecipeRef) -> RecipeRef:
        """`ref` with the size that it stands for."""
        sizes = self.sizes.get(ref.id, ())
        return RecipeRef(ref.id, sizes[0]) if sizes and not ref.size else ref

    def name(self, target: Target) -> str:
        """What a cook calls it."""
        match target:
            case StoresRef(id):
                return id
            case CoProductRef(_, name):
                return name
            case RecipeRef():
                recipe = self.recipe(target)
                return f"{recipe.title} ({target.size})" if target.size else recipe.title

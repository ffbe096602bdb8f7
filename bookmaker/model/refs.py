"""Bound names: what a formula line, a link or a co-product points at."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class StoresRef:
    """A stores item, by its name in the stores files."""

    id: str


@dataclass(frozen=True, slots=True, order=True)
class RecipeRef:
    """A recipe by its path in the book without `.md`, and one of its sizes.

    An empty size is the recipe itself, or its first size.
    """

    id: str
    size: str = ""

    def __str__(self) -> str:
        return f"{self.id} ({self.size})" if self.size else self.id


@dataclass(frozen=True, slots=True, order=True)
class CoProductRef:
    """What another recipe gives beside its product (`almond sablé offcuts`)."""

    recipe: RecipeRef
    name: str


Target = StoresRef | RecipeRef | CoProductRef

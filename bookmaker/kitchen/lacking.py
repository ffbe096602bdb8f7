"""What figures lack, gathered and passed up from component to user."""

from collections.abc import Iterable

from bookmaker.kitchen.figures import Lack
from bookmaker.model.refs import RecipeRef

Lacks = tuple[Lack, ...]


def passed_up(lacks: Iterable[Lack], through: RecipeRef) -> Lacks:
    """The lacks of a component, as its user has them: reached through the component."""
    return tuple(Lack(lack.kind, lack.of, (through, *lack.via)) for lack in lacks)


def gathered(*groups: Iterable[Lack]) -> Lacks:
    """All lacks in order, each cause once: what is missing of what, by the shortest way to it."""
    nearest: dict[tuple[str, str], Lack] = {}
    for lack in (lack for group in groups for lack in group):
        known = nearest.get((lack.kind, lack.of))
        if known is None or (len(lack.via), lack.via) < (len(known.via), known.via):
            nearest[lack.kind, lack.of] = lack
    return tuple(sorted(nearest.values()))

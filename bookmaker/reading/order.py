"""Which recipes can be computed, and in which order: components first, nothing made from itself."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target
from bookmaker.model.written.recipe import WrittenRecipe
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem, Related, problem
from bookmaker.reading.graph import in_order


@dataclass(frozen=True, slots=True)
class Needs:
    """What must be made before a recipe, line by line, and where each stands.

    `faults` are lines by which it would be made from itself: nothing can be computed from it then.
    """

    refs: tuple[RecipeRef, ...]
    anchors: tuple[Anchor, ...]
    faults: tuple[Problem, ...]


def needs_of(recipe: Recipe | None, written: Mapping[RecipeRef, WrittenRecipe]) -> Needs:
    """What a recipe's lines need; nothing for one that could not be bound. Problems: `self-reference`."""
    refs, anchors, faults = [], [], []
    for line in recipe.lines if recipe else ():
        for target in (line.target, *line.alternatives):
            need = _needed(target, written)
            if need is None or recipe is None:
                continue
            if need.id != recipe.ref.id:
                refs.append(need)
                anchors.append(line.anchor)
            elif recipe.kind is not Kind.PREFERMENT or not isinstance(target, RecipeRef):
                faults.append(problem("self-reference", line.anchor, title=recipe.title))
    return Needs(tuple(refs), tuple(anchors), tuple(faults))


def _needed(target: Target, written: Mapping[RecipeRef, WrittenRecipe]) -> RecipeRef | None:
    """The recipe that must be there for `target`, in the size that it stands for."""
    match target:
        case StoresRef():
            return None
        case CoProductRef(ref):
            return _sized(ref, written)
        case RecipeRef():
            return _sized(target, written)


def _sized(ref: RecipeRef, written: Mapping[RecipeRef, WrittenRecipe]) -> RecipeRef:
    recipe = written.get(RecipeRef(ref.id))
    return RecipeRef(ref.id, recipe.sizes[0].size) if recipe and recipe.sizes and not ref.size else ref


Cycle = tuple[RecipeRef, ...]


def order_of(
    needs: Mapping[RecipeRef, Sequence[RecipeRef]], whole: Collection[RecipeRef]
) -> tuple[tuple[RecipeRef, ...], tuple[Cycle, ...]]:
    """The recipes that can be computed, components first, and the cycles in which others need each other.

    `whole` are those that lack nothing of their own.
    """
    order, cycles = in_order(needs)
    turning = {ref for cycle in cycles for ref in cycle}
    kept: dict[RecipeRef, None] = {}
    for ref in order:
        if ref in whole and ref not in turning and all(need in kept for need in needs[ref]):
            kept[ref] = None
    return tuple(kept), cycles


def cycle_problem(cycle: Cycle, needs: Callable[[RecipeRef], Needs], title: Callable[[RecipeRef], str]) -> Problem:
    """The cycle as a path of titles, at the line that opens it; the other lines are related."""
    pairs = list(zip(cycle, (*cycle[1:], cycle[0]), strict=True))
    anchors = []
    for ref, below in pairs:
        found = needs(ref)
        anchors.append(found.anchors[found.refs.index(below)])
    titles = [title(ref) for ref in (*cycle, cycle[0])]
    related = [
        Related(anchor, f"{title(ref)} needs {title(below)}")
        for anchor, (ref, below) in list(zip(anchors, pairs, strict=True))[1:]
    ]
    return problem("cycle", anchors[0], related=related, path=" → ".join(titles))

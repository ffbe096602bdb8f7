"""Cautions: those that come with the tool, and `cautions.yaml`, which adds to them or replaces them by name."""

from collections.abc import Mapping

from bookmaker.model.book import Caution
from bookmaker.model.written.house import WrittenCaution
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem, problem
from bookmaker.reading.built_in_cautions import BUILT_IN
from bookmaker.reading.shape import shape_node
from bookmaker.reading.suggest import fold
from bookmaker.reading.tree import Tree


def read_cautions(tree: Tree | None) -> tuple[Mapping[str, Caution], list[Problem]]:
    """Every caution that the book may name, the built-in ones first. Problems: those of the file's shape."""
    cautions = {each.name: each for each in BUILT_IN}
    if tree is None:
        return cautions, []
    if not tree.root.entries:
        return cautions, [problem("empty-file", Anchor(tree.document), document=tree.document)]
    spelt = {fold(name): name for name in cautions}
    problems = []
    for entry in tree.root.entries:
        anchor = Anchor(tree.document, (entry.key.text,))
        written, found = shape_node(entry.value, WrittenCaution, anchor, go_on=True)
        problems += found
        if written:
            # the house's own text under the name that recipes and stores know
            name = spelt.get(fold(entry.key.text), entry.key.text)
            cautions[name] = Caution(name, written.hazard, written.do, written.first_aid)
    return cautions, problems

"""The order of making, and cycles."""

from typing import Any

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.reading.graph import in_order

_NODES = st.integers(0, 7)
_GRAPHS = st.dictionaries(_NODES, st.lists(_NODES, max_size=4), max_size=8)


def test_components_come_first_and_else_the_given_order_holds() -> None:
    needs = {"tart": ["dough", "custard"], "bread": ["levain"], "custard": [], "dough": [], "levain": ["levain house"]}
    assert in_order(needs) == (("dough", "custard", "tart", "levain", "bread"), ())


def test_a_cycle_is_a_path_from_its_first_node() -> None:
    _, cycles = in_order({"a": ["c"], "b": ["a"], "c": ["b", "d"], "d": []})
    assert cycles == (("a", "c", "b"),)


def test_two_cycles_are_two() -> None:
    _, cycles = in_order({"a": ["b"], "b": ["a"], "c": ["c"]})
    assert cycles == (("a", "b"), ("c",))


def test_a_long_chain_does_not_run_out_of_stack() -> None:
    length = 20_000
    order, cycles = in_order({node: [node + 1] for node in range(length)})
    assert order == tuple(reversed(range(length)))
    assert not cycles


@given(_GRAPHS)
def test_it_agrees_with_networkx(needs: dict[int, list[int]]) -> None:
    graph: Any = nx.DiGraph([(node, need) for node, below in needs.items() for need in below if need in needs])
    graph.add_nodes_from(needs)
    order, cycles = in_order(needs)
    assert sorted(order) == sorted(needs)
    assert bool(cycles) == (not nx.is_directed_acyclic_graph(graph))
    for cycle in cycles:
        assert all(graph.has_edge(node, need) for node, need in zip(cycle, (*cycle[1:], cycle[0]), strict=True))
    if not cycles:
        place = {node: index for index, node in enumerate(order)}
        assert all(place[need] < place[node] for node, need in graph.edges)

"""The critical path against textbooks and against networkx."""

from decimal import Decimal
from graphlib import CycleError
from itertools import pairwise
from typing import Any

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.kitchen.chain import Activity, schedule
from tests.support.reference import cases

TEXTBOOKS = {name: case for name, case in cases("scheduling").items() if "schedule" in case["expect"]}


def network(case: dict[str, Any]) -> list[Activity[str]]:
    return [
        Activity(name, Decimal(about["duration"]), tuple(about["predecessors"]))
        for name, about in case["given"]["activities"].items()
    ]


@pytest.mark.parametrize("case", list(TEXTBOOKS.values()), ids=list(TEXTBOOKS))
def test_textbook_schedules(case: dict[str, Any]) -> None:
    """Earliest and latest start and finish, total float and duration as printed; each source stands beside its case."""
    found = schedule(network(case))
    assert found.end == Decimal(case["expect"]["project_duration"])
    for name, row in case["expect"]["schedule"].items():
        slot = found.slots[name]
        printed = tuple(Decimal(row[key]) for key in ("ES", "EF", "LS", "LF", "total_float"))
        assert (slot.start, slot.end, slot.latest_start, slot.latest_end, slot.slack) == printed, name


@pytest.mark.parametrize("case", list(TEXTBOOKS.values()), ids=list(TEXTBOOKS))
def test_textbook_critical_activities(case: dict[str, Any]) -> None:
    found = schedule(network(case))
    assert {name for name, slot in found.slots.items() if slot.slack == 0} == set(case["expect"]["critical"])
    assert set(found.chain) <= set(case["expect"]["critical"])


def test_three_point_estimates_of_a_textbook() -> None:
    """Expected time is (o + 4m + p) / 6, then the usual passes (cottage construction exercise, source in the case)."""
    case = cases("scheduling")["pert-cottage-12"]
    activities = [
        Activity(
            name,
            (Decimal(about["o"]) + 4 * Decimal(about["m"]) + Decimal(about["p"])) / 6,
            tuple(about["predecessors"]),
        )
        for name, about in case["given"]["activities"].items()
    ]
    found = schedule(activities)
    assert abs(found.end - Decimal(case["expect"]["project_duration"])) <= Decimal("0.001")
    assert list(found.chain) == case["expect"]["critical"]


@st.composite
def networks(draw: st.DrawFn) -> list[Activity[int]]:
    size = draw(st.integers(1, 12))
    return [
        Activity(
            number,
            Decimal(draw(st.integers(0, 50))),
            tuple(sorted(draw(st.sets(st.integers(0, number - 1)))) if number else ()),
        )
        for number in range(size)
    ]


@given(networks())
def test_the_end_is_networkx_longest_path(activities: list[Activity[int]]) -> None:
    graph: Any = nx.DiGraph()
    graph.add_node("end")
    for activity in activities:
        graph.add_edge(activity.key, "end", weight=activity.duration)
        graph.add_node(activity.key)
    durations = {activity.key: activity.duration for activity in activities}
    for activity in activities:
        for before in activity.after:
            graph.add_edge(before, activity.key, weight=durations[before])
    assert schedule(activities).end == nx.dag_longest_path_length(graph)


@given(networks())
def test_the_chain_is_unbroken_from_the_beginning_to_the_end(activities: list[Activity[int]]) -> None:
    found = schedule(activities)
    slots = [found.slots[key] for key in found.chain]
    assert slots[0].start == 0
    assert slots[-1].end == found.end
    assert all(one.end == two.start for one, two in pairwise(slots))
    assert all(slot.slack == 0 for slot in slots)


@given(networks())
def test_nothing_starts_before_what_it_waits_for_nor_has_negative_slack(activities: list[Activity[int]]) -> None:
    found = schedule(activities)
    for activity in activities:
        slot = found.slots[activity.key]
        assert slot.slack >= 0
        assert all(found.slots[before].end <= slot.start for before in activity.after)
        assert all(found.slots[before].latest_end <= slot.latest_start for before in activity.after)


def test_something_that_is_ready_late_holds_up_the_end() -> None:
    found = schedule([Activity("mix", Decimal(10)), Activity("fold", Decimal(5), ("mix",), ready=Decimal(60))])
    assert found.end == 65
    assert found.slots["mix"].slack == 50
    assert found.chain == ("fold",)


def test_nothing_takes_no_time() -> None:
    found = schedule(list[Activity[str]]())
    assert not found.end
    assert not found.chain


def test_a_circle_is_a_bug() -> None:
    with pytest.raises(CycleError):
        schedule([Activity(1, Decimal(1), (2,)), Activity(2, Decimal(1), (1,))])

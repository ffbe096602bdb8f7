"""The house's floors: imports point one way, each library has one door, nothing goes round in a circle.

The picture is in DEVELOPERS.md; this is what holds it.
"""

from collections.abc import Callable
from graphlib import CycleError, TopologicalSorter

import pytest

from tests.contract.modules import ROOT, Import, Module, floor_of, imports_of, modules

FLOORS: dict[str, set[str]] = {
    "problems": set(),
    "measures": {"problems"},
    "model": {"measures", "problems"},
    "reading": {"model", "measures", "problems"},
    "guide": {"editions", "reading", "model", "measures", "problems"},
    "kitchen": {"model", "measures", "problems"},
    "editions": {"kitchen", "model", "measures"},
    "press": {"editions", "measures"},
    "workshop": {"problems", "measures", "model", "reading", "kitchen", "editions", "press"},
    "cli": {"problems", "measures", "model", "reading", "kitchen", "editions", "press", "workshop"},
    "__main__": {"cli"},
}
"""A floor and those below that it may import from."""

DOORS = {
    "pint": "measures",
    "markdown_it": "reading",
    "pydantic": "reading",
    "yaml": "reading",
    "fontTools": "press",
    "font_source_sans_pro": "press",
    "font_source_serif_pro": "press",
    "jinja2": "press",
    "markupsafe": "press",
    "PIL": "press",
    "pydyf": "press",
    "segno": "press",
    "tinycss2": "press",
    "weasyprint": "press",
    "watchdog": "workshop",
}
"""A library and the one floor that knows it. A library that is not here has no door yet."""

LONGEST = 500
"""Lines. A module is meant to have some 150, rarely over 400; past this it holds more than one idea."""

TABLES = {"bookmaker.problems.catalogue"}
"""One table each, read entry by entry: length is no fault there."""


def _said(module: Module, found: Import, why: str) -> str:
    return f"{module.path.relative_to(ROOT)}:{found.line}: {found.target}: {why}"


def _upward(module: Module) -> list[str]:
    allowed = FLOORS[module.floor] | {module.floor, ""} if module.floor else set()
    return [
        _said(module, found, f"{module.floor or 'the package'} may not import from {floor_of(found.target)}")
        for found in module.imports
        if found.is_ours and floor_of(found.target) not in allowed
    ]


def _past_the_views(module: Module) -> list[str]:
    """The press sees what an edition shows, never how it was computed."""
    return [
        _said(module, found, "the press may import only an edition's views")
        for found in module.imports
        if floor_of(found.target) == "editions" and not any("view" in part for part in found.target.split(".")[2:])
    ]


def _round_the_door(module: Module) -> list[str]:
    return [
        _said(module, found, f"its door is {DOORS.get(found.top, 'not in the table of doors')}")
        for found in module.imports
        if found.is_foreign and DOORS.get(found.top) != module.floor
    ]


LATE = {
    ("bookmaker.workshop.pool", "multiprocessing"),
    ("bookmaker.workshop.cache.labels", "bookmaker.kitchen.label"),
    ("bookmaker.workshop.cache.labels", "bookmaker.kitchen.alarm"),
    ("bookmaker.workshop.cache.kept", "bookmaker.kitchen.alarm_problems"),
}
"""What a module imports when it is wanted, as building after a small edit would take noticeably longer for it."""


def _hidden(module: Module) -> list[str]:
    """Imports inside functions: only the commands, which start quickly for it, and a library's own door have them."""
    return [
        _said(module, found, "belongs at the top of the module")
        for found in module.imports
        if found.in_function
        and module.floor != "cli"
        and DOORS.get(found.top) != module.floor
        and not {(module.name, found.target), (module.name, found.top)} & LATE
    ]


def test_every_floor_is_in_the_contract() -> None:
    assert {module.floor for module in modules().values()} - {""} <= FLOORS.keys()


@pytest.mark.parametrize("breaches", [_upward, _round_the_door, _hidden], ids=["one way", "one door", "no hiding"])
def test_imports_keep_the_contract(breaches: Callable[[Module], list[str]]) -> None:
    found = [line for module in modules().values() for line in breaches(module)]
    assert not found, "\n".join(found)


def test_the_press_sees_only_views() -> None:
    found = [line for module in modules().values() if module.floor == "press" for line in _past_the_views(module)]
    assert not found, "\n".join(found)


def test_no_module_imports_itself_by_a_circle() -> None:
    graph = {
        module.name: {found.target for found in module.imports if found.is_ours and not found.for_types_only}
        for module in modules().values()
    }
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        pytest.fail(" → ".join(reversed(error.args[1])))


def test_no_module_is_too_long() -> None:
    lengths = {module.name: len(module.path.read_text(encoding="utf-8").splitlines()) for module in modules().values()}
    assert not {name: lines for name, lines in lengths.items() if lines > LONGEST and name not in TABLES}
    assert all(lengths[name] > LONGEST for name in TABLES), "an exception that is no longer needed"


@pytest.mark.parametrize(
    ("source", "target", "in_function", "for_types_only"),
    [
        ("import yaml.nodes", "yaml.nodes", False, False),
        ("from bookmaker.measures import units", "bookmaker.measures.units", False, False),
        ("from bookmaker.measures.units import UNITS", "bookmaker.measures.units", False, False),
        ("def f():\n    import pint", "pint", True, False),
        ("class A:\n    def f(self):\n        if 1:\n            import pint", "pint", True, False),
        ("from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import jinja2", "jinja2", False, True),
    ],
)
def test_imports_are_found(source: str, target: str, in_function: bool, for_types_only: bool) -> None:
    known = frozenset({"bookmaker.measures", "bookmaker.measures.units"})
    last = list(imports_of(source, known))[-1]
    assert (last.target, last.in_function, last.for_types_only) == (target, in_function, for_types_only)


@pytest.mark.parametrize(
    ("name", "source", "breaches"),
    [
        ("bookmaker.kitchen.cost", "from bookmaker.reading import prose", _upward),
        ("bookmaker.problems.report", "import bookmaker.measures", _upward),
        ("bookmaker", "import bookmaker.cli", _upward),
        ("bookmaker.press.pages", "from bookmaker.editions.team import projection", _past_the_views),
        ("bookmaker.kitchen.cost", "import pint", _round_the_door),
        ("bookmaker.kitchen.cost", "import numpy", _round_the_door),
        ("bookmaker.kitchen.cost", "def f():\n    import bookmaker.model.book", _hidden),
    ],
)
def test_breaches_are_seen(name: str, source: str, breaches: Callable[[Module], list[str]]) -> None:
    module = Module(name, ROOT / "bookmaker" / "some.py", tuple(imports_of(source)))
    assert len(breaches(module)) == 1


def test_a_door_may_open_late() -> None:
    module = Module("bookmaker.measures.units", ROOT, tuple(imports_of("def f():\n    import pint")))
    assert not _hidden(module) + _round_the_door(module)

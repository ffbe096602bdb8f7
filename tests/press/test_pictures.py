"""Pictures: well-formed, described, to scale, and told apart without colour."""

from decimal import Decimal
from xml.etree import ElementTree as ET

import pytest

from bookmaker.editions.team.views import Amount, Link, Route, Size
from bookmaker.editions.team.views_money import CostPart
from bookmaker.editions.team.views_recipe import Branch, CutView, LayerView, Share, StretchView, TimeView
from bookmaker.press.formats import Formats
from bookmaker.press.pictures.cutting import cutting
from bookmaker.press.pictures.layers import layers
from bookmaker.press.pictures.ribbon import ribbon
from bookmaker.press.pictures.shares import composition, money
from bookmaker.press.pictures.tree import tree

FORMATS = Formats.of("en")
SVG = "{http://www.w3.org/2000/svg}"


def grams(value: int) -> Amount:
    return Amount(Decimal(value), "g")


def minutes(value: int) -> Amount:
    return Amount(Decimal(value), "min")


SHARES = tuple(
    Share(Link(name), grams(weight), Decimal(weight) / 10)
    for name, weight in [("flour & bran", 500), ("butter", 300), ("sugar", 150), ("salt", 50)]
)
PARTS = tuple(
    CostPart(name, Amount(Decimal(value), "EUR"), Decimal(value) * 10) for name, value in [("labour", 6), ("energy", 4)]
)
TIME = TimeView(
    stretches=tuple(
        StretchView(step, kind, Decimal(start), Decimal(end))
        for step, kind, start, end in [
            (1, "work", 0, 10),
            (1, "takes", 10, 60),
            (2, "wait", 60, 300),
            (3, "work", 20, 40),
        ]
    ),
    total=minutes(300),
    hands_on=minutes(30),
    waiting=minutes(270),
    whole_total=minutes(300),
    whole_hands_on=minutes(30),
)
BRANCHES = (
    Branch(Link("Mousse", Route("recipes", "mousse")), grams(400), (Branch(Link("Anglaise"), grams(100)),)),
    Branch(Link("Anglaise"), grams(50), again=True),
)
LAYERS = (
    LayerView(Link("sablé"), "disc 40 mm", Amount(Decimal(4), "mm")),
    LayerView(Link("mousse"), holds=(Link("heart"),)),
    LayerView(Link("velvet"), coats=True),
)


def cut(shape: Size, sheet: Size, per_sheet: int, across: int, down: int, pattern: str, trim: int = 0) -> CutView:
    used = Amount(Decimal(80), "%")
    return CutView(shape, sheet, Decimal(trim), per_sheet, across, down, pattern, used, word="pieces")


BARS = cut(Size(Decimal(30), Decimal(80)), Size(Decimal(300), Decimal(200)), 20, 10, 2, "grid")


def drawn(width: float | None) -> dict[str, str]:
    return {
        "composition": composition(SHARES, FORMATS, uid="a", width=width),
        "money": money(PARTS, "Cost by kind", FORMATS, uid="b", width=width),
        "ribbon": ribbon(TIME, FORMATS, uid="c", width=width),
        "tree": tree("Pebble", BRANCHES, FORMATS, uid="d", width=width),
        "cutting": cutting(BARS, FORMATS, uid="e", width=width),
        "layers": layers(LAYERS, FORMATS, uid="f", width=width),
    }


@pytest.mark.parametrize("width", [None, 480.0], ids=["fluid", "fixed"])
@pytest.mark.parametrize("name", list(drawn(None)))
def test_a_picture_is_well_formed_and_says_what_it_shows(name: str, width: float | None) -> None:
    svg = ET.fromstring(drawn(width)[name])
    title, description = svg.find(f"{SVG}title"), svg.find(f"{SVG}desc")
    assert title is not None
    assert title.text
    assert description is not None
    assert len(description.text or "") > len(title.text)
    assert svg.get("aria-labelledby") == f"{title.get('id')} {description.get('id')}"
    assert (svg.get("viewBox") is not None) == (width is not None or name == "cutting")


@pytest.mark.parametrize("name", list(drawn(None)))
def test_every_hatch_that_is_used_is_defined(name: str) -> None:
    svg = ET.fromstring(drawn(None)[name])
    defined = {f"url(#{pattern.get('id')})" for pattern in svg.iter(f"{SVG}pattern")}
    used = {fill for node in svg.iter() if (fill := node.get("fill", "")).startswith("url(")}
    assert used <= defined


def test_neighbours_in_a_bar_have_different_fillings_and_lengths_to_scale() -> None:
    svg = ET.fromstring(composition(SHARES, FORMATS, uid="a", width=400))
    bar = [node for node in svg.findall(f"{SVG}rect") if node.get("y") == "0.5"]
    assert [node.get("width") for node in bar] == ["200", "120", "60", "20"]
    fills = [node.get("fill") for node in bar]
    assert len(set(fills)) == len(fills)


def test_the_ribbon_is_to_scale_and_names_its_kinds() -> None:
    svg = ET.fromstring(ribbon(TIME, FORMATS, uid="c", width=300))
    tops = {node.get("y") for node in svg.findall(f"{SVG}rect")}
    first_lane = min(float(top or 0) for top in tops)
    lane = [node for node in svg.findall(f"{SVG}rect") if float(node.get("y") or 0) == first_lane]
    assert [(node.get("x"), node.get("width")) for node in lane] == [("0", "10"), ("10", "50"), ("60", "240")]
    assert len({node.get("fill") for node in lane}) == 3
    words = {node.text for node in svg.iter(f"{SVG}text")}
    assert {"work", "takes", "wait", "1", "2", "3"} <= words


def test_steps_at_the_same_time_get_lanes_of_their_own() -> None:
    svg = ET.fromstring(ribbon(TIME, FORMATS, uid="c", width=300))
    third = next(node for node in svg.findall(f"{SVG}rect") if (node.get("x"), node.get("width")) == ("20", "20"))
    first = next(node for node in svg.findall(f"{SVG}rect") if (node.get("x"), node.get("width")) == ("0", "10"))
    assert third.get("y") != first.get("y")


def test_the_tree_links_only_where_it_may() -> None:
    linked = tree("Pebble", BRANCHES, FORMATS, uid="d", url=lambda route: f"x/{route.stem}.html")
    assert '<a href="x/mousse.html">' in linked
    assert 'role="group"' in linked
    bare = tree("Pebble", BRANCHES, FORMATS, uid="d")
    assert "<a " not in bare
    assert 'role="img"' in bare
    assert "Anglaise (see above)" in bare


def discs(svg: str) -> list[tuple[float, float, float]]:
    return [
        (float(node.get("cx") or 0), float(node.get("cy") or 0), float(node.get("r") or 0))
        for node in ET.fromstring(svg).iter(f"{SVG}circle")
    ]


@pytest.mark.parametrize(
    "view",
    [
        cut(Size(Decimal(40)), Size(Decimal(200), Decimal(120)), 15, 5, 3, "square rows"),
        cut(Size(Decimal(40)), Size(Decimal(200), Decimal(150)), 18, 5, 4, "offset rows"),
        cut(Size(Decimal(40)), Size(Decimal(300), Decimal(200)), 36, 8, 5, "turned offset rows"),
    ],
    ids=lambda view: view.pattern,
)
def test_discs_lie_on_the_sheet_without_overlap(view: CutView) -> None:
    scale = 1
    placed = discs(cutting(view, FORMATS, uid="e", width=float(view.sheet.width) * scale))
    assert len(placed) == view.per_sheet
    wide, deep = float(view.sheet.width), float(view.sheet.depth or 0)
    assert all(r <= x + 0.01 and x + r <= wide + 0.01 and r <= y + 0.01 and y + r <= deep + 0.01 for x, y, r in placed)
    for index, (x, y, r) in enumerate(placed):
        for other_x, other_y, _ in placed[index + 1 :]:
            assert (x - other_x) ** 2 + (y - other_y) ** 2 >= (2 * r) ** 2 - 1


def test_bars_lie_inside_the_trimmed_edge() -> None:
    view = cut(Size(Decimal(80), Decimal(30)), Size(Decimal(610), Decimal(410)), 65, 20, 5, "turned grid", trim=5)
    svg = ET.fromstring(cutting(view, FORMATS, uid="e", width=610))
    bars = [node for node in svg.findall(f"{SVG}rect") if node.get("width") == "30"]
    assert len(bars) == 65
    assert min(float(node.get("x") or 0) for node in bars) == 5
    assert max(float(node.get("x") or 0) + 30 for node in bars) <= 605


def test_layers_stand_bottom_to_top() -> None:
    svg = ET.fromstring(layers(LAYERS, FORMATS, uid="f", width=400))
    labels = {node.text: float(node.get("y") or 0) for node in svg.iter(f"{SVG}text")}
    assert labels["velvet coats the whole"] < labels["mousse with heart inside"]
    assert labels["mousse with heart inside"] < labels["sablé, 4\N{NO-BREAK SPACE}mm, disc 40 mm"]

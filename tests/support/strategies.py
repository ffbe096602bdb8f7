"""Random books that a kitchen could own: components over components, with everything that makes mass flow hard."""

from decimal import Decimal

from hypothesis import strategies as st

from bookmaker.model.book import Book
from bookmaker.model.line import Cut, Line, Rest, Stage
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import CoProductRef
from bookmaker.model.shapes import Disc, Rectangle, Shape
from bookmaker.model.yields import CoProduct, CutSpec, MassYield, PieceYield, SheetYield, Yield
from tests.support import make

ITEMS = ("plain flour", "butter", "sugar", "milk", "egg")
SHEET = Rectangle(Decimal(600), Decimal(400))


def _decimal(low: str, high: str, places: int = 3) -> st.SearchStrategy[Decimal]:
    return st.decimals(Decimal(low), Decimal(high), places=places, allow_nan=False, allow_infinity=False)


YIELDS: list[Yield] = [
    MassYield(Decimal(1)),
    PieceYield(Decimal(12), "pieces"),
    SheetYield(Decimal(2), SHEET),
    SheetYield(Decimal(1), SHEET),
]

shares = _decimal("0", "0.4")
weights = _decimal("1", "5000", 2)
shapes: st.SearchStrategy[Shape] = st.one_of(
    st.builds(Disc, _decimal("20", "150", 1)), st.builds(Rectangle, _decimal("20", "200", 1), _decimal("20", "200", 1))
)
LOSSES = st.lists(
    st.tuples(st.sampled_from(["mix", "boil", "transfer", "bake", "portion", "dry"]), shares),
    max_size=3,
    unique_by=lambda each: each[0],
)


@st.composite
def _line(draw: st.DrawFn, index: int, below: list[Recipe]) -> Line:
    """A line on an item, on a component by weight, or cut from a component's sheets."""
    how = draw(st.integers(0, 3)) if below else 0
    more: dict[str, object] = {"id": f"line {index}"}
    if draw(st.booleans()):
        more |= {"stays": draw(_decimal("0", "1")), "rest": draw(st.sampled_from(list(Rest)))}
    if draw(st.booleans()):
        more["loss"] = draw(shares)
    if draw(st.integers(0, 3)) == 0:
        more["working"] = draw(weights)
    if how < 2:
        return make.line(draw(weights), draw(st.sampled_from(ITEMS)), **more)
    part = draw(st.sampled_from(below))
    if how == 3 and isinstance(part.yields, SheetYield):
        return make.line(Cut(Decimal(draw(st.integers(1, 200))), draw(shapes)), part.ref, **more)
    left_over: bool = draw(st.booleans())
    if left_over and part.gives:
        return make.line(draw(weights), CoProductRef(part.ref, part.gives[0].name), **more)
    return make.line(draw(weights), part.ref, **more)


@st.composite
def _recipe(draw: st.DrawFn, number: int, below: list[Recipe]) -> Recipe:
    count = draw(st.integers(1, 5))
    lines = [draw(_line(index, below)) for index in range(count)]
    # something must stay, or nothing could be shared out
    lines.append(make.line(draw(_decimal("500", "5000", 2)), "plain flour", id="body"))
    more: dict[str, object] = {}
    if draw(st.integers(0, 3)) == 0:
        lines.append(make.line(draw(_decimal("1", "100", 2)), make.ref(f"r{number}"), id="seed"))
    cuts_lines = any(isinstance(line.quantity, Cut) for line in lines)
    yields = draw(st.sampled_from(YIELDS))
    own_cut = isinstance(yields, SheetYield) and draw(st.booleans())
    if own_cut:
        more["cut"] = CutSpec(draw(shapes), draw(_decimal("0", "10", 0)))
    gives: list[CoProduct] = []
    if (own_cut or cuts_lines) and draw(st.booleans()):
        gives.append(CoProduct("rest"))
    elif not own_cut and draw(st.booleans()):
        gives.append(CoProduct("skimmings", share=draw(shares)))
    split = draw(st.integers(0, len(lines)))
    stages = [part for part in (lines[:split], lines[split:]) if part]
    return make.recipe(
        f"r{number}",
        [_stage(f"stage {at}", part, draw(LOSSES)) for at, part in enumerate(stages)],
        yields,
        # at least one stated loss: the yields above are only names for what comes out
        lose={"sieve": draw(_decimal("0.001", "0.2"))} | dict(draw(LOSSES)),
        gives=tuple(gives),
        **more,
    )


def _stage(name: str, lines: list[Line], losses: list[tuple[str, Decimal]]) -> Stage:
    return make.stage(name, *lines, lose=dict(losses))


@st.composite
def books(draw: st.DrawFn, most: int = 5) -> Book:
    """A book of one to `most` recipes, each drawing on those before it."""
    recipes: list[Recipe] = []
    for number in range(draw(st.integers(1, most))):
        recipes.append(draw(_recipe(number, recipes)))
    return make.book(*recipes, stores=[make.item("plain flour", flour=True), *map(make.item, ITEMS[1:])])

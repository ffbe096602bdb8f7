"""What an exercise prints, held against the book that it was made from, by arithmetic of its own.

Together with `solving` this recomputes every answer from the recipe as the cook wrote it.
"""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction

from bookmaker.editions.workbook.views_parts import Exercise, Grid, Say
from bookmaker.kitchen.figures import Figures
from bookmaker.model.book import Book
from bookmaker.model.line import Grams, Line
from bookmaker.model.method import Step
from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.refs import RecipeRef, StoresRef
from tests.editions.workbook.solving import cell, figure, half_up, read


def _grids(exercise: Exercise) -> list[Grid]:
    return [part for part in exercise.task if isinstance(part, Grid)]


def _number(exercise: Exercise, name: str) -> Fraction:
    values = {key: value for part in exercise.task if isinstance(part, Say) for key, value in part.values}
    found = read(values[name])
    assert isinstance(found, Fraction)
    return found


def written(line: Line) -> Fraction | None:
    """The grams of a line as the cook wrote them; None where they were written otherwise."""
    return Fraction(line.quantity.grams) if isinstance(line.quantity, Grams) else None


def _line(recipe: Recipe, name: str) -> Line:
    """The line that a table calls so: by its name, or with its stage or number behind it."""
    for stage in recipe.stages:
        for line in stage.lines:
            if name in {line.name, f"{line.name} ({stage.name})"}:
                return line
    return next(line for line in recipe.lines if name.startswith(f"{line.name} ("))


def check_weights(exercise: Exercise, recipe: Recipe, book: Book) -> int:
    """Printed weights are the cook's, after peeling and stoning, to a tenth of a gram. How many could be held."""
    held = 0
    for row in _grids(exercise)[0].rows:
        line = _line(recipe, str(row[0]))
        grams = written(line)
        if grams is not None:
            usable = book.stores[line.target.id].usable if line.as_bought and isinstance(line.target, StoresRef) else 1
            assert figure(row[1]) == half_up(grams * Fraction(usable), 1), (recipe.title, row)
            held += 1
    return held


def losses_of(recipe: Recipe) -> list[tuple[str, Fraction]]:
    """Names and percents of all losses, in the order in which they act."""
    stages = [(loss.name, Fraction(loss.share) * 100) for stage in recipe.stages for loss in stage.losses]
    return stages + [(loss.name, Fraction(loss.share) * 100) for loss in recipe.losses]


def check_yield(exercise: Exercise, recipe: Recipe) -> None:
    """What joins is what the cook weighs in, and losses are those that the cook states."""
    factor = _number(exercise, "count")
    rows = _grids(exercise)[0].rows
    lost = [(str(cell(row[0])), str(cell(row[1]))) for row in rows if not str(cell(row[1])).endswith("go in")]
    assert [name for name, _ in lost] == [name for name, _ in losses_of(recipe)]
    assert [Fraction(said.split(" ")[0]) for _, said in lost] == [share for _, share in losses_of(recipe)]
    joined = sum(Fraction(str(cell(row[1])).split(" ")[0]) for row in rows if str(cell(row[1])).endswith("go in"))
    weights = [written(line) for line in recipe.lines]
    if all(weight is not None for weight in weights) and all(_all_stays(line) for line in recipe.lines):
        whole = sum((weight for weight in weights if weight is not None), Fraction(0))
        assert abs(joined - whole * factor) <= len(recipe.stages) * factor, recipe.title


def _all_stays(line: Line) -> bool:
    return line.stays is None and line.stays_grams is None and not line.loss and not line.as_bought


def minutes_of(step: Step, count: Mapping[str, Fraction], grams: Fraction, machines: Mapping[str, int]) -> Fraction:
    """What a step lasts in a plan: hands ÷ people, what it takes at its longest for each turn, the shortest wait.

    Loads are spread over the machines of that name that the house has.
    """
    hands = _minutes(step.work or Decimal(0))
    if step.each:
        hands += _minutes(step.each.minutes) * count[step.each.per]
    loads = 1
    if step.load:
        whole = count[step.load.word] if step.load.word else grams
        loads = -(-whole // Fraction(step.load.amount))
        loads = -(-loads // machines.get(step.on, 1))
    takes = Fraction(step.takes.most or step.takes.least) if step.takes else Fraction(0)
    wait = Fraction(step.wait.least) if step.wait else Fraction(0)
    return (hands / step.needs + takes * loads + wait) * step.repeat


def _minutes(value: Decimal) -> Fraction:
    """Minutes that were written in seconds: sixtieths, which a decimal cannot hold."""
    return Fraction(value).limit_denominator(600)


class Counted(dict[str, Fraction]):
    """How many of a word a batch comes to; only pieces, which need no furniture of the house to be known."""

    def __missing__(self, word: str) -> Fraction:
        raise KeyError(word)


def check_minutes(exercise: Exercise, recipe: Recipe, book: Book, figures: Figures) -> int:
    """The minutes of the steps, as the cook states them, rounded up. How many steps could be held against that."""
    pieces = figures.recipes[recipe.ref].flow.yields.pieces
    count = Counted({} if pieces is None else dict.fromkeys(("piece", "pieces"), Fraction(pieces)))
    steps = {str(step.number): step for step in recipe.method.steps}
    machines = {machine.name: machine.count for machine in book.house.equipment}
    held = 0
    for row in _grids(exercise)[0].rows:
        step = steps.get(str(row[0]))
        if step is None:
            continue
        try:
            own = minutes_of(step, count, Fraction(figures.recipes[recipe.ref].flow.into), machines)
        except KeyError:
            continue
        assert figure(row[2]) == -(-own // 1), (recipe.title, step.number)
        held += 1
    return held


def check_allergens(exercise: Exercise, book: Book) -> int:
    """What an ingredient is said to contain is what the stores declare of it, over all articles."""
    held = 0
    for row in _grids(exercise)[0].rows:
        item = book.stores.get(str(row[1]))
        said = str(cell(row[2]))
        if item is None or said == "see its own lines" or item.articles or item.sulphites or item.exempt:
            continue
        assert item.contains is not None
        assert set(said.split(", ")) == (set(item.contains) or {"nothing that is listed"}), item.id
        held += 1
    return held


def composition(ref: RecipeRef, book: Book) -> dict[str, Fraction]:
    """Grams of each stores item in a gram of a preferment or soaker; what feeds on itself is as it is fed.

    Only for mixtures from which no water is driven off.
    """
    recipe = book.recipes[book.sized(ref)]
    found: dict[str, Fraction] = {}
    weighed = [(line, written(line)) for line in recipe.lines]
    fed = [(line, grams) for line, grams in weighed if line.target != ref and grams is not None]
    assert all(grams is not None for _, grams in weighed)
    whole = sum((grams for _, grams in fed), Fraction(0))
    for line, grams in fed:
        inner = {line.target.id: Fraction(1)} if isinstance(line.target, StoresRef) else composition(line.target, book)  # type: ignore[arg-type]
        for item, share in inner.items():
            found[item] = found.get(item, Fraction(0)) + share * grams / whole
    return found


def check_preferments(exercise: Exercise, book: Book) -> int:
    """What 1000 g of a preferment hold. How many preferments could be held against their recipes."""
    held = 0
    for grid in _grids(exercise)[1:]:
        title = str(grid.caption["part"])
        recipe = next(each for each in book.recipes.values() if book.name(each.ref) == title)
        if recipe.kind not in {Kind.PREFERMENT, Kind.SOAKER} or any(written(line) is None for line in recipe.lines):
            continue
        own = composition(recipe.ref, book)
        for row in grid.rows:
            assert figure(row[1]) == half_up(own[str(row[0])] * 1000, 1), (title, row)
        held += 1
    return held


def check_prices(exercise: Exercise, book: Book, figures: Figures, recipe: Recipe) -> int:
    """Prices per kilogram are those of the price list: the newest of each article, the cheapest article of an item.

    How many lines are priced by weight in one currency, so that this is all there is to it.
    """
    held = 0
    for row in _grids(exercise)[0].rows:
        line = _line(recipe, str(row[0]))
        if not isinstance(line.target, StoresRef):
            continue
        listed = [price for price in book.prices.get(line.target.id, ()) if price.since <= figures.on]
        articles = {(price.supplier, price.code) for price in listed}
        newest = [max((p for p in listed if (p.supplier, p.code) == each), key=lambda p: p.since) for each in articles]
        if not newest or any(price.each.dimension.value != "mass" for price in newest) or len(newest) > 1:
            continue
        price = newest[0]
        kilo = Fraction(price.price) / (Fraction(price.count) * Fraction(price.each.in_base())) * 1000
        assert figure(row[2]) == half_up(kilo, 4 if kilo < Fraction(1, 10) else 2), (recipe.title, line.name)
        held += 1
    return held

"""An apprentice in code: solves each kind of exercise from what is printed in it, by its own arithmetic.

Nothing of the generators is called. A solver sees the task (and, where the exercise sends its reader there, the
recipe's method or the glossary), reckons in exact fractions, rounds halves up once, and gives the answers in order.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from itertools import permutations

from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.views_parts import (
    Answer,
    Cell,
    Clock,
    Exercise,
    Filled,
    Gap,
    Grid,
    Lettered,
    Part,
    Result,
    Room,
    Say,
    Value,
    Word,
)
from bookmaker.model.book import Book
from bookmaker.model.recipe import Recipe

Found = list[Fraction | str]
Solver = Callable[["Sheet"], Found]


def half_up(value: Fraction, places: int = 0) -> Fraction:
    """Rounded to so many decimals, halves up."""
    scaled = value * 10**places
    return Fraction((scaled + Fraction(1, 2)).__floor__(), 10**places)


def to_weigh(value: Fraction) -> Fraction:
    """To the gram, below 100 g to a tenth."""
    return half_up(value, 1 if value < 100 else 0)


def read(value: Value | Say) -> Fraction | str:
    """A value as the reader takes it: numbers as numbers, words as words."""
    match value:
        case Amount():
            return Fraction(value.value)
        case Decimal() | int():
            return Fraction(value)
        case Clock(minutes):
            return Fraction(minutes)
        case Word(key):
            return key
        case Say():
            return text(value)
        case _:
            return value


def text(sentence: Say) -> str:
    """A sentence as it is read, numbers in plain figures."""

    def plain(value: Value) -> str:
        found = read(value)
        if isinstance(found, Fraction):
            return f"{Decimal(found.numerator) / Decimal(found.denominator):f}"
        return found

    return sentence.text % {name: plain(value) for name, value in sentence.values}


class Sheet:
    """What lies before the apprentice: an exercise's task, and the book to look into where the task says so."""

    def __init__(self, task: Sequence[Part], recipe: Recipe, book: Book) -> None:
        self.task, self.recipe, self.book = task, recipe, book
        self.grids = [part for part in task if isinstance(part, Grid)]
        self.rooms = [part for part in task if isinstance(part, Room)]
        self.says = [part for part in task if isinstance(part, Say)]

    def number(self, name: str) -> Fraction:
        """The number of that name in a sentence or a question."""
        for sentence in (*self.says, *(room.asked for room in self.rooms), *(grid.caption for grid in self.grids)):
            for key, value in sentence.values:
                if key == name:
                    found = read(value)
                    assert isinstance(found, Fraction)
                    return found
        raise KeyError(name)

    def word(self, name: str) -> str:
        """The word of that name in a sentence or a question."""
        for sentence in (*self.says, *(room.asked for room in self.rooms)):
            for key, value in sentence.values:
                if key == name:
                    return str(read(value))
        raise KeyError(name)

    def says_that(self, words: str) -> bool:
        """Whether a sentence with these words stands in the task."""
        return any(words in sentence.text for sentence in self.says)


def cell(value: Cell) -> Fraction | str:
    """What is printed in a cell that is no gap."""
    assert not isinstance(value, Gap | Filled)
    return read(value)


def figure(value: Cell) -> Fraction:
    """The number printed in a cell."""
    found = cell(value)
    assert isinstance(found, Fraction)
    return found


def answers(exercise: Exercise) -> Found:
    """The answers that the exercise gives, in their order: gaps row by row, then questions."""
    return [read(value) for part in exercise.answer for value in _values(part)]


def _values(part: Answer) -> Iterator[Value | Say]:
    if isinstance(part, Result):
        yield part.value
    elif isinstance(part, Grid):
        for row in part.rows:
            yield from (each.value for each in row if isinstance(each, Filled))


# --- formulas


def _base(sheet: Sheet, rows: Sequence[tuple[Cell, ...]]) -> Fraction:
    """What counts as 100 %, by the sentence and the percents printed as 100 in all."""
    grams = {str(row[0]): figure(row[1]) for row in rows}
    if sheet.says_that("All lines together"):
        return sum(grams.values(), Fraction(0))
    if sheet.says_that("All flour together"):
        flours = [item.id for item in sheet.book.stores.values() if item.flour]
        names = [name for name in grams if any(name == flour or name.startswith(f"{flour} (") for flour in flours)]
        return sum((grams[name] for name in names), Fraction(0))
    key = "flour" if sheet.says_that("%(flour)s is") else "item"
    return sum((grams[name] for name in sheet.word(key).split(" + ")), Fraction(0))


def _percents(sheet: Sheet) -> Found:
    rows = sheet.grids[0].rows
    base = _base(sheet, rows)
    places = 2 if sheet.says_that("two decimals") else 1
    return [half_up(figure(row[1]) / base * 100, places) for row in rows if isinstance(row[2], Gap)]


def _weights(sheet: Sheet) -> Found:
    rows = sheet.grids[0].rows
    together = sum((figure(row[1]) for row in rows), Fraction(0))
    return [to_weigh(sheet.number("mass") * figure(row[1]) / together) for row in rows if isinstance(row[2], Gap)]


def _total_formula(sheet: Sheet) -> Found:
    dough, *inner = sheet.grids
    held = {str(grid.caption["part"]).casefold(): grid.rows for grid in inner}
    aka = {
        name.casefold(): recipe.title.casefold()
        for recipe in sheet.book.recipes.values()
        for name in (recipe.title, *recipe.aka)
    }
    kinds = {recipe.title.casefold(): recipe.kind.value for recipe in sheet.book.recipes.values()}
    flour = water = fermented = Fraction(0)
    for name, mass in ((str(row[0]), figure(row[1])) for row in dough.rows):
        title = aka.get(name.casefold(), "")
        inside = held.get(title)
        if inside is None:
            flour += mass if sheet.book.stores[name].flour else 0
            water += mass if name == "water" else 0
            continue
        flours = sum((figure(row[1]) for row in inside if sheet.book.stores[str(row[0])].flour), Fraction(0))
        flour += mass * flours / 1000
        water += mass * sum((figure(row[1]) for row in inside if row[0] == "water"), Fraction(0)) / 1000
        fermented += mass * flours / 1000 if kinds[title] == "preferment" else 0
    found: Found = [
        f"{int(half_up(flour))} g",
        f"{int(half_up(water))} g",
        f"{_plain(half_up(water / flour * 100, 1))} %",
    ]
    return [*found, f"{_plain(half_up(fermented / flour * 100, 1))} %"] if len(sheet.rooms) == 4 else found


def _plain(value: Fraction) -> str:
    return f"{(Decimal(value.numerator) / Decimal(value.denominator)).normalize():f}"


# --- yield


def _losses(grid: Grid) -> list[Fraction]:
    return [Fraction(str(re.match(r"[\d.]+", str(cell(row[1])))[0])) for row in grid.rows]  # type: ignore[index]


def _yield(sheet: Sheet) -> Found:
    mass = Fraction(0)
    for row in sheet.grids[0].rows:
        said = str(cell(row[1]))
        number = Fraction(re.match(r"[\d.]+", said)[0])  # type: ignore[index]
        mass = mass + number if said.endswith("go in") else mass * (1 - number / 100)
    found: Found = [half_up(mass)]
    return [*found, half_up(mass / sheet.number("pieces"), 1)] if len(sheet.rooms) == 2 else found


def _making_enough(sheet: Sheet) -> Found:
    wanted = sheet.number("wanted") if sheet.says_that("%(wanted)s") else sheet.number("count") * sheet.number("each")
    for share in _losses(sheet.grids[0]):
        wanted /= 1 - share / 100
    return [half_up(wanted)]


def _quantity(sheet: Sheet) -> Found:
    finished = sheet.number("batch")
    for grid in sheet.grids:
        for row, share in zip(grid.rows, _losses(grid), strict=True):
            if cell(row[2]) == "water":
                finished *= 1 - share / 100
    assert sheet.grids or sheet.says_that("Nothing is lost")
    return [half_up(sheet.number("ingoing") / finished * 100, 1)]


WAYS_TO_WEIGH = (
    "A finer scale; a larger batch; or, for what dissolves, ten times as much stirred into a known amount of the "
    "formula's liquid, of which a tenth is taken."
)


def _weighing(sheet: Sheet) -> Found:
    step = sheet.number("step")
    found: Found = []
    for row in sheet.grids[0].rows:
        needed, may_err = figure(row[1]), figure(row[2])
        shown = half_up(needed / step) * step
        error = half_up(abs(shown - needed) / needed * 100, 2)
        found += [shown, error, "yes" if error <= may_err else "no"]
    return [*found, WAYS_TO_WEIGH]


# --- making


def _scaling(sheet: Sheet) -> Found:
    batch = sheet.number("pieces") if sheet.says_that("%(pieces)s") else sheet.number("usable")
    factor = sheet.number("count") / batch
    own = sheet.grids[0]
    found: Found = [to_weigh(figure(row[1]) * factor) for row in own.rows if isinstance(row[2], Gap)]
    if len(sheet.grids) == 1:
        return found
    below = sheet.grids[1]
    part, usable = str(below.caption["part"]).casefold(), figure(below.caption["usable"])
    names = {
        name.casefold(): recipe.title.casefold()
        for recipe in sheet.book.recipes.values()
        for name in (recipe.title, *recipe.aka)
    }
    plain = part.split(" (")[0]
    needed = [
        figure(row[1])
        for row in own.rows
        if names.get(str(row[0]).casefold().split(" (")[0]) == names.get(plain, plain)
    ]
    assert len(needed) == 1, (part, own.rows)
    share = needed[0] * factor / usable
    return [*found, *(to_weigh(figure(row[1]) * share) for row in below.rows if isinstance(row[2], Gap))]


def _use_up(sheet: Sheet) -> Found:
    rows = [(str(row[0]), figure(row[1]), figure(row[2])) for row in sheet.grids[0].rows]
    name, one, left = min(rows, key=lambda row: row[2] / row[1])
    other = next(row for row in rows if row[0] != name)
    if sheet.says_that("%(pieces)s"):
        pieces = sheet.number("pieces")
        made = Fraction((pieces * left / one).__floor__())
        used = made * other[1] / pieces
    else:
        made = half_up(sheet.number("mass") * left / one)
        used = left / one * other[1]
    return [name, made, to_weigh(other[2] - used)]


def _loads(sheet: Sheet) -> Found:
    ready, per = sheet.number("ready"), sheet.number("per")
    loads = -(-ready // per)
    each = sheet.number("time") if sheet.says_that("%(time)s") else sheet.number("most")
    return [Fraction(loads), ready - per * (loads - 1), loads * each]


def _latest_start(sheet: Sheet) -> Found:
    rows = {str(row[0]): row for row in sheet.grids[0].rows}

    def end(key: str) -> Fraction:
        after = str(cell(rows[key][3]))
        before = [] if after == "nothing" else after.split(", ")
        return figure(rows[key][2]) + max((end(each) for each in before), default=Fraction(0))

    whole = max(end(key) for key in rows)
    return [whole, sheet.number("deadline") - whole]


def _water(sheet: Sheet) -> Found:
    readings = {str(cell(row[0])): figure(row[1]) for row in sheet.grids[0].rows}
    tap = readings.pop("tap water")
    unit = next(room.unit for room in sheet.rooms)
    needed = sheet.number("target") * len(readings) - sum(readings.values())
    melting = {"°C": 80, "°F": 144 - 32}[unit]
    ice = max(Fraction(0), sheet.number("water") * (tap - needed) / (tap + melting))
    friction = readings.pop("warmed by mixing (friction)")
    assert friction
    really = sheet.number("got") * (len(readings) + 1) - sum(readings.values()) - needed
    return [needed, half_up(ice), really]


def _step_order(sheet: Sheet) -> Found:
    """The house's own order: the texts as they stand in the method."""
    lettered = next(part for part in sheet.task if isinstance(part, Lettered))
    from bookmaker.model.prose import plain

    at = {plain(step.text): step.number for step in sheet.recipe.method.steps}
    return [" ".join(letter for letter, _ in sorted(lettered.items, key=lambda item: at[text(item[1])]))]


def right_orders(exercise: Exercise, recipe: Recipe) -> set[str]:
    """Every order of the letters in which no step comes before one that it waits for, by trying all of them."""
    from bookmaker.model.prose import plain

    lettered = next(part for part in exercise.task if isinstance(part, Lettered))
    steps = recipe.method.steps
    at = {plain(step.text): step.number for step in steps}
    letters = {at[text(words)]: letter for letter, words in lettered.items}
    waits: dict[int, set[int]] = {}
    for number, step in enumerate(steps):
        direct = set(step.after) or ({steps[number - 1].number} if number else set())
        waits[step.number] = direct.union(*(waits[each] for each in direct)) if direct else set()
    found = set()
    for order in permutations(letters):
        place = {number: index for index, number in enumerate(order)}
        if all(place[one] < place[other] for other in order for one in waits[other] if one in place):
            found.add(" ".join(letters[number] for number in order))
    return found


# --- allergens, labels, money


def _allergens(sheet: Sheet) -> Found:
    rows = [tuple(str(cell(each)) for each in row) for row in sheet.grids[0].rows]
    top = rows[0][0]

    def ways(of: str, allergen: str) -> Iterator[list[str]]:
        for title, name, contains in rows:
            if title != of:
                continue
            if contains == "see its own lines":
                yield from ([*way, name] for way in ways(_bare(name), allergen))
            elif allergen in contains.split(", "):
                yield [name]

    seen = dict.fromkeys(each for _, _, contains in rows for each in contains.split(", ") if each not in _NO_ALLERGEN)
    brings = {allergen: list(ways(top, allergen)) for allergen in seen}
    found: Found = [", ".join(allergen for allergen in _in_law_order(brings) if brings[allergen])]
    for room in sheet.rooms[1:]:
        asked = dict(room.asked.values)
        if "allergen" in asked:
            allergen = str(asked["allergen"])
            found.append("; ".join(" ← ".join((allergen, *way)) for way in brings[allergen]))
        else:
            line = str(asked["line"])
            gone = [name for name in _in_law_order(brings) if {way[-1] for way in brings[name]} == {line}]
            found.append(", ".join(gone) or "None: each of them comes in by another way too.")
    return found


_NO_ALLERGEN = {"see its own lines", "nothing that is listed"}


def _bare(name: str) -> str:
    """A recipe's title without its size."""
    return re.sub(r" \([^)]*\)$", "", name)


_ANNEX_II = (
    *("wheat", "rye", "barley", "oats", "crustaceans", "eggs", "fish", "peanuts", "soybeans", "milk", "almonds"),
    *("hazelnuts", "walnuts", "cashews", "pecans", "brazil nuts", "pistachios", "macadamias", "celery", "mustard"),
    *("sesame", "sulphites", "lupin", "molluscs"),
)
"""The order of Annex II to Regulation (EU) 1169/2011, cereals and nuts by name."""


def _in_law_order(names: Mapping[str, object]) -> list[str]:
    return sorted(names, key=_ANNEX_II.index)


def _ingredient_list(sheet: Sheet) -> Found:
    sums: dict[str, Fraction] = {}
    allergens: set[str] = set()
    for row in sheet.grids[0].rows:
        label = str(cell(row[2]))
        sums[label] = sums.get(label, Fraction(0)) + figure(row[3])
        if cell(row[4]) != "–":
            allergens.add(label)
    assert len(set(sums.values())) == len(sums), "two ingredients of the same weight have no order"
    order = sorted(sums, key=lambda label: -sums[label])
    return [", ".join(order), ", ".join(label for label in order if label in allergens) or "None of these."]


def _limits(sheet: Sheet) -> Found:
    found: Found = []
    missed = {step.number: step.limit.if_missed for step in sheet.recipe.method.steps if step.limit}
    for row in sheet.grids[0].rows:
        good = _met(str(cell(row[1])), str(cell(row[2])))
        number = int(figure(row[0]))
        found += ["yes", "go on"] if good else ["no", missed[number] or "stop, keep it apart, and ask the supervisor"]
    if sheet.rooms:
        points = [step for step in sheet.recipe.method.steps if step.limit and step.limit.ccp]
        found.append(", ".join(f"{step.number} (CCP {step.limit.ccp})" for step in points if step.limit))
    return found


def _met(limit: str, reading: str) -> bool:
    """Whether a reading meets a limit, both as they are printed."""
    degrees = float(re.search(r"-?[\d.]+(?= °)", limit)[0])  # type: ignore[index]
    got = float(re.search(r"-?[\d.]+(?= °)", reading)[0])  # type: ignore[index]
    within = re.search(r"within (\d+) (h|min)", limit)
    held = re.search(r"for (\d+) (h|min)", limit)
    if within:
        allowed = int(within[1]) * (60 if within[2] == "h" else 1)
        after = int(re.search(r"(\d+) min", reading)[1])  # type: ignore[index]
        return got <= degrees and after <= allowed
    if held:
        seconds = int(re.search(r"(\d+) s\b", reading)[1])  # type: ignore[index]
        return got >= degrees and seconds >= int(held[1]) * (3600 if held[2] == "h" else 60)
    if "below" in limit:
        return got < degrees
    return got <= degrees if degrees < 0 else got >= degrees


def _words(sheet: Sheet) -> Found:
    """Each meaning is looked up in the glossary: whose explanation begins so?"""
    from bookmaker.model.prose import plain

    lettered = next(part for part in sheet.task if isinstance(part, Lettered))
    meanings = {letter: text(words) for letter, words in lettered.items}
    found: Found = []
    for row in sheet.grids[0].rows:
        term = next(each for each in sheet.book.glossary if each.word == row[0])
        fitting = [letter for letter, words in meanings.items() if plain(term.meaning).startswith(words)]
        assert len(fitting) == 1, (term.word, fitting)
        found += fitting
    return found


def _cost(sheet: Sheet) -> Found:
    each = [half_up(figure(row[1]) / 1000 * figure(row[2]), 2) for row in sheet.grids[0].rows]
    whole = sum(each, Fraction(0))
    found: Found = [*each, whole]
    return [*found, half_up(whole / sheet.number("pieces"), 3)] if len(sheet.rooms) == 2 else found


def _selling_price(sheet: Sheet) -> Found:
    target, tax = (Fraction(re.match(r"[\d.]+", str(cell(row[1])))[0]) for row in sheet.grids[0].rows)  # type: ignore[index]
    net = Fraction(-(-(sheet.number("each") * 100 / target * 100) // 1), 100)
    return [net, Fraction(-(-(net * (1 + tax / 100) * 100) // 1), 100)]


SOLVERS: Mapping[str, Solver] = {
    "words": _words,
    "step order": _step_order,
    "percents": _percents,
    "yield": _yield,
    "weighing": _weighing,
    "allergens": _allergens,
    "limits": _limits,
    "weights": _weights,
    "water temperature": _water,
    "scaling": _scaling,
    "use up": _use_up,
    "making enough": _making_enough,
    "loads": _loads,
    "latest start": _latest_start,
    "ingredient list": _ingredient_list,
    "cost": _cost,
    "total formula": _total_formula,
    "quantity declared": _quantity,
    "selling price": _selling_price,
}


def solve(exercise: Exercise, recipe: Recipe, book: Book) -> Found:
    """What an apprentice makes of the exercise."""
    return SOLVERS[exercise.kind](Sheet(exercise.task, recipe, book))

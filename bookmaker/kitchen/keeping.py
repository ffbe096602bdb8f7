"""How long a recipe keeps in each state: as stated, but never longer than its shortest-lived part.

Lives are compared within one class of temperature: frozen (-15 °C and colder), chilled (up to 8 °C) and ambient. A
part stops limiting when a step at or after the one that uses it is declared a kill step; a raw state comes before any
of those. Freezing pauses a clock, it does not set it back: what ran before freezing is missing after thawing.

How old a component is when it goes in, nobody knows before it is made: lives are those of fresh parts, and each says
how old its tightest component may be. A component's own life says the same of its parts, so that no life in the book
is longer than that of the oldest part, counted from that part's making.

An estimate from what is stated: test before you promise a date, and follow your local rules. The limits of the
classes are common practice, no source; that freezing is a pause is the advice of the UK Food Standards Agency (2016),
as reported.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from bookmaker.kitchen.figures import KeepingFigure
from bookmaker.kitchen.parts import is_seed, sources_of
from bookmaker.kitchen.uses import step_that_uses
from bookmaker.measures.exact import ZERO
from bookmaker.measures.temperatures import Temperature
from bookmaker.model.book import Book
from bookmaker.model.keeping import Keeping
from bookmaker.model.line import Line
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target

FROZEN_AT_MOST = Decimal(-15)
CHILLED_AT_MOST = Decimal(8)

RAW = "raw"
FROZEN = "frozen"
THAWED = "thawed"
OPENED = "opened"


class Cold(StrEnum):
    """A class of temperature within which lives can be compared."""

    FROZEN = "frozen"
    CHILLED = "chilled"
    AMBIENT = "ambient"


_WORDS = {Cold.FROZEN: "frozen", Cold.CHILLED: "chilled", Cold.AMBIENT: "at room temperature"}


def cold_of(temperature: Temperature | None) -> Cold:
    """The class of a temperature; without one a thing stands in the room."""
    if temperature is None or temperature.celsius > CHILLED_AT_MOST:
        return Cold.AMBIENT
    return Cold.FROZEN if temperature.celsius <= FROZEN_AT_MOST else Cold.CHILLED


@dataclass(frozen=True, slots=True)
class _Limit:
    """A life that a state cannot outlast, whose it is (None: the recipe's own clock), and the reason in words."""

    minutes: Decimal
    part: Target | None
    because: str


def keeping_of(
    recipe: Recipe, book: Book, done: Mapping[RecipeRef, tuple[KeepingFigure, ...]]
) -> tuple[KeepingFigure, ...]:
    """Every stated state of the recipe with what limits it; `done` holds the recipes that stand before it."""
    return tuple(_limited(keeping, recipe, book, done) for keeping in recipe.keeps)


def _limited(
    keeping: Keeping, recipe: Recipe, book: Book, done: Mapping[RecipeRef, tuple[KeepingFigure, ...]]
) -> KeepingFigure:
    parts = list(_parts(keeping, recipe, book, done))
    limit = min((*parts, *_clock(keeping, recipe)), key=lambda limit: limit.minutes, default=None)
    if limit is not None and limit.minutes >= keeping.minutes:
        limit = None
    left = keeping.minutes if limit is None else limit.minutes
    made = (each for each in parts if not isinstance(each.part, StoresRef))
    tightest = min(made, key=lambda each: each.minutes, default=None)
    return KeepingFigure(
        state=keeping.state,
        stated=keeping.minutes,
        minutes=left,
        temperature=keeping.temperature,
        words=keeping.words,
        from_state=keeping.from_state,
        within=keeping.within,
        date_word=keeping.date_word,
        limited_by=None if limit is None else limit.part,
        because="" if limit is None else limit.because,
        part=None if tightest is None else tightest.part,
        part_age=ZERO if tightest is None else tightest.minutes - left,
    )


# --- parts ----------------------------------------------------------------------------------------------------------


def _parts(
    keeping: Keeping, recipe: Recipe, book: Book, done: Mapping[RecipeRef, tuple[KeepingFigure, ...]]
) -> Iterable[_Limit]:
    cold = cold_of(keeping.temperature)
    raw = _comes_from(keeping, recipe) == RAW
    thawed = cold is not Cold.FROZEN and _frozen_before(keeping, recipe) is not None
    for line in recipe.lines:
        if is_seed(line, recipe, book) or (not raw and _reset(line, recipe, book)):
            continue
        lives = _lives(line.target, cold, book, done, thawed=thawed)
        if lives:
            because = f"kept {_WORDS[cold]}, it lasts no longer than its shortest-lived part"
            yield _Limit(min(lives), line.target, because)


def _reset(line: Line, recipe: Recipe, book: Book) -> bool:
    """Whether a kill step comes at or after the step that takes the line in."""
    step = step_that_uses(line, recipe, book)
    return step is not None and any(each.kill and each.number >= step.number for each in recipe.method.steps)


def _comes_from(keeping: Keeping, recipe: Recipe) -> str:
    """The state at the beginning of a chain of states (`frozen, from raw` comes from raw)."""
    states = {each.state: each for each in recipe.keeps}
    seen = set[str]()
    while keeping.from_state in states and keeping.state not in seen:
        seen.add(keeping.state)
        keeping = states[keeping.from_state]
    return keeping.from_state or keeping.state


def _lives(
    target: Target,
    cold: Cold,
    book: Book,
    done: Mapping[RecipeRef, tuple[KeepingFigure, ...]],
    *,
    thawed: bool,
) -> list[Decimal]:
    """How long a part keeps in a class of temperature, in each state in which it may be used; empty where nobody
    says.
    """
    match target:
        case StoresRef(id):
            kept = [each for each in book.stores[id].keeps if cold_of(each.temperature) is cold]
            # it has been opened by the time it is weighed
            return [each.minutes for each in kept if each.state == OPENED] or [each.minutes for each in kept]
        case CoProductRef():
            sources: Iterable[RecipeRef] = sources_of(target, book)
        case _:
            sources = (book.sized(target),)
    return [life for source in sources for life in _made_lives(done[source], cold, thawed)]


def _made_lives(states: tuple[KeepingFigure, ...], cold: Cold, thawed: bool) -> list[Decimal]:
    """The lives of a component in the states in which it is used: raw only where no later state is stated.

    In a product that was frozen and thawed, what could run of a component's clock before freezing is missing.
    """
    later = [each for each in states if each.state not in {RAW, FROZEN}]
    used = later or [each for each in states if each.state != FROZEN]
    if cold is Cold.FROZEN:
        used = [*used, *(each for each in states if each.state == FROZEN)]
    ran = {each.from_state: each.within for each in states if cold_of(each.temperature) is Cold.FROZEN}
    return [
        max(each.minutes - ((ran.get(each.state) or ZERO) if thawed else ZERO), ZERO)
        for each in used
        if cold_of(each.temperature) is cold
    ]


# --- the recipe's own clock -----------------------------------------------------------------------------------------


def _clock(keeping: Keeping, recipe: Recipe) -> Iterable[_Limit]:
    """After thawing a clock goes on where freezing stopped it: what could run before, at the same class, is missing."""
    frozen = _frozen_before(keeping, recipe)
    if frozen is None or frozen.within is None:
        return
    before = next((each for each in recipe.keeps if each.state == frozen.from_state), None)
    if before is not None and cold_of(before.temperature) is cold_of(keeping.temperature):
        left = max(before.minutes - frozen.within, ZERO)
        yield _Limit(left, None, f"freezing pauses the clock of '{before.state}', it does not set it back")


def _frozen_before(keeping: Keeping, recipe: Recipe) -> Keeping | None:
    """The frozen state that this one comes from: as stated, and `thawed` always means from frozen."""
    name = keeping.from_state or (FROZEN if keeping.state == THAWED else "")
    found = next((each for each in recipe.keeps if each.state == name), None)
    return found if found is not None and cold_of(found.temperature) is Cold.FROZEN else None

"""How long a recipe takes: by itself, and with all its components made from scratch.

A step lasts its hands-on person-minutes ÷ people, then what it takes unattended, at the long end, then its wait, at
the short one (a wait is a window that the planner may stretch). `work` counts per making and `each` per piece;
`takes` once per turn; `repeat` does the whole step again. A `load` is what goes into one machine at once: loads go side
by side into as many machines as the house has, and turns are what follows one after the other. A step follows the one
before it unless it says `after` what. A component is ready before the step that uses it begins (`uses`, else the
first step); each is made once, at its tested batch. Co-products are left over from other days, and seed is always
there: nobody waits for either.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from bookmaker.kitchen.batches import machines_for, step_masses, turns_of
from bookmaker.kitchen.chain import Activity, Schedule, schedule
from bookmaker.kitchen.figures import Lack, LackKind, MassFlow, TimeFigure
from bookmaker.kitchen.lacking import Lacks, gathered, passed_up
from bookmaker.kitchen.parts import count_of, is_seed
from bookmaker.kitchen.step_times import ChainLink, StepTime, Stretch, TimeKind
from bookmaker.kitchen.uses import step_that_uses
from bookmaker.measures.exact import ZERO, total
from bookmaker.model.book import Book
from bookmaker.model.house import House
from bookmaker.model.method import Load, Step
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef


@dataclass(frozen=True, slots=True)
class _Timed:
    """One step's minutes, repeats and loads counted in: person-minutes, and elapsed work, takes and wait."""

    step: Step
    hands_on: Decimal
    loads: int
    turns: int
    work: Decimal
    takes: Decimal
    takes_least: Decimal
    wait: Decimal
    wait_most: Decimal | None
    lacks: Lacks

    @property
    def elapsed(self) -> Decimal:
        """As planned: work, the long end of what it takes, the short end of the wait."""
        return self.work + self.takes + self.wait

    @property
    def longest(self) -> Decimal | None:
        """With the wait stretched to its end; None where the window is open."""
        return None if self.wait_most is None else self.work + self.takes + self.wait_most


def time_of(recipe: Recipe, flow: MassFlow, book: Book, times: Mapping[RecipeRef, TimeFigure]) -> TimeFigure:
    """The times of one batch; `times` holds those of the recipes that stand before it."""
    in_bowl = step_masses(recipe, flow)
    timed = tuple(
        _timed(step, recipe, flow, grams, book.house) for step, grams in zip(recipe.method.steps, in_bowl, strict=True)
    )
    own = schedule(_activities(timed, {}))
    components = _components(recipe, book)
    ready = {number: max(times[ref].whole_total for ref in refs) for number, refs in _needed(recipe, book).items()}
    whole = schedule(_activities(timed, ready))
    made = _made(components, book)
    lacks = gathered(
        *(each.lacks for each in timed),
        () if timed else (Lack(LackKind.TIME, f"method of {recipe.title}"),),
        *(passed_up(times[ref].lacks, ref) for ref in components),
    )
    hands_on = total(each.hands_on for each in timed)
    return TimeFigure(
        steps=tuple(_step_time(each, own) for each in timed),
        stretches=tuple(stretch for each in timed for stretch in _stretches(each, own.slots[each.step.number].start)),
        total=own.end,
        hands_on=hands_on,
        waiting=total(each.takes + each.wait for each in timed),
        whole_total=max([whole.end, *(times[ref].whole_total for ref in components)]),
        whole_hands_on=hands_on + total(times[ref].hands_on for ref in made),
        chain=_chain(recipe, book, whole, ready, times),
        lacks=lacks,
    )


# --- one step -------------------------------------------------------------------------------------------------------


def _timed(step: Step, recipe: Recipe, flow: MassFlow, in_bowl: Decimal, house: House) -> _Timed:
    lacks: list[Lack] = []
    name = f"step {step.number} of {recipe.title}"
    each = ZERO
    if step.each is not None:
        count = count_of(step.each.per, recipe, flow)
        if count is None:
            lacks.append(Lack(LackKind.TIME, f"{name}: how many {step.each.per}"))
        each = step.each.minutes * (count or ZERO)
    hands_on = ((step.work or ZERO) + each) * step.repeat
    loads = _loads(step.load, recipe, flow, in_bowl)
    if loads is None and step.takes is not None and step.load is not None:
        lacks.append(Lack(LackKind.TIME, f"{name}: how many {step.load.word or 'grams'}"))
    turns = turns_of(loads or 1, machines_for(step, house))
    times = Decimal(turns * step.repeat)
    if not (step.work or step.each or step.takes or step.wait):
        lacks.append(Lack(LackKind.TIME, name))
    wait_most = ZERO if step.wait is None else step.wait.most
    return _Timed(
        step=step,
        hands_on=hands_on,
        loads=loads or 1,
        turns=turns,
        work=hands_on / step.needs,
        takes=ZERO if step.takes is None else step.takes.long_end * times,
        takes_least=ZERO if step.takes is None else step.takes.least * times,
        wait=ZERO if step.wait is None else step.wait.least * step.repeat,
        wait_most=None if wait_most is None else wait_most * step.repeat,
        lacks=tuple(lacks),
    )


def _loads(load: Load | None, recipe: Recipe, flow: MassFlow, in_bowl: Decimal) -> int | None:
    """How many loads there are: full ones and the rest; None where nothing says how much there is."""
    if load is None:
        return 1
    whole = count_of(load.word, recipe, flow) if load.word else in_bowl
    if not whole:
        return None
    return int((whole / load.amount).to_integral_value(ROUND_CEILING))


def _step_time(timed: _Timed, own: Schedule[int]) -> StepTime:
    slot = own.slots[timed.step.number]
    return StepTime(
        step=timed.step.number,
        hands_on=timed.hands_on,
        elapsed=timed.elapsed,
        start=slot.start,
        slack=slot.slack,
        loads=timed.loads,
        turns=timed.turns,
        shortest=timed.work + timed.takes_least + timed.wait,
        longest=timed.longest,
    )


def _stretches(timed: _Timed, start: Decimal) -> Iterable[Stretch]:
    """The step on the time ribbon: work, takes and wait, as often as it is repeated."""
    repeat = timed.step.repeat
    parts = ((TimeKind.WORK, timed.work), (TimeKind.TAKES, timed.takes), (TimeKind.WAIT, timed.wait))
    for _ in range(repeat):
        for kind, minutes in parts:
            if minutes:
                yield Stretch(timed.step.number, kind, start, start + minutes / repeat)
                start += minutes / repeat


# --- steps and components in order ----------------------------------------------------------------------------------


def _activities(timed: Iterable[_Timed], ready: Mapping[int, Decimal]) -> Iterable[Activity[int]]:
    before: tuple[int, ...] = ()
    for each in timed:
        number = each.step.number
        yield Activity(number, each.elapsed, each.step.after or before, ready.get(number, ZERO))
        before = (number,)


def _components(recipe: Recipe, book: Book) -> tuple[RecipeRef, ...]:
    """The recipes that are made for this one, in the order of its lines."""
    lines = (line for line in recipe.lines if not is_seed(line, recipe, book))
    return tuple(dict.fromkeys(book.sized(line.target) for line in lines if isinstance(line.target, RecipeRef)))


def _needed(recipe: Recipe, book: Book) -> dict[int, list[RecipeRef]]:
    """Which components the steps wait for."""
    needed: dict[int, list[RecipeRef]] = {}
    for line in recipe.lines:
        if isinstance(line.target, RecipeRef) and not is_seed(line, recipe, book):
            step = step_that_uses(line, recipe, book)
            if step is not None:
                needed.setdefault(step.number, []).append(book.sized(line.target))
    return needed


def _made(components: Iterable[RecipeRef], book: Book) -> tuple[RecipeRef, ...]:
    """Everything that is made for these components and themselves, each once."""
    made: dict[RecipeRef, None] = {}
    open_ = list(components)
    while open_:
        ref = open_.pop()
        if ref not in made:
            made[ref] = None
            open_ += _components(book.recipes[ref], book)
    return tuple(sorted(made))


def _chain(
    recipe: Recipe,
    book: Book,
    whole: Schedule[int],
    ready: Mapping[int, Decimal],
    times: Mapping[RecipeRef, TimeFigure],
) -> tuple[ChainLink, ...]:
    """The longest chain through all recipes: own steps back to the one that waited for a component, then that one's
    chain.
    """
    first = whole.chain[0] if whole.chain else None
    links = tuple(
        ChainLink(recipe.ref, number, whole.slots[number].start, whole.slots[number].end) for number in whole.chain
    )
    if first is None:
        longest = max(_components(recipe, book), key=lambda ref: times[ref].whole_total, default=None)
        return times[longest].chain if longest else ()
    waited = ready.get(first)
    if not waited or whole.slots[first].start != waited:
        return links
    slowest = max(_needed(recipe, book)[first], key=lambda ref: times[ref].whole_total)
    return (*times[slowest].chain, *links)

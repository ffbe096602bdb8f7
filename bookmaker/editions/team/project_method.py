"""The method: steps with their times and limits, the notes beside them, the cautions, and the time drawn to scale."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from bookmaker.editions.team.places import Places
from bookmaker.editions.team.project_prose import passages, run
from bookmaker.editions.team.rounding import lacking, mass, minutes, trimmed
from bookmaker.editions.team.views import Amount, Time
from bookmaker.editions.team.views_recipe import (
    CautionView,
    ChainView,
    MethodView,
    NoteView,
    SettingView,
    StepsView,
    StepView,
    StretchView,
    TimeView,
)
from bookmaker.kitchen.figures import TimeFigure
from bookmaker.kitchen.step_times import StepTime, Stretch
from bookmaker.measures.counts import singular
from bookmaker.measures.durations import Span
from bookmaker.measures.temperatures import find_readings
from bookmaker.model.book import Book, Caution
from bookmaker.model.method import Load, Note, NoteKind, Reading, Step
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import StoresRef, Target

_SAME_READING = Decimal("0.6")
"""Two readings this near in °C are one that was written on both scales, in whole degrees."""


def method(recipe: Recipe, time: TimeFigure, word: str, book: Book, places: Places) -> MethodView:
    """Introduction, and runs of steps with the notes that follow each. `word` is what the yield counts."""
    times = {step.step: step for step in time.steps}
    notes: dict[int, list[NoteView]] = {}
    for note in recipe.method.notes:
        notes.setdefault(note.after, []).append(_note(note, book, places))
    lines = {line.id: places.names[line.target] for line in recipe.lines}
    runs = tuple(
        StepsView(
            section.heading,
            tuple(
                replace(
                    _step(step, times.get(step.number), lines, book, places),
                    notes=tuple(notes.get(step.number, ())),
                    each_per=_each_per(step, word),
                )
                for step in section.steps
            ),
        )
        for section in recipe.method.sections
    )
    return MethodView(passages(recipe.method.introduction, places), tuple(notes.get(0, ())), runs)


def _step(step: Step, time: StepTime | None, lines: Mapping[str, str], book: Book, places: Places) -> StepView:
    fahrenheit = book.house.fahrenheit
    return StepView(
        number=step.number,
        text=run(step.text, places),
        name=step.name,
        work=minutes(step.work) if step.work is not None else None,
        each=minutes(step.each.minutes) if step.each else None,
        takes=span(step.takes),
        wait=span(step.wait),
        hold=span(step.hold.span) if step.hold else None,
        hold_at=trimmed(step.hold.at.celsius, 1) if step.hold and step.hold.at else None,
        at=setting(step.at, fahrenheit=fahrenheit),
        to=setting(step.to, fahrenheit=fahrenheit),
        on=step.on,
        load=load_size(step.load),
        load_word=step.load.word if step.load else "",
        loads=time.loads if time else 1,
        turns=time.turns if time else 1,
        needs=step.needs,
        repeat=step.repeat,
        uses=tuple(lines.get(use, use) for use in step.uses),
        after=step.after,
        limit=step.limit.text if step.limit else "",
        limit_also=readings_again(step.limit.text, fahrenheit=fahrenheit) if step.limit else (),
        if_missed=step.limit.if_missed if step.limit else "",
        missed_also=readings_again(step.limit.if_missed, fahrenheit=fahrenheit) if step.limit else (),
        ccp=step.limit.ccp if step.limit else "",
        kill=step.kill,
        hands_on=minutes(time.hands_on) if time and time.hands_on else None,
        cautions=tuple(_caution(name, book) for name in step.cautions),
    )


def _each_per(step: Step, word: str) -> str:
    if step.each is None:
        return ""
    return singular(word) if step.each.per == "piece" and word else step.each.per


def span(written: Span | None) -> Time | None:
    """A span as it is shown."""
    if written is None:
        return None
    most = None if written.most is None else minutes(written.most).value
    return Time(minutes(written.least).value, most)


def setting(reading: Reading | None, *, fahrenheit: bool) -> SettingView | None:
    """A setting as written; its readings again where the cook wrote them on the scale that is not the house's."""
    if reading is None:
        return None
    return SettingView(reading.text, readings_again(reading.text, fahrenheit=fahrenheit))


def readings_again(text: str, *, fahrenheit: bool) -> tuple[Amount, ...]:
    """The readings in `text` that are on the other scale than the house's, to be shown on its own; none that the cook
    wrote on both.
    """
    found = list(find_readings(text))
    own = [each.temperature.celsius for each in found if each.fahrenheit is fahrenheit]
    foreign = (each.temperature.celsius for each in found if each.fahrenheit is not fahrenheit)
    said = (value for value in foreign if not any(abs(value - known) <= _SAME_READING for known in own))
    places = 1 if fahrenheit else 0  # a whole degree is what a thermometer in the house's own scale shows
    return tuple(Amount(trimmed(value, places), "°C") for value in said)


def load_size(load: Load | None) -> Amount | None:
    """How much goes in at once: a count, or a mass."""
    if load is None:
        return None
    return Amount(trimmed(load.amount, 2)) if load.word else mass(load.amount)


def _note(note: Note, book: Book, places: Places) -> NoteView:
    caution = _caution(note.name, book) if note.kind is NoteKind.CAUTION and note.name else None
    return NoteView(note.kind.value, passages(note.content, places), caution)


def _caution(name: str, book: Book) -> CautionView:
    return caution_view(book.cautions[name])


def caution_view(caution: Caution, because: Iterable[Target] = (), places: Places | None = None) -> CautionView:
    """A hazard in its own words; `because` are the stores items that bring it along."""
    links = tuple(places.link(target) for target in because) if places else ()
    return CautionView(caution.name, caution.hazard, caution.do, caution.first_aid, links)


def cautions(recipe: Recipe, book: Book, places: Places) -> tuple[CautionView, ...]:
    """Every hazard of the recipe: its own, its steps' and notes', and those that its stores items bring along."""
    method_ = recipe.method
    named = [
        *recipe.cautions,
        *(name for step in method_.steps for name in step.cautions),
        *(note.name for note in method_.notes if note.kind is NoteKind.CAUTION and note.name),
    ]
    brought: dict[str, list[StoresRef]] = {}
    for line in recipe.lines:
        if isinstance(line.target, StoresRef):
            for name in book.stores[line.target.id].cautions:
                brought.setdefault(name, []).append(line.target)
    return tuple(
        caution_view(book.cautions[name], () if name in named else dict.fromkeys(brought[name]), places)
        for name in dict.fromkeys([*named, *brought])
    )


def time_view(time: TimeFigure, places: Places) -> TimeView:
    """The recipe's own time to scale, and the critical chain where components are on it."""
    chain = tuple(
        ChainView(places.link(link.recipe), link.step, minutes(link.start).value, minutes(link.end).value)
        for link in time.chain
    )
    return TimeView(
        stretches=tuple(
            StretchView(stretch.step, stretch.kind.value, _half(stretch.start), _half(stretch.end))
            for stretch in _in_time(time)
        ),
        total=minutes(time.total),
        hands_on=minutes(time.hands_on),
        waiting=minutes(time.waiting),
        whole_total=minutes(time.whole_total),
        whole_hands_on=minutes(time.whole_hands_on),
        chain=chain if len({link.recipe for link in time.chain}) > 1 else (),
        lacks=lacking(time.lacks, places),
    )


def _in_time(time: TimeFigure) -> Sequence[Stretch]:
    return sorted(time.stretches, key=lambda stretch: (stretch.start, stretch.step, stretch.end))


def _half(value: Decimal) -> Decimal:
    """To the half minute: what a drawing can show."""
    return trimmed(value * 2, 0) / 2

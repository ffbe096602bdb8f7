"""A card's method: steps with what they are set to, limits, look-for points, and the hazards."""

from collections.abc import Mapping

from bookmaker.editions.cards.views import (
    CardCaution,
    CardLimit,
    CardSetting,
    CardStep,
    CardSteps,
    FirstAid,
    MouldMaterial,
)
from bookmaker.editions.team.places import Places
from bookmaker.editions.team.project_method import cautions as team_cautions
from bookmaker.editions.team.project_method import load_size, readings_again, setting, span
from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.team.views_recipe import SettingView
from bookmaker.kitchen.figures import TimeFigure
from bookmaker.model.book import Book
from bookmaker.model.method import Limit, NoteKind, Step
from bookmaker.model.prose import plain
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import StoresRef


def card_steps(recipe: Recipe, time: TimeFigure, book: Book) -> tuple[CardSteps, ...]:
    """All steps, each with the look-for points that were written right after it. The last ones are the recipe's."""
    loads = {each.step: each.loads for each in time.steps}
    last = recipe.method.steps[-1].number if recipe.method.steps else 0
    seen: dict[int, list[str]] = {}
    for note in recipe.method.notes:
        if note.kind is NoteKind.LOOK_FOR and note.after != last:
            seen.setdefault(note.after, []).append(plain(note.content))
    return tuple(
        CardSteps(section.heading, tuple(_step(step, loads, seen, book) for step in section.steps))
        for section in recipe.method.sections
    )


def _step(step: Step, loads: Mapping[int, int], seen: Mapping[int, list[str]], book: Book) -> CardStep:
    fahrenheit = book.house.fahrenheit
    return CardStep(
        number=step.number,
        text=plain(step.text),
        at=_setting(setting(step.at, fahrenheit=fahrenheit)),
        to=_setting(setting(step.to, fahrenheit=fahrenheit)),
        takes=span(step.takes),
        wait=span(step.wait),
        hold=span(step.hold.span) if step.hold else None,
        hold_at=trimmed(step.hold.at.celsius, 1) if step.hold and step.hold.at else None,
        on=step.on,
        load=load_size(step.load),
        load_word=step.load.word if step.load else "",
        loads=loads.get(step.number, 1),
        needs=step.needs,
        repeat=step.repeat,
        after=step.after,
        kill=step.kill,
        limit=_limit(step.limit, fahrenheit=fahrenheit) if step.limit else None,
        cautions=step.cautions,
        look_for=tuple(seen.get(step.number, ())),
    )


def _setting(shown: SettingView | None) -> CardSetting | None:
    return CardSetting(shown.text, shown.also) if shown else None


def _limit(limit: Limit, *, fahrenheit: bool) -> CardLimit:
    return CardLimit(
        text=limit.text,
        also=readings_again(limit.text, fahrenheit=fahrenheit),
        if_missed=limit.if_missed,
        ccp=limit.ccp,
        missed_also=readings_again(limit.if_missed, fahrenheit=fahrenheit),
    )


def look_for(recipe: Recipe) -> tuple[str, ...]:
    """Look-for points of the whole recipe: those before the first step, and those behind the last."""
    steps = recipe.method.steps
    around = {0, steps[-1].number if steps else 0}
    return tuple(
        plain(note.content) for note in recipe.method.notes if note.kind is NoteKind.LOOK_FOR and note.after in around
    )


def cautions(recipe: Recipe, book: Book, places: Places) -> tuple[CardCaution, ...]:
    """Every hazard of the recipe, with what the recipe itself says of it; then what it says of none by name.

    How it can hurt is told in the book: a card says what to do.
    """
    said: dict[str, list[str]] = {}
    for note in recipe.method.notes:
        if note.kind is NoteKind.CAUTION and note.content:
            said.setdefault(note.name, []).append(plain(note.content))
    named = tuple(
        CardCaution(found.name, found.do, tuple(said.pop(found.name, ())))
        for found in team_cautions(recipe, book, places)
    )
    return (*named, *(CardCaution("", "", tuple(words)) for words in said.values()))


def first_aid(recipe: Recipe, book: Book, places: Places) -> tuple[FirstAid, ...]:
    """What helps, said once for all hazards that it helps with."""
    by_words: dict[str, list[str]] = {}
    for found in team_cautions(recipe, book, places):
        if found.first_aid:
            by_words.setdefault(found.first_aid, []).append(found.name)
    return tuple(FirstAid(tuple(names), words) for words, names in by_words.items())


def mould_materials(recipe: Recipe, book: Book) -> tuple[MouldMaterial, ...]:
    """What a mould is made with, and what is known of it."""
    items = dict.fromkeys(line.target for line in recipe.lines if isinstance(line.target, StoresRef))
    found = (book.stores[item.id] for item in items)
    return tuple(MouldMaterial(item.id, item.supplier_sheet, item.food_contact) for item in found)

"""Lists that the format reference takes from the tables that the readers themselves use."""

from collections.abc import Callable, Iterable
from dataclasses import fields
from decimal import Decimal
from functools import partial

from bookmaker.guide import examples
from bookmaker.guide.examples import Example
from bookmaker.guide.keys import DOCUMENTS, keys
from bookmaker.guide.markdown import listed, literal, table
from bookmaker.measures.counts import COUNT_WORDS, VESSEL_WORDS, counted
from bookmaker.measures.durations import SPELLINGS, minutes
from bookmaker.measures.units import UNITS, Dimension, Spoons, factor
from bookmaker.model.allergens import CEREALS, NUTS, OTHERS
from bookmaker.model.house import EQUIPMENT_KINDS
from bookmaker.model.line import LOSSES, LossKind
from bookmaker.model.method import NoteKind
from bookmaker.model.recipe import Kind, Status
from bookmaker.model.teaching import EXERCISES, TOPICS
from bookmaker.model.written.register import WrittenIssue
from bookmaker.problems.anchors import NOWHERE
from bookmaker.reading.built_in_cautions import BUILT_IN
from bookmaker.reading.files import LARGEST
from bookmaker.reading.keeping import STATES
from bookmaker.reading.lines import LARGEST_COUNT
from bookmaker.reading.method import read_step_overrides
from bookmaker.reading.shape import key_for
from bookmaker.reading.steps import ATTRIBUTES
from bookmaker.reading.stores import DIETS
from bookmaker.reading.stores import STATES as STORES_STATES
from bookmaker.reading.texts import Texts
from bookmaker.reading.walk import CAUTIONS, GLOSSARY, HOUSE, IMAGES, ISSUED, ORDERS, PRICES, STORES

_BASE = {Dimension.MASS: "g", Dimension.VOLUME: "ml", Dimension.LENGTH: "mm", Dimension.SHARE: ""}

_KINDS = {
    Kind.PRODUCT: "is sold or served",
    Kind.COMPONENT: "goes into other recipes",
    Kind.PREFERMENT: "a component whose flour and water are counted in the total formula; may hold its own seed",
    Kind.SOAKER: "the same, unfermented",
    Kind.MOULDING: "no food: never on a label, never in a food's formula",
}

_STATUSES = {
    Status.DRAFT: "being written: nothing is asked of it",
    Status.TRIAL: "being tested at the bench",
    Status.APPROVED: "the house's recipe: needs a `code`, and only such products go out to clients",
    Status.RETIRED: "no longer made: it keeps a page, outside the indexes",
}

_BLOCKS = {
    NoteKind.CAUTION: "a hazard, by its name; what stands in the block is added to the caution's own text",
    NoteKind.WHY: "why it is done so",
    NoteKind.LOOK_FOR: "what it should look, feel or smell like",
    NoteKind.FIX: "what to do when it went wrong",
    NoteKind.NOTE: "anything else",
    NoteKind.PRIVATE: "for the team alone: never leaves the team book",
}


_FOLDER = {
    HOUSE: "the house: money, people, equipment, moulds; a book has one",
    CAUTIONS: "the house's own hazards",
    GLOSSARY: "words that the book explains",
    ISSUED: "what was handed out; only the tool writes it",
    f"{STORES}/*.yaml": "what is bought: ingredients, packaging, moulding materials",
    PRICES: "what it costs, with dates",
    f"{ORDERS}/*.yaml": "kept for order sheets; nothing reads them yet",
    f"{IMAGES}/": "pictures",
    "breads/harbour-sourdough.md": "a recipe: any other folder, any name that ends in .md",
}


def _folder() -> str:
    return "\n".join(["recipes/", *(f"  {name:<29} {what}" for name, what in _FOLDER.items())])


def _examples(shown: Iterable[Example]) -> str:
    return table(("you write", "it means"), ((literal(each.text), each.meaning) for each in shown))


def _units() -> str:
    spelt: dict[str, list[str]] = {}
    for spelling, unit in UNITS.items():
        spelt.setdefault(unit.symbol, []).append(spelling)
    rows = []
    for symbol, spellings in spelt.items():
        unit = UNITS[spellings[0]]
        others = listed(each for each in spellings if each != symbol)
        rows.append((str(unit.dimension), literal(symbol), others, _is(symbol) + " (US measures only)" * unit.us_only))
    return table(("measures", "unit", "also written", "is"), sorted(rows, key=lambda row: _order(row[0])))


def _order(dimension: str) -> int:
    return [str(each) for each in Dimension].index(dimension)


def _is(symbol: str) -> str:
    dimension = UNITS[symbol].dimension
    if dimension is Dimension.SHARE:
        return "a hundredth"
    metric, us = (f"{_plain(factor(symbol, spoons))} {_BASE[dimension]}" for spoons in (Spoons.METRIC, Spoons.US))
    return metric if metric == us else f"{metric} (US spoons: {us})"


def _plain(value: Decimal) -> str:
    return f"{value:f}".rstrip("0").rstrip(".") if value % 1 else f"{value:f}"


def _times() -> str:
    spelt: dict[str, list[str]] = {}
    for spelling, unit in SPELLINGS.items():
        spelt.setdefault(unit, []).append(spelling)
    rows = (
        (literal(unit), listed(each for each in others if each != unit), _lasts(unit)) for unit, others in spelt.items()
    )
    return table(("unit", "also written", "is"), rows)


def _lasts(unit: str) -> str:
    found = minutes(f"1 {unit}")
    if found < 1:
        return "a sixtieth of a minute"
    if found < minutes("1 day"):
        return f"{_plain(found)} min"
    return f"{_plain(found / minutes('1 h'))} h"


def _losses(kind: LossKind) -> str:
    return listed(name for name, each in LOSSES.items() if each is kind)


def _count_words() -> str:
    ones = dict.fromkeys(COUNT_WORDS.values())
    spelt = {one: [many for many in COUNT_WORDS if COUNT_WORDS[many] == one] for one in ones}
    usual = listed(str(counted(one, 2)) for one in spelt)
    others = [word for one, words in spelt.items() for word in words if word not in (one, counted(one, 2))]
    return f"{usual}, each also in the singular; {listed(others)} are understood"


def _attributes() -> str:
    rows = (
        (literal(name), each.doc, literal(f'{name}="{each.example}"'), "yes" if _a_size_may(name) else "")
        for name, each in ATTRIBUTES.items()
    )
    return table(("key", "what it says", "for example", "a size may change it"), rows)


def _a_size_may(name: str) -> bool:
    texts = Texts("")
    return bool(read_step_overrides({name: ATTRIBUTES[name].example}, texts, NOWHERE)) and not texts.problems


def _register() -> str:
    rows = (
        (literal(key_for(each.name)), each.metadata["doc"], literal(each.metadata["example"]))
        for each in fields(WrittenIssue)
    )
    return table(("column", "what it says", "for example"), rows)


def _blocks() -> str:
    opens = {kind: f"::: {kind}" + " NAME" * (kind is NoteKind.CAUTION) for kind in NoteKind}
    return table(("block", "what it is for"), ((literal(opens[kind]), _BLOCKS[kind]) for kind in NoteKind))


def _cautions() -> str:
    return table(("name", "hazard"), ((literal(each.name), each.hazard) for each in BUILT_IN))


FILLINGS: dict[str, Callable[[], str]] = {
    **{f"keys {name}": partial(keys, written) for name, written in DOCUMENTS.items()},
    "folder": _folder,
    "lines": lambda: _examples(examples.LINES),
    "yields": lambda: _examples(examples.YIELDS),
    "cuts": lambda: _examples(examples.CUTS),
    "end points": lambda: _examples(examples.END_POINTS),
    "layers": lambda: _examples(examples.LAYERS),
    "packaging": lambda: _examples(examples.PACKAGING),
    "prices": lambda: _examples(examples.PRICES),
    "portions": lambda: _examples(examples.PORTIONS),
    "keeping": lambda: _examples(examples.KEEPING),
    "durations": lambda: _examples(examples.DURATIONS),
    "readings": lambda: _examples(examples.READINGS),
    "packs": lambda: _examples(examples.PACKS),
    "parts": lambda: _examples(examples.MADE_OF),
    "holds": lambda: _examples(examples.HOLDS),
    "units": _units,
    "times": _times,
    "kinds": lambda: table(("kind", "what it is"), ((literal(kind), _KINDS[kind]) for kind in Kind)),
    "statuses": lambda: table(("status", "what it is"), ((literal(each), _STATUSES[each]) for each in Status)),
    "moisture": lambda: _losses(LossKind.MOISTURE),
    "waste": lambda: _losses(LossKind.WASTE),
    "count words": _count_words,
    "vessels": lambda: listed(dict.fromkeys(VESSEL_WORDS.values())),
    "attributes": _attributes,
    "blocks": _blocks,
    "register": _register,
    "states": lambda: listed(STATES),
    "stores states": lambda: listed(STORES_STATES),
    "cereals": lambda: listed(CEREALS),
    "nuts": lambda: listed(NUTS),
    "other allergens": lambda: listed(OTHERS),
    "diets": lambda: listed(DIETS),
    "equipment kinds": lambda: listed(EQUIPMENT_KINDS),
    "exercises": lambda: table(
        ("exercise", "what it asks", "from level"),
        ((literal(kind.name), kind.asks, str(kind.step)) for kind in EXERCISES.values()),
    ),
    "topics": lambda: listed(TOPICS),
    "built-in cautions": _cautions,
    "most pieces": lambda: f"{_plain(LARGEST_COUNT / 1_000_000)} million",
    "largest file": lambda: f"{LARGEST // 1_000_000} MB",
}
"""What may stand between double braces in `format.in.md`."""

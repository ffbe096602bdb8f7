"""How much to make, as a cook says it: `130 pieces`, `12 kg`, `3 batches`, `4 moulds`, `use up 2.5 kg butter`."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches

from bookmaker.kitchen.parts import components_of
from bookmaker.measures.amounts import TakenAmount, skip_space, take_amount
from bookmaker.measures.counts import COUNT_WORDS, VESSEL_WORDS, singular
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.units import Dimension
from bookmaker.model.book import Book
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef, StoresRef, Target
from bookmaker.model.yields import FrameYield, MouldYield, PieceYield, SheetYield, TinYield, TrayYield


@dataclass(frozen=True, slots=True)
class PieceTarget:
    """A number of the recipe's own pieces."""

    count: Decimal


@dataclass(frozen=True, slots=True)
class MassTarget:
    """Usable grams."""

    grams: Decimal


@dataclass(frozen=True, slots=True)
class BatchTarget:
    """A number of tested batches: taken as it stands, not rounded to what is convenient."""

    count: Decimal


@dataclass(frozen=True, slots=True)
class VesselTarget:
    """A number of moulds, tins, trays, sheets or frames; `word` in the singular."""

    count: Decimal
    word: str


@dataclass(frozen=True, slots=True)
class Stock:
    """Grams (as bought) of an item, or of another recipe's product, that are there to be used."""

    grams: Decimal
    of: Target


@dataclass(frozen=True, slots=True)
class UseUpTarget:
    """As much as the stock allows; the first to run out limits it."""

    stock: tuple[Stock, ...]


ScaleTarget = PieceTarget | MassTarget | BatchTarget | VesselTarget | UseUpTarget

_USE_UP = re.compile(r"\s*use\s+up\s+", re.IGNORECASE)
_VESSELS = {
    MouldYield: "mould",
    TinYield: "tin",
    TrayYield: "tray",
    SheetYield: "sheet",
    FrameYield: "frame",
}


def parse_target(text: str, book: Book, recipe: Recipe) -> ScaleTarget:
    """Read how much of `recipe` to make. A bare number is pieces. Several things to use up are separated by commas.

    Raises `Unreadable` for anything else, for pieces of what is made by weight, for a count word or a vessel that the
    recipe does not know, and for something to use up that it does not use.
    """
    if begun := _USE_UP.match(text):
        parts = text[begun.end() :].split(",")
        return UseUpTarget(tuple(_stock(part.strip(), book, recipe) for part in parts))
    taken = take_amount(text, skip_space(text, 0))
    if taken is None:
        raise _unreadable(text, recipe)
    word = text[taken.end :].strip().lower()
    if taken.amount.dimension is Dimension.MASS and not word:
        return MassTarget(taken.amount.in_base())
    if taken.amount.dimension is not Dimension.COUNT:
        raise _unreadable(text, recipe)
    return _counted(text, taken, word, recipe)


def _counted(text: str, taken: TakenAmount, word: str, recipe: Recipe) -> ScaleTarget:
    count, one = taken.amount.number, singular(word)
    if word in {"batch", "batches"}:
        return BatchTarget(count)
    if one in VESSEL_WORDS or one == "mould":
        if one != _VESSELS.get(type(recipe.yields)) and not (one == "tray" and recipe.tray):
            raise Unreadable(
                f"{recipe.title} is not made in {word}", start=taken.end, end=len(text), hint=_hint(recipe)
            )
        return VesselTarget(count, one)
    own = pieces_word(recipe)
    if own is None:
        raise Unreadable(f"{recipe.title} is not made in pieces", end=len(text), hint=_hint(recipe))
    if not word or one in {"piece", singular(own)}:
        return PieceTarget(count)
    if word in COUNT_WORDS:
        raise Unreadable(
            f"{recipe.title} comes in {own}", start=taken.end, end=len(text), hint=f"write {count:f} {own}"
        )
    raise _unreadable(text, recipe)


def pieces_word(recipe: Recipe) -> str | None:
    """What the recipe calls its pieces; None where it is made by weight or in uncut sheets."""
    match recipe.yields:
        case PieceYield(word=word):
            return word
        case MouldYield() | TinYield():
            return "pieces"
        case TrayYield() if recipe.tray:
            return "pieces"
        case SheetYield() | FrameYield() if recipe.cut:
            return recipe.cut.word
        case _:
            return None


def _hint(recipe: Recipe) -> str:
    """What may be said instead."""
    vessel = _VESSELS.get(type(recipe.yields), "tray" if recipe.tray else "")
    ways = [f"130 {word}" for word in (pieces_word(recipe),) if word] + [f"2 {vessel}s"] * bool(vessel)
    return "write " + ", ".join([*ways, "12 kg", "3 batches"]) + " or use up 2.5 kg of something"


def _unreadable(text: str, recipe: Recipe) -> Unreadable:
    return Unreadable(f"'{text.strip()}' does not say how much to make", end=len(text), hint=_hint(recipe))


def _stock(text: str, book: Book, recipe: Recipe) -> Stock:
    taken = take_amount(text)
    if taken is None or taken.amount.dimension is not Dimension.MASS:
        raise Unreadable(f"'{text}' is no weight of something", end=len(text), hint="write use up 2.5 kg butter")
    wanted = _plain(text[taken.end :])
    known = {_plain(name): target for target in drawn_on(recipe, book) for name in _names(target, book)}
    if wanted in known:
        return Stock(taken.amount.in_base(), known[wanted])
    near = get_close_matches(wanted, known, 1)
    raise Unreadable(
        f"{recipe.title} uses no '{text[taken.end :].strip()}'",
        start=taken.end,
        end=len(text),
        hint=f"did you mean {near[0]}?" if near else "",
    )


def drawn_on(recipe: Recipe, book: Book) -> Iterator[Target]:
    """Everything that goes into a recipe, through all its components, each once; its own lines first."""
    seen: set[Target] = {recipe.ref}
    queue = [recipe]
    while queue:
        one = queue.pop(0)
        for line in one.lines:
            target = book.sized(line.target) if isinstance(line.target, RecipeRef) else line.target
            if target not in seen:
                seen.add(target)
                yield target
        queue += [book.recipes[part] for part in components_of(one, book)]


def _names(target: Target, book: Book) -> tuple[str, ...]:
    if isinstance(target, StoresRef):
        return target.id, *book.stores[target.id].aka
    if isinstance(target, RecipeRef):
        return book.name(target), *book.recipe(target).aka
    return (target.name,)


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()

"""Two declarations as plain text held against each other: which ingredients came, went, moved, or changed."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

_OPENS, _CLOSES = "([{", ")]}"
_QUANTITY = re.compile(r"(?:^|\s)(?P<quantity>\d[\d .,]*(?:%|g per 100\s?g))$")


@dataclass(frozen=True, slots=True)
class Entry:
    """One ingredient of a list: its name and its quantity as printed, and its own list where it has one."""

    name: str
    quantity: str = ""
    parts: tuple["Entry", ...] = ()

    @property
    def key(self) -> str:
        """What it is known by: capitals only tell that it is an allergen."""
        return self.name.casefold()


@dataclass(frozen=True, slots=True)
class Difference:
    """One change, as the end of a sentence.

    `name` is the ingredient that stands for it in the new list, if any; `gone` is what stands there no more.
    """

    said: str
    name: str = ""
    gone: str = ""


def entries_of(declaration: str) -> tuple[Entry, ...]:
    """The ingredients of a list: what stands between commas, those within brackets being parts."""
    return tuple(_entry(text) for text in _split(declaration.strip().removesuffix(".")) if text)


def _split(text: str) -> Iterator[str]:
    depth, begin = 0, 0
    for at, letter in enumerate(text):
        if letter in _OPENS:
            depth += 1
        elif letter in _CLOSES:
            depth = max(0, depth - 1)
        elif letter in ",;" and not depth and not text[at - 1 : at + 2].replace(letter, "").isdigit():
            yield text[begin:at].strip()
            begin = at + 1
    yield text[begin:].strip()


def _entry(text: str) -> Entry:
    """A name, then its quantity and what stands in brackets, in any order and number.

    `dark chocolate (HAZELNUTS) 12 % (cocoa mass, sugar)`, `dark chocolate (cocoa mass, sugar) 12 %`, `apricots (12 %)`.
    """
    name = quantity = ""
    parts: tuple[Entry, ...] = ()
    for piece, is_inside in _pieces(text):
        found, rest = _without_quantity(piece)
        quantity = quantity or found
        if is_inside:
            parts += entries_of(rest) if rest else ()
        elif rest:
            name = f"{name} {rest}".strip()
    return Entry(name, quantity, parts)


def _pieces(text: str) -> Iterator[tuple[str, bool]]:
    """What stands outside of brackets, and what stands inside; a bracket that is not closed goes on to the end."""
    depth, begin = 0, 0
    for at, letter in enumerate(text):
        if letter in _OPENS:
            if depth == 0:
                yield text[begin:at].strip(), False
                begin = at + 1
            depth += 1
        elif letter in _CLOSES and depth:
            depth -= 1
            if depth == 0:
                yield text[begin:at].strip(), True
                begin = at + 1
    yield text[begin:].strip(), depth > 0


def _without_quantity(text: str) -> tuple[str, str]:
    found = _QUANTITY.search(text)
    if found is None:
        return "", text
    return " ".join(found["quantity"].split()), text[: found.start()].strip()


def differences(before: str, now: str) -> tuple[Difference, ...]:
    """What is different about the list `now`. Two texts that are not the same always differ in something."""
    if before == now:
        return ()
    found = tuple(_between(entries_of(before), entries_of(now), ""))
    return found or (Difference("it is worded otherwise"),)


def _between(before: Sequence[Entry], now: Sequence[Entry], within: str) -> Iterator[Difference]:
    was, new = {each.key: each for each in before}, {each.key: each for each in now}
    place = f" in {within}" if within else ""
    for key, entry in new.items():
        if key not in was:
            yield Difference(f"{entry.name} is new{place}", within or entry.name)
    for key, entry in was.items():
        if key not in new:
            yield Difference(f"{entry.name} is gone{place}", within, entry.name)
    for key in _moved([key for key in was if key in new], [key for key in new if key in was]):
        yield Difference(f"{new[key].name} stands in another place{place}", within or new[key].name)
    for key, entry in new.items():
        if key in was:
            yield from _of_one(was[key], entry, within)


def _of_one(was: Entry, entry: Entry, within: str) -> Iterator[Difference]:
    if was.quantity != entry.quantity:
        quantities = f"from {was.quantity or 'no quantity'} to {entry.quantity or 'none'}"
        yield Difference(f"{entry.name} goes {quantities}", within or entry.name)
    if was.parts != entry.parts:
        yield from _between(was.parts, entry.parts, within or entry.name)


def _moved(before: Sequence[str], now: Sequence[str]) -> Iterator[str]:
    """The fewest names whose moving makes one order of the other."""
    for change, _, _, begin, end in SequenceMatcher(None, before, now, autojunk=False).get_opcodes():
        if change in ("insert", "replace"):
            yield from now[begin:end]

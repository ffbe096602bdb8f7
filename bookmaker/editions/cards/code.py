"""A card's code: short, and another one as soon as anything printed on the card is another."""

from collections.abc import Iterator, Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from bookmaker.editions.cards.views import PARTS, CardView
from bookmaker.model.codes import content_code

_WHERE: Mapping[str, str] = {
    "formula": "weights",
    "components": "weights",
    "steps": "steps",
    "look_for": "steps",
    "allergens": "allergens",
    "cautions": "cautions",
    "first_aid": "cautions",
    "moulding": "cautions",
}
"""The part that each field of a card counts to; fields that are not named are the rest."""


def code_of(view: CardView) -> str:
    """The code of everything that is printed: 8 characters, base 32 without I, L, O and U."""
    return content_code(*_told(view).values())


def parts_of(view: CardView) -> Mapping[str, str]:
    """A digest for each of the parts that a cook would ask about."""
    told = _told(view)
    return {
        part: content_code(*(text for name, text in told.items() if _WHERE.get(name, "the rest") == part))
        for part in PARTS
    }


def changed_parts(before: Mapping[str, str], now: Mapping[str, str]) -> tuple[str, ...]:
    """The parts that are not what they were."""
    return tuple(part for part, digest in now.items() if before.get(part) != digest)


def _told(view: CardView) -> dict[str, str]:
    return {name: "\n".join(_lines(getattr(view, name))) for name in (each.name for each in fields(view))}


def _lines(value: Any, at: str = "") -> Iterator[str]:
    """All that a value says, each with its way there. What is at its default says nothing."""
    match value:
        case tuple():
            yield f"{at}#{len(value)}"
            for number, each in enumerate(value):
                yield from _lines(each, f"{at}/{number}")
        case _ if is_dataclass(value):
            for each in fields(value):
                found = getattr(value, each.name)
                if each.default is MISSING or found != each.default:
                    yield from _lines(found, f"{at}.{each.name}")
        case Decimal():
            # 2.50 is printed otherwise than 2.5
            yield f"{at}={value:f}"
        case None | bool() | int() | str() | date():
            yield f"{at}={value}"
        case _:
            raise TypeError(f"a card cannot show {value!r}")

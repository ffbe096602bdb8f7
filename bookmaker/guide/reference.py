"""The format reference: prose from `format.in.md`, with its lists filled in."""

import re
from importlib.resources import files

from bookmaker.guide.lists import FILLINGS

_PLACE = re.compile(r"\{\{(?P<name>[^{}]+)\}\}")


def format_reference() -> str:
    """The whole reference as Markdown. Raises `KeyError` for a place that nothing fills."""
    return _PLACE.sub(lambda place: FILLINGS[place["name"]](), source())


def source() -> str:
    """The prose, with the names of lists between double braces."""
    return (files("bookmaker.guide") / "format.in.md").read_text(encoding="utf-8")


def places() -> tuple[str, ...]:
    """The names between double braces, in order."""
    return tuple(_PLACE.findall(source()))

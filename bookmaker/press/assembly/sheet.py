"""The theme's style sheet for a piece that is laid out alone.

A piece does not know its page numbers nor on which side it will fall. So page numbers become slots, noughts between
two marks, and the page furniture of left and right pages is set on every page; merging fills the ones and picks
from the other. A theme whose pages need more than that is `Unfit`, and its book is laid out in one go.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import tinycss2

MARK = "\N{ZERO WIDTH NON-JOINER}"
"""Stands on both sides of a slot's noughts: prints nothing, and changes nothing in where lines may break."""

ROOM = "data-page"
"""The attribute of a link that holds as many noughts as the page it leads to has figures."""

PART = "data-part"
"""The attribute of a piece's body that holds the heading of the part it belongs to."""

FOLIO = "0000"
"""A folio has room for so many figures: it stands alone, so that merging can place it by those it has."""

_TARGET = re.compile(r"target-counter\(\s*attr\(\s*href(?:\s+url)?\s*\)\s*,\s*page\s*\)")
_FOLIO = re.compile(r"(?<![-\w])counter\(\s*page\s*\)")
_LEFT_OVER = re.compile(r"target-(?:counters?|text)\(|(?<![-\w])counters?\(\s*pages?\b|@page[^{]*:(?:first|nth)\b")
_SIDE = re.compile(r":(left|right)\b")


class Unfit(Exception):
    """Something that pieces laid out alone cannot honour; the message says what, for a person."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A style sheet for pieces, and the side that each one-sided margin box (`@top-left`) belongs to."""

    css: str
    sides: Mapping[str, str]


@lru_cache(maxsize=4)
def piece_sheet(styles: str) -> Sheet:
    """The sheet for pieces of a book that has these print styles. Raises `Unfit`."""
    rules = tinycss2.parse_stylesheet(styles, skip_comments=True, skip_whitespace=True)
    sides = _sides(rules)
    for rule in rules:
        if _is_page(rule):
            rule.prelude = tinycss2.parse_component_value_list(_SIDE.sub("", tinycss2.serialize(rule.prelude)))
    css = _TARGET.sub(lambda _: f'"\\200C " attr({ROOM}) "\\200C "', tinycss2.serialize(rules))
    css = _FOLIO.sub(lambda _: f'"\\200C {FOLIO}\\200C "', css)
    if found := _LEFT_OVER.search(css):
        raise Unfit(f"the theme's print style uses {found[0].strip('(')}")
    # A recipe does not hold its part's heading, which its running head may name
    return Sheet(css + f"\nbody[{PART}] {{ string-set: part attr({PART}) }}\n", sides)


def _sides(rules: list[Any]) -> dict[str, str]:
    """Which side each margin box belongs to that only left or only right pages have."""
    sides: dict[str, str] = {}
    for side, box in _sided(rules):
        if sides.setdefault(box, side) != side:
            raise Unfit(f"the theme's print style sets @{box} for left pages and for right ones")
    for rule in filter(_is_page, rules):
        if not _SIDE.search(tinycss2.serialize(rule.prelude)):
            for box in tinycss2.parse_blocks_contents(rule.content, skip_comments=True, skip_whitespace=True):
                if box.type == "at-rule" and box.at_keyword in sides and _prints(box):
                    raise Unfit(f"the theme's print style sets @{box.at_keyword} for one side and for both")
    return sides


def _sided(rules: list[Any]) -> Iterator[tuple[str, str]]:
    for rule in filter(_is_page, rules):
        for side in set(_SIDE.findall(tinycss2.serialize(rule.prelude))):
            for box in tinycss2.parse_blocks_contents(rule.content, skip_comments=True, skip_whitespace=True):
                if box.type != "at-rule":
                    raise Unfit(f"the theme's print style gives {side} pages a type area of their own")
                yield side, box.at_keyword


def _is_page(rule: Any) -> bool:
    return bool(rule.type == "at-rule" and rule.lower_at_keyword == "page")


def _prints(box: Any) -> bool:
    """Whether a margin box's rule gives it something to print."""
    declarations = tinycss2.parse_blocks_contents(box.content, skip_comments=True, skip_whitespace=True)
    contents = [
        tinycss2.serialize(each.value).strip() for each in declarations if getattr(each, "name", "") == "content"
    ]
    return bool(contents) and contents[-1] not in {"none", "normal"}

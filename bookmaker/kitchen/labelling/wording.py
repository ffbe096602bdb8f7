"""The words of an ingredient list: allergens set apart inside names, added behind those that do not say them.

The allergen words are English, as the lists of the laws are; a label in another language gets them in brackets.
"""

import re
from collections.abc import Iterable, Sequence
from functools import cache

from bookmaker.kitchen.label_figures import Phrase
from bookmaker.kitchen.law import in_order
from bookmaker.model.house import Additives, Region
from bookmaker.model.stores import Additive

Phrases = tuple[Phrase, ...]

_STEMS = {
    "wheat": "(?<!buck)wheat",
    "rye": "rye",
    "barley": "barley",
    "oats": "oats?|oatmeal",
    "crustaceans": "crustaceans?",
    "eggs": "eggs?",
    "fish": "fish",
    "peanuts": "peanuts?",
    "soybeans": "soya ?beans?|soy ?beans?|soya|soy",
    "milk": "milk",
    "almonds": "almonds?",
    "hazelnuts": "hazelnuts?",
    "walnuts": "walnuts?",
    "cashews": "cashew nuts?|cashews?",
    "pecans": "pecan nuts?|pecans?",
    "brazil nuts": "brazil nuts?",
    "pistachios": "pistachio nuts?|pistachios?",
    "macadamias": "macadamia nuts?|macadamias?|queensland nuts?",
    "pine nuts": "pine nuts?|pine kernels?",
    "celery": "celery|celeriac",
    "mustard": "mustard",
    "sesame": "sesame",
    "sulphites": "sulph?ites?|sulfites?|sul(?:ph|f)ur dioxide",
    "lupin": "lupins?",
    "molluscs": "mollus[ck]s?",
}
"""How each allergen is said inside the name of an ingredient."""

_SAID = {"soybeans": "soya", "brazil nuts": "Brazil nuts", "macadamias": "macadamia nuts", "eggs": "egg"}
_SAID_IN_US = {**_SAID, "soybeans": "soy"}


def said(allergen: str, region: Region) -> str:
    """An allergen as it stands behind an ingredient: `soya`, in the US `soy`."""
    return (_SAID_IN_US if region is Region.US else _SAID).get(allergen, allergen)


@cache
def _stem(allergen: str) -> "re.Pattern[str]":
    stem = _STEMS.get(allergen, re.escape(allergen))
    # at the beginning or the end of a word, so that the milk of buttermilk is found and the rye of fryer is not
    return re.compile(rf"(?<!\w)(?:{stem})|(?:{stem})(?!\w)", re.IGNORECASE)


def emphasised(text: str, allergens: Iterable[str]) -> tuple[Phrases, frozenset[str]]:
    """The text with those of `allergens` set apart that it says, and which these are."""
    spans: list[tuple[int, int]] = []
    found = set()
    for allergen in allergens:
        hits = [match.span() for match in _stem(allergen).finditer(text)]
        if hits:
            found.add(allergen)
            spans += hits
    phrases: list[Phrase] = []
    at = 0
    for start, end in sorted(spans):
        if start < at:
            continue
        if start > at:
            phrases.append(Phrase(text[at:start]))
        phrases.append(Phrase(text[start:end], allergen=True))
        at = end
    if at < len(text):
        phrases.append(Phrase(text[at:]))
    return tuple(phrases), frozenset(found)


def in_brackets(allergens: Iterable[str], region: Region) -> Phrases:
    """Allergens that a name does not say, behind it: ` (milk, soya)`."""
    names = in_order(allergens, region)
    phrases: list[Phrase] = []
    for name in names:
        phrases += [Phrase(", " if phrases else " ("), Phrase(said(name, region), allergen=True)]
    return (*phrases, Phrase(")")) if phrases else ()


def additive_text(label: str, additive: Additive, how: Additives, region: Region) -> str:
    """An additive by its class with name or number (Annex VII, part C): `raising agent: sodium carbonates`.

    `Modified starch` needs neither. US: the common name alone; a preservative says what it does (21 CFR 101.22(j)), a
    colour that it is one (k).
    """
    category = additive.category.strip()
    if category.casefold() == "modified starch" and label.casefold().endswith("starch"):
        return label
    if region is Region.US:
        function = {"preservative": "preservative", "colour": "color", "color": "color"}.get(category.casefold())
        return f"{label} ({function})" if function else label
    return f"{category}: {additive.number if how is Additives.NUMBERS else label}"


_CLASSES = (
    "acid", "acidity regulator", "anti-caking agent", "anti-foaming agent", "antioxidant", "bulking agent", "colour",
    "emulsifier", "emulsifying salts", "firming agent", "flavour enhancer", "flour treatment agent", "foaming agent",
    "gelling agent", "glazing agent", "humectant", "modified starch", "preservative", "propellent gas",
    "raising agent", "sequestrant", "stabiliser", "sweetener", "thickener",
)  # fmt: skip
"""Regulation (EU) No 1169/2011, Annex VII, part C (from memory)."""


def is_additive(part: str) -> bool:
    """Whether a part of a bought compound ingredient is an additive: it begins with a class, as in
    `emulsifier (lecithins)`.
    """
    head = part.casefold().replace(":", " ").replace("(", " ").split()
    return any(head[: len(words)] == words for words in (name.split() for name in _CLASSES))


def joined(lists: Iterable[Phrases], between: str = ", ") -> Phrases:
    """Phrases of several things as one run, neighbours of the same kind run together."""
    runs: list[Phrase] = []
    for phrases in lists:
        if runs:
            runs.append(Phrase(between))
        runs += phrases
    return run_together(runs)


def bracketed(lists: Sequence[Phrases], depth: int) -> Phrases:
    """A compound ingredient's own list behind its name; round brackets hold square ones."""
    opening, closing = ("(", ")") if depth % 2 == 0 else ("[", "]")
    return Phrase(f" {opening}"), *joined(lists), Phrase(closing)


def run_together(phrases: Iterable[Phrase]) -> Phrases:
    """Neighbouring phrases of the same kind as one."""
    out: list[Phrase] = []
    for phrase in phrases:
        if not phrase.text:
            continue
        if out and out[-1].allergen == phrase.allergen:
            out[-1] = Phrase(out[-1].text + phrase.text, phrase.allergen)
        else:
            out.append(phrase)
    return tuple(out)


def plain(phrases: Iterable[Phrase]) -> str:
    """The bare text."""
    return "".join(phrase.text for phrase in phrases)

"""Near misses: what a misspelt name was probably meant to be."""

import unicodedata
from collections.abc import Iterable
from difflib import SequenceMatcher, get_close_matches
from functools import lru_cache

CLOSE = 0.72
"""How alike (0..1) two folded names must be before one is offered for the other."""


@lru_cache(maxsize=8192)
def fold(name: str) -> str:
    """A name as it is compared: case, spacing and diacritics forgiven (`Almond  Sablé` is `almond sable`)."""
    bare = "".join(letter for letter in unicodedata.normalize("NFKD", name) if not unicodedata.combining(letter))
    return " ".join(bare.casefold().replace("’", "'").replace("‐", "-").split())


def near(name: str, known: Iterable[str], most: int = 1) -> tuple[str, ...]:
    """The known names most like `name`, best first, spelt as they are known.

    Words in another order count as alike (`butter, unsalted`), and so does a name that the other one contains as a
    whole word (`flour` for `plain flour`) when nothing is closer.
    """
    spelt: dict[str, str] = {}
    for candidate in known:
        spelt.setdefault(fold(candidate), candidate)
    wanted = fold(name)
    found = get_close_matches(wanted, spelt, n=most, cutoff=CLOSE)
    if not found:
        turned = " ".join(sorted(wanted.replace(",", " ").split()))
        by_words = {" ".join(sorted(candidate.split())): candidate for candidate in spelt}
        found = [by_words[words] for words in get_close_matches(turned, by_words, n=most, cutoff=CLOSE)]
    if not found and len(wanted) > 2:
        holding = [each for each in spelt if wanted in each.split() or (" " in each and each in wanted)]
        found = sorted(holding, key=lambda each: (-SequenceMatcher(None, wanted, each).ratio(), each))[:most]
    return tuple(spelt[each] for each in found)


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """Advice for an unknown name: the nearest known one as a question, or nothing."""
    found = near(name, known)
    return f"did you mean '{found[0]}'?" if found else ""

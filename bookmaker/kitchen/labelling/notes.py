"""Sentences that the law wants on a label beside the list: what was frozen, what additives call for."""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from bookmaker.kitchen.figures import Figure
from bookmaker.kitchen.labelling.mix import Mixes
from bookmaker.model.house import Region
from bookmaker.model.refs import RecipeRef

DEFROSTED = "Defrosted."
"""Regulation (EU) No 1169/2011, Annex VI, part A, no. 2: it accompanies the name."""

_COLOURS = frozenset({"E102", "E104", "E110", "E122", "E124", "E129"})
"""Regulation (EC) No 1333/2008, Annex V."""

_MUCH_POLYOL = Decimal("0.1")
"""Regulation (EU) No 1169/2011, Annex III, no. 2.4: more than 10 % of added polyols."""


def notes_of(ref: RecipeRef, mixes: Mixes, per_gram: Mapping[str, Figure]) -> Iterator[str]:
    """The sentences, those of the name first (Annexes III and VI; Regulation (EC) No 1333/2008, Annex V)."""
    book = mixes.book
    if book.recipes[ref].client.defrosted:
        yield DEFROSTED
    if book.house.region is Region.US:
        return
    items = {item: book.stores[item.id] for _, item, _ in mixes.walk(ref)}
    additives = [item.additive for item in items.values() if item.additive is not None]
    if any(each.category.casefold() == "sweetener" for each in additives):
        yield "With sweetener(s)."
    if any(each.number.upper().replace(" ", "") in _COLOURS for each in additives):
        yield "Colours: may have an adverse effect on activity and attention in children."
    if (per_gram["polyols"].value or Decimal(0)) > _MUCH_POLYOL:
        yield "Excessive consumption may produce laxative effects."

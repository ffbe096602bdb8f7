"""The allergens that a region's law wants declared, grouped and in its order.

Written down on the date each table carries; laws change. What is printed from here is to be checked against the local
law, and no compliance is claimed.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from bookmaker.model.allergens import NUTS, US_NUTS
from bookmaker.model.house import Region

SULPHITES_ABOVE = Decimal(10)
"""Milligrams of total SO2 per kilogram or litre; only more than this is declared (Annex II, no. 12)."""


@dataclass(frozen=True, slots=True)
class Group:
    """One entry of a law's list; `members` are our words for what it covers, each declared by its own name."""

    name: str
    members: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AllergenLaw:
    """A region's list: the rule with its year, when it was written down here, and the groups in the rule's order."""

    region: Region
    rule: str
    written: date
    groups: tuple[Group, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """Every word that is declared by itself, in the order of the list."""
        return tuple(member for group in self.groups for member in group.members)

    def group(self, name: str) -> Group | None:
        """The entry that covers an allergen; None for one that this law does not list."""
        return next((group for group in self.groups if name in group.members), None)


_ANNEX_II = (
    Group("cereals containing gluten", ("wheat", "rye", "barley", "oats")),
    Group("crustaceans", ("crustaceans",)),
    Group("eggs", ("eggs",)),
    Group("fish", ("fish",)),
    Group("peanuts", ("peanuts",)),
    Group("soybeans", ("soybeans",)),
    Group("milk", ("milk",)),
    Group("nuts", NUTS),
    Group("celery", ("celery",)),
    Group("mustard", ("mustard",)),
    Group("sesame seeds", ("sesame",)),
    Group("sulphur dioxide and sulphites", ("sulphites",)),
    Group("lupin", ("lupin",)),
    Group("molluscs", ("molluscs",)),
)

# Tree nuts as the US authority lists them since January 2025 (Questions and Answers Regarding Food Allergens, ed. 5).
_US_NINE = (
    Group("milk", ("milk",)),
    Group("eggs", ("eggs",)),
    Group("fish", ("fish",)),
    Group("crustacean shellfish", ("crustaceans",)),
    Group("tree nuts", (*NUTS, *US_NUTS)),
    Group("peanuts", ("peanuts",)),
    Group("wheat", ("wheat",)),
    Group("soybeans", ("soybeans",)),
    Group("sesame", ("sesame",)),
)

LAWS: Mapping[Region, AllergenLaw] = {
    law.region: law
    for law in (
        AllergenLaw(
            Region.EU,
            "Regulation (EU) No 1169/2011, Annex II, as amended by Delegated Regulation (EU) No 78/2014",
            date(2026, 11, 25),
            _ANNEX_II,
        ),
        AllergenLaw(
            Region.UK,
            "Regulation (EU) No 1169/2011 as retained in UK law, Annex II",
            date(2026, 11, 25),
            _ANNEX_II,
        ),
        AllergenLaw(
            Region.US,
            "Food Allergen Labeling and Consumer Protection Act of 2004, with the FASTER Act of 2021 (sesame)",
            date(2026, 11, 25),
            _US_NINE,
        ),
    )
}
"""The list of each region."""

_ALSO = {"spelt": "wheat", "kamut": "wheat"}
"""Kinds of wheat by name (Annex II, no. 1: `wheat (such as spelt and khorasan wheat)`)."""


def declared_as(names: Iterable[str]) -> frozenset[str]:
    """Allergens by the names they are declared under: spelt and kamut are wheat."""
    return frozenset(_ALSO.get(name, name) for name in names)


def in_order(names: Iterable[str], region: Region) -> tuple[str, ...]:
    """Allergens in the order of the region's list; those that it does not list follow in the order of Annex II.

    Nothing is dropped: what a region's law does not ask for may still hurt a guest.
    """
    order = dict.fromkeys((*LAWS[region].names, *LAWS[Region.EU].names))
    places = {name: place for place, name in enumerate(order)}
    return tuple(sorted(set(names), key=lambda name: (places.get(name, len(places)), name)))


def sulphites_declared(milligrams: Decimal) -> bool:
    """Whether so many milligrams of SO2 per kilogram are declared: only more than 10."""
    return milligrams > SULPHITES_ABOVE

"""The allergens a house may declare, in the words of the law.

Regulation (EU) No 1169/2011, Annex II, names fourteen groups; gluten cereals and nuts are declared by name. The United
States' nine major allergens (FALCPA 2004, FASTER Act 2021) are all among these words. Written down in 2026 from memory
of both texts: check against your local law.
"""

CEREALS = ("wheat", "rye", "barley", "oats", "spelt", "kamut")
"""Cereals containing gluten; spelt and kamut are kinds of wheat."""

NUTS = ("almonds", "hazelnuts", "walnuts", "cashews", "pecans", "brazil nuts", "pistachios", "macadamias")
"""Tree nuts."""

US_NUTS = ("pine nuts",)
"""A tree nut in the United States alone (the authority's guidance of January 2025)."""

OTHERS = (
    "crustaceans", "eggs", "fish", "peanuts", "soybeans", "milk", "celery", "mustard", "sesame", "sulphites", "lupin",
    "molluscs",
)  # fmt: skip
"""The groups declared by the group's own name."""

ALLERGENS = (*CEREALS, *NUTS, *US_NUTS, *OTHERS)
"""Every word that may stand in `contains` and `may contain`."""

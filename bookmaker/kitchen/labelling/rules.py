"""The label laws' numbers: thresholds of ingredient lists, energy factors, reference intakes, with rule and date.

Each table names its rule; all were written down on `WRITTEN`. Laws change: what is printed from here is to be checked
against the local law, and no compliance is claimed.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from bookmaker.model.house import Packed, Region

WRITTEN = date(2026, 11, 25)
"""The day on which these rules were written down here."""


@dataclass(frozen=True, slots=True)
class ListRule:
    """How a region wants its ingredient list.

    Below `small` of the finished product (or at it, where `small_included`) ingredients may end the list in any order.
    Added water of at most `water_left_out` may be left out; None: it is always listed. `quantities` of named
    ingredients are due. Below `either_below` two that stand in for each other may be named as `one and/or the other`,
    if they are neither additives nor bring allergens.
    """

    region: Region
    name: str
    small: Decimal
    small_included: bool
    water_left_out: Decimal | None
    quantities: bool
    either_below: Decimal


_EU_LIST = "Regulation (EU) No 1169/2011, Articles 18 to 22 and Annexes VII and VIII"
_UK_LIST = "Regulation (EU) No 1169/2011 as retained in UK law, Articles 18 to 22 and Annexes VII and VIII"
_US_LIST = "21 CFR 101.4 (ingredients) and the Food Allergen Labeling and Consumer Protection Act of 2004"

LISTS: Mapping[Region, ListRule] = {
    rule.region: rule
    for rule in (
        # Annex VII, part A, no. 6: interchangeable ingredients below 2 %, no additives or allergens (from memory)
        ListRule(Region.EU, _EU_LIST, Decimal("0.02"), False, Decimal("0.05"), True, Decimal("0.02")),
        ListRule(Region.UK, _UK_LIST, Decimal("0.02"), False, Decimal("0.05"), True, Decimal("0.02")),
        # 21 CFR 101.4(a)(2): 2 percent or less, behind a quantifying statement (from memory)
        ListRule(Region.US, _US_LIST, Decimal("0.02"), True, None, False, Decimal(0)),
    )
}

_PACKED_HERE = {
    Region.EU: (
        "Packed on the premises for direct sale: allergens are due (Article 44); the full list may be asked for by"
        " national law."
    ),
    Region.UK: (
        "Packed on the premises for direct sale: the name and the full ingredient list, allergens emphasised, are due"
        " (Food Information (Amendment) (England) Regulations 2019, and those of Wales, Scotland and Northern Ireland,"
        " in force 1 October 2021)."
    ),
    Region.US: "Packed on the premises: state law says what is due.",
}


def law_note(region: Region, packed: Packed) -> str:
    """The rules a label was made by, and the day they were written down."""
    rule = LISTS[region]
    words = f"By {rule.name}, {NUTRITION_RULES[region]}; written down on {WRITTEN.isoformat()}: laws change."
    return f"{words} {_PACKED_HERE[region]}" if packed is Packed.ON_PREMISES else words


NUTRITION_RULES: Mapping[Region, str] = {
    Region.EU: "Articles 29 to 35 and Annexes I, XIII, XIV and XV",
    Region.UK: "Articles 29 to 35 and Annexes I, XIII, XIV and XV",
    Region.US: "21 CFR 101.9 as amended in 2016 (nutrition)",
}

KILOJOULES: Mapping[str, Decimal] = {
    key: Decimal(value)
    for key, value in {
        "carbohydrate": 17, "polyols": 10, "protein": 17, "fat": 37, "alcohol": 29, "acids": 13, "fibre": 8,
    }.items()
}  # fmt: skip
"""Kilojoules per gram: Regulation (EU) No 1169/2011, Annex XIV. Carbohydrate without polyols."""

KILOCALORIES: Mapping[str, Decimal] = {
    key: Decimal(value)
    for key, value in {
        "carbohydrate": "4", "polyols": "2.4", "protein": "4", "fat": "9", "alcohol": "7", "acids": "3", "fibre": "2",
    }.items()
}  # fmt: skip
"""Kilocalories per gram: Regulation (EU) No 1169/2011, Annex XIV. Carbohydrate without polyols."""

US_KILOCALORIES: Mapping[str, Decimal] = {
    key: Decimal(value) for key, value in {"total carbohydrate": 4, "protein": 4, "fat": 9, "alcohol": 7}.items()
}
"""General factors of 21 CFR 101.9(c)(1)(i)(B), on total carbohydrate; alcohol by the general factor 7 (from memory)."""

REFERENCE_INTAKES: Mapping[str, Decimal] = {
    key: Decimal(value)
    for key, value in {
        "energy": 8400, "fat": 70, "saturates": 20, "carbohydrate": 260, "sugars": 90, "protein": 50, "salt": 6,
    }.items()
}  # fmt: skip
"""Of an average adult, a day: Regulation (EU) No 1169/2011, Annex XIII, part B. Kilojoules of energy, else grams."""

DAILY_VALUES: Mapping[str, Decimal] = {
    key: Decimal(value)
    for key, value in {
        "fat": "78", "saturates": "20", "cholesterol": "0.3", "sodium": "2.3", "total carbohydrate": "275",
        "fibre": "28", "added sugars": "50", "vitamin d": "0.00002", "calcium": "1.3", "iron": "0.018",
        "potassium": "4.7",
    }.items()
}  # fmt: skip
"""Grams a day: 21 CFR 101.9(c)(8)(iv) and (c)(9), as amended in 2016 (from memory)."""

"""A generated book's stores: items by family, with composition, nutrition and the prices of two suppliers."""

from dataclasses import dataclass, field
from decimal import Decimal
from random import Random

from tests.benchmarks.words import SUPPLIERS


@dataclass(frozen=True, slots=True)
class Family:
    """Items that are alike: what they are called, what is in 100 g (as ranges), and what a kilogram costs.

    `holds` are allergens to choose from, one for each noun; empty for families without.
    """

    nouns: tuple[str, ...]
    kinds: tuple[str, ...]
    water: tuple[int, int]
    fat: tuple[int, int]
    sugars: tuple[int, int]
    starch: tuple[int, int]
    price: tuple[float, float]
    pack: tuple[str, ...]
    holds: tuple[str, ...] = ()
    more: tuple[str, ...] = ()


_KINDS = ("fine", "coarse", "early", "late", "dark", "light", "mild", "full", "dry", "soft", "winter", "summer", "old")

FAMILIES = {
    "flours": Family(
        ("wheat flour", "rye flour", "spelt flour", "barley flour", "oat flour"),
        ("strong", "plain", "wholemeal", *_KINDS),
        (12, 14), (1, 3), (1, 2), (66, 72), (0.7, 2.4), ("25 kg", "10 kg"), ("wheat", "rye", "spelt", "barley", "oats"),
        ("flour: yes", "cautions: [flour dust]"),
    ),
    "sugars": Family(
        ("cane sugar", "beet sugar", "glucose", "malt syrup", "blossom honey", "treacle"), _KINDS,
        (0, 18), (0, 0), (70, 80), (0, 1), (0.9, 6.5), ("25 kg", "12.5 kg"),
    ),
    "dairy": Family(
        ("cream", "milk", "butter", "curd", "yoghurt", "buttermilk"), ("farm", "pasture", *_KINDS),
        (50, 60), (18, 30), (2, 4), (0, 1), (0.9, 8.5), ("10 kg", "5 kg"), ("milk",) * 6,
    ),
    "eggs": Family(
        ("egg", "yolk", "albumen"), _KINDS,
        (50, 74), (8, 14), (0, 1), (0, 0), (3.0, 7.5), ("10 kg", "2 kg"), ("eggs",) * 3,
    ),
    "nuts": Family(
        ("almonds", "hazelnuts", "walnuts", "pistachios", "sesame", "pumpkin seed"), ("ground", "flaked", *_KINDS),
        (3, 6), (46, 56), (3, 6), (5, 9), (6.5, 38.0), ("10 kg", "5 kg"),
        ("almonds", "hazelnuts", "walnuts", "pistachios", "sesame", ""), ("cautions: [allergens]",),
    ),
    "fruit": Family(
        ("apricot purée", "raspberry purée", "pear purée", "plum", "sour cherry", "blackcurrant", "quince"), _KINDS,
        (76, 86), (0, 1), (8, 14), (0, 1), (3.0, 11.0), ("10 kg", "6 × 1 kg"), (), ("usable: 92 %",),
    ),
    "flavourings": Family(
        ("sea salt", "spice mix", "coffee extract", "tea leaf", "citrus zest", "bitter essence"), _KINDS,
        (1, 8), (0, 2), (0, 2), (0, 4), (2.0, 60.0), ("1 kg", "500 g"), (), ("weigh: careful",),
    ),
    "chocolate": Family(
        ("couverture", "cocoa mass", "cocoa paste", "chocolate drops"), _KINDS,
        (1, 2), (34, 40), (30, 40), (1, 3), (8.5, 16.0), ("10 kg", "5 kg"), ("milk", "", "", "soybeans"),
    ),
    "fats": Family(
        ("rapeseed oil", "sunflower oil", "cocoa fat", "shortening"), _KINDS,
        (0, 1), (98, 99), (0, 0), (0, 0), (1.9, 9.5), ("10 kg", "5 kg"),
    ),
    "setting": Family(
        ("gelling powder", "pectin blend", "yeast", "raising powder"), _KINDS,
        (6, 12), (0, 1), (0, 2), (20, 40), (3.5, 28.0), ("1 kg", "2 kg"), (), ("weigh: careful",),
    ),
    "packaging": Family(
        ("box", "sleeve", "bag", "card", "tray liner"), ("tall", "flat", "round", "long", *_KINDS),
        (0, 0), (0, 0), (0, 0), (0, 0), (0.03, 0.4), ("500 pieces", "250 pieces"),
    ),
}  # fmt: skip
"""Every family of items; its file in `stores/` bears its name."""

WATER = "water"


@dataclass(slots=True)
class Shelf:
    """The names of the items by family, and the texts of the files they stand in."""

    names: dict[str, list[str]] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)


def fill_shelf(random: Random, items: int) -> Shelf:
    """Some `items` items, spread over the families, and their price list."""
    shelf = Shelf()
    prices = ["item,supplier,code,pack,price,currency,from"]
    texts: dict[str, list[str]] = {family: [] for family in FAMILIES}
    number = 0
    for _ in range(-(-items // len(FAMILIES))):
        for family, kind in FAMILIES.items():
            name = _name(kind, len(shelf.names.get(family, ())))
            if name:
                number += 1
                shelf.names.setdefault(family, []).append(name)
                noun = (len(shelf.names[family]) - 1) % len(kind.nouns)
                texts[family].append(_item(random, family, kind, name, kind.holds[noun] if kind.holds else ""))
                prices += _prices(random, kind, name, number)
    texts["sugars"].append(f"{WATER}:\n  label: water\n  contains: []\n  may contain: []\n  water: 100 %\n")
    prices.append(f"{WATER},Millstone & Reed,MR-1,1000 kg,2.10,EUR,2026-01-05")
    shelf.files = {f"stores/{family}.yaml": "\n".join(items) for family, items in texts.items()}
    shelf.files["stores/prices.csv"] = "\n".join(prices) + "\n"
    return shelf


def _name(kind: Family, number: int) -> str:
    """The `number`th name of a family: all nouns of the first kind, then of the next; empty when there are no more."""
    turn, noun = divmod(number, len(kind.nouns))
    return f"{kind.kinds[turn]} {kind.nouns[noun]}" if turn < len(kind.kinds) else ""


def _item(random: Random, family: str, kind: Family, name: str, holds: str) -> str:
    if family == "packaging":
        lines = ["kind: packaging", f"label: carton {name}", "food contact: declared", "supplier sheet: 2026-01-19"]
        return "\n  ".join([f"{name}:", *lines]) + "\n"
    water, fat, sugars, starch = (
        Decimal(random.randint(low * 10, high * 10)) / 10
        for low, high in (kind.water, kind.fat, kind.sugars, kind.starch)
    )
    rest = max(Decimal(0), 100 - water - fat - sugars - starch)
    nutrition = {
        "fat": fat,
        "saturates": fat / 3,
        "carbohydrate": sugars + starch,
        "sugars": sugars,
        "fibre": rest * 3 / 10,
        "protein": rest * 6 / 10,
        "salt": Decimal(random.randint(0, 40)) / 100,
    }
    day = random.choice(("Mondays", "Tuesdays", "Thursdays"))
    lines = [
        f"label: {name.split(' ', 1)[1]}",
        f"aka: [{name} of the house]",
        f"contains: [{holds}]",
        "may contain: []" if random.random() < 0.7 else "may contain: [sesame]",
        *kind.more,
        f"water: {water} %",
        f"fat: {fat} %",
        f"sugars: {sugars} %",
        f"nutrition: {{{', '.join(f'{key}: {grams:.2f} g' for key, grams in nutrition.items())}}}",
        "carbohydrate basis: available",
        "nutrition source: made up for a measurement",
        f"note: Delivered on {day}; look at the sheet before the first use.",
        f"keeps: {{closed: {random.randint(2, 18)} months at {random.choice((4, 15, 18))} °C}}",
        "supplier sheet: 2026-03-02",
    ]
    return "\n  ".join([f"{name}:", *lines]) + "\n"


def _prices(random: Random, kind: Family, name: str, number: int) -> list[str]:
    """Two suppliers, each with an older and a newer price."""
    found = []
    usual = random.uniform(*kind.price)
    for supplier, letters in random.sample(SUPPLIERS, 2):
        pack = random.choice(kind.pack)
        size = _units(pack)
        for since in ("2026-01-12", "2026-09-07"):
            price = max(0.01, usual * size * random.uniform(0.9, 1.15))
            found.append(f"{name},{supplier},{letters}-{number + 1000},{pack},{price:.2f},EUR,{since}")
    return found


def _units(pack: str) -> float:
    """Kilograms or pieces in a pack."""
    *times, number, unit = pack.replace(" ×", "").split()
    return float(number) * float(times[0] if times else 1) * (0.001 if unit == "g" else 1)

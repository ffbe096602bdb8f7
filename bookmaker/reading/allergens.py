"""Allergen words: the law's own, and what cooks write instead."""

from bookmaker.model.allergens import ALLERGENS, CEREALS, NUTS
from bookmaker.model.written import Names
from bookmaker.problems.anchors import Anchor
from bookmaker.reading.suggest import fold, near
from bookmaker.reading.values import Values

_MEANT: dict[str, str] = {
    **dict.fromkeys(("egg", "egg white", "egg yolk", "whole egg"), "eggs"),
    **dict.fromkeys(("soy", "soya", "soybean", "soya beans", "soy lecithin", "soya lecithin"), "soybeans"),
    **dict.fromkeys(("lactose", "dairy", "butter", "cream", "milk powder", "casein", "whey", "cheese"), "milk"),
    **dict.fromkeys(("shrimp", "shrimps", "prawn", "prawns", "crab", "lobster", "crustacean"), "crustaceans"),
    **dict.fromkeys(("mussels", "oysters", "squid", "mollusc", "mollusks"), "molluscs"),
    **dict.fromkeys(("sulfites", "sulphite", "sulfite", "sulphur dioxide", "so2", "sulfur dioxide"), "sulphites"),
    **dict.fromkeys(("sesame seed", "sesame seeds"), "sesame"),
    **dict.fromkeys(("celeriac",), "celery"),
    **dict.fromkeys(("peanut", "groundnut", "groundnuts"), "peanuts"),
    **dict.fromkeys(("filbert", "filberts", "cobnut", "cobnuts"), "hazelnuts"),
    **dict.fromkeys(("macadamia", "macadamia nuts", "queensland nuts"), "macadamias"),
    **dict.fromkeys(("cashew nuts",), "cashews"),
    **dict.fromkeys(("pecan nuts",), "pecans"),
    **dict.fromkeys(("pistachio nuts",), "pistachios"),
    **dict.fromkeys(("oat", "oatmeal"), "oats"),
    **dict.fromkeys(("flour", "semolina", "durum", "emmer", "einkorn"), "wheat"),
    **dict.fromkeys(("khorasan", "khorasan wheat"), "kamut"),
    **dict.fromkeys(("malt", "barley malt"), "barley"),
    **dict.fromkeys(("lupine", "lupins"), "lupin"),
}

_GROUPS = {
    **dict.fromkeys(("gluten", "cereals", "cereals containing gluten", "cereal"), ("the cereal", CEREALS)),
    **dict.fromkeys(("nuts", "nut", "tree nuts", "tree nut"), ("the nut", NUTS)),
    "shellfish": ("the kind", ("crustaceans", "molluscs")),
}

_NONE = ("none", "nothing", "no", "-")


def _one_of(words: tuple[str, ...]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}"


def read_allergens(value: Names, anchor: Anchor, values: Values) -> frozenset[str]:
    """The allergens in a list; what is no allergen of the law is reported with the word that was probably meant.

    Problems: `unknown-allergen`, `allergen-group` (`gluten`, `nuts`: the law wants the cereal or nut by name).
    """
    spelt = {fold(word): word for word in ALLERGENS}
    found = set()
    for words in values.names(value, anchor):
        name, where = words.text, words.anchor
        folded = fold(name)
        if folded in spelt:
            found.add(spelt[folded])
        elif folded in _GROUPS:
            what, members = _GROUPS[folded]
            values.report("allergen-group", where, name=name, what=what, fix=f"write {_one_of(members)}")
        elif folded in _NONE:
            values.report("unknown-allergen", where, name=name, fix="write [] for none")
        else:
            meant = _MEANT.get(folded) or next(iter(near(name, ALLERGENS)), "")
            fix = f"did you mean '{meant}'?" if meant else f"the law's words are: {', '.join(ALLERGENS)}"
            values.report("unknown-allergen", where, name=name, fix=fix)
    return frozenset(found)

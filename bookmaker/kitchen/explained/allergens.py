"""By which lines an allergen comes in, one level at a time."""

from collections.abc import Iterable
from dataclasses import replace
from functools import partial

from bookmaker.kitchen.explained.asked import Asked, Workings
from bookmaker.kitchen.figures import THE_HOUSE, Lack, LackKind, Path
from bookmaker.kitchen.law import LAWS
from bookmaker.kitchen.working import FigureSource, HouseSource, Term, Working
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef


def workings(asked: Asked) -> Workings:
    """`allergen` and `may contain` each that is found, and `allergens not declared` where an item never was."""
    found = asked.own.allergens
    made = {
        f"allergen {name}": partial(_way, asked, f"allergen {name}", "contains", ways)
        for name, ways in found.contains.items()
    }
    for name, ways in found.may_contain.items():
        made[f"may contain {name}"] = partial(_way, asked, f"may contain {name}", "may contain", ways)
    if found.undeclared:
        what = "allergens not declared"
        made[what] = partial(_way, asked, what, "not declared", found.undeclared)
    return made


def _way(asked: Asked, what: str, verdict: str, ways: tuple[Path, ...]) -> Working:
    law = LAWS[asked.book.house.region]
    rule = (
        "the union over all lines, alternatives and articles, up through the components; "
        f"list of {law.rule}, written down on {law.written.isoformat()}: check against your local law"
    )
    terms = tuple(dict.fromkeys(_terms(asked, what, ways)))
    missing = asked.own.allergens.undeclared
    lacks = tuple(dict.fromkeys(Lack(LackKind.ALLERGENS, asked.book.name(way[-1])) for way in missing))
    return replace(asked.working(what, rule, terms, None, "", lacks=lacks), verdict=verdict)


def _terms(asked: Asked, what: str, ways: tuple[Path, ...]) -> Iterable[Term]:
    for way in ways:
        if way == THE_HOUSE:
            yield Term("the house's own cross contact", None, "", HouseSource("cross contact allergens"))
            continue
        name = asked.book.name(way[0])
        match way[0]:
            case StoresRef():
                yield Term(name, None, "", way[0], "by its own declaration")
            case CoProductRef():
                source = way[1]
                assert isinstance(source, RecipeRef)
                yield Term(name, None, "", FigureSource(source, what), f"left over of {asked.book.name(source)}")
            case RecipeRef():
                yield Term(name, None, "", FigureSource(way[0], what))

"""The change alarm as problems: one for each cause, with the products that it concerns and the way to it."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from bookmaker.kitchen.alarm import Alarm, Alarmed
from bookmaker.kitchen.figures import THE_HOUSE
from bookmaker.model.book import Book
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef, StoresRef, Target
from bookmaker.model.stores import StoresItem
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem, Related, problem

_SAID: Mapping[Alarmed, str] = {
    Alarmed.CONTAINS: "not named: {names}, contained now",
    Alarmed.MAY_CONTAIN: "not named: {names}, perhaps contained now",
    Alarmed.FOR_CERTAIN: "named only as 'may contain': {names}, contained for certain now",
    Alarmed.PERHAPS: "named as contained: {names}, now only perhaps so",
    Alarmed.GONE: "still named: {names}, contained no longer",
    Alarmed.PERHAPS_GONE: "still named as 'may contain': {names}, not even perhaps contained now",
    Alarmed.UNDECLARED: "nothing is said of {names}, whose allergens nobody declared",
}

FEW = 3
"""Products whose ways are shown for one cause."""


def label_problems(alarms: Iterable[Alarm], book: Book) -> tuple[Problem, ...]:
    """The alarms as problems, one for each cause, with all products that it concerns.

    Problems: `label-allergens`, `label-changed`.
    """
    causes: dict[tuple[str, Anchor], list[Alarm]] = {}
    for alarm in _together(alarms):
        causes.setdefault((said_of(alarm, book), _cause(alarm, book)), []).append(alarm)
    return tuple(_problem(what, anchor, group, book) for (what, anchor), group in causes.items())


def _together(alarms: Iterable[Alarm]) -> Iterator[Alarm]:
    """All that is different in a product's texts as one: there is one sheet to send; none where it is withheld."""
    texts: dict[RecipeRef, list[Alarm]] = {}
    kept_back = set()
    for alarm in alarms:
        if alarm.what is Alarmed.TEXT:
            texts.setdefault(alarm.of, []).append(alarm)
        else:
            kept_back.add(alarm.of)
            yield alarm
    for ref, of_one in texts.items():
        if ref in kept_back:
            continue
        ways = next((alarm.ways for alarm in of_one if alarm.ways), ())
        text = "; ".join(alarm.text for alarm in of_one)
        yield Alarm(ref, of_one[0].on, Alarmed.TEXT, text=text, ways=ways)


def said_of(alarm: Alarm, book: Book) -> str:
    """What is different about the label that was issued."""
    if alarm.what is Alarmed.TEXT:
        return alarm.text
    names = alarm.names or tuple(dict.fromkeys(book.name(way[-1]) for way in alarm.ways))
    return _SAID[alarm.what].format(names=_and(names))


def _problem(what: str, anchor: Anchor, group: list[Alarm], book: Book) -> Problem:
    many = len(group) > 1
    related = [place for alarm in group[:FEW] for place in _places(alarm, book)]
    if group[0].what is Alarmed.TEXT:
        sheets = f"the sheets of {_sheets(group, book)} are" if many else f"the sheet of {_sheets(group, book)} is"
        return problem("label-changed", anchor, related=related, what=what, sheets=sheets)
    labels = f"the labels of {_sheets(group, book)} do" if many else f"the label of {_sheets(group, book)} does"
    names = " ".join(f'"{book.name(alarm.of)}"' for alarm in group)
    fix = (
        f"if that is right, issue {'these labels' if many else 'the label'} again: bookmaker issue labels {names}; "
        f"until then {'their sheets are' if many else 'its sheet is'} withheld"
    )
    return problem("label-allergens", anchor, fix=fix, related=related, what=what, labels=labels)


def _sheets(group: list[Alarm], book: Book) -> str:
    """Products with the day of their label's issue, each day once."""
    days: dict[date, list[str]] = {}
    for alarm in group:
        days.setdefault(alarm.on, []).append(f"'{book.name(alarm.of)}'")
    return _and(f"{_and(names)} (issued on {day.isoformat()})" for day, names in days.items())


def _cause(alarm: Alarm, book: Book) -> Anchor:
    """Where it comes in; the product's own formula where something is there no more."""
    recipe = book.recipes[alarm.of]
    way = next(iter(alarm.ways), None)
    if way is None:
        return recipe.anchor.at("formula")
    if way == THE_HOUSE:
        return book.house.anchor.at("cross contact allergens")
    item = way[-1]
    if not isinstance(item, StoresRef):
        return recipe.anchor.at("formula")
    return _said_in(book.stores[item.id], alarm)


def _said_in(item: StoresItem, alarm: Alarm) -> Anchor:
    """The line of the stores that says so."""
    wanted = frozenset(alarm.names)
    at = Anchor(item.anchor.document, (item.id,))
    if alarm.what in (Alarmed.CONTAINS, Alarmed.FOR_CERTAIN, Alarmed.GONE):
        key, own = "contains", item.contains or frozenset()
    elif alarm.what in (Alarmed.MAY_CONTAIN, Alarmed.PERHAPS):
        key, own = "may contain", item.may_contain
    elif alarm.what is Alarmed.TEXT and item.made_of:
        return at.at("made of")
    else:
        return item.anchor
    for article in item.articles if not wanted & own else ():
        said = article.contains if key == "contains" else article.may_contain
        if said and wanted & said:
            return at.at("articles", f"{article.supplier} {article.code}", key)
    return at.at("sulphites") if wanted == {"sulphites"} and not wanted & own else at.at(key)


def _places(alarm: Alarm, book: Book) -> Iterator[Related]:
    """The recipe lines on the way, the product's own first, and the record of what was issued."""
    way = next(iter(alarm.ways), THE_HOUSE)
    at = alarm.of
    for target in way:
        recipe = book.recipes[at]
        if (anchor := _line(recipe, target, book)) is not None:
            yield Related(anchor, f"{book.name(target)}, in {book.name(at)}")
        if isinstance(target, RecipeRef):
            at = book.sized(target)
    if (issued := book.register.label(alarm.of)) is not None:
        yield Related(issued.anchor, f"what was issued of {book.name(alarm.of)}, {issued.code}")


def _line(recipe: Recipe, target: Target, book: Book) -> Anchor | None:
    """The line by which a part comes in; none for what a co-product consists of."""
    for line in recipe.lines:
        for each in (line.target, *line.alternatives):
            if (book.sized(each) if isinstance(each, RecipeRef) else each) == target:
                return line.anchor
    return None


def _and(words: Iterable[str]) -> str:
    listed = list(words)
    return f"{', '.join(listed[:-1])} and {listed[-1]}" if len(listed) > 1 else "".join(listed)

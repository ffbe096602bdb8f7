"""Labels to issue, and labels handed out that are not what the book says any more."""

from collections.abc import Iterable, Iterator
from datetime import date

from bookmaker.editions.team.places import contents_of
from bookmaker.kitchen.alarm import Alarmed, alarms_of, is_released, issued_label, withheld
from bookmaker.kitchen.alarm_problems import said_of
from bookmaker.kitchen.figures import Figures, Lack, LackKind, Path
from bookmaker.kitchen.label import label_of
from bookmaker.kitchen.label_figures import LabelFigure
from bookmaker.model.book import Book
from bookmaker.model.recipe import Kind, Recipe
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.report import Sources, locate
from bookmaker.workshop.issuing.outcome import Outcome, refused_as_later
from bookmaker.workshop.issuing.standings import CURRENT, NEVER, Standing

WHAT_ALLERGENS_NEED = (
    "A label would say nothing of them, and a guest would take that for free from everything. Ask the supplier for the "
    "specification and write `contains: [...]` in the stores; where it declares none, `contains: []`"
)


def released(book: Book) -> list[RecipeRef]:
    """The products whose sheets clients may see, in the book's order."""
    return [ref for ref in contents_of(book).in_order() if is_released(book.recipes[ref])]


def labels_to_issue(
    book: Book, figures: Figures, refs: Iterable[RecipeRef], *, named: bool, on: date, by: str, sources: Sources
) -> Iterator[Outcome]:
    """What becomes of each label that is to be issued.

    One whose allergens have changed is issued only where it was `named`: never in passing, with all the others.
    """
    last = book.register.last_labels()
    for ref in refs:
        recipe, name, before = book.recipes[ref], book.name(ref), last.get(ref)
        why = tuple(_not_for_clients(recipe))
        if why:
            yield Outcome(ref, name, before=before, refused=why)
            continue
        label = label_of(ref, book, figures)
        why = tuple(_lacking(label, book, sources))
        now = issued_label(label, recipe, on, by)
        changes = tuple(said_of(alarm, book) for alarm in alarms_of(label, before)) if before is not None else ()
        if why:
            yield Outcome(ref, name, before=before, refused=why)
        elif before is not None and before.code == now.code:
            yield Outcome(ref, name, before=before)
        elif before is not None and before.on > on:
            yield refused_as_later(ref, name, before, on)
        elif withheld(label, before) and not named:
            yield Outcome(ref, name, before=before, refused=(_to_be_named(name, changes),))
        else:
            yield Outcome(ref, name, now, before, changes)


def _to_be_named(name: str, changes: tuple[str, ...]) -> str:
    return f'{"; ".join(changes)}. If that is right, issue it by name: bookmaker issue labels "{name}"'


def _not_for_clients(recipe: Recipe) -> Iterator[str]:
    if recipe.kind is not Kind.PRODUCT:
        yield f"it is a {recipe.kind.value}, and only products go out to clients"
    elif not is_released(recipe):
        yield f"its status is {recipe.status.value}, and only approved products go out to clients"


def _lacking(label: LabelFigure, book: Book, sources: Sources) -> Iterator[str]:
    """What the law wants on a label and nobody can say."""
    if label.allergens.undeclared:
        listed = dict.fromkeys(_undeclared(way, book, sources) for way in label.allergens.undeclared)
        yield f"nobody declared the allergens of {', '.join(listed)}. {WHAT_ALLERGENS_NEED}"
    if label.declaration.lacks:
        listed = dict.fromkeys(map(_unknown, label.declaration.lacks))
        yield f"its ingredient list is not complete. Nobody can tell {'; nor '.join(listed)}"


def _unknown(lack: Lack) -> str:
    """What is not known, as the end of a sentence."""
    match lack.kind:
        case LackKind.CHOICE:
            return (
                f"which {lack.of} is used, as several are allowed that a label lists otherwise: name one of them "
                "(`labelled as` in the stores), or take the alternative out"
            )
        case LackKind.AMOUNT:
            return f"how much {lack.of} goes in: weigh it"
        case LackKind.YIELD:
            return f"what {lack.of} comes to: say what it yields"
        case _:
            return f"the {lack.kind.value} of {lack.of}"


def _undeclared(way: Path, book: Book, sources: Sources) -> str:
    item = way[-1]
    place = _place(book.stores[item.id].anchor, sources) if isinstance(item, StoresRef) else ""
    through = f" in {book.name(way[-2])}" if len(way) > 1 else ""
    return f"{book.name(item)}{through}" + (f" ({place})" if place else "")


def _place(anchor: Anchor, sources: Sources) -> str:
    place = locate(anchor, sources)
    return f"{place.document}:{place.line}" if place.line else place.document


SEND_AGAIN, WITHHELD, TAKE_BACK = "send again", "withheld", "take back"


def label_standings(book: Book, figures: Figures) -> Iterator[Standing]:
    """Every label that was ever issued, and every released product of which none was, in the book's order."""
    last = book.register.last_labels()
    for ref in contents_of(book).in_order():
        before, name = last.get(ref), book.name(ref)
        if not is_released(book.recipes[ref]):
            if before is not None:
                why = f"its status is {book.recipes[ref].status.value}"
                yield Standing(ref, name, TAKE_BACK, (why,), before)
        elif before is None:
            yield Standing(ref, name, NEVER)
        else:
            alarms = alarms_of(label_of(ref, book, figures), before)
            state = SEND_AGAIN if alarms else CURRENT
            if any(alarm.what is not Alarmed.TEXT for alarm in alarms):
                state = WITHHELD
            yield Standing(ref, name, state, tuple(said_of(alarm, book) for alarm in alarms), before)
    for ref, before in last.items():
        if ref not in book.recipes:
            name = f"{before.title} ({ref.size})" if ref.size else before.title
            yield Standing(ref, name, TAKE_BACK, ("the recipe is gone",), before)

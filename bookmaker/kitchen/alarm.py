"""The change alarm of labels: whether a product's label still says what was handed out, and if not, why.

A label that names other allergens than the product has can hurt somebody: its sheet is withheld until the label is
issued again on purpose. Any other change means that a sheet is to be sent again. The cause is where an allergen or an
ingredient comes in: the stores item, with the recipe lines on the way to it.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from bookmaker.kitchen.declared import differences, entries_of
from bookmaker.kitchen.figures import Figures, Path
from bookmaker.kitchen.label import label_of
from bookmaker.kitchen.label_figures import Ingredient, LabelFigure, Nutrition, NutritionRow, every
from bookmaker.model.book import Book
from bookmaker.model.recipe import Kind, Recipe, Status
from bookmaker.model.refs import RecipeRef
from bookmaker.model.register import IssuedLabel, label_code, one_line


class Alarmed(StrEnum):
    """What is different."""

    CONTAINS = "contains"
    MAY_CONTAIN = "may contain"
    FOR_CERTAIN = "for certain"  # was a trace, is contained
    PERHAPS = "perhaps"  # was contained, is a trace
    GONE = "gone"
    PERHAPS_GONE = "perhaps gone"
    UNDECLARED = "undeclared"
    TEXT = "text"  # declaration or nutrition: nobody is hurt


@dataclass(frozen=True, slots=True)
class Alarm:
    """One difference of a product's label from what was issued on a day.

    `names` are the allergens; `text` says what else is different. `ways` lead to where it comes in; none where
    something is there no more.
    """

    of: RecipeRef
    on: date
    what: Alarmed
    names: tuple[str, ...] = ()
    text: str = ""
    ways: tuple[Path, ...] = ()


def is_released(recipe: Recipe) -> bool:
    """Whether clients may see its sheet: an approved product."""
    return recipe.kind is Kind.PRODUCT and recipe.status is Status.APPROVED


def issued_label(label: LabelFigure, recipe: Recipe, on: date, by: str) -> IssuedLabel:
    """What is handed out with this label, as the register holds it."""
    contains, may = tuple(label.allergens.contains), tuple(label.allergens.may_contain)
    says = (contains, may, *_texts_of(label))
    title = one_line(recipe.title)
    return IssuedLabel(label_code(*says), label.ref, title, recipe.revision, on, one_line(by), *says)


def _texts_of(label: LabelFigure) -> tuple[str, str, str, str]:
    """Legal name, declaration, nutrition, and what stands beside the name, each on one line."""
    plain, table = label.declaration.plain(), nutrition_line(label.nutrition)
    beside = (*(f"{each.name} {each.printed}." for each in label.quantities if not each.in_list), *label.notes)
    return one_line(label.name), one_line(plain), one_line(table), one_line(" ".join(beside))


def nutrition_line(nutrition: Nutrition) -> str:
    """The nutrition table on one line: `energy 1046 kJ / 250 kcal (48 kJ / 12 kcal a piece, 2 %) | fat 12 g | …`."""
    word = nutrition.piece_word
    return _BAR.join(
        f"{row.name} {row.per_100}" + (f" ({beside})" if (beside := _beside(row, word)) else "")
        for row in _shown(nutrition)
    )


_BAR = " | "


def _shown(nutrition: Nutrition) -> Iterator[NutritionRow]:
    return (row for row in nutrition.rows if row.per_100 or row.per_piece)


def _beside(row: NutritionRow, word: str) -> str:
    return ", ".join(filter(None, (row.per_piece and f"{row.per_piece} a {word or 'piece'}", row.reference)))


def withheld(label: LabelFigure, issued: IssuedLabel | None) -> bool:
    """Whether the product's sheet must not be published: its allergens are not those of the label last issued."""
    return issued is not None and any(True for _ in _allergens(label, issued))


def alarms_of(label: LabelFigure, issued: IssuedLabel) -> tuple[Alarm, ...]:
    """Every difference of a label from what was last issued, allergens first. None means: nothing to do."""
    return (*_allergens(label, issued), *_texts(label, issued))


def alarms_in(book: Book, figures: Figures) -> Iterator[Alarm]:
    """The alarms of all released products of which a label was ever issued."""
    for ref, issued in book.register.last_labels().items():
        if ref in book.recipes and is_released(book.recipes[ref]):
            yield from alarms_of(label_of(ref, book, figures), issued)


def _allergens(label: LabelFigure, issued: IssuedLabel) -> Iterator[Alarm]:
    contains, may = label.allergens.contains, label.allergens.may_contain
    was, might = frozenset(issued.contains), frozenset(issued.may_contain)
    found: dict[tuple[Alarmed, tuple[Path, ...]], list[str]] = {}
    for name, ways in contains.items():
        if name not in was:
            found.setdefault((Alarmed.FOR_CERTAIN if name in might else Alarmed.CONTAINS, ways), []).append(name)
    for name, ways in may.items():
        if name not in might:
            found.setdefault((Alarmed.PERHAPS if name in was else Alarmed.MAY_CONTAIN, ways), []).append(name)
    for name in (*issued.contains, *issued.may_contain):
        if name not in contains and name not in may:
            what = Alarmed.GONE if name in was else Alarmed.PERHAPS_GONE
            found.setdefault((what, _where_it_was(name, label, issued)), []).append(name)
    for (what, ways), names in found.items():
        yield Alarm(label.ref, issued.on, what, tuple(names), ways=ways)
    if label.allergens.undeclared:
        yield Alarm(label.ref, issued.on, Alarmed.UNDECLARED, ways=label.allergens.undeclared)


def _where_it_was(name: str, label: LabelFigure, issued: IssuedLabel) -> tuple[Path, ...]:
    """The ways to the ingredient that named an allergen on the issued label and does so no more, if it is still in."""
    changes = differences(issued.declaration, one_line(label.declaration.plain()))
    stem = name.rstrip("s")
    named = (change.name for change in changes if stem in change.gone.casefold())
    return _ways_of(filter(None, named), label.declaration.ingredients)


def _texts(label: LabelFigure, issued: IssuedLabel) -> Iterator[Alarm]:
    name, declaration, nutrition, notes = _texts_of(label)
    changes = differences(issued.declaration, declaration)
    if changes:
        ways = _ways_of((change.name for change in changes), label.declaration.ingredients)
        yield Alarm(label.ref, issued.on, Alarmed.TEXT, text="; ".join(change.said for change in changes), ways=ways)
    if issued.nutrition != nutrition:
        yield Alarm(label.ref, issued.on, Alarmed.TEXT, text=_rows_changed(issued.nutrition, label.nutrition))
    if issued.sold_as != name:
        said = f"it is sold as '{name}' instead of '{issued.sold_as}'"
        yield Alarm(label.ref, issued.on, Alarmed.TEXT, text=said)
    if issued.notes != notes:
        said = f"beside the name stands {_quoted(notes)} instead of {_quoted(issued.notes)}"
        yield Alarm(label.ref, issued.on, Alarmed.TEXT, text=said)


def _quoted(text: str) -> str:
    return f"'{text.removesuffix('.')}'" if text else "nothing"


def _ways_of(names: Iterable[str], ingredients: tuple[Ingredient, ...]) -> tuple[Path, ...]:
    """The ways to the first of these that leads anywhere."""
    known: dict[str, tuple[Path, ...]] = {}
    for each in every(ingredients):
        for entry in entries_of("".join(phrase.text for phrase in each.name)):
            known.setdefault(entry.key, each.ways)
    return next((ways for name in names if (ways := known.get(name.casefold(), ()))), ())


def _rows_changed(before: str, now: Nutrition) -> str:
    """Which rows of the table say something else, by what they say of 100 g wherever that tells it."""
    rows = list(_shown(now))
    if not before or not rows:
        return "it has a nutrition table now" if rows else "it has no nutrition table any more"
    was = before.split(_BAR)
    changed = [said for row in rows if (said := _row_changed(row, was, now.piece_word))]
    gone = [text for text in was if not any(text.startswith(f"{row.name} ") for row in rows)]
    changed += [f"nothing instead of {text.partition(' (')[0]}" for text in gone]
    return f"the nutrition table says {', '.join(changed)}" if changed else "the nutrition table has another order"


def _row_changed(row: NutritionRow, was: list[str], word: str) -> str:
    text = next((text.removeprefix(f"{row.name} ") for text in was if text.startswith(f"{row.name} ")), None)
    if text is None:
        return f"{row.name} {row.per_100 or row.per_piece} for the first time"
    per_100, _, beside = text.partition(" (")
    if per_100 != row.per_100:
        return f"{row.name} {row.per_100 or 'unknown'} instead of {per_100 or 'unknown'}"
    now, then = _beside(row, word), beside.removesuffix(")")
    return f"{row.name} {now or 'nothing'} instead of {then or 'nothing'}" if now != then else ""

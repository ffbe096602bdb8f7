"""What `label` prints: a label as text for a label printer, and beneath it what the house must know about it."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from bookmaker.editions.team.rounding import lacking, mass
from bookmaker.kitchen.figures import THE_HOUSE, AllergenFigure, Lack, Path
from bookmaker.kitchen.label_figures import CHECK, DietFigure, LabelFigure, Nutrition, NutritionRow, Suits
from bookmaker.kitchen.labelling.rounding import net_quantity
from bookmaker.kitchen.law import LAWS
from bookmaker.model.house import Region
from bookmaker.workshop.terminal.figures import Desk
from bookmaker.workshop.terminal.table import Column, paragraph, table

INDENT = 3
_MOST_WAYS = 2


def label_text(desk: Desk, label: LabelFigure) -> str:
    """The whole label: allergens in capitals, nothing that is not known."""
    parts = [
        f"{desk.name(label.ref)} · label by the law of the {label.declaration.region.value}",
        "",
        *_name(desk, label),
        "",
        *_ingredients(desk, label),
        "",
        "Allergens",
        *_allergens(desk, label.allergens),
        "",
        *_nutrition(desk, label.nutrition, label.net),
    ]
    if label.diets:
        parts += ["", "Diets", table(_TWO, [_diet(desk, *each) for each in label.diets.items()], indent=INDENT)]
    return "\n".join([*parts, "", paragraph(CHECK), paragraph(label.law)])


def _name(desk: Desk, label: LabelFigure) -> Iterator[str]:
    yield paragraph(label.name)
    beside = [f"{each.name} {each.printed}" for each in label.quantities if not each.in_list]
    if beside:
        yield paragraph(", ".join(beside))
    yield from (paragraph(note) for note in label.notes)
    if label.net is not None:
        yield f"net {desk.pen.amount(mass(net_quantity(label.net)))}"


def _ingredients(desk: Desk, label: LabelFigure) -> Iterator[str]:
    yield paragraph(f"Ingredients: {label.declaration.plain()}")
    if label.declaration.lacks:
        yield paragraph(f"Not fit to print: {_lacks(desk, label.declaration.lacks)}.", hanging=INDENT)


# --- allergens --------------------------------------------------------------------------------------------------------

_TWO = (Column(), Column(wraps=True))


def _allergens(desk: Desk, found: AllergenFigure) -> Iterator[str]:
    rows = []
    if found.contains or not found.undeclared:
        rows.append(("contains", ", ".join(found.contains) or "none that a declaration names"))
    if found.may_contain:
        rows.append(("may contain", ", ".join(found.may_contain)))
    if found.undeclared:
        items = dict.fromkeys(desk.name(way[-1]) for way in found.undeclared)
        rows.append(("not declared", f"{', '.join(items)}: nothing here is free from anything"))
    yield table(_TWO, rows, indent=INDENT)
    if desk.book.house.cross_contact:
        yield paragraph(desk.book.house.cross_contact, indent=INDENT)
    yield paragraph(f"Listed are those of {LAWS[desk.book.house.region].rule}.", indent=INDENT)


# --- nutrition --------------------------------------------------------------------------------------------------------


def _nutrition(desk: Desk, nutrition: Nutrition, net: Decimal | None) -> Iterator[str]:
    us = nutrition.region is Region.US
    piece = f"per {nutrition.piece_word}" if nutrition.piece is not None else ""
    if nutrition.piece is not None:
        served = net_quantity(nutrition.piece) if nutrition.piece == net else nutrition.piece
        piece += f" ({desk.pen.amount(mass(served))})"
    columns = (
        Column("Nutrition Facts" if us else "Nutrition", wraps=True),
        Column("per 100 g", right=True),
        Column(piece, right=True),
        Column("% DV" if us else f"RI {piece.partition(' (')[0] or 'per 100 g'}", right=True),
    )
    yield table(columns, [_row(row, piece=bool(piece)) for row in nutrition.rows], indent=0)
    if nutrition.lacks:
        yield paragraph(f"Incomplete: {_lacks(desk, nutrition.lacks)}.")
    yield from (paragraph(note) for note in nutrition.notes)


def _row(row: NutritionRow, *, piece: bool) -> tuple[str, str, str, str]:
    """A row; what is not wholly known is said to be missing, and never looks like nothing."""
    missing = not row.exact_per_100.complete
    name = f"  {row.name}" if row.within else row.name
    return name, "missing" if missing else row.per_100, row.per_piece if piece else "", row.reference


# --- diets ------------------------------------------------------------------------------------------------------------


def _diet(desk: Desk, name: str, diet: DietFigure) -> tuple[str, str]:
    if diet.suits is Suits.YES:
        return name, "yes: every ingredient is declared so"
    verdict = "no" if diet.suits is Suits.NO else "not known"
    ways = sorted({_way(desk, way) for way in diet.against if way != THE_HOUSE}, key=lambda way: (way.count("←"), way))
    more = f", and {len(ways) - _MOST_WAYS} more" if len(ways) > _MOST_WAYS else ""
    return name, f"{verdict}: {'; '.join(ways[:_MOST_WAYS])}{more}" if ways else verdict


def _way(desk: Desk, way: Path) -> str:
    return " ← ".join(desk.name(target) for target in reversed(way))


def _lacks(desk: Desk, lacks: Iterable[Lack]) -> str:
    return desk.pen.lacks(lacking(lacks, desk.places))

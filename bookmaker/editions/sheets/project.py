"""A product's sheet from what the edition is given."""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from bookmaker.editions.sheets.given import HouseGiven, PriceGiven, SheetGiven
from bookmaker.editions.sheets.section import cross_section, width_in
from bookmaker.editions.sheets.views import (
    Address,
    AllergenRow,
    Allergens,
    Frame,
    Gap,
    IndexEntry,
    IndexView,
    Instruction,
    Keeping,
    ListPrice,
    Mass,
    MassUnit,
    Nutrients,
    Nutrition,
    NutritionLine,
    Photo,
    Portion,
    SheetView,
    Verdict,
    WithheldView,
    Words,
)
from bookmaker.editions.team.project_method import readings_again
from bookmaker.editions.team.rounding import places_after_point, trimmed
from bookmaker.kitchen import label_figures as labels
from bookmaker.kitchen.figures import AllergenFigure, KeepingFigure
from bookmaker.kitchen.labelling.notes import DEFROSTED
from bookmaker.kitchen.labelling.rounding import net_quantity
from bookmaker.kitchen.law import LAWS, in_order
from bookmaker.measures.counts import counted
from bookmaker.measures.exact import CONTEXT, HUNDRED, ONE
from bookmaker.model.house import Region

_KILO = Decimal(1000)
_SMALL = Decimal(20)
_SALT_TO_SODIUM = Decimal("2.5")  # Regulation (EU) No 1169/2011, Annex I, no. 11: salt = sodium × 2.5

RAW = "raw"


def sheet_view(given: SheetGiven, house: HouseGiven, address: Address) -> SheetView:
    """Everything that a product's sheet shows."""
    product, label = given.product, given.label
    declaration = () if label.declaration.lacks else tuple(_words(label.declaration.text))
    allergens = _allergens(label.allergens, house)
    nutrition = _nutrition(label.nutrition, label.net)
    keeping = tuple(_keeping(given.keeping))
    portion = _portion(given)
    net = portion.mass if portion and portion.mass else None
    gaps = {
        Gap.INGREDIENTS: not declaration,
        Gap.ALLERGENS: not allergens.complete,
        Gap.NUTRITION: nutrition is None,
        Gap.KEEPING: not keeping,
        Gap.NET: net is None,
    }
    return SheetView(
        address=address,
        title=product.title,
        size=product.size,
        legal_name=label.name,
        defrosted=product.client.defrosted,
        quantities=tuple(f"{each.name} {each.printed}" for each in label.quantities if not each.in_list),
        describe=product.client.describe,
        photo=Photo(product.photo) if product.photo is not None else None,
        section=cross_section(product.layers, given.piece.width or width_in(product.size)),
        portion=portion,
        net=net,
        price=_price(given.price) if given.price else None,
        declaration=declaration,
        allergens=allergens,
        nutrition=nutrition,
        diets=tuple(_diets(label.diets, house.forbid_claims)),
        notes=tuple(note for note in label.notes if note != DEFROSTED),
        keeping=keeping,
        serve=_instruction(product.client.serve, house),
        thaw=_instruction(product.client.thaw, house),
        gaps=tuple(gap for gap, open_ in gaps.items() if open_),
        revision=product.revision,
        revised=product.revised,
        law=label.law,
    )


def withheld_view(title: str, size: str, address: Address) -> WithheldView:
    """What stands in a sheet's place while it is being revised."""
    return WithheldView(address, title, size)


def index_view(published: Iterable[tuple[str, Address]]) -> IndexView:
    """The sheets by name."""
    entries = (IndexEntry(title, address) for title, address in published)
    return IndexView(tuple(sorted(entries, key=lambda entry: (entry.title.casefold(), entry.address))))


def frame(house: HouseGiven) -> Frame:
    """What stands around every page."""
    return Frame(house.name, house.language, house.contact, house.fahrenheit, house.paper, labels.CHECK)


def mass(grams: Decimal) -> Mass:
    """A net weight to read, in kilograms from 1 kg on."""
    declared = net_quantity(grams)
    if declared >= _KILO:
        return Mass(trimmed(declared / _KILO, 2), MassUnit.KILOGRAM)
    return Mass(trimmed(declared, 1))


def _words(text: Iterable[labels.Phrase]) -> Iterable[Words]:
    return (Words(phrase.text, phrase.allergen) for phrase in text)


def _instruction(words: str, house: HouseGiven) -> Instruction | None:
    if not words:
        return None
    again = readings_again(words, fahrenheit=house.fahrenheit)
    return Instruction(words, tuple(reading.value for reading in again))


def _portion(given: SheetGiven) -> Portion | None:
    """What is sold at once, whose mass is the net weight; where the recipe names no portion, one piece."""
    portion, piece = given.product.portion, given.piece
    if portion is not None and portion.grams is not None:
        return Portion(None, "", mass(portion.grams), given.product.servings)
    if piece.grams is None and portion is None:
        return None
    count = portion.pieces if portion is not None and portion.pieces is not None else ONE
    grams = None if piece.grams is None else CONTEXT.multiply(piece.grams, count)
    weight = None if grams is None else mass(grams)
    return Portion(trimmed(count, 2), counted(piece.word, count), weight, given.product.servings)


def _price(given: PriceGiven) -> ListPrice:
    money = given.listed.money
    return ListPrice(
        places_after_point(money.amount, 2), money.currency, given.listed.taxed, trimmed(given.tax * HUNDRED, 2)
    )


# --- allergens


def _allergens(figure: AllergenFigure, house: HouseGiven) -> Allergens:
    """The law's list row by row; what is in the product and not on the list has a row of its own."""
    groups = [(group.name, group.members) for group in LAWS[house.region].groups]
    listed = {member for _, members in groups for member in members}
    others = in_order({*figure.contains, *figure.may_contain} - listed, house.region)
    groups += [(name, (name,)) for name in others]
    complete = not figure.undeclared
    rows = tuple(_row(name, members, figure, complete=complete) for name, members in groups)
    return Allergens(rows, complete, house.cross_contact)


def _row(name: str, members: tuple[str, ...], figure: AllergenFigure, *, complete: bool) -> AllergenRow:
    """Contains before may contain before not known; within a group none of them hides another."""
    held = tuple(member for member in members if member in figure.contains)
    possible = tuple(member for member in members if member in figure.may_contain and member not in figure.contains)
    several = len(members) > 1
    if held or possible:
        verdict = Verdict.CONTAINS if held else Verdict.MAY_CONTAIN
        return AllergenRow(name, verdict, several, held, possible, several and not complete)
    return AllergenRow(name, Verdict.NOT_NAMED if complete else Verdict.NOT_KNOWN)


def _diets(diets: Mapping[str, labels.DietFigure], forbidden: Iterable[str]) -> Iterable[str]:
    """Diets that every input suits, and that the house allows itself to claim."""
    never = {_plain(claim) for claim in forbidden}
    return (name for name, figure in diets.items() if figure.suits is labels.Suits.YES and _plain(name) not in never)


def _plain(claim: str) -> str:
    return " ".join(claim.casefold().replace("-", " ").split())


# --- nutrition


def _nutrition(figure: labels.Nutrition, net: Decimal | None) -> Nutrition | None:
    """The table, where everything in it is known: a sum that lacks something would be too small."""
    if figure.lacks or not figure.rows:
        return None
    lines = tuple(
        NutritionLine(_heading(row), row.per_100, row.per_piece, row.reference, row.within) for row in figure.rows
    )
    return Nutrition(
        lines=lines,
        has_per_100=any(line.per_100 for line in lines),
        has_per_piece=any(line.per_piece for line in lines),
        has_reference=any(line.reference for line in lines),
        reference_word="daily value" if figure.region is Region.US else "reference intake",
        piece=_served(figure.piece, net),
        piece_word=figure.piece_word,
        notes=figure.notes,
        plain=_nutrients(figure.rows, figure.region),
    )


def _served(grams: Decimal | None, net: Decimal | None) -> Mass | None:
    """What a column of the table is for: all that is sold, as its net weight is said, or a serving cut of it."""
    if grams is None:
        return None
    return mass(grams) if grams == net else Mass(trimmed(grams, 1 if grams < _SMALL else 0))


def _heading(row: labels.NutritionRow) -> str:
    """The nutrient's name; what is a part of the line above goes on in small letters."""
    return row.name if row.within else row.name[:1].upper() + row.name[1:]


def _nutrients(rows: Sequence[labels.NutritionRow], region: Region) -> Nutrients:
    exact = {row.key: row.exact_per_100.value for row in rows}
    found = {
        key: str(trimmed(value, 1))
        for key in ("fat", "saturates", "carbohydrate", "sugars", "fibre", "protein")
        if (value := exact.get(key)) is not None
    }
    salt, sodium = exact.get("salt"), exact.get("sodium")
    printed = next((row.per_100 for row in rows if row.key == "energy"), "")
    if printed:  # kilojoules and kilocalories have factors of their own: neither follows from the other
        found["energy"] = f"{printed} kcal" if region is Region.US else printed.rpartition("/")[2].strip()
    if sodium is None and salt is not None:
        sodium = salt / _SALT_TO_SODIUM
    if sodium is not None:
        found["sodium"] = str(trimmed(sodium * _KILO, 0))
    return Nutrients(**found)


# --- keeping


def _keeping(figures: Iterable[KeepingFigure]) -> Iterable[Keeping]:
    """How long it keeps in the states that a client meets: never longer than its shortest-lived part."""
    for each in figures:
        if each.state != RAW or each.date_word:
            yield Keeping(
                state=each.state,
                minutes=each.minutes,
                temperature=each.temperature.celsius if each.temperature else None,
                words=each.words,
                from_state=each.from_state,
                within=each.within,
                date_word=each.date_word,
            )

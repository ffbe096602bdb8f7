"""How a label came about: a nutrient line by line, an entry of the ingredient list way by way, a quantity, a diet.

Grams are in 100 g of the finished product, shares percents of it.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal
from functools import partial

from bookmaker.kitchen.explained.asked import Asked, Workings, in_percent, line_names
from bookmaker.kitchen.figures import Figure, Path
from bookmaker.kitchen.label_figures import DietFigure
from bookmaker.kitchen.labelling.articles import Stuff
from bookmaker.kitchen.labelling.declaration import declaration_of, entries_of
from bookmaker.kitchen.labelling.diets import diets_of
from bookmaker.kitchen.labelling.entries import Entry
from bookmaker.kitchen.labelling.heap import Either
from bookmaker.kitchen.labelling.mix import Mixes, Part
from bookmaker.kitchen.labelling.nutrients import KEYS, nutrient_of, nutrients_per_gram
from bookmaker.kitchen.labelling.nutrition import amount_for_energy, energy_of
from bookmaker.kitchen.labelling.quantities import Named, Quid, quid_of
from bookmaker.kitchen.labelling.rules import KILOJOULES, LISTS, US_KILOCALORIES, WRITTEN
from bookmaker.kitchen.labelling.wording import plain
from bookmaker.kitchen.working import FigureSource, LineSource, Source, Term, Working
from bookmaker.measures.exact import HUNDRED, ONE, ZERO
from bookmaker.model.house import Region
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef, StoresRef

_CHECK = f"written down on {WRITTEN.isoformat()}: check against your local law"
_NEVER_ALONE = ("alcohol", "polyols", "acids")
_FOR_US = ("trans fat", "cholesterol", "added sugars", "vitamin d", "calcium", "iron", "potassium")


def workings(asked: Asked) -> Workings:
    """`nutrition` of each nutrient and of energy, `declaration` and each entry `declared`, `quantity` of what is named,
    each `diet`. A moulding recipe has none of them.
    """
    if asked.recipe.kind is Kind.MOULDING:
        return {}
    mixes = Mixes(asked.book, asked.figures)
    per_gram = nutrients_per_gram(asked.ref, mixes)
    quid = quid_of(asked.ref, mixes)
    entries = entries_of(asked.ref, mixes, quid)
    us = asked.book.house.region is Region.US
    made = {"nutrition energy": partial(_energy, asked, mixes)}
    for key in KEYS:
        if (key in _NEVER_ALONE and not per_gram[key].value) or (key in _FOR_US and not us):
            continue
        made[f"nutrition {key}"] = partial(_nutrient, asked, mixes, key, per_gram[key])
    names = _declared(entries)
    made["declaration"] = partial(_declaration, asked, mixes, quid, entries)
    for entry, name in zip(entries, names, strict=True):
        made[name] = partial(_entry, asked, mixes, entry, entries, name)
    for named in quid.named if LISTS[asked.book.house.region].quantities else ():
        made[f"quantity of {named.name}"] = partial(_quantity, asked, mixes, named, quid)
    for name, diet in diets_of(asked.ref, mixes).items():
        made[f"diet {name}"] = partial(_diet, asked, name, diet)
    return made


# --- nutrition --------------------------------------------------------------------------------------------------------


def _nutrient(asked: Asked, mixes: Mixes, key: str, per_gram: Figure) -> Working:
    rule = "line by line: share of the finished product × what is in it; water lost concentrates, waste changes nothing"
    what = f"nutrition {key}"
    terms = [_of_a_line(asked, mixes, part, key) for part in mixes.of(asked.ref).parts if part.share > 0]
    value = None if per_gram.value is None else per_gram.value * HUNDRED
    return asked.working(what, rule, terms, Figure(value, per_gram.lacks), "g")


def _of_a_line(asked: Asked, mixes: Mixes, part: Part, key: str) -> Term:
    name = line_names(asked.recipe)[part.line.id]
    grams = in_percent(part.share) or ZERO
    if isinstance(part.target, RecipeRef):
        inside = nutrients_per_gram(part.target, mixes)[key].value
        held, source = inside and inside * HUNDRED, _figure(part.target, f"nutrition {key}", key, inside)
    else:
        held, source = nutrient_of(asked.book.stores[part.target.id], key), part.target
    value = None if held is None else grams * held / HUNDRED
    known = "not known" if held is None else f"{_number(held)} g in 100 g of it"
    return Term(name, value, "g", source, f"{_number(grams)} g of it, {known}")


def _figure(ref: RecipeRef, what: str, key: str, value: Decimal | None) -> Source:
    """The component's own working, where it has one: none is kept of what is hardly ever there."""
    return ref if key in _NEVER_ALONE and not value else FigureSource(ref, what)


def _energy(asked: Asked, mixes: Mixes) -> Working:
    per_gram = nutrients_per_gram(asked.ref, mixes)
    us = asked.book.house.region is Region.US
    factors, unit = (US_KILOCALORIES, "kcal") if us else (KILOJOULES, "kJ")
    rule = (
        f"grams in 100 g × kilocalories a gram, by 21 CFR 101.9(c)(1); {_CHECK}"
        if us
        else f"grams in 100 g × kilojoules a gram, by Annex XIV to Regulation (EU) No 1169/2011; {_CHECK}"
    )
    terms = []
    for key, factor in factors.items():
        grams = (amount_for_energy(per_gram, key).value or ZERO) * HUNDRED
        if key in _NEVER_ALONE and not grams:
            continue
        source = FigureSource(asked.ref, f"nutrition {'carbohydrate' if key == 'total carbohydrate' else key}")
        terms.append(Term(key, grams * factor, unit, source, f"{_number(grams)} g × {_number(factor)} {unit}"))
    energy = energy_of(per_gram, factors)
    value = None if energy.value is None else energy.value * HUNDRED
    return asked.working("nutrition energy", rule, terms, Figure(value, energy.lacks), unit)


# --- the ingredient list ----------------------------------------------------------------------------------------------


def _declared(entries: tuple[Entry, ...]) -> list[str]:
    """What each entry's working is called; two chocolates of one name and different lists are told apart by number."""
    names: list[str] = []
    for entry in entries:
        name = f"declared {plain(entry.name)}"
        taken = sum(other == name or other.startswith(f"{name} (#") for other in names)
        names.append(f"{name} (#{taken + 1})" if taken else name)
    return names


def _declaration(asked: Asked, mixes: Mixes, quid: Quid, entries: tuple[Entry, ...]) -> Working:
    rule = f"descending ingoing weight, by {LISTS[asked.book.house.region].name}; {_CHECK}"
    terms = [
        Term(plain(entry.name), in_percent(entry.share), "%", FigureSource(asked.ref, name), _inner(entry))
        for entry, name in zip(entries, _declared(entries), strict=True)
    ]
    lacks = declaration_of(asked.ref, mixes, quid, asked.own.allergens).lacks
    working = asked.working("declaration", rule, terms, None, "", lacks=lacks)
    return replace(working, verdict="not fit to print" if lacks else "complete")


def _inner(entry: Entry) -> str:
    return ", ".join(plain(part.name) for part in entry.parts)


def _entry(asked: Asked, mixes: Mixes, entry: Entry, entries: tuple[Entry, ...], name: str) -> Working:
    if isinstance(entry.key, Stuff) and entry.key.water:
        rule = (
            "added water: the finished product less all other ingredients as they went in; less than nothing is nothing"
        )
        others = [other for other in entries if other is not entry]
        terms = [
            Term("finished product", HUNDRED, "%"),
            *(Term(plain(each.name), in_percent(each.share), "%", note="taken off") for each in others),
        ]
    else:
        rule = "as used, in percent of the finished product, over all ways in which it comes in"
        terms = [
            Term(_way_in_words(asked, way), in_percent(share), "%", _line_of(asked, line))
            for way, share, line in _ways(entry, asked.ref, mixes)
        ]
    return asked.working(name, rule, terms, in_percent(entry.share), "%")


def _ways(entry: Entry, ref: RecipeRef, mixes: Mixes) -> Iterator[tuple[Path, Decimal, str]]:
    """Each way in which an entry comes in, with its share and the recipe's own line."""
    for part in mixes.of(ref).parts:
        for way, share in _found(entry, part, ONE, mixes):
            yield way, share, part.line.id


def _found(entry: Entry, part: Part, scale: Decimal, mixes: Mixes) -> Iterator[tuple[Path, Decimal]]:
    share = scale * part.share
    if isinstance(part.target, RecipeRef):
        if part.target == entry.key:
            yield part.through, share
            return
        for below in mixes.of(part.target).parts:
            for way, inside in _found(entry, below, share, mixes):
                yield (*part.through, *way), inside
    elif isinstance(entry.key, Stuff | Either) and any(way[-1:] == (part.target,) for way in entry.ways):
        yield part.through, share


def _line_of(asked: Asked, line: str) -> LineSource:
    return LineSource(asked.ref, line)


def _quantity(asked: Asked, mixes: Mixes, named: Named, quid: Quid) -> Working:
    rule = (
        "ingoing weight ÷ finished weight, after moisture and before waste, by Article 22 and Annex VIII to Regulation"
        f" (EU) No 1169/2011{'; over 100 % it is grams for 100 g' if quid.over else ''}; {_CHECK}"
    )
    terms = []
    for way, item, share in mixes.walk(asked.ref):
        inside = named.recipes.intersection(step for step in way if isinstance(step, RecipeRef))
        if inside or (not named.recipes and asked.book.stores[item.id].label in named.labels):
            terms.append(Term(_way_in_words(asked, way), in_percent(share), "%", item))
    return asked.working(f"quantity of {named.name}", rule, terms, in_percent(named.share), "%")


# --- diets ------------------------------------------------------------------------------------------------------------


def _diet(asked: Asked, name: str, diet: DietFigure) -> Working:
    rule = "yes only where every input says so; milk, eggs, fish or alcohol speak against what they rule out"
    terms: Iterable[Term] = (
        Term(_way_in_words(asked, way), None, "", way[-1] if isinstance(way[-1], StoresRef) else None)
        for way in diet.against
    )
    return replace(asked.working(f"diet {name}", rule, terms, None, ""), verdict=diet.suits.value)


def _way_in_words(asked: Asked, way: Path) -> str:
    return " ← ".join(asked.book.name(step) for step in reversed(way))


def _number(value: Decimal) -> str:
    """A number inside a note, to four digits behind the point at most."""
    return f"{value.quantize(Decimal('0.0001')).normalize():f}"

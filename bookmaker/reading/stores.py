"""`stores/*.yaml` to stores items: what the house buys, what is in it, how it is measured."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import partial

from bookmaker.measures.numbers import Unreadable, take_number
from bookmaker.measures.units import Dimension
from bookmaker.model.book import Caution
from bookmaker.model.house import Region
from bookmaker.model.stores import (
    Additive,
    Article,
    Composition,
    FromList,
    MadeOf,
    StoresItem,
    StoresKeeping,
    StoresKind,
)
from bookmaker.model.written import Names
from bookmaker.model.written.stores import WrittenAdditive, WrittenArticle, WrittenItem
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem, Related, problem
from bookmaker.reading.allergens import read_allergens
from bookmaker.reading.keeping import read_keeping
from bookmaker.reading.nutrition import read_nutrients
from bookmaker.reading.shape import shape_node
from bookmaker.reading.suggest import did_you_mean, fold
from bookmaker.reading.texts import share
from bookmaker.reading.tree import Mapping as Group
from bookmaker.reading.tree import Scalar, Tree, key_of
from bookmaker.reading.values import Values, density

DIETS = ("vegan", "vegetarian", "halal", "kosher", "alcohol-free")
NO_DIETS = tuple(f"not {diet}" for diet in DIETS)
"""What an item may be declared unfit for."""

STATES = ("closed", "opened", "frozen", "thawed")

_E_NUMBER = re.compile(r"E ?\d{3,4} ?[a-z]?(?: ?\([ivx]+\))?", re.IGNORECASE)
_PERCENT = re.compile(r"(?<!\S)[\d.,/½¼¾]+\s*%$")
_PER_KILO = re.compile(r"\s*mg\s*/\s*(?:kg|l)\s*")


def read_stores(tree: Tree) -> tuple[tuple[StoresItem, ...], list[Problem]]:
    """The items of one file, in the order written. What cannot be read of an item keeps its default.

    Problems: those of the file's shape, and at each value what is wrong with it.
    """
    if not tree.root.entries:
        return (), [problem("empty-file", Anchor(tree.document), document=tree.document)]
    items, problems = [], []
    for entry in tree.root.entries:
        anchor = Anchor(tree.document, (entry.key.text,))
        bare = isinstance(entry.value, Scalar) and not entry.value.text
        node = Group((), entry.value.span) if bare else entry.value
        written, found = shape_node(node, WrittenItem, anchor, go_on=True)
        problems += found
        values = Values(tree.document)
        if written and _name(entry.key.text, anchor, values):
            items.append(_item(entry.key.text, written, anchor, values))
        problems += values.problems
    return tuple(items), problems


def gather(files: Sequence[Sequence[StoresItem]]) -> tuple[Mapping[str, StoresItem], list[Problem]]:
    """All files' items together, by name; names and aliases are one namespace, in which case and spacing do not count.

    Problems: `duplicate-item` and `alias-clash`. The first of two stays.
    """
    items: dict[str, StoresItem] = {}
    problems = []
    first: dict[str, StoresItem] = {}
    everything = [item for file in files for item in file]
    for item in everything:
        known = first.setdefault(fold(item.id), item)
        if known is item:
            items[item.id] = item
            continue
        related = [Related(known.anchor, "the first one")]
        problems.append(problem("duplicate-item", item.anchor, name=item.id, related=related))
    for item in items.values():
        for index, alias in enumerate(item.aka):
            known = first.setdefault(fold(alias), item)
            if known is not item:
                at = Anchor(item.anchor.document, (item.id, "aka", index))
                related = [Related(known.anchor, f"'{known.id}'")]
                problems.append(problem("alias-clash", at, alias=alias, item=item.id, other=known.id, related=related))
    return items, problems


_CLAIMED = re.compile(r"^(?P<item>[^\s#'\"\[{-][^:\n]*):|^[ \t]+aka:[ \t]*\[?(?P<aka>[^\]\n]*)", re.MULTILINE)


def claimed_names(text: str) -> tuple[str, ...]:
    """The names that a stores file seems to hold which cannot be read: recipes that use them are not to blame."""
    found: list[str] = []
    for claim in _CLAIMED.finditer(text):
        found += [name.strip() for name in (claim["item"] or claim["aka"] or "").split(",")]
    return tuple(name for name in found if name)


def by_name(stores: Mapping[str, StoresItem]) -> dict[str, StoresItem]:
    """Every item under its folded name and aliases; an item's own name goes before another's alias."""
    found = {fold(item.id): item for item in stores.values()}
    for item in stores.values():
        for alias in item.aka:
            found.setdefault(fold(alias), item)
    return found


def bind_cautions(
    stores: Mapping[str, StoresItem], cautions: Mapping[str, Caution]
) -> tuple[dict[str, StoresItem], list[Problem]]:
    """The items with their cautions by the names that the cautions have. Problems: `unknown-caution`."""
    spelt = {fold(name): name for name in cautions}
    problems = []
    bound = {}
    for item in stores.values():
        known = []
        for index, name in enumerate(item.cautions):
            if found := spelt.get(fold(name)):
                known.append(found)
                continue
            at = Anchor(item.anchor.document, (item.id, "cautions", index))
            fix = did_you_mean(name, cautions) or f"known are: {', '.join(cautions)}"
            problems.append(problem("unknown-caution", at, name=name, fix=fix))
        bound[item.id] = replace(item, cautions=tuple(known))
    return bound, problems


def _name(name: str, anchor: Anchor, values: Values) -> bool:
    at = key_of(anchor)
    if "," in name:
        fix = f"write '{' '.join(reversed([part.strip() for part in name.split(',')]))}'"
        values.report("comma-in-name", at, name=name, fix=fix)
        return False
    if name[:1].isdigit():
        values.report("number-in-name", at, name=name)
        return False
    return True


def _labelled_as(written: WrittenItem, anchor: Anchor, values: Values) -> tuple[str, str] | None:
    """The pinned article as supplier and code; one that `articles` does not describe is reported."""
    at = anchor.at("labelled as")
    name = values.choice(written.labelled_as, at, "article", list(written.articles), "")
    supplier, _, code = name.rpartition(" ")
    return (supplier.strip(), code) if supplier else None


_ANIMAL = frozenset({"milk", "eggs", "fish", "crustaceans", "molluscs"})
_NOT_IN = {"vegan": _ANIMAL, "vegetarian": _ANIMAL - {"milk", "eggs"}}


def _diet(
    written: WrittenItem, contains: frozenset[str] | None, anchor: Anchor, values: Values
) -> frozenset[str] | None:
    """The diets that an item is declared fit for; one that its own allergens rule out is reported."""
    if written.diet is None:
        return None
    found = values.word_list(written.diet, anchor.at("diet"), "diet", (*DIETS, *NO_DIETS))
    for diet, never in _NOT_IN.items():
        if diet in found and (against := sorted(never & (contains or frozenset()))):
            values.report("diet-contradicted", anchor.at("diet"), diet=diet, against=", ".join(against))
    return found


def _item(name: str, written: WrittenItem, anchor: Anchor, values: Values) -> StoresItem:
    kind = values.choice(written.kind, anchor.at("kind"), "kind of item", list(StoresKind), StoresKind.FOOD)
    careful = values.choice(written.weigh, anchor.at("weigh"), "way of weighing", ("careful",), "")
    contact = values.choice(written.food_contact, anchor.at("food contact"), "word for food contact", ("declared",), "")
    contains = _allergens(written.contains, anchor.at("contains"), values)
    exempt = values.choice(written.exempt_from_list, anchor.at("exempt from list"), "reason", list(FromList), "")
    return StoresItem(
        id=name,
        label=written.label or name,
        kind=StoresKind(kind),
        aka=tuple(each.text for each in values.names(written.aka, anchor.at("aka"))),
        flour=values.is_yes(written.flour, anchor.at("flour")),
        contains=contains,
        may_contain=read_allergens(written.may_contain, anchor.at("may contain"), values),
        usable=_usable(written.usable, anchor.at("usable"), values),
        density=values.value("bad-density", density, written.density, anchor.at("density")),
        measures=tuple(_measures(written.measures, anchor.at("measures"), values)),
        careful=bool(careful),
        composition=_composition(written, anchor, values),
        nutrients=read_nutrients(written, anchor, values),
        made_of=_made_of(written.made_of, anchor.at("made of"), values),
        additive=_additive(written.additive, anchor.at("additive"), values),
        sulphites=values.value("bad-amount", _per_kilo, written.sulphites, anchor.at("sulphites")),
        exempt=tuple(_exempt(written.exempt, anchor.at("exempt"), values)),
        diet=_diet(written, contains, anchor, values),
        keeps=tuple(_keeps(written.keeps, anchor.at("keeps"), values)),
        cautions=tuple(each.text for each in values.names(written.cautions, anchor.at("cautions"))),
        supplier_sheet=values.day(written.supplier_sheet, anchor.at("supplier sheet")),
        food_contact=bool(contact),
        articles=tuple(_articles(written.articles, anchor.at("articles"), values)),
        groups=tuple(each.text for each in values.names(written.groups, anchor.at("groups"))),
        exempt_from_list=FromList(exempt) if exempt else None,
        defined_by_law=values.is_yes(written.defined_by_law, anchor.at("defined by law")),
        labelled_as=_labelled_as(written, anchor, values),
        note=written.note,
        anchor=key_of(anchor),
    )


def _allergens(written: Names | None, anchor: Anchor, values: Values) -> frozenset[str] | None:
    """None where nothing was declared; and where what was declared cannot be read, nothing can be relied on either."""
    if written is None:
        return None
    before = len(values.problems)
    found = read_allergens(written, anchor, values)
    return found if len(values.problems) == before else None


def _usable(text: str, anchor: Anchor, values: Values) -> Decimal:
    found = values.share(text, anchor)
    if found == 0:
        values.report("bad-share", anchor, why="with nothing usable there would be nothing to buy it for")
        return Decimal(1)
    return Decimal(1) if found is None else found


def _measures(written: Mapping[str, str], anchor: Anchor, values: Values) -> Iterator[tuple[str, Decimal]]:
    for word, text in written.items():
        found = values.base(text, anchor.at(word), Dimension.MASS)
        if found:
            yield word, found


def _composition(written: WrittenItem, anchor: Anchor, values: Values) -> Composition:
    parts = {key: values.share(getattr(written, key), anchor.at(key)) for key in ("water", "fat", "sugars", "alcohol")}
    if sum(part for part in parts.values() if part) > Decimal("1.01"):
        listed = ", ".join(f"{key} {getattr(written, key)}" for key, part in parts.items() if part)
        values.report("over-100-percent", key_of(anchor), listed=listed)
    return Composition(**parts, solids=values.share(written.brix, anchor.at("brix")))


def _made_of(written: Names, anchor: Anchor, values: Values) -> tuple[MadeOf, ...]:
    found: list[MadeOf] = []
    for words in values.names(written, anchor):
        percent = _PERCENT.search(words.text)
        name = words.text[: percent.start()].strip() if percent else words.text
        at = words.anchor.part(words.anchor.start + percent.start(), words.anchor.end) if percent else words.anchor
        if not name:
            split = found and found[-1].share is None and found[-1].name[-1:].isdigit()
            fix = (
                f"numbers take a decimal point: write {found[-1].name}.{words.text}"
                if split
                else "write it as sugar 36 %"
            )
            values.report("bad-amount", words.anchor, why=f"'{words.text}' has no name", fix=fix)
            continue
        found.append(MadeOf(name, values.value("bad-share", share, percent[0] if percent else "", at)))
    if sum(part.share for part in found if part.share) > Decimal("1.005"):
        values.report(
            "over-100-percent", anchor, listed=", ".join(words.text for words in values.names(written, anchor))
        )
    return tuple(found)


def _additive(written: WrittenAdditive | None, anchor: Anchor, values: Values) -> Additive | None:
    if written is None:
        return None
    if written.number and not _E_NUMBER.fullmatch(written.number):
        why = f"'{written.number}' is no E number"
        values.report("bad-number", anchor.at("number"), why=why, fix="write E and its digits, as in E322")
        return None
    return Additive(written.class_, written.number.replace(" ", "")) if written.class_ and written.number else None


def _per_kilo(text: str) -> Decimal:
    taken = take_number(text.strip())
    if taken is None or not _PER_KILO.fullmatch(text.strip()[taken.end :]):
        raise Unreadable(f"'{text}' is no content", end=len(text), hint="write it as 12 mg/kg")
    return taken.value


def _exempt(written: Mapping[str, Names], anchor: Anchor, values: Values) -> Iterator[tuple[str, frozenset[str]]]:
    for region, allergens in written.items():
        at = anchor.at(region)
        known = values.choice(region, key_of(at), "region", list(Region), "")
        if known:
            yield known, read_allergens(allergens, at, values)


def _keeps(written: Mapping[str, str], anchor: Anchor, values: Values) -> Iterator[StoresKeeping]:
    for state, text in written.items():
        at = anchor.at(state)
        known = values.choice(state, key_of(at), "state of an item", STATES, "")
        found = values.value("bad-keeping", partial(read_keeping, "made", at), text, at) if known else None
        if found:
            yield StoresKeeping(known, found.minutes, found.temperature)


def _articles(written: Mapping[str, WrittenArticle], anchor: Anchor, values: Values) -> Iterator[Article]:
    for name, article in written.items():
        at = anchor.at(name)
        supplier, _, code = name.rpartition(" ")
        if not supplier:
            values.report("bad-article", key_of(at), name=name)
            continue
        made_of = None if article.made_of is None else _made_of(article.made_of, at.at("made of"), values)
        yield Article(
            supplier.strip(),
            code,
            _allergens(article.contains, at.at("contains"), values),
            _allergens(article.may_contain, at.at("may contain"), values),
            made_of,
        )

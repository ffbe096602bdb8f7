"""Pages about the whole book: front, sections, components, costs, indexes, glossary, cautions, about."""

import unicodedata
from collections.abc import Iterable, Mapping, Sequence

from bookmaker.editions.team import places as at
from bookmaker.editions.team.cards import ItemCard, RecipeCard
from bookmaker.editions.team.places import Places
from bookmaker.editions.team.project_method import caution_view
from bookmaker.editions.team.project_prose import passages
from bookmaker.editions.team.rounding import percent, trimmed
from bookmaker.editions.team.routes import fold
from bookmaker.editions.team.views import Amount, Link
from bookmaker.editions.team.views_overview import (
    AboutPage,
    Attention,
    CautionEntry,
    CautionsPage,
    ComponentRow,
    ComponentsPage,
    CostRow,
    CostsPage,
    FrontPage,
    GlossaryPage,
    IndexEntry,
    IndexPage,
    RecipeRow,
    SectionEntry,
    SectionPage,
    Setting,
    TermEntry,
)
from bookmaker.measures.exact import ONE
from bookmaker.model.book import Caution, Term
from bookmaker.model.house import House
from bookmaker.model.recipe import Kind, Status
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.stores import StoresItem, StoresKind

_LATEST = 8
_UNFINISHED = frozenset({Status.DRAFT.value, Status.TRIAL.value})


def sections(cards: Iterable[RecipeCard]) -> tuple[SectionPage, ...]:
    """A page per section, with the recipes that are listed, in the book's order."""
    pages: dict[Link, list[RecipeRow]] = {}
    for card in cards:
        rows = pages.setdefault(card.section, [])
        if card.is_listed:
            rows.append(card.row)
    return tuple(
        SectionPage(link.route, link.name, tuple(rows)) for link, rows in pages.items() if link.route is not None
    )


def front(cards: Iterable[RecipeCard], pages: Sequence[SectionPage], items: Sequence[ItemCard]) -> FrontPage:
    """Sections, what changed last, and what wants attention."""
    listed = [card for card in cards if card.is_listed]
    rows = [card.row for card in listed]
    # a recipe in three sizes is one recipe, and its title is its own
    kinds = {card.title: card.row.kind for card in listed}
    dated = sorted(
        (entry for entry in rows if entry.revised), key=lambda entry: (entry.revised, entry.recipe.name), reverse=True
    )
    return FrontPage(
        route=at.FRONT,
        sections=tuple(_entry(page) for page in pages if page.recipes),
        latest=tuple(dated[:_LATEST]),
        unfinished=tuple(entry for entry in rows if entry.status in _UNFINISHED),
        incomplete=tuple(Attention(card.row.recipe, card.lacks) for card in listed if card.lacks),
        stale=tuple(item.row.item for item in items if item.row.stale and item.is_used),
        recipes=len(kinds),
        products=sum(kind == Kind.PRODUCT.value for kind in kinds.values()),
        items=len(items),
    )


def _entry(page: SectionPage) -> SectionEntry:
    products = tuple(entry.recipe for entry in page.recipes if entry.kind == Kind.PRODUCT.value)
    others = tuple(entry.recipe for entry in page.recipes if entry.kind != Kind.PRODUCT.value)
    return SectionEntry(Link(page.heading, page.route), products, others)


def components(
    cards: Mapping[RecipeRef, RecipeCard], used: Mapping[RecipeRef, tuple[RecipeRef, ...]], places: Places
) -> ComponentsPage:
    """Every recipe that others use: `used` lists each recipe's users."""
    rows = []
    for ref, card in cards.items():
        users = [user for user in used.get(ref, ()) if user in places.listed]
        if users and card.is_listed:
            row = card.row
            rows.append(ComponentRow(row.recipe, row.kind, row.status, card.uses, places.links(users)))
    return ComponentsPage(at.COMPONENTS, tuple(sorted(rows, key=lambda entry: entry.component.name.casefold())))


def costs(rows: Iterable[CostRow], house: House) -> CostsPage:
    """All products that are listed, by section, with each channel's price and food cost."""
    channels = tuple(channel.name for channel in house.channels)
    targets = [channel.food_cost or house.food_cost for channel in house.channels]
    shown_targets = tuple(percent(target) if target is not None else None for target in targets)
    return CostsPage(at.COSTS, house.money, channels, shown_targets, tuple(rows))


def by_name(cards: Iterable[RecipeCard]) -> IndexPage:
    """Recipes by title and by their other names."""
    entries: dict[str, dict[Link, None]] = {}
    others: set[str] = set()
    for card in cards:
        if not card.is_listed:
            continue
        link = card.row.recipe
        entries.setdefault(card.title, {})[link] = None
        for name in card.aka:
            entries.setdefault(name, {})[Link(card.title, link.route)] = None
            others.add(name)
    return IndexPage(at.BY_NAME, "name", _indexed({word: tuple(links) for word, links in entries.items()}, others))


def by_ingredient(
    used_in: Mapping[StoresRef, tuple[RecipeRef, ...]], stores: Mapping[str, StoresItem], places: Places
) -> IndexPage:
    """Ingredients by name and other names, each with the recipes that use it; packaging is none."""
    entries: dict[str, tuple[Link, ...]] = {}
    others: set[str] = set()
    for item, users in used_in.items():
        listed = [ref for ref in users if ref in places.listed]
        if not listed or stores[item.id].kind is StoresKind.PACKAGING:
            continue
        entries[item.id] = (places.link(item), *places.links(listed))
        for name in stores[item.id].aka:
            if name not in entries and not _beside(name, item.id):
                entries[name] = (places.link(item),)
                others.add(name)
    return IndexPage(at.BY_INGREDIENT, "ingredient", _indexed(entries, others))


def _beside(name: str, other: str) -> bool:
    """Whether two names stand next to each other in an index anyway, as a plural does."""
    return name.startswith(other) or other.startswith(name)


def _indexed(entries: Mapping[str, tuple[Link, ...]], others: set[str]) -> tuple[IndexEntry, ...]:
    ordered = sorted(entries.items(), key=lambda entry: (_plain(entry[0]), entry[0]))
    return tuple(IndexEntry(word, _plain(word)[:1].upper(), links, word in others) for word, links in ordered)


def _plain(word: str) -> str:
    """How a word is put in order: without accents and case."""
    apart = unicodedata.normalize("NFKD", word.casefold())
    return "".join(letter for letter in apart if not unicodedata.combining(letter))


def glossary(terms: Sequence[Term], places: Places) -> GlossaryPage | None:
    """The trade's words in alphabetical order; None where the book explains none."""
    if not terms:
        return None
    shown = (TermEntry(term.word, fold(term.word), passages(term.meaning, places), term.also) for term in terms)
    return GlossaryPage(at.GLOSSARY, tuple(sorted(shown, key=lambda term: _plain(term.word))))


def cautions(cards: Iterable[RecipeCard], known: Mapping[str, Caution]) -> CautionsPage:
    """Every hazard that some recipe meets, with the recipes; hazards that none meets are left out."""
    met: dict[str, dict[Link, None]] = {}
    for card in cards:
        if card.is_listed:
            for name in card.cautions:
                met.setdefault(name, {})[card.row.recipe] = None
    return CautionsPage(
        at.CAUTIONS,
        tuple(
            CautionEntry(
                caution_view(known[name]), fold(name), tuple(sorted(met[name], key=lambda link: link.name.casefold()))
            )
            for name in sorted(met)
        ),
    )


def about(house: House) -> AboutPage:
    """What the figures rest on."""
    settings: list[Setting] = [Setting("prices", f"{house.prices.choose.value}")]
    if house.prices.stale_after is not None:
        settings.append(Setting("a price is old after", Amount(trimmed(house.prices.stale_after, 0), "min")))
    if house.food_cost is not None:
        settings.append(Setting("target food cost", percent(house.food_cost)))
    settings += [
        Setting(f"target food cost, {channel.name}", percent(channel.food_cost))
        for channel in house.channels
        if channel.food_cost is not None
    ]
    settings += [Setting(f"tax, {channel.name}", percent(channel.tax)) for channel in house.channels if channel.tax]
    settings += [Setting(role, Amount(trimmed(rate, 2), f"{house.money}/h")) for role, rate in house.labour]
    if house.overhead:
        settings.append(Setting(f"overhead on {house.overhead_base.value}", percent(house.overhead)))
    if house.energy is not None:
        settings.append(Setting("energy", Amount(trimmed(house.energy, 3), f"{house.money}/kWh")))
    settings += [
        Setting(f"scale up to {trimmed(scale.most / 1000, 3):f} kg, step", Amount(trimmed(scale.step, 3), "g"))
        for scale in house.scales
    ]
    factors = tuple(trimmed(factor, 3) for factor in house.batches) or (ONE,)
    return AboutPage(at.ABOUT, tuple(settings), house.region.value, factors)

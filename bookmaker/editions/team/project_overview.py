"""Pages about the whole book: front, sections, components, costs, indexes, glossary, cautions, about."""

import unicodedata
from collections.abc import Iterable, Mapping, Sequence

from bookmaker.editions.team import places as at
from bookmaker.editions.team.places import Places, is_listed
from bookmaker.editions.team.project_method import caution_view
from bookmaker.editions.team.project_prose import passages
from bookmaker.editions.team.rounding import percent, trimmed
from bookmaker.editions.team.routes import fold
from bookmaker.editions.team.views import Amount, Lacking, Link
from bookmaker.editions.team.views_overview import (
    AboutPage,
    Attention,
    CautionEntry,
    CautionsPage,
    ChannelCost,
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
from bookmaker.editions.team.views_recipe import RecipeView
from bookmaker.editions.team.views_stores import StoresItemView
from bookmaker.kitchen.figures import LackKind
from bookmaker.measures.exact import ONE
from bookmaker.model.book import Book
from bookmaker.model.recipe import Kind, Status
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.model.stores import StoresKind

_LATEST = 8
_UNFINISHED = frozenset({Status.DRAFT.value, Status.TRIAL.value})
_RETIRED = Status.RETIRED.value


def row(view: RecipeView) -> RecipeRow:
    """A recipe in a list."""
    head = view.head
    return RecipeRow(
        recipe=Link(f"{head.title} ({head.size})" if head.size else head.title, view.route),
        code=head.code,
        kind=head.kind,
        status=head.status,
        revision=head.revision,
        revised=head.revised,
        usable=view.yields.usable,
        count=view.yields.count,
        word=view.yields.word,
    )


def sections(views: Sequence[RecipeView]) -> tuple[SectionPage, ...]:
    """A page per section, with the recipes that are listed, in the book's order."""
    pages: dict[Link, list[RecipeRow]] = {}
    for view in views:
        rows = pages.setdefault(view.head.section, [])
        if view.head.status != _RETIRED:
            rows.append(row(view))
    return tuple(
        SectionPage(link.route, link.name, tuple(rows)) for link, rows in pages.items() if link.route is not None
    )


def front(views: Sequence[RecipeView], pages: Sequence[SectionPage], items: Sequence[StoresItemView]) -> FrontPage:
    """Sections, what changed last, and what wants attention."""
    rows = [row(view) for view in views if view.head.status != _RETIRED]
    dated = sorted(
        (entry for entry in rows if entry.revised), key=lambda entry: (entry.revised, entry.recipe.name), reverse=True
    )
    attention = (
        Attention(row(view).recipe, lacks) for view in views if view.head.status != _RETIRED and (lacks := _own(view))
    )
    return FrontPage(
        route=at.FRONT,
        sections=tuple(_entry(page) for page in pages if page.recipes),
        latest=tuple(dated[:_LATEST]),
        unfinished=tuple(entry for entry in rows if entry.status in _UNFINISHED),
        incomplete=tuple(attention),
        stale=tuple(
            Link(item.name, item.route)
            for item in items
            if any(lack.kind == LackKind.STALE_PRICE.value for lack in item.lacks) and (item.used_in or item.reached)
        ),
        recipes=len(rows),
        products=sum(entry.kind == Kind.PRODUCT.value for entry in rows),
        items=len(items),
    )


def _entry(page: SectionPage) -> SectionEntry:
    products = tuple(entry.recipe for entry in page.recipes if entry.kind == Kind.PRODUCT.value)
    others = tuple(entry.recipe for entry in page.recipes if entry.kind != Kind.PRODUCT.value)
    return SectionEntry(Link(page.heading, page.route), products, others)


def _own(view: RecipeView) -> tuple[Lacking, ...]:
    """What a recipe's figures lack at its own lines: what comes through a component is that component's to mend."""
    found = (*view.cost.lacks, *view.yields.usable.lacks, *(view.time.lacks if view.time else ()))
    return tuple(dict.fromkeys(lack for lack in found if not lack.via and lack.kind != LackKind.STALE_PRICE.value))


def components(
    views: Sequence[RecipeView], used: Mapping[RecipeRef, tuple[RecipeRef, ...]], book: Book, places: Places
) -> ComponentsPage:
    """Every recipe that others use: `used` lists each recipe's users."""
    users_of = {places.routes[ref]: users for ref, users in used.items()}
    rows = []
    for view in views:
        users = [ref for ref in users_of.get(view.route, ()) if is_listed(book.recipes[ref])]
        if users and view.head.status != _RETIRED:
            uses = tuple(dict.fromkeys(tray.component for tray in view.trays))
            entry = row(view)
            rows.append(ComponentRow(entry.recipe, entry.kind, entry.status, uses, places.links(users)))
    return ComponentsPage(at.COMPONENTS, tuple(sorted(rows, key=lambda entry: entry.component.name.casefold())))


def costs(views: Sequence[RecipeView], book: Book) -> CostsPage:
    """All products that are listed, by section, with each channel's price and food cost."""
    channels = tuple(channel.name for channel in book.house.channels)
    targets = [channel.food_cost or book.house.food_cost for channel in book.house.channels]
    rows = []
    for view in views:
        if view.head.kind == Kind.PRODUCT.value and view.head.status != _RETIRED:
            by_name = {channel.channel: channel for channel in view.cost.channels}
            cells = tuple(
                ChannelCost(shown.net, shown.food_cost if shown.net else None, shown.over, shown.lowest_net)
                if (shown := by_name.get(name))
                else None
                for name in channels
            )
            cost = view.cost
            rows.append(CostRow(row(view).recipe, cost.batch, cost.each, cost.ingredients_each, cost.sold, cells))
    shown_targets = tuple(percent(target) if target is not None else None for target in targets)
    return CostsPage(at.COSTS, book.house.money, channels, shown_targets, tuple(rows))


def by_name(views: Iterable[RecipeView]) -> IndexPage:
    """Recipes by title and by their other names."""
    entries: dict[str, dict[Link, None]] = {}
    others: set[str] = set()
    for view in views:
        if view.head.status == _RETIRED:
            continue
        link = row(view).recipe
        entries.setdefault(view.head.title, {})[link] = None
        for name in view.head.aka:
            entries.setdefault(name, {})[Link(view.head.title, link.route)] = None
            others.add(name)
    return IndexPage(at.BY_NAME, "name", _indexed({word: tuple(links) for word, links in entries.items()}, others))


def by_ingredient(used_in: Mapping[StoresRef, tuple[RecipeRef, ...]], book: Book, places: Places) -> IndexPage:
    """Ingredients by name and other names, each with the recipes that use it; packaging is none."""
    entries: dict[str, tuple[Link, ...]] = {}
    others: set[str] = set()
    for item, users in used_in.items():
        listed = [ref for ref in users if is_listed(book.recipes[ref])]
        if not listed or book.stores[item.id].kind is StoresKind.PACKAGING:
            continue
        entries[item.id] = (places.link(item), *places.links(listed))
        for name in book.stores[item.id].aka:
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


def glossary(book: Book, places: Places) -> GlossaryPage | None:
    """The trade's words in alphabetical order; None where the book explains none."""
    if not book.glossary:
        return None
    terms = (TermEntry(term.word, fold(term.word), passages(term.meaning, places), term.also) for term in book.glossary)
    return GlossaryPage(at.GLOSSARY, tuple(sorted(terms, key=lambda term: _plain(term.word))))


def cautions(views: Iterable[RecipeView], book: Book) -> CautionsPage:
    """Every hazard that some recipe meets, with the recipes; hazards that none meets are left out."""
    met: dict[str, dict[Link, None]] = {}
    for view in views:
        if view.head.status != _RETIRED:
            for caution in view.cautions:
                met.setdefault(caution.name, {})[row(view).recipe] = None
    return CautionsPage(
        at.CAUTIONS,
        tuple(
            CautionEntry(
                caution_view(book.cautions[name]),
                fold(name),
                tuple(sorted(met[name], key=lambda link: link.name.casefold())),
            )
            for name in sorted(met)
        ),
    )


def about(book: Book) -> AboutPage:
    """What the figures rest on."""
    house = book.house
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

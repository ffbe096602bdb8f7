"""The team book's files, each with what it is made from, so that only those are made which may have changed."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from functools import cached_property, partial
from hashlib import blake2b
from pathlib import Path
from typing import Any

from bookmaker.editions.cards import pages as cards
from bookmaker.editions.cards.views import CardView
from bookmaker.editions.cards.views_page import CardPage
from bookmaker.editions.team import edition
from bookmaker.editions.team import places as at
from bookmaker.editions.team import project_overview as overview
from bookmaker.editions.team.cards import ItemCard, RecipeCard
from bookmaker.editions.team.places import Places
from bookmaker.editions.team.project_allergens import matrix
from bookmaker.editions.team.project_stores import index
from bookmaker.editions.team.views import Frame, Route
from bookmaker.editions.team.views_overview import (
    CautionsPage,
    CostsPage,
    FrontPage,
    IndexPage,
    MatrixPage,
    SectionPage,
)
from bookmaker.editions.team.views_recipe import RecipeView
from bookmaker.editions.team.views_stores import StoresItemView
from bookmaker.editions.team.views_working import WorkingPage
from bookmaker.model.refs import RecipeRef, StoresRef
from bookmaker.press.site import SitePress, font_files, page_of, page_path, photo_path, theme_files
from bookmaker.reading.walk import walk
from bookmaker.workshop.cache.cardbox import CardBox
from bookmaker.workshop.cache.items import ItemProjector, Items
from bookmaker.workshop.cache.kept import KeptBook
from bookmaker.workshop.cache.larder import digests
from bookmaker.workshop.cache.leaf import Leaf
from bookmaker.workshop.cache.ledger import Ledger, PageEntry, PagesEntry
from bookmaker.workshop.cache.notes import Changes, label
from bookmaker.workshop.cache.packing import digest, digest_of, unpack
from bookmaker.workshop.cache.photos import Photos
from bookmaker.workshop.cache.projecting import Projected, Projector, RecipePages, compare_places


class TeamBook:
    """The team book of a sound book, as leaves. Nothing is set before somebody makes a leaf; but where it `is_wanted`
    that pages be set, and there are many new ones, those of recipes are set where they are projected.
    """

    def __init__(self, kept: KeptBook, folder: Path, themes: tuple[Path, ...], *, is_wanted: bool = False) -> None:
        self._kept, self._themes = kept, themes
        before, store = kept.before, kept.store
        changes = Changes((*before.unseen, *kept.changes.labels))
        if before.keys.get("contents") != kept.keys.contents:
            compare_places(kept.contents_before(), kept.contents, changes)
        self.places: Places = kept.contents.places()
        self._order = kept.contents.in_order()
        photos = {entry.photo for entry in kept.bound.entries.values() if entry.photo}
        self.photos = Photos(folder, photos, before.photos, store)
        projector = Projector(kept.desk, kept.bound, kept.figured, self.places)
        if is_wanted and not before.pages:
            self.get_ready()
        self._projected: Projected = projector.kept(
            self._order,
            before.pages,
            changes,
            house=kept.keys.house,
            set_page=self._set if is_wanted else None,
            besides=[*font_files()] if is_wanted and not before.pages else (),
        )
        self._item_projector = ItemProjector(kept, self.places, self._projected.entries)
        self._items: Items = self._item_projector.kept(before.items, changes, house=kept.keys.house)
        entries = self._projected.entries
        self._cards = self._box("recipes", {key: entry.card for key, entry in entries.items()}, "card")
        self._costs = self._box("costs", {key: entry.cost for key, entry in entries.items()}, "cost")
        self._matrix = self._box("allergens", {key: entry.matrix for key, entry in entries.items()}, "matrix")
        self._item_cards = CardBox(
            "items", {name: entry.card for name, entry in self._items.entries.items()}, self._item_projector.card, store
        )
        self._lists: dict[str, PageEntry] = {}
        self._theme = theme_digest(themes, "site")

    @cached_property
    def leaves(self) -> tuple[Leaf, ...]:
        """Every file of the edition."""
        return tuple(self._all_leaves())

    def _all_leaves(self) -> Iterator[Leaf]:
        # fonts take longest: they come first, so that nobody waits for them at the end
        yield from self._assets()
        for ref in self._order:
            key = label(ref)
            entry = self._projected.entries[key]
            photo = self.photos.key(self._kept.bound.entries[key].photo)
            pages = partial(self._projected.pages, key)
            yield self._recipe_leaf(
                key, "view", self._leaf(self.places.routes[ref], partial(_view, pages), entry.view, photo)
            )
            yield self._recipe_leaf(
                key, "working", self._leaf(self.places.working(ref), partial(_working, pages), entry.working)
            )
        for name, item in self._items.entries.items():
            yield self._leaf(self.places.routes[StoresRef(name)], partial(self._item, name), item.view)
        yield from self._list_leaves()
        yield from self._card_leaves()
        yield from self._photo_leaves()

    def get_ready(self) -> None:
        """To be called before many pages are made: what copies of this process would each have to do is done here."""
        self._press.load()

    @cached_property
    def key(self) -> str:
        """What stands for everything that the pages show."""
        return digest(*(leaf.made_from for leaf in self.leaves))

    def enter(self, ledger: Ledger) -> None:
        """Write what the pages came to into the ledger."""
        for box in (self._cards, self._costs, self._matrix, self._item_cards):
            box.save()
        ledger.unseen = []
        ledger.pages = self._projected.entries
        ledger.items = self._items.entries
        ledger.lists = self._lists
        ledger.photos = self.photos.entries

    # --- recipes and items

    def _item(self, name: str) -> StoresItemView:
        return self._items.fresh.get(name) or self._item_projector.view(name)

    def _box(self, name: str, digests: Mapping[str, str], part: str) -> CardBox:
        box = CardBox(name, digests, lambda key: getattr(self._projected.pages(key), part), self._kept.store)
        for key, pages in self._projected.fresh.items():
            box.put(key, getattr(pages, part))
        for key, packed in self._projected.packed.items():
            box.put_packed(key, packed[part])
        return box

    # --- pages about the whole book

    def _list_leaves(self) -> Iterator[Leaf]:
        kept = self._kept
        house, contents = kept.keys.house, kept.keys.contents
        cards, items = self._cards.key, self._item_cards.key
        users = kept.figured.users
        used = digest(*(f"{label(ref)}\0{' '.join(map(label, by))}" for ref, by in users.of_recipes.items()))
        named = digest(*(f"{item.id}\0{' '.join(map(label, by))}" for item, by in users.of_items.items()))
        goods = digest(*digests(kept.larder.shelves.items).values())
        glossary = kept.library.digest("glossary.md")
        yield self._list(at.FRONT, self.front, cards, items)
        for link in self.places.sections.values():
            if link.route is not None:
                yield self._list(link.route, partial(self._section, link.route), cards)
        yield self._merkle(at.STORES, lambda: index(self._all_items), items)
        yield self._list(at.COMPONENTS, self._components, cards, used, contents)
        yield self._merkle(at.ALLERGENS, self.allergens, self._matrix.key, house)
        yield self._merkle(at.COSTS, self.costs, self._costs.key, house)
        yield self._list(at.BY_NAME, lambda: overview.by_name(self.recipe_cards), cards)
        yield self._merkle(at.BY_INGREDIENT, self.by_ingredient, named, contents, goods)
        if kept.book.glossary:
            yield self._merkle(
                at.GLOSSARY, lambda: overview.glossary(kept.book.glossary, self.places), glossary, contents
            )
        hazards = digest(*(f"{name}\0{found}" for name, found in kept.cautions.items()))
        yield self._list(at.CAUTIONS, self.cautions, cards, hazards)
        yield self._merkle(at.ABOUT, lambda: overview.about(kept.house), house)

    def _list(self, route: Route, project: Callable[[], Any], *made_from: str) -> Leaf:
        """A page whose view is looked at when its cards have changed: it may not show what is new in them."""
        path, key = page_path(route), digest(*made_from)
        entry = self._kept.before.lists.get(path)
        if entry is None or entry.made_from != key:
            view = project()
            entry = PageEntry(key, digest_of(view))
            self._lists[path] = entry
            return self._leaf(route, lambda: view, entry.content)
        self._lists[path] = entry
        return self._leaf(route, project, entry.content)

    def _merkle(self, route: Route, project: Callable[[], Any], *made_from: str) -> Leaf:
        """A page that shows all that it is made from, so that its view need not be looked at."""
        return self._leaf(route, project, digest(*made_from))

    @cached_property
    def _by_ref(self) -> dict[RecipeRef, RecipeCard]:
        cards = self._cards.cards()
        return {ref: cards[label(ref)] for ref in self._order}

    @property
    def recipe_cards(self) -> list[RecipeCard]:
        """Every recipe's card, in the book's order."""
        return list(self._by_ref.values())

    @cached_property
    def _all_items(self) -> tuple[ItemCard, ...]:
        return tuple(self._item_cards.cards().values())

    def front(self) -> FrontPage:
        """The way in."""
        return overview.front(self.recipe_cards, self.sections, self._all_items)

    @cached_property
    def sections(self) -> tuple[SectionPage, ...]:
        """The sections, with what is listed in each."""
        return overview.sections(self.recipe_cards)

    def _section(self, route: Route) -> SectionPage:
        return next(page for page in self.sections if page.route == route)

    def _components(self) -> Any:
        return overview.components(self._by_ref, self._kept.figured.users.of_recipes, self.places)

    def allergens(self) -> MatrixPage:
        """The allergens of all products."""
        return matrix(_there(self._matrix), self._kept.house)

    def costs(self) -> CostsPage:
        """The costs of all products."""
        return overview.costs(_there(self._costs), self._kept.house)

    def cautions(self) -> CautionsPage:
        """Every caution, with the recipes that it stands with."""
        return overview.cautions(self.recipe_cards, self._kept.library.all_cautions)

    def by_ingredient(self) -> IndexPage:
        """The index of ingredients."""
        return overview.by_ingredient(self._kept.figured.users.of_items, self._kept.larder.stores, self.places)

    # --- what the printed book asks for

    def view_at(self, route: str) -> RecipeView:
        """The recipe that is shown at a route, by its key."""
        return self._projected.pages(self._labels[route]).view

    def shown(self, route: str) -> str:
        """What stands for all that is shown there."""
        key = self._labels[route]
        return digest(self._projected.entries[key].view, self.photos.key(self._kept.bound.entries[key].photo))

    @cached_property
    def _labels(self) -> dict[str, str]:
        return {self.places.routes[ref].key: label(ref) for ref in self._order}

    # --- the pages that bench cards lead to

    @cached_property
    def bench(self) -> Mapping[RecipeRef, PagesEntry]:
        """What is known of each recipe's bench card, in the book's order; recipes without one are left out."""
        entries = self._projected.entries
        return {ref: entry for ref in self._order if (entry := entries[label(ref)]).code}

    def bench_card(self, ref: RecipeRef) -> CardView:
        """What a recipe's bench card shows."""
        packed = self._projected.packed.get(label(ref))
        found: CardView | None = unpack(packed["bench"]) if packed else self._projected.pages(label(ref)).bench
        assert found is not None, "it has a card"
        return found

    @cached_property
    def newest(self) -> date | None:
        """The newest revision among the recipes that are made."""
        newest = max((entry.revised for entry in self.bench.values()), default="")
        return date.fromisoformat(newest) if newest else None

    def _card_leaves(self) -> Iterator[Leaf]:
        register = self._kept.register.value
        issued = cards.last_issued(register)
        for ref, entry in self.bench.items():
            day = issued.get(entry.code)
            # who a recipe is stands in its code
            shown = digest(entry.code, self.places.routes[ref].key, str(day), str(self.newest))
            yield self._leaf(cards.route_of(entry.code), partial(self._current_card, ref, day), shown)
        former = tuple(cards.former_pages(self._cards_now, register, self.newest)) if register.cards else ()
        for page in former:
            yield self._leaf(page.route, partial(_view_itself, page), digest_of(page))
        listed = (f"{label(ref)}\0{entry.code}" for ref, entry in self.bench.items())
        routes = self._kept.keys.contents
        made_from = digest("cards", self._kept.register.key, routes, *listed)
        yield self._leaf(cards.INDEX, lambda: cards.cards_page(self._cards_now, former, register), made_from)

    def _current_card(self, ref: RecipeRef, issued: date | None) -> CardPage:
        return cards.current_page(self._card_now(ref), issued, self.newest)

    @cached_property
    def _cards_now(self) -> dict[RecipeRef, cards.CardNow]:
        return {ref: self._card_now(ref) for ref in self._order}

    def _card_now(self, ref: RecipeRef) -> cards.CardNow:
        entry, row = self._projected.entries[label(ref)], self._by_ref[ref].row
        return cards.CardNow(row.recipe, entry.code, entry.parts, row.revision, row.revised)

    # --- setting

    def _leaf(self, route: Route, view: Callable[[], Any], shown: str, photo: str = "") -> Leaf:
        return Leaf(
            f"{edition.FOLDER}/{page_path(route)}",
            digest(shown, self.frame_key, self._theme, photo),
            lambda: self._set(view()),
        )

    def _recipe_leaf(self, key: str, kind: str, leaf: Leaf) -> Leaf:
        """A recipe's page; what was set already is at hand, once."""
        there = self._projected.set
        if (key, kind) not in there:
            return leaf
        return replace(leaf, make=lambda: there.pop((key, kind), b"") or leaf.make(), at_hand=True)

    def _set(self, view: Any) -> bytes:
        return self._press.set(page_of(view))

    @cached_property
    def frame(self) -> Frame:
        """What stands round every page."""
        return edition.frame(self._kept.house, has_glossary=bool(self._kept.book.glossary))

    @cached_property
    def frame_key(self) -> str:
        """What stands for all that stands round every page."""
        return digest_of(self.frame)

    @cached_property
    def _press(self) -> SitePress:
        return SitePress(self.frame, self._themes, self.photos, self._kept.store)

    def _assets(self) -> Iterator[Leaf]:
        for name, content in theme_files(self._themes):
            yield Leaf(f"{edition.FOLDER}/{name}", bytes_digest(content), partial(_as_is, content))
        for name, make in font_files():
            # they depend on nothing but the tool and its libraries, and of another tool's build nothing is known
            leaf = Leaf(f"{edition.FOLDER}/{name}", digest("font", name), make)
            made = self._projected.besides.get(name)
            yield leaf if made is None else replace(leaf, make=partial(_as_is, made), at_hand=True)

    def _photo_leaves(self) -> Iterator[Leaf]:
        for source, entry in self.photos.entries.items():
            for number, width in enumerate(entry.widths):
                path = f"{edition.FOLDER}/{photo_path(source, width)}"
                yield Leaf(path, digest(entry.content, str(number)), partial(self._photo, source, number))

    def _photo(self, source: str, number: int) -> bytes:
        return self.photos[source].renditions[number].content


def bytes_digest(content: bytes) -> str:
    """A digest of a file's bytes."""
    return blake2b(content, digest_size=16).hexdigest()


def theme_digest(themes: tuple[Path, ...], part: str) -> str:
    """What stands for one part of the themes that are laid over each other, `site` or `print`."""
    found = []
    for number, theme in enumerate(themes):
        if (theme / part).is_dir():
            found += [
                f"{number} {name}\0{bytes_digest(Path(entry.path).read_bytes())}"
                for name, entry in walk(str(theme / part))
            ]
    return digest(*found)


def _view(pages: Callable[[], RecipePages]) -> RecipeView:
    return pages().view


def _working(pages: Callable[[], RecipePages]) -> WorkingPage:
    return pages().working


def _view_itself(page: CardPage) -> CardPage:
    return page


def _as_is(content: bytes) -> bytes:
    return content


def _there(box: CardBox) -> Iterator[Any]:
    return (card for card in box.cards().values() if card is not None)

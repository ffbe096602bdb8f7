"""Projecting: a recipe's two pages, and its cards, are put together anew only where what they show may have changed."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import partial
from typing import Any

from bookmaker.editions.cards.code import code_of, parts_of
from bookmaker.editions.cards.edition import CardFigures, card_view
from bookmaker.editions.cards.views import CardView
from bookmaker.editions.team.cards import RecipeCard, card_of, cost_row
from bookmaker.editions.team.places import Contents, Places
from bookmaker.editions.team.project_allergens import matrix_row
from bookmaker.editions.team.project_recipe import recipe_view
from bookmaker.editions.team.project_stores import grams_of
from bookmaker.editions.team.project_working import working_page
from bookmaker.editions.team.views import Amount
from bookmaker.editions.team.views_overview import CostRow, MatrixRow
from bookmaker.editions.team.views_recipe import RecipeView
from bookmaker.editions.team.views_working import WorkingPage
from bookmaker.kitchen.explain import workings_of
from bookmaker.kitchen.figures import Figures, RecipeFigures
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef
from bookmaker.workshop.cache.binding import Bound
from bookmaker.workshop.cache.figuring import ALL, FLOWS, NO_DAY, Desk, Figured, with_its_users
from bookmaker.workshop.cache.lazily import Lazily
from bookmaker.workshop.cache.ledger import PagesEntry
from bookmaker.workshop.cache.notes import Changes, Notes, label, recipe_of
from bookmaker.workshop.cache.packing import digest, digest_of, pack
from bookmaker.workshop.pool import spread_calls

NAMES, ROUTES, SECTIONS, SPELT, LISTED = "NRSML"
"""What is looked up of the places of the book."""


def noted_places(notes: Notes, places: Places) -> Places:
    """Places whose look-ups are noted."""
    return Places(
        names=notes.on(NAMES, places.names),
        routes=notes.on(ROUTES, places.routes),
        sections=notes.on(SECTIONS, places.sections),
        spelt=notes.on(SPELT, places.spelt),
        listed=notes.on_set(LISTED, places.listed),
    )


def compare_places(before: Contents, now: Contents, changes: Changes) -> None:
    """Note what is called otherwise, stands elsewhere, or is listed no more."""
    if before == now and list(before.recipes) == list(now.recipes):
        return
    was, places = before.places(), now.places()
    changes.compare(NAMES, _labelled(was.names), _labelled(places.names))
    if _standing(before) != _standing(now):
        changes.compare(ROUTES, _labelled(was.routes), _labelled(places.routes))
    changes.compare(SECTIONS, was.sections, places.sections)
    changes.compare(SPELT, was.spelt, places.spelt)
    changes.compare(LISTED, dict.fromkeys(map(label, was.listed)), dict.fromkeys(map(label, places.listed)))


def _standing(contents: Contents) -> object:
    """What routes depend on."""
    return [(ref, entry.gives) for ref, entry in contents.recipes.items()], contents.sizes, contents.stores


def _labelled(known: Mapping[Any, object]) -> dict[str, object]:
    return {label(key): value for key, value in known.items()}


WORTH_A_POOL = 40
"""Recipes. To begin two processes takes as long as to project and set some ten."""

PAGES = ("view", "working")
"""The pages of a recipe, as `RecipePages` and `PagesEntry` call them."""

CARDS = ("card", "cost", "matrix", "bench")
"""What other pages tell of a recipe, in the same way."""


@dataclass(frozen=True, slots=True)
class RecipePages:
    """A recipe's pages, and what the pages about the whole book tell of it."""

    view: RecipeView
    working: WorkingPage
    card: RecipeCard
    cost: CostRow | None
    matrix: MatrixRow | None
    grams: Mapping[str, Amount | None]
    holds: tuple[str, ...]
    bench: CardView | None


class Projector:
    """Projects recipes, with notes of what each looks up."""

    def __init__(self, desk: Desk, bound: Bound, figured: Figured, places: Places) -> None:
        self._desk, self._bound, self._figured = desk, bound, figured
        notes = desk.notes
        self._own: RecipeFigures | None = None
        self._places = noted_places(notes, places)
        self._flows = notes.on(FLOWS, Lazily(figured.figures, lambda ref: figured.figures[ref].flow))
        recipes = notes.on(ALL, _BySomebody(figured.figures, self._seen))
        self._figures = Figures(NO_DAY, recipes, desk.prices, figured.users.of_items)

    def pages(self, ref: RecipeRef) -> RecipePages:
        """Project one recipe."""
        gives = self._bound.entries[label(ref)].gives
        figures = self._own = with_its_users(self._figured.figures[ref], gives, self._figured.users)
        desk, places, house = self._desk, self._places, self._desk.book.house
        recipe = desk.turn_to(ref)
        view = recipe_view(ref, desk.book, figures, self._flows, places)
        listed = ref in places.listed
        sold = listed and recipe.kind is Kind.PRODUCT
        return RecipePages(
            view=view,
            working=working_page(ref, workings_of(desk.book, self._figures, ref), house.money, places),
            card=card_of(view),
            cost=cost_row(view, house),
            matrix=matrix_row(places.link(ref), figures.allergens, house.region) if sold else None,
            grams=grams_of(figures.flow) if listed else {},
            holds=tuple(item.id for item in figures.flow.content) if sold else (),
            bench=card_view(ref, desk.book, CardFigures.of(figures), self._flows, places) if listed else None,
        )

    def kept(
        self,
        order: Iterable[RecipeRef],
        before: Mapping[str, PagesEntry],
        changes: Changes,
        *,
        house: str,
        set_page: "Callable[[Any], bytes] | None" = None,
        besides: "Sequence[tuple[str, Callable[[], bytes]]]" = (),
    ) -> "Projected":
        """Project what may have changed. `order` is the book's; `house` stands for the house.

        Many recipes are projected on several processes. Those do not hand back the pages, which would take as long as
        to project them, but all else of them, and with `set_page` the pages that are not as `before` as they are set.
        `besides` are things to be made at the same time, by name.
        """
        made_from = {label(ref): self._made_from(ref, house) for ref in order}
        stale = []
        for key, found in made_from.items():
            entry = before.get(key)
            if entry is None or entry.made_from != found or changes.touch(entry.reads):
                stale.append(key)
        projected = Projected({}, self)
        fresh: dict[str, PagesEntry] = {}
        if len(stale) < WORTH_A_POOL:
            for key in stale:
                pages = projected.fresh[key] = self.pages(recipe_of(key))
                fresh[key] = _entry(pages, made_from[key], self._desk.notes.take())
        else:
            todo = [(key, made_from[key], before.get(key)) for key in stale]
            calls: list[Callable[[], Any]] = [make for _, make in besides]
            calls += [partial(self._apart, *each, set_page) for each in todo]
            made = spread_calls(calls, worth=WORTH_A_POOL)
            projected.besides = {name: next(made) for name, _ in besides}
            for key, (told, packed, pages_set) in zip(stale, made, strict=True):
                fresh[key] = PagesEntry._make(told)
                projected.packed[key] = packed
                projected.set |= {(key, kind): page for kind, page in pages_set.items()}
        projected.entries = {key: fresh[key] if key in fresh else before[key] for key in made_from}
        return projected

    def _made_from(self, ref: RecipeRef, house: str) -> str:
        """What stands for all that a recipe's pages show of itself and of those that use it."""
        own, users = self._bound.entries[label(ref)], self._figured.users
        used = [*map(label, users.of_recipes.get(ref, ()))]
        for name in own.gives:
            used += ["", *map(label, users.of_co_products.get((ref.id, name), ()))]
        return digest(house, own.own, self._figured.entries[label(ref)].all, *used)

    def _apart(
        self, key: str, made_from: str, before: PagesEntry | None, set_page: "Callable[[Any], bytes] | None"
    ) -> tuple[tuple[Any, ...], dict[str, bytes], dict[str, bytes]]:
        """A recipe projected in another process: its entry, its cards packed, and its pages that are new, as set."""
        pages = self.pages(recipe_of(key))
        entry = _entry(pages, made_from, self._desk.notes.take())
        packed = {part: pack(getattr(pages, part)) for part in CARDS}
        pages_set = {
            kind: set_page(getattr(pages, kind))
            for kind in PAGES
            if set_page is not None and (before is None or getattr(before, kind) != getattr(entry, kind))
        }
        return tuple(entry), packed, pages_set

    def _seen(self, ref: RecipeRef) -> RecipeFigures:
        """A recipe's figures as the recipe at hand sees them: only its own with those who use it."""
        own = self._own
        return own if own is not None and own.ref == ref else self._figured.figures[ref]


class _BySomebody(Mapping[RecipeRef, RecipeFigures]):
    """All figures, as somebody sees them."""

    def __init__(self, figures: Mapping[RecipeRef, RecipeFigures], seen: Callable[[RecipeRef], RecipeFigures]) -> None:
        self._figures, self._seen = figures, seen

    def __getitem__(self, ref: RecipeRef) -> RecipeFigures:
        return self._seen(ref)

    def __iter__(self) -> Iterator[RecipeRef]:
        return iter(self._figures)

    def __len__(self) -> int:
        return len(self._figures)


@dataclass(slots=True)
class Projected:
    """The pages of all recipes: an entry for each, in the book's order, and the pages themselves where they are new."""

    entries: dict[str, PagesEntry]
    projector: Projector
    fresh: dict[str, RecipePages] = field(default_factory=dict)
    packed: dict[str, dict[str, bytes]] = field(default_factory=dict)
    """The cards, by their names, of recipes that were projected in another process."""
    set: dict[tuple[str, str], bytes] = field(default_factory=dict)
    """Pages that were set there, by recipe and kind."""
    besides: dict[str, bytes] = field(default_factory=dict)
    """What was made there at the same time, by name."""
    _last: tuple[str, RecipePages] | None = None

    def pages(self, key: str) -> RecipePages:
        """A recipe's pages. Those that were no reason to project anything are projected when they are wanted."""
        if key in self.fresh:
            return self.fresh[key]
        if self._last is None or self._last[0] != key:
            self._last = key, self.projector.pages(recipe_of(key))
        return self._last[1]


def _entry(pages: RecipePages, made_from: str, reads: tuple[str, ...]) -> PagesEntry:
    bench, revised = pages.bench, pages.view.head.revised
    return PagesEntry(
        made_from=made_from,
        reads=reads,
        view=digest_of(pages.view),
        working=digest_of(pages.working),
        card=digest_of(pages.card),
        cost=digest_of(pages.cost),
        matrix=digest_of(pages.matrix),
        grams=tuple((item, _text(amount)) for item, amount in pages.grams.items()),
        holds=pages.holds,
        bench=digest_of(bench) if bench else "",
        code=code_of(bench) if bench else "",
        parts=tuple(parts_of(bench).values()) if bench else (),
        revised=revised.isoformat() if revised else "",
    )


def _text(amount: Amount | None) -> str:
    return f"{amount.value} {amount.unit}" if amount else ""


def amount_in(text: str) -> Amount | None:
    """The mass that an entry has as a text."""
    if not text:
        return None
    value, _, unit = text.partition(" ")
    return Amount(Decimal(value), unit)

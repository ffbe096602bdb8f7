"""Team book views → the printed book's order."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import overload

from bookmaker.editions.book.paper import on_paper
from bookmaker.editions.book.views import ContentsLine, Cover, Material, Part, PrintedBook
from bookmaker.editions.team.cards import card_of
from bookmaker.editions.team.views import Link
from bookmaker.editions.team.views_overview import IndexEntry, IndexPage, RecipeRow, SectionPage, TeamSite
from bookmaker.editions.team.views_recipe import RecipeView
from bookmaker.model.house import House


def arrange(site: TeamSite, house: House) -> PrintedBook:
    """The printed book of a team book that is there as a whole."""
    views = {view.route.key: view for view in site.recipes}
    material = Material(
        frame=site.frame,
        front=site.front,
        sections=site.sections,
        cards=tuple(map(card_of, site.recipes)),
        about=site.about,
        cautions=site.cautions,
        allergens=site.allergens,
        costs=site.costs,
        glossary=site.glossary,
        by_name=site.by_name,
        by_ingredient=site.by_ingredient,
    )
    return arranged(material, views.__getitem__, house)


def arranged(material: Material, view_of: Callable[[str], RecipeView], house: House) -> PrintedBook:
    """The printed book. Retired recipes are left out: paper cannot carry a banner that came later.

    `view_of` gives a recipe's view by the key of its route, when somebody wants it.
    """
    printed: dict[str, None] = {}
    parts = tuple(part for page in material.sections if (part := _part(material, page, view_of, printed)).contents)
    cards = [card for card in material.cards if card.is_listed]
    book = PrintedBook(
        frame=material.frame,
        paper=house.paper.value,
        currency=house.money,
        cover=Cover(
            house=material.frame.house,
            newest=max((card.row.revised for card in cards if card.row.revised), default=None),
            recipes=material.front.recipes,
            products=material.front.products,
            contact=material.frame.contact,
        ),
        about=material.about,
        parts=parts,
        cautions=material.cautions,
        allergens=material.allergens,
        costs=material.costs,
        glossary=material.glossary,
        by_name=material.by_name,
        by_ingredient=material.by_ingredient,
    )
    printed.update(dict.fromkeys(_printed(book)))
    order = {key: number for number, key in enumerate(printed)}
    book = on_paper(book, order.keys())
    return replace(
        book,
        by_name=_in_page_order(book.by_name, order),
        by_ingredient=_in_page_order(book.by_ingredient, order),
        cautions=replace(
            book.cautions,
            cautions=tuple(replace(entry, recipes=_pages(entry.recipes, order)) for entry in book.cautions.cautions),
        ),
    )


def _printed(book: PrintedBook) -> Iterator[str]:
    """Pages of the team book that stand in the printed one, in its order."""
    yield book.about.route.key
    for part in book.parts:
        yield part.route.key
        yield from (line.route.key for line in part.contents)
    pages = (book.cautions, book.allergens, book.costs, book.glossary, book.by_ingredient, book.by_name)
    yield from (page.route.key for page in pages if page)


def _in_page_order(index: IndexPage, order: Mapping[str, int]) -> IndexPage:
    """The index as a book has it: pages in order, each once; `see` another word, where that word has its pages."""
    return replace(index, entries=tuple(_entry(entry, order) for entry in index.entries))


def _entry(entry: IndexEntry, order: Mapping[str, int]) -> IndexEntry:
    return entry if entry.other_name else replace(entry, to=_pages(entry.to, order))


def _pages(links: tuple[Link, ...], order: Mapping[str, int]) -> tuple[Link, ...]:
    pages = {link.route.key: link for link in links if link.route}
    return tuple(pages[key] for key in sorted(pages, key=order.__getitem__))


def _part(
    material: Material, section: SectionPage, view_of: Callable[[str], RecipeView], printed: Collection[str]
) -> Part:
    cards = [card for card in material.cards if card.section.route == section.route and card.is_listed]
    contents = tuple(_line(card.row) for card in cards)
    return Part(
        section.heading, section.route, contents, Leaves(tuple(line.route.key for line in contents), view_of, printed)
    )


def _line(row: RecipeRow) -> ContentsLine:
    route = row.recipe.route
    assert route is not None, "every recipe has its page"
    return ContentsLine(row.recipe.name, route, row.kind, row.code, row.usable.amount, row.count, row.word)


class Leaves(Sequence[RecipeView]):
    """Recipes as they are printed, each made when it is wanted: a book of a thousand need not have them all at once."""

    def __init__(self, keys: tuple[str, ...], view_of: Callable[[str], RecipeView], printed: Collection[str]) -> None:
        self._keys, self._view_of, self._printed = keys, view_of, printed

    @overload
    def __getitem__(self, at: int) -> RecipeView: ...

    @overload
    def __getitem__(self, at: slice) -> tuple[RecipeView, ...]: ...

    def __getitem__(self, at: int | slice) -> RecipeView | tuple[RecipeView, ...]:
        if isinstance(at, slice):
            return tuple(self[each] for each in range(*at.indices(len(self))))
        return on_paper(self._view_of(self._keys[at]), self._printed)

    def __len__(self) -> int:
        return len(self._keys)

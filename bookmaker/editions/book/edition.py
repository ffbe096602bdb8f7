"""Team book views → the printed book's order."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from bookmaker.editions.book.paper import on_paper
from bookmaker.editions.book.views import ContentsLine, Cover, Part, PrintedBook
from bookmaker.editions.team.views import Link
from bookmaker.editions.team.views_overview import IndexEntry, IndexPage, TeamSite
from bookmaker.editions.team.views_recipe import RecipeView
from bookmaker.model.house import House


def arrange(site: TeamSite, house: House) -> PrintedBook:
    """The printed book. Retired recipes are left out: paper cannot carry a banner that came later."""
    parts = tuple(part for page in site.sections if (part := _part(site, page.heading, page.route.folder)).recipes)
    recipes = [recipe for part in parts for recipe in part.recipes]
    book = PrintedBook(
        frame=site.frame,
        paper=house.paper.value,
        currency=house.money,
        cover=Cover(
            house=site.frame.house,
            newest=max((recipe.head.revised for recipe in recipes if recipe.head.revised), default=None),
            recipes=site.front.recipes,
            products=site.front.products,
            contact=site.frame.contact,
        ),
        about=site.about,
        parts=parts,
        cautions=site.cautions,
        allergens=site.allergens,
        costs=site.costs,
        glossary=site.glossary,
        by_name=site.by_name,
        by_ingredient=site.by_ingredient,
    )
    order = {key: number for number, key in enumerate(_printed(book))}
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
        yield from (recipe.route.key for recipe in part.recipes)
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


def _part(site: TeamSite, heading: str, folder: str) -> Part:
    recipes = tuple(
        recipe for recipe in site.recipes if recipe.route.folder == folder and recipe.head.status != "retired"
    )
    section = next(page for page in site.sections if page.route.folder == folder)
    return Part(heading, section.route, tuple(_line(recipe) for recipe in recipes), recipes)


def _line(recipe: RecipeView) -> ContentsLine:
    head, yields = recipe.head, recipe.yields
    title = f"{head.title} ({head.size})" if head.size else head.title
    return ContentsLine(title, recipe.route, head.kind, head.code, yields.usable.amount, yields.count, yields.word)

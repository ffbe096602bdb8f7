"""Team book views → the printed book's order."""

from collections.abc import Mapping
from dataclasses import replace

from bookmaker.editions.book.views import ContentsLine, Cover, Part, PrintedBook
from bookmaker.editions.team.views import Link
from bookmaker.editions.team.views_overview import IndexPage, TeamSite
from bookmaker.editions.team.views_recipe import RecipeView
from bookmaker.model.house import House


def arrange(site: TeamSite, house: House) -> PrintedBook:
    """The printed book. Retired recipes are left out: paper cannot carry a banner that came later."""
    parts = tuple(part for page in site.sections if (part := _part(site, page.heading, page.route.folder)).recipes)
    recipes = [recipe for part in parts for recipe in part.recipes]
    order = {recipe.route.key: number for number, recipe in enumerate(recipes)}
    return PrintedBook(
        frame=site.frame,
        paper=house.paper.value,
        currency=house.money,
        cover=Cover(
            house=site.frame.house,
            newest=max((recipe.head.revised for recipe in recipes if recipe.head.revised), default=None),
            recipes=len(recipes),
            products=sum(recipe.head.kind == "product" for recipe in recipes),
            contact=site.frame.contact,
        ),
        parts=parts,
        cautions=site.cautions,
        allergens=site.allergens,
        costs=site.costs,
        glossary=site.glossary,
        by_name=_in_page_order(site.by_name, order),
        by_ingredient=_in_page_order(site.by_ingredient, order),
    )


def _in_page_order(index: IndexPage, order: Mapping[str, int]) -> IndexPage:
    """The index with each entry's pages in the order they stand in the book; what is not printed comes last."""

    def position(link: Link) -> int:
        return order.get(link.route.key, len(order)) if link.route else len(order)

    entries = (replace(entry, to=tuple(sorted(entry.to, key=position))) for entry in index.entries)
    return replace(index, entries=tuple(entries))


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

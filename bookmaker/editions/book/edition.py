"""Team book views → the printed book's order."""

from bookmaker.editions.book.views import ContentsLine, Cover, Part, PrintedBook
from bookmaker.editions.team.views_overview import TeamSite
from bookmaker.editions.team.views_recipe import RecipeView
from bookmaker.model.house import House


def arrange(site: TeamSite, house: House) -> PrintedBook:
    """The printed book. Retired recipes are left out: paper cannot carry a banner that came later."""
    parts = tuple(part for page in site.sections if (part := _part(site, page.heading, page.route.folder)).recipes)
    recipes = [recipe for part in parts for recipe in part.recipes]
    return PrintedBook(
        frame=site.frame,
        paper=house.paper.value,
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
        by_name=site.by_name,
        by_ingredient=site.by_ingredient,
    )


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

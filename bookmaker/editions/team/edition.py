"""The team book: book, figures and their workings in, the whole site's views out."""

from collections.abc import Mapping, Sequence

from bookmaker.editions.team import places as at
from bookmaker.editions.team import project_overview as overview
from bookmaker.editions.team.places import Places, in_order, is_listed, places_of
from bookmaker.editions.team.project_allergens import matrix
from bookmaker.editions.team.project_recipe import recipe_view
from bookmaker.editions.team.project_stores import index, item_view, uses_of
from bookmaker.editions.team.project_working import working_page
from bookmaker.editions.team.views import Frame, Link
from bookmaker.editions.team.views_overview import MatrixPage, TeamSite
from bookmaker.editions.team.views_stores import StoresItemView
from bookmaker.kitchen.figures import Figures
from bookmaker.kitchen.law import LAWS
from bookmaker.kitchen.working import Working
from bookmaker.model.book import Book
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef, StoresRef

FOLDER = "team"
"""Where the edition is published within the output folder."""


def project(book: Book, figures: Figures, workings: Mapping[RecipeRef, Sequence[Working]]) -> TeamSite:
    """Every page of the team book. It is the house's own: it may see every figure.

    Pages must not collide: `places.route_collisions` finds those that would, before.
    """
    places = places_of(book)
    order = in_order(book)
    flows = {ref: figure.flow for ref, figure in figures.recipes.items()}
    recipes = tuple(recipe_view(ref, book, figures.recipes[ref], flows, places) for ref in order)
    items = _items(book, figures, places)
    sections = overview.sections(recipes)
    glossary = overview.glossary(book, places)
    return TeamSite(
        frame=_frame(book, has_glossary=glossary is not None),
        front=overview.front(recipes, sections, items),
        sections=sections,
        recipes=recipes,
        workings=tuple(working_page(ref, workings.get(ref, ()), book.house.money, places) for ref in order),
        stores_index=index(items, places),
        stores=items,
        components=overview.components(
            recipes, {ref: figure.used_in for ref, figure in figures.recipes.items()}, book, places
        ),
        allergens=_matrix(book, figures, places),
        costs=overview.costs(recipes, book),
        by_name=overview.by_name(recipes),
        by_ingredient=overview.by_ingredient(figures.used_in, book, places),
        glossary=glossary,
        cautions=overview.cautions(recipes, book),
        about=overview.about(book),
    )


def _items(book: Book, figures: Figures, places: Places) -> tuple[StoresItemView, ...]:
    flows = {ref: figure.flow for ref, figure in figures.recipes.items()}
    listed = [ref for ref, recipe in book.recipes.items() if is_listed(recipe)]
    found = []
    for name, item in sorted(book.stores.items(), key=lambda entry: entry[0].casefold()):
        target = StoresRef(name)
        users = [ref for ref in figures.used_in.get(target, ()) if is_listed(book.recipes[ref])]
        reached = [
            ref
            for ref in listed
            if book.recipes[ref].kind is Kind.PRODUCT and ref not in users and target in flows[ref].content
        ]
        uses = uses_of(target, users, flows, places)
        found.append(item_view(item, figures.prices[name], figures.on, uses, reached, book=book, places=places))
    return tuple(found)


def _matrix(book: Book, figures: Figures, places: Places) -> MatrixPage:
    law = LAWS[book.house.region]
    products = [
        (places.link(ref), figures.recipes[ref].allergens)
        for ref in in_order(book)
        if book.recipes[ref].kind is Kind.PRODUCT and is_listed(book.recipes[ref])
    ]
    groups = {group.name: group.members for group in law.groups}
    return matrix(at.ALLERGENS, law.rule, groups, products, book.house.cross_contact)


def _frame(book: Book, *, has_glossary: bool) -> Frame:
    ways = [
        ("Contents", at.FRONT),
        ("By name", at.BY_NAME),
        ("By ingredient", at.BY_INGREDIENT),
        ("Components", at.COMPONENTS),
        ("Stores", at.STORES),
        ("Costs", at.COSTS),
        ("Allergens", at.ALLERGENS),
        ("Cautions", at.CAUTIONS),
        *([("Glossary", at.GLOSSARY)] if has_glossary else []),
        ("About the figures", at.ABOUT),
    ]
    house = book.house
    return Frame(
        house=house.name,
        language=house.language,
        fahrenheit=house.fahrenheit,
        navigation=tuple(Link(name, route) for name, route in ways),
        contact=house.contact,
        published_at=house.published_at,
    )

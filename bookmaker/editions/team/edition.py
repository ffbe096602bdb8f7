"""The team book: book, figures and their workings in, the whole site's views out."""

from collections.abc import Mapping, Sequence

from bookmaker.editions.team import places as at
from bookmaker.editions.team import project_overview as overview
from bookmaker.editions.team.cards import card_of, cost_row
from bookmaker.editions.team.places import Places, contents_of
from bookmaker.editions.team.project_allergens import matrix, matrix_row
from bookmaker.editions.team.project_recipe import recipe_view
from bookmaker.editions.team.project_stores import grams_of, index, item_card, item_view
from bookmaker.editions.team.project_working import working_page
from bookmaker.editions.team.views import Frame, Link
from bookmaker.editions.team.views_overview import TeamSite
from bookmaker.editions.team.views_stores import StoresItemView, UseView
from bookmaker.kitchen.figures import Figures
from bookmaker.kitchen.working import Working
from bookmaker.model.book import Book
from bookmaker.model.house import House
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef, StoresRef

FOLDER = "team"
"""Where the edition is published within the output folder."""


def project(book: Book, figures: Figures, workings: Mapping[RecipeRef, Sequence[Working]]) -> TeamSite:
    """Every page of the team book. It is the house's own: it may see every figure.

    Pages must not collide: `Contents.collisions` finds those that would, before.
    """
    contents = contents_of(book)
    places, order = contents.places(), contents.in_order()
    flows = {ref: figure.flow for ref, figure in figures.recipes.items()}
    recipes = {ref: recipe_view(ref, book, figures.recipes[ref], flows, places) for ref in order}
    cards = {ref: card_of(view) for ref, view in recipes.items()}
    items = _items(book, figures, places)
    item_cards = tuple(item_card(item) for item in items)
    sections = overview.sections(cards.values())
    glossary = overview.glossary(book.glossary, places)
    rows = (cost_row(view, book.house) for view in recipes.values())
    return TeamSite(
        frame=frame(book.house, has_glossary=glossary is not None),
        front=overview.front(cards.values(), sections, item_cards),
        sections=sections,
        recipes=tuple(recipes.values()),
        workings=tuple(working_page(ref, workings.get(ref, ()), book.house.money, places) for ref in order),
        stores_index=index(item_cards),
        stores=items,
        components=overview.components(cards, {ref: figures.recipes[ref].used_in for ref in order}, places),
        allergens=matrix(
            (
                matrix_row(places.link(ref), figures.recipes[ref].allergens, book.house.region)
                for ref in order
                if contents.recipes[ref].kind is Kind.PRODUCT and ref in places.listed
            ),
            book.house,
        ),
        costs=overview.costs((row for row in rows if row), book.house),
        by_name=overview.by_name(cards.values()),
        by_ingredient=overview.by_ingredient(figures.used_in, book.stores, places),
        glossary=glossary,
        cautions=overview.cautions(cards.values(), book.cautions),
        about=overview.about(book.house),
    )


def _items(book: Book, figures: Figures, places: Places) -> tuple[StoresItemView, ...]:
    """Every item's page. It is reached by products that hold it without naming it themselves."""
    grams = {ref: grams_of(figure.flow) for ref, figure in figures.recipes.items() if ref in places.listed}
    reaching: dict[StoresRef, list[RecipeRef]] = {}
    for ref, figure in figures.recipes.items():
        if ref in places.listed and book.recipes[ref].kind is Kind.PRODUCT:
            for held in figure.flow.content:
                reaching.setdefault(held, []).append(ref)
    found = []
    for name, item in sorted(book.stores.items(), key=lambda entry: entry[0].casefold()):
        target = StoresRef(name)
        users = [ref for ref in figures.used_in.get(target, ()) if ref in places.listed]
        uses = tuple(UseView(places.link(ref), grams[ref].get(name)) for ref in users)
        reached = [ref for ref in reaching.get(target, ()) if ref not in users]
        found.append(item_view(item, figures.prices[name], figures.on, uses, reached, book=book, places=places))
    return tuple(found)


def frame(house: House, *, has_glossary: bool) -> Frame:
    """What stands around every page."""
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
    return Frame(
        house=house.name,
        language=house.language,
        fahrenheit=house.fahrenheit,
        navigation=tuple(Link(name, route) for name, route in ways),
        contact=house.contact,
        published_at=house.published_at,
    )

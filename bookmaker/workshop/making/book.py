"""The printed book, `book.pdf`."""

import zlib
from collections.abc import Callable
from functools import partial

from bookmaker.editions.book.edition import arranged
from bookmaker.editions.book.views import Material, PrintedBook
from bookmaker.editions.team import project_overview as overview
from bookmaker.editions.team.views import Route
from bookmaker.press import pdf
from bookmaker.press.assembly.assembling import Shop
from bookmaker.press.assembly.book import assembled_pdf
from bookmaker.press.book import recipe_setter
from bookmaker.workshop.building import Edition, Job, Made
from bookmaker.workshop.cache.leaf import Leaf
from bookmaker.workshop.cache.packing import digest
from bookmaker.workshop.cache.team import TeamBook, theme_digest
from bookmaker.workshop.making.team import team_book
from bookmaker.workshop.paper import paper_is_ready
from bookmaker.workshop.pool import spread, spread_calls

FILE = "book.pdf"

WORTH_A_POOL = 40
"""Recipes. To begin two processes takes as long as to project and set some ten."""


class _Recipes:
    """The recipes as HTML, of which only those are projected and set that are not kept as they are now."""

    def __init__(self, job: Job, pages: TeamBook, book: PrintedBook, theme: str) -> None:
        self._store = job.kept.store
        lines = {line.route.key: (part, at) for part in book.parts for at, line in enumerate(part.contents)}
        around = digest(theme, pages.frame_key, str(bool(book.glossary)), *lines)
        self._keys = {key: f"print:{digest(pages.shown(key), around)}" for key in lines}
        folders = [theme / "print" for theme in job.themes]
        lacking = [key for key, name in self._keys.items() if self._store.get(name) is None]
        if len(lacking) < WORTH_A_POOL:
            return
        set_recipe = recipe_setter(book, folders, pages.photos)
        calls = [partial(set_recipe, *lines[key]) for key in lacking]
        for done, (key, html) in enumerate(zip(lacking, spread_calls(calls, worth=WORTH_A_POOL), strict=True), 1):
            self._keep(key, html)
            job.progress.say(f"{FILE}: setting", done, len(lacking))

    def kept(self, route: Route, make: Callable[[], str]) -> str:
        """A recipe's HTML."""
        row = self._store.get(self._keys[route.key])
        if row is not None:
            return zlib.decompress(row).decode("utf-8")
        html = make()
        self._keep(route.key, html)
        return html

    def _keep(self, key: str, html: str) -> None:
        self._store.put(self._keys[key], zlib.compress(html.encode("utf-8"), 1))


def _material(job: Job, pages: TeamBook) -> Material:
    """What the book is arranged from, as far as it is kept."""
    return Material(
        frame=pages.frame,
        front=pages.front(),
        sections=pages.sections,
        cards=tuple(pages.recipe_cards),
        about=overview.about(job.kept.house),
        cautions=pages.cautions(),
        allergens=pages.allergens(),
        costs=pages.costs(),
        glossary=overview.glossary(job.kept.book.glossary, pages.places),
        by_name=overview.by_name(pages.recipe_cards),
        by_ingredient=pages.by_ingredient(),
    )


def _make(job: Job) -> Made:
    pages = job.once(team_book)
    print_theme = theme_digest(job.themes, "print")
    made = Made([], pages.enter, libraries=pdf.library_files())

    def lay_out() -> bytes:
        book = arranged(_material(job, pages), pages.view_at, job.kept.house)
        recipes = _Recipes(job, pages, book, print_theme)
        shop = Shop(spread, job.progress.say, made.teller(job.progress), job.kept.store)
        return assembled_pdf(book, job.themes, pages.photos, shop, recipes.kept)

    libraries = "\n".join(pdf.system_libraries())
    made.leaves = [Leaf(FILE, digest(pages.key, print_theme, libraries), lay_out, spreads=True)]
    return made


EDITION = Edition("book", _make, paper_is_ready)

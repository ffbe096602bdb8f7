"""The team book as a site: every page, style, script, font and photo as a path and its bytes. It writes nothing."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from markupsafe import Markup

from bookmaker.editions.cards.views_page import CardPage, CardsPage
from bookmaker.editions.team.views import Frame, Route
from bookmaker.editions.team.views_overview import (
    AboutPage,
    CautionsPage,
    ComponentsPage,
    CostsPage,
    FrontPage,
    GlossaryPage,
    IndexPage,
    MatrixPage,
    SectionPage,
    TeamSite,
)
from bookmaker.editions.team.views_recipe import RecipeView
from bookmaker.editions.team.views_stores import StoresIndexView, StoresItemView
from bookmaker.editions.team.views_working import WorkingPage
from bookmaker.press import fonts
from bookmaker.press.formats import Formats
from bookmaker.press.html import Shelf, environment, relative
from bookmaker.press.images import Photo
from bookmaker.press.pictures import cutting, layers, ribbon, shares, tree

ASSETS = "assets"
PHOTOS = "photos"


@dataclass(frozen=True, slots=True)
class Page:
    """One page before it is set: where it stands, which template sets it, and everything that it shows.

    A page's bytes follow from this value, the site's frame and the theme alone, so that its `repr` is a cache key.
    """

    route: Route
    template: str
    view: Any


@dataclass(frozen=True, slots=True)
class PhotoSource:
    """Where a page finds one size of a photo."""

    path: str
    width: int
    height: int


@dataclass(slots=True)
class SitePress:
    """A theme ready to set the pages of one site. `photos` by their path in the book; `shelf` keeps its templates."""

    frame: Frame
    themes: tuple[Path, ...]
    photos: Mapping[str, Photo] = field(default_factory=dict)
    shelf: Shelf | None = None
    _surrounds: dict[tuple[str, Route | None], tuple[Markup, Markup]] = field(default_factory=dict, init=False)
    _templates: Any = field(init=False)

    def __post_init__(self) -> None:
        formats = Formats.of(self.frame.language, fahrenheit=self.frame.fahrenheit)
        self._templates = environment(
            [theme / "site" for theme in self.themes], formats, _pictures(formats) | {"photo": self._photo}, self.shelf
        )

    def load(self) -> None:
        """Read and compile every template now, so that copies of this process need not."""
        for name in self._templates.list_templates(extensions=["html"]):
            self._templates.get_template(name)

    def set(self, page: Page) -> bytes:
        """The page's bytes: HTML in UTF-8."""
        top, foot = self._surround(page.route)
        template = self._templates.get_template(page.template)
        html: str = template.render(
            view=page.view, frame=self.frame, folder=page.route.folder, page_id=page.route.id, top=top, foot=foot
        )
        return html.encode("utf-8")

    def _surround(self, route: Route) -> tuple[Markup, Markup]:
        """What stands above and below a page: set once per folder and place in the navigation."""
        here = next((link.route for link in self.frame.navigation if link.route == route), None)
        key = (route.folder, here)
        if key not in self._surrounds:
            around = {"frame": self.frame, "folder": route.folder, "here": here}
            top, foot = (
                self._templates.get_template(name).render(around).rstrip() for name in ("top.html", "foot.html")
            )
            self._surrounds[key] = (_set(top), _set(foot))
        return self._surrounds[key]

    def _photo(self, source: str) -> tuple[PhotoSource, ...]:
        """The sizes of a photo, smallest first; none where the workshop has not made it."""
        photo = self.photos.get(source)
        return (
            tuple(PhotoSource(photo_path(source, size.width), size.width, size.height) for size in photo.renditions)
            if photo
            else ()
        )


TEMPLATES: Mapping[type, str] = {
    FrontPage: "front.html",
    SectionPage: "section.html",
    RecipeView: "recipe.html",
    WorkingPage: "working.html",
    StoresIndexView: "stores.html",
    StoresItemView: "item.html",
    ComponentsPage: "components.html",
    MatrixPage: "matrix.html",
    CostsPage: "costs.html",
    IndexPage: "index.html",
    GlossaryPage: "glossary.html",
    CautionsPage: "cautions.html",
    AboutPage: "about.html",
    CardPage: "card.html",
    CardsPage: "cards.html",
}
"""Which template sets which view."""


def page_of(view: Any) -> Page:
    """The page that shows a view of the site."""
    return Page(view.route, TEMPLATES[type(view)], view)


def pages(site: TeamSite) -> Iterator[Page]:
    """Every page of the site, before it is set."""
    glossary = (site.glossary,) if site.glossary else ()
    lists = (site.components, site.allergens, site.costs, site.by_name, site.by_ingredient, *glossary)
    views = (site.front, *site.sections, *site.recipes, *site.workings, site.stores_index, *site.stores)
    yield from map(page_of, (*views, *lists, site.cautions, site.about))


def render_team(
    site: TeamSite, themes: Iterable[Path], photos: Mapping[str, Photo] | None = None
) -> Iterator[tuple[str, bytes]]:
    """All files of the team book's site, by path within its folder. `themes`: the first folder that has a file wins."""
    folders = tuple(themes)
    press = SitePress(site.frame, folders, photos or {})
    for page in pages(site):
        yield page_path(page.route), press.set(page)
    yield from assets(folders)
    yield from photo_files(photos or {})


def page_path(route: Route) -> str:
    """Where a page is written, within the edition's folder."""
    return f"{route.key}.html"


def assets(themes: Iterable[Path]) -> Iterator[tuple[str, bytes]]:
    """Styles, scripts, icons and fonts."""
    yield from theme_files(themes)
    yield from ((path, make()) for path, make in font_files())


def theme_files(themes: Iterable[Path]) -> Iterator[tuple[str, bytes]]:
    """What a theme has beside its templates."""
    found: dict[str, Path] = {}
    for theme in themes:
        folder = theme / "site" / ASSETS
        for path in sorted(folder.rglob("*")):
            if path.is_file():
                found.setdefault(path.relative_to(folder).as_posix(), path)
    for name, path in sorted(found.items()):
        yield f"{ASSETS}/{name}", path.read_bytes()


def font_files() -> Iterator[tuple[str, Callable[[], bytes]]]:
    """The fonts and their style sheet, each with what makes it: that takes seconds, and is the same for every book."""
    yield f"{ASSETS}/fonts.css", lambda: (fonts.font_rules() + "\n").encode("utf-8")
    for name, make in fonts.site_fonts():
        yield f"{ASSETS}/fonts/{name}", make


def photo_path(source: str, width: int) -> str:
    """Where one size of a photo is published."""
    stem = source.rsplit(".", 1)[0].strip("/").replace("/", "-").replace(" ", "-")
    return f"{PHOTOS}/{stem}-{width}.jpg"


def photo_files(photos: Mapping[str, Photo]) -> Iterator[tuple[str, bytes]]:
    """Every photo in every size."""
    for source, photo in sorted(photos.items()):
        for size in photo.renditions:
            yield photo_path(source, size.width), size.content


def _pictures(formats: Formats) -> dict[str, object]:
    """The pictures as templates call them: what is shown, and the id that keeps them apart."""

    def composition_bar(view: Any, uid: str) -> Markup:
        return shares.composition(view, formats, uid=uid)

    def money_bar(view: Any, title: str, uid: str) -> Markup:
        return shares.money(view, title, formats, uid=uid)

    def time_ribbon(view: Any, uid: str) -> Markup:
        return ribbon.ribbon(view, formats, uid=uid)

    def component_tree(root: str, view: Any, uid: str, folder: str) -> Markup:
        return tree.tree(root, view, formats, uid=uid, url=lambda route: relative(folder, route))

    def cutting_diagram(view: Any, uid: str) -> Markup:
        return cutting.cutting(view, formats, uid=uid)

    def layer_section(view: Any, uid: str) -> Markup:
        return layers.layers(view, formats, uid=uid)

    return {
        "composition_bar": composition_bar,
        "money_bar": money_bar,
        "time_ribbon": time_ribbon,
        "component_tree": component_tree,
        "cutting_diagram": cutting_diagram,
        "layer_section": layer_section,
    }


def _set(html: str) -> Markup:
    """A part set by our own templates, which escape."""
    return Markup(html)  # noqa: S704

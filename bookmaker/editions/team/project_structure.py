"""How a product is built: its composition, component tree, layers, cuts and co-products."""

from collections.abc import Iterable, Mapping
from decimal import Decimal

from bookmaker.editions.team.places import Places
from bookmaker.editions.team.project_formula import demands, size
from bookmaker.editions.team.rounding import mass, percent, trimmed
from bookmaker.editions.team.views import Amount, Link
from bookmaker.editions.team.views_recipe import Branch, CoProductView, CutView, LayerView, Share
from bookmaker.kitchen.cuts import cut_sheet
from bookmaker.kitchen.figures import CutFlow, MassFlow
from bookmaker.kitchen.parts import sheet_size
from bookmaker.measures.exact import HUNDRED, ZERO
from bookmaker.model.book import Book
from bookmaker.model.line import Cut
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import RecipeRef, Target
from bookmaker.model.shapes import Rectangle

_SHOWN = 7


def composition(flow: MassFlow, places: Places) -> tuple[Share, ...]:
    """What stays in the batch by weight, from the recipe's own lines; the small ones together."""
    grams: dict[Target, Decimal] = {}
    for line in flow.lines:
        grams[line.target] = grams.get(line.target, ZERO) + line.stays
    whole = sum(grams.values(), ZERO)
    if not whole or len(grams) < 2:
        return ()
    ranked = sorted(grams.items(), key=lambda entry: (-entry[1], places.names[entry[0]]))
    shown = ranked if len(ranked) <= _SHOWN + 1 else ranked[:_SHOWN]
    found = [
        Share(places.link(target), mass(value), trimmed(value / whole * HUNDRED, 1)) for target, value in shown if value
    ]
    if rest := sum((value for _, value in ranked[len(shown) :]), ZERO):
        found.append(Share(Link("others"), mass(rest), trimmed(rest / whole * HUNDRED, 1)))
    return tuple(found)


def tree(ref: RecipeRef, flows: Mapping[RecipeRef, MassFlow], book: Book, places: Places) -> tuple[Branch, ...]:
    """Everything below a recipe with its weight for one batch; what occurs again is not unfolded again.

    Empty where it would be no more than one component, which stands as a tray already.
    """
    seen: set[RecipeRef] = set()

    def below(recipe: Recipe, factor: Decimal) -> Iterable[Branch]:
        for part, grams in demands(recipe, flows[recipe.ref], book).items():
            again, usable = part in seen, flows[part].usable
            seen.add(part)
            weight = mass(grams * factor) if grams else None
            deeper = () if again or not usable else tuple(below(book.recipes[part], grams * factor / usable))
            yield Branch(
                places.link(part), weight, deeper, again and bool(demands(book.recipes[part], flows[part], book))
            )

    branches = tuple(below(book.recipes[ref], Decimal(1)))
    return branches if len(branches) > 1 or any(branch.branches for branch in branches) else ()


def layers(recipe: Recipe, places: Places) -> tuple[LayerView, ...]:
    """Layers bottom to top; names that are recipes or items are links."""

    def link(name: str) -> Link:
        target = places.spelt.get(name.casefold())
        return places.link(target) if target else Link(name)

    return tuple(
        LayerView(
            layer=Link(layer.name, places.routes.get(layer.target)) if layer.target else Link(layer.name),
            shape=layer.shape,
            thickness=Amount(trimmed(layer.thickness, 1), "mm") if layer.thickness is not None else None,
            holds=tuple(link(name) for name in layer.holds),
            coats=layer.coats,
        )
        for layer in recipe.layers
    )


def cuts(recipe: Recipe, flow: MassFlow, book: Book, places: Places) -> tuple[CutView, ...]:
    """Cutting diagrams: the recipe's own cut, then what it cuts from its components' sheets, each once."""
    found: dict[tuple[str, str], CutView] = {}
    own = sheet_size(recipe, book.house)
    if flow.yields.cut and own:
        trim = recipe.cut.trim if recipe.cut else ZERO
        found["", str(flow.yields.cut.shape)] = _cut(flow.yields.cut, own, trim, flow.yields.word, None)
    for line in recipe.lines:
        if isinstance(line.quantity, Cut) and isinstance(line.target, RecipeRef):
            sheet = sheet_size(book.recipe(line.target), book.house)
            cut = cut_sheet(sheet, line.quantity.shape) if sheet else None
            if sheet and cut:
                key = line.target.id, str(cut.shape)
                found[key] = _cut(cut, sheet, ZERO, line.quantity.word, places.link(line.target))
    return tuple(found.values())


def _cut(cut: CutFlow, sheet: Rectangle, trim: Decimal, word: str, of: Link | None) -> CutView:
    return CutView(
        shape=size(cut.shape),
        sheet=size(sheet),
        trim=trimmed(trim, 1),
        per_sheet=cut.per_sheet,
        across=cut.across,
        down=cut.down,
        pattern=cut.pattern,
        used=percent(cut.used_share),
        word=word,
        of=of,
    )


def co_products(
    flow: MassFlow, takers: Mapping[str, tuple[RecipeRef, ...]], places: Places
) -> tuple[CoProductView, ...]:
    """What a batch gives beside its product, and who uses it: `takers` by the co-product's name."""
    return tuple(
        CoProductView(
            given.ref.name,
            mass(given.grams),
            percent(given.worth),
            places.links(takers.get(given.ref.name, ())),
        )
        for given in flow.co_products
    )

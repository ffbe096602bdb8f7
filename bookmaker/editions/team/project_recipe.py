"""A recipe's page, put together from its figures."""

from collections.abc import Mapping
from decimal import Decimal

from bookmaker.editions.team import project_formula as formula
from bookmaker.editions.team import project_method as method
from bookmaker.editions.team import project_structure as structure
from bookmaker.editions.team.places import Places
from bookmaker.editions.team.project_allergens import allergens
from bookmaker.editions.team.project_cost import cost
from bookmaker.editions.team.rounding import known, mass, minutes, trimmed
from bookmaker.editions.team.views import Amount, Link
from bookmaker.editions.team.views_recipe import (
    ClientWords,
    ElementView,
    KeepingView,
    PhotoView,
    RecipeView,
    TitleBlock,
    YieldView,
)
from bookmaker.kitchen.figures import KeepingFigure, MassFlow, RecipeFigures, YieldFlow
from bookmaker.kitchen.parts import sheet_size
from bookmaker.measures.counts import counted
from bookmaker.measures.exact import ONE
from bookmaker.model.book import Book
from bookmaker.model.recipe import Recipe, Status
from bookmaker.model.refs import RecipeRef
from bookmaker.model.yields import FrameYield, MouldYield, SheetYield, TinYield, TrayYield

# common practice, no source: below this a stated yield is just a rounded one
_HIDDEN = Decimal("0.01")


def recipe_view(
    ref: RecipeRef, book: Book, figures: RecipeFigures, flows: Mapping[RecipeRef, MassFlow], places: Places
) -> RecipeView:
    """Everything that a recipe's page shows."""
    recipe, flow = book.recipes[ref], figures.flow
    weighed = formula.formula(recipe, flow, book, places)
    trays = formula.trays(recipe, flows, book, places)
    unfinished = recipe.status in {Status.DRAFT, Status.TRIAL}
    return RecipeView(
        route=places.routes[ref],
        working=places.working(ref),
        coarse=formula.is_coarse(weighed, trays),
        head=title_block(recipe, book, places),
        yields=yields(recipe, flow, book, places),
        formula=weighed,
        losses=formula.losses(flow),
        method=method.method(recipe, figures.time, flow.yields.word, book, places),
        cost=cost(recipe, figures.cost, flow.yields.word, book.house.money, places),
        allergens=allergens(figures.allergens, book.house.cross_contact, places),
        total_formula=formula.total_formula(figures.total_formula, places) if figures.total_formula else None,
        trays=trays,
        time=method.time_view(figures.time, places) if figures.time.stretches else None,
        cautions=method.cautions(recipe, book, places),
        keeping=tuple(_keeping(state, places) for state in figures.keeping),
        completeness=tuple(ElementView(part.name, part.present, part.advice) for part in figures.completeness)
        if unfinished
        else (),
        composition=structure.composition(flow, places),
        tree=structure.tree(ref, flows, book, places),
        layers=structure.layers(recipe, places),
        cuts=structure.cuts(recipe, flow, book, places),
        co_products=structure.co_products(flow, figures.takers, places),
        used_in=places.links(user for user in figures.used_in if user in places.listed),
        client=_client(recipe, fahrenheit=book.house.fahrenheit),
        photo=PhotoView(recipe.photo, recipe.photo_text) if recipe.photo else None,
    )


def title_block(recipe: Recipe, book: Book, places: Places) -> TitleBlock:
    """Who the recipe is."""
    sizes = book.sizes.get(recipe.ref.id, ())
    return TitleBlock(
        title=recipe.title,
        kind=recipe.kind.value,
        status=recipe.status.value,
        revision=recipe.revision,
        revised=recipe.revised,
        section=places.sections[recipe.section],
        code=recipe.code,
        size=recipe.ref.size,
        sizes=tuple(Link(size, places.routes[RecipeRef(recipe.ref.id, size)]) for size in sizes),
        tags=recipe.tags,
        aka=recipe.aka,
        teaching=_teaching(recipe),
    )


def yields(recipe: Recipe, flow: MassFlow, book: Book, places: Places) -> YieldView:
    """What a batch comes to."""
    computed = flow.yields
    holders, holder, thickness = _holders(recipe)
    sheet = sheet_size(recipe, book.house)
    contradicted = _contradicted(computed)
    portion = recipe.portion
    return YieldView(
        usable=known(computed.usable, mass, places),
        count=Amount(trimmed(computed.pieces, 1)) if computed.pieces is not None else None,
        word=computed.word,
        piece=mass(computed.piece) if computed.piece is not None else None,
        scaled=mass(computed.scaled) if computed.scaled is not None else None,
        holders=holders,
        holder=holder,
        size=formula.size(sheet) if sheet else None,
        thickness=thickness,
        tray=Amount(trimmed(recipe.tray, 1)) if recipe.tray is not None else None,
        kept_back=mass(flow.kept_back) if flow.kept_back else None,
        stated=mass(computed.stated) if contradicted and computed.stated is not None else None,
        computed=mass(computed.computed) if contradicted and computed.computed is not None else None,
        boil_to=_boil_to(recipe),
        portion=_portion(recipe) if portion else None,
        portion_word=counted(computed.word, portion.pieces) if portion and portion.pieces is not None else "",
        dough_temperature=trimmed(recipe.dough_temperature.celsius, 1) if recipe.dough_temperature else None,
        make_least=mass(recipe.make.least) if recipe.make.least is not None else None,
        make_step=mass(recipe.make.step) if recipe.make.step is not None else None,
        make_most=mass(recipe.make.most) if recipe.make.most is not None else None,
        make_whole=recipe.make.whole,
    )


def _holders(recipe: Recipe) -> tuple[Amount | None, str, Amount | None]:
    """How many moulds, tins, sheets or frames a batch fills, which, and how thick a sheet is."""
    match recipe.yields:
        case MouldYield(count, name) | TinYield(count, name) | FrameYield(count, name):
            return Amount(trimmed(count, 2)), name, None
        case SheetYield(count, _, thickness):
            thick = Amount(trimmed(thickness, 1), "mm") if thickness is not None else None
            return Amount(trimmed(count, 2)), "sheet" if count == ONE else "sheets", thick
        case TrayYield(count):
            return Amount(trimmed(count, 2)), "tray" if count == ONE else "trays", None
        case _:
            return None, "", None


def _contradicted(computed: YieldFlow) -> bool:
    """Whether what the cook states and what the losses leave are further apart than a shown figure hides."""
    if not computed.stated or computed.computed is None:
        return False
    return abs(computed.stated - computed.computed) > computed.stated * _HIDDEN


def _boil_to(recipe: Recipe) -> Amount | None:
    target = recipe.boil_to
    if target is None:
        return None
    if target.brix is not None:
        return Amount(trimmed(target.brix * 100, 1), "°Brix")
    return mass(target.grams) if target.grams is not None else None


def _portion(recipe: Recipe) -> Amount | None:
    portion = recipe.portion
    if portion is None:
        return None
    if portion.grams is not None:
        return mass(portion.grams)
    return Amount(trimmed(portion.pieces, 2)) if portion.pieces is not None else None


def _keeping(state: KeepingFigure, places: Places) -> KeepingView:
    return KeepingView(
        state=state.state,
        stated=minutes(state.stated),
        most=minutes(state.minutes),
        temperature=trimmed(state.temperature.celsius, 1) if state.temperature else None,
        words=state.words,
        from_state=state.from_state,
        within=minutes(state.within) if state.within is not None else None,
        date_word=state.date_word,
        limited_by=places.link(state.limited_by) if state.limited_by else None,
        because=state.because,
        part=places.link(state.part) if state.part else None,
        part_age=minutes(state.part_age) if state.part_age else None,
    )


def _teaching(recipe: Recipe) -> str:
    """The level, as a word: the workbook uses the recipe."""
    return str(recipe.teaching.level) if recipe.teaching.teach else ""


def _client(recipe: Recipe, *, fahrenheit: bool) -> ClientWords | None:
    told = recipe.client
    words = ClientWords(
        describe=told.describe,
        serve=told.serve,
        sold_as=told.sold_as,
        thaw=told.thaw,
        thaw_also=method.readings_again(told.thaw, fahrenheit=fahrenheit),
        named=told.named,
        defrosted=told.defrosted,
    )
    return words if words != ClientWords() else None

"""Cards: what the pages about the whole book tell of one recipe, or of one stores item.

A card is small: such a page need not know every recipe's whole page, and stays as it is for as long as the cards do.
"""

from dataclasses import dataclass

from bookmaker.editions.team.views import Lacking, Link
from bookmaker.editions.team.views_overview import ChannelCost, CostRow, RecipeRow
from bookmaker.editions.team.views_recipe import RecipeView
from bookmaker.editions.team.views_stores import StoresRow
from bookmaker.kitchen.figures import LackKind
from bookmaker.model.house import House
from bookmaker.model.recipe import Kind, Status

_RETIRED = Status.RETIRED.value


@dataclass(frozen=True, slots=True)
class RecipeCard:
    """One recipe in one size. `lacks` are those of its own lines, `uses` its components, `cautions` hazards by name."""

    row: RecipeRow
    section: Link
    title: str
    aka: tuple[str, ...]
    lacks: tuple[Lacking, ...]
    cautions: tuple[str, ...]
    uses: tuple[Link, ...]

    @property
    def is_listed(self) -> bool:
        """Whether lists and indexes name it: retired recipes keep a page outside them."""
        return self.row.status != _RETIRED


@dataclass(frozen=True, slots=True)
class ItemCard:
    """One stores item: its row in the index, and whether some recipe or product holds it."""

    row: StoresRow
    is_used: bool


def card_of(view: RecipeView) -> RecipeCard:
    """A recipe's card."""
    head = view.head
    return RecipeCard(
        row=RecipeRow(
            recipe=Link(f"{head.title} ({head.size})" if head.size else head.title, view.route),
            code=head.code,
            kind=head.kind,
            status=head.status,
            revision=head.revision,
            revised=head.revised,
            usable=view.yields.usable,
            count=view.yields.count,
            word=view.yields.word,
        ),
        section=head.section,
        title=head.title,
        aka=head.aka,
        lacks=_own(view),
        cautions=tuple(caution.name for caution in view.cautions),
        uses=tuple(dict.fromkeys(tray.component for tray in view.trays)),
    )


def _own(view: RecipeView) -> tuple[Lacking, ...]:
    """What a recipe's figures lack at its own lines: what comes through a component is that component's to mend."""
    found = (*view.cost.lacks, *view.yields.usable.lacks, *(view.time.lacks if view.time else ()))
    return tuple(dict.fromkeys(lack for lack in found if not lack.via and lack.kind != LackKind.STALE_PRICE.value))


def cost_row(view: RecipeView, house: House) -> CostRow | None:
    """A product's row among the costs, a cell for each of the house's channels; None for what is not sold."""
    if view.head.kind != Kind.PRODUCT.value or view.head.status == _RETIRED:
        return None
    by_name = {channel.channel: channel for channel in view.cost.channels}
    cells = tuple(
        ChannelCost(shown.net, shown.food_cost if shown.net else None, shown.over, shown.lowest_net)
        if (shown := by_name.get(channel.name))
        else None
        for channel in house.channels
    )
    cost = view.cost
    return CostRow(card_of(view).row.recipe, cost.batch, cost.each, cost.ingredients_each, cost.sold, cells)

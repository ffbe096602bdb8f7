"""What is left after all losses, divided: the product, the seed kept back, co-products, and the rest of a cut."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.kitchen.content import Composition
from bookmaker.kitchen.figures import CoProductFlow, CutFlow, LineFlow
from bookmaker.measures.exact import ONE, ZERO
from bookmaker.model.recipe import Recipe
from bookmaker.model.refs import CoProductRef
from bookmaker.model.yields import CoProduct


@dataclass(frozen=True, slots=True)
class Shares:
    """Grams of product, of seed, of each co-product in the order of `gives`, and of offcuts that nobody claims.

    `usable` is not above zero where more is kept and given away than there is.
    """

    usable: Decimal
    kept: Decimal
    given: tuple[Decimal, ...]
    unclaimed: Decimal


def kept_back(recipe: Recipe, lines: Sequence[LineFlow]) -> Decimal:
    """What is kept as the next seed: as stated, else as much as came in as seed."""
    if recipe.keep_back is not None:
        return recipe.keep_back
    return sum((line.bowl or ZERO for line in lines if line.seed), ZERO)


def mass_for(recipe: Recipe, lines: Sequence[LineFlow], usable: Decimal) -> Decimal:
    """The mass after all losses from which `usable` grams remain where nothing is cut."""
    return usable + kept_back(recipe, lines) + sum((_weighed(each, usable) for each in recipe.gives), ZERO)


def _weighed(product: CoProduct, usable: Decimal) -> Decimal:
    """A co-product's grams as far as they are stated by weight or as a share of the product."""
    if product.grams is not None:
        return product.grams
    return usable * product.share if product.share is not None else ZERO


def share_out(recipe: Recipe, lines: Sequence[LineFlow], mass: Decimal, cut: CutFlow | None) -> Shares:
    """Divide `mass` grams.

    Seed and co-products by weight are taken off first and the rest is usable. Where the recipe cuts its own sheets
    the product is what the pieces take of them, and co-products by weight come out of the offcut. The rest of the cut
    is that of lines cut from another recipe's sheets, if there are such, else that of the own cut.
    """
    kept = kept_back(recipe, lines)
    if cut is None:
        fixed = sum((each.grams for each in recipe.gives if each.grams is not None), ZERO)
        shares = sum((each.share for each in recipe.gives if each.share is not None), ZERO)
        usable = (mass - kept - fixed) / (ONE + shares)
    else:
        usable = (mass - kept) * cut.used_share
    given = [_weighed(each, usable) for each in recipe.gives]
    own = mass - kept - usable - sum(given, ZERO) if cut is not None else ZERO
    others = sum((line.offcut for line in lines), ZERO)
    rest = next((index for index, each in enumerate(recipe.gives) if each.rest_of_cut), None)
    if rest is None:
        return Shares(usable, kept, tuple(given), own + others)
    given[rest] = others or own
    return Shares(usable, kept, tuple(given), own if others else ZERO)


def co_products(
    recipe: Recipe,
    shares: Shares,
    *,
    own: Composition,
    rest: Composition | None,
) -> tuple[CoProductFlow, ...]:
    """The co-products with what they consist of: the recipe's `own`, or that of the `rest` of sheets it cuts up."""
    return tuple(
        CoProductFlow(
            CoProductRef(recipe.ref, each.name), grams, each.worth, *(rest if rest and each.rest_of_cut else own)
        )
        for each, grams in zip(recipe.gives, shares.given, strict=True)
    )

"""A scaled recipe, and what an order of it costs, as plain JSON values at full precision."""

from bookmaker.editions.record.plain import Json, lacks, number
from bookmaker.kitchen.order import OrderCost
from bookmaker.kitchen.scale_cautions import WORDS
from bookmaker.kitchen.scaled import DrawLine, Scaled, ScaledRecipe
from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef


def scaled_record(book: Book, scaled: Scaled) -> Json:
    """Recipes in the order of making, the recipe asked for last; then what to draw. Masses are grams."""
    return {
        "recipe": str(scaled.ref),
        "limiting": book.name(scaled.limiting) if scaled.limiting is not None else None,
        "recipes": [_recipe(book, made) for made in scaled.recipes],
        "draw": [_drawn(line) for line in scaled.draw],
        "packaging": [_drawn(line) for line in scaled.packaging],
        "co-products": [
            {"name": use.ref.name, "produced": number(use.produced), "used": number(use.used)}
            for use in scaled.co_products
        ],
        "lacks": lacks(scaled.lacks),
    }


def order_record(ref: RecipeRef, order: OrderCost) -> Json:
    """An order's cost: what is paid, what of it goes to stock. Money in the house's currency."""
    paid = order.paid
    return {
        "recipe": str(ref),
        "paid": {
            "ingredients": number(paid.ingredients),
            "labour": number(paid.labour),
            "energy": number(paid.energy),
            "packaging": number(paid.packaging),
            "overhead": number(paid.overhead),
            "credit": number(paid.credit),
            "total": number(paid.total),
        },
        "left over": [
            {"recipe": str(over.ref), "grams": number(over.grams), "cost": number(over.cost), "to stock": over.to_stock}
            for over in order.left_overs
        ],
        "hands-on": number(order.hands_on),
        "charged": number(order.charged),
        "pieces": number(order.pieces),
        "per piece": number(order.per_piece),
        "lacks": lacks(order.lacks),
    }


def _recipe(book: Book, made: ScaledRecipe) -> Json:
    lines = {line.id: line for line in book.recipes[made.ref].lines}
    return {
        "recipe": str(made.ref),
        "title": book.name(made.ref),
        "needed": number(made.needed),
        "usable": number(made.usable),
        "pieces": number(made.pieces),
        "left over": number(made.left_over),
        "into": number(made.into),
        "moisture": number(made.moisture),
        "waste": number(made.waste),
        "back": number(made.back),
        "kept back": number(made.kept_back),
        "co-products": {ref.name: number(grams) for ref, grams in made.co_products.items()},
        "batches": made.plan.batches,
        "each batch": number(made.plan.each),
        "users": {str(user): number(grams) for user, grams in made.users.items()},
        "lines": [
            {
                "name": lines[line.line].name,
                "of": book.name(line.target),
                "bowl": number(line.bowl),
                "drawn": number(line.drawn),
                "goes back": number(line.returns),
                "each batch": number(line.each.grams),
                "weigh": number(line.each.weighed.shown) if line.each.weighed else None,
                "step of the scale": number(line.each.weighed.scale.step)
                if line.each.weighed and line.each.weighed.scale
                else None,
                "count": number(line.each.count),
                "coarse": line.each.flag is not None,
            }
            for line in made.lines
        ],
        "loads": [{"step": load.step, "loads": load.loads, "turns": load.turns, "on": load.on} for load in made.loads],
        "cautions": [WORDS[caution] for caution in made.cautions],
    }


def _drawn(line: DrawLine) -> Json:
    return {
        "item": line.item.id,
        "bowl": number(line.bowl),
        "as bought": number(line.bought),
        "goes back": number(line.returns),
        "pieces": number(line.pieces),
        "to taste": line.unmeasured,
    }

"""The parts of one recipe's record."""

from collections.abc import Iterable, Mapping

from bookmaker.editions.record.plain import Json, figure, lacks, number, ways_of, what_is_left
from bookmaker.kitchen.figures import (
    AllergenFigure,
    ChannelPrice,
    CostFigure,
    KeepingFigure,
    LineFlow,
    LossFlow,
    MassFlow,
    TimeFigure,
    TotalFormula,
)
from bookmaker.model.book import Book
from bookmaker.model.recipe import Recipe


def flow(book: Book, recipe: Recipe, flow: MassFlow) -> Json:
    """Formula, mass flow and yields."""
    names = {line.id: line.name for line in recipe.lines}
    yields = flow.yields
    return {
        "formula": [_line(book, names, line) for line in flow.lines],
        "mass flow": {
            "base": number(flow.base),
            "into": number(flow.into),
            "working extra": number(flow.working_extra),
            "stages": [
                {
                    "name": stage.name,
                    "before": number(stage.before),
                    "joined": number(stage.joined),
                    "losses": [_loss(loss) for loss in stage.losses],
                    "after": number(stage.after),
                }
                for stage in flow.stages
            ],
            "losses": [_loss(loss) for loss in flow.losses],
            "moisture": number(flow.moisture),
            "waste": number(flow.waste),
            "back": number(flow.back),
            "out": number(flow.out),
            "kept back": number(flow.kept_back),
            "co-products": {given.ref.name: number(given.grams) for given in flow.co_products},
            "water": figure(flow.water),
            "lacks": lacks(flow.lacks),
        },
        "yields": {
            "usable": figure(yields.usable),
            "pieces": number(yields.pieces),
            "word": yields.word,
            "piece": number(yields.piece),
            "scaled": number(yields.scaled),
            "sheets": number(yields.sheets),
            "sheet": number(yields.sheet),
            "cut": yields.cut
            and {
                "per sheet": yields.cut.per_sheet,
                "across": yields.cut.across,
                "down": yields.cut.down,
                "pattern": yields.cut.pattern,
                "used share": number(yields.cut.used_share),
            },
            "stated": number(yields.stated),
            "computed": number(yields.computed),
        },
    }


def _line(book: Book, names: Mapping[str, str], line: LineFlow) -> Json:
    return {
        "line": line.line,
        "name": names.get(line.line, book.name(line.target)),
        "of": book.name(line.target),
        "bowl": number(line.bowl),
        "percent": number(line.percent),
        "stays": number(line.stays),
        "back": number(line.back),
        "wasted": number(line.wasted),
        "air": number(line.air),
        "offcut": number(line.offcut),
        "working extra": number(line.working_extra),
        "sheets": number(line.sheets),
        "pieces": number(line.pieces),
        "seed": line.seed,
    }


def _loss(loss: LossFlow) -> Json:
    return {
        "name": loss.name,
        "kind": loss.kind.value,
        "share": number(loss.share),
        "of": number(loss.of),
        "grams": number(loss.grams),
        "implied": loss.implied,
    }


def total_formula(book: Book, formula: TotalFormula | None) -> Json | None:
    """Preferments unfolded, or nothing where there are none."""
    if formula is None:
        return None
    return {
        "flour": number(formula.flour),
        "prefermented flour": number(formula.prefermented_flour),
        "hydration": number(formula.hydration),
        "effective hydration": figure(formula.effective_hydration),
        "salt": figure(formula.salt),
        "sugar": figure(formula.sugar),
        "fat": figure(formula.fat),
        "lines": [
            {
                "item": book.name(line.item),
                "own": number(line.own),
                "inside": number(line.inside),
                "percent": number(line.percent),
            }
            for line in formula.lines
        ],
    }


def cost(book: Book, recipe: Recipe, cost: CostFigure) -> Json:
    """Cost line by line, by kind, and by channel."""
    names = {line.id: line.name for line in recipe.lines}
    parts = cost.parts
    return {
        "lines": [
            {
                "line": line.line,
                "name": names.get(line.line, book.name(line.target)),
                "bought": number(line.bought),
                "per gram": number(line.per_gram),
                "cost": figure(line.cost),
            }
            for line in cost.lines
        ],
        "labour": {
            "role": cost.labour.role,
            "minutes": number(cost.labour.minutes),
            "rate": number(cost.labour.rate),
            "cost": figure(cost.labour.cost),
        },
        "energy": figure(cost.energy_kwh),
        "packaging": [
            {
                "item": line.item.id,
                "count": number(line.count),
                "each": number(line.each),
                "cost": figure(line.cost),
            }
            for line in cost.packaging
        ],
        "parts": {
            "ingredients": number(parts.ingredients),
            "labour": number(parts.labour),
            "energy": number(parts.energy),
            "packaging": number(parts.packaging),
            "overhead": number(parts.overhead),
            "credit": number(parts.credit),
            "total": number(parts.total),
        },
        "batch": figure(cost.batch),
        "per gram": figure(cost.per_gram),
        "per piece": figure(cost.per_piece),
        "ingredients per gram": figure(cost.ingredients_per_gram),
        "ingredients per piece": figure(cost.ingredients_per_piece),
        "by item": {item.id: number(spent) for item, spent in sorted(cost.by_item.items())},
        "channels": [_channel(channel) for channel in cost.channels],
        "lacks": lacks(cost.lacks),
    }


def _channel(channel: ChannelPrice) -> Json:
    return {
        "channel": channel.channel,
        "tax": number(channel.tax),
        "net": number(channel.list_net),
        "gross": number(channel.list_gross),
        "food cost": figure(channel.food_cost),
        "margin": what_is_left(channel.margin),
        "mark-up": what_is_left(channel.mark_up),
        "target": number(channel.target),
        "lowest net": figure(channel.lowest_net),
        "lowest gross": figure(channel.lowest_gross),
    }


def allergens(book: Book, found: AllergenFigure) -> Json:
    """Allergens with the ways they come in, from the recipe's line down to the stores item."""
    return {
        "contains": {name: ways_of(book, ways) for name, ways in found.contains.items()},
        "may contain": {name: ways_of(book, ways) for name, ways in found.may_contain.items()},
        "not declared": ways_of(book, found.undeclared),
    }


def time(found: TimeFigure) -> Json:
    """Steps, sums and the critical chain."""
    return {
        "total": number(found.total),
        "hands-on": number(found.hands_on),
        "waiting": number(found.waiting),
        "with components": number(found.whole_total),
        "hands-on with components": number(found.whole_hands_on),
        "steps": [
            {
                "step": step.step,
                "hands-on": number(step.hands_on),
                "elapsed": number(step.elapsed),
                "start": number(step.start),
                "slack": number(step.slack),
                "loads": step.loads,
                "turns": step.turns,
            }
            for step in found.steps
        ],
        "critical chain": [
            {"recipe": str(link.recipe), "step": link.step, "start": number(link.start), "end": number(link.end)}
            for link in found.chain
        ],
        "lacks": lacks(found.lacks),
    }


def keeping(book: Book, found: Iterable[KeepingFigure]) -> list[Json]:
    """States with their lives."""
    return [
        {
            "state": line.state,
            "stated": number(line.stated),
            "minutes": number(line.minutes),
            "celsius": number(line.temperature.celsius) if line.temperature else None,
            "from": line.from_state,
            "within": number(line.within),
            "date": line.date_word,
            "limited by": book.name(line.limited_by) if line.limited_by else None,
            "tightest part": book.name(line.part) if line.part else None,
            "minutes old at most": number(line.part_age) if line.part else None,
        }
        for line in found
    ]

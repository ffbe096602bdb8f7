"""The order of an ingredient list: by ingoing weight, what comes in by several ways added up, allergens emphasised."""

from decimal import Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import Exercise, Grid, Part, Result, Room, say
from bookmaker.kitchen.allergens import item_allergens
from bookmaker.kitchen.law import in_order
from bookmaker.kitchen.parts import part_of
from bookmaker.kitchen.total_formula import is_water
from bookmaker.measures.exact import ONE, ZERO, total
from bookmaker.model.refs import StoresRef

NAME = "ingredient list"
ROWS, LEAST = 22, 4
SMALL = Decimal("0.02")
"""Below this share of all, the order is free (Regulation (EU) No 1169/2011, Annex VII, Part A)."""
_FACTORS = tuple(Decimal(text) for text in ("0.5", "1", "1.5", "2", "3"))


def make(lesson: Lesson) -> Exercise | None:
    """Water is left aside: its place depends on how much of it the oven takes. So is what comes to less than 2 %."""
    if not lesson.is_food or lesson.own.allergens.undeclared or lesson.flow.lacks:
        return None
    factor = lesson.dice.one_of(_FACTORS)
    ways: list[tuple[str, str, StoresRef, Decimal]] = []
    for line, moved in zip(lesson.recipe.lines, lesson.flow.lines, strict=True):
        if line.alternatives or moved.stays <= ZERO or moved.seed:
            if line.alternatives:
                return None
            continue
        if isinstance(line.target, StoresRef):
            content = {line.target: ONE}
        else:
            part = part_of(line.target, lesson.book)
            if part is None or line.target != part:
                return None
            content = dict(lesson.figures.recipes[part].flow.content)
        ways += [
            (
                lesson.title if isinstance(line.target, StoresRef) else lesson.book.name(line.target),
                item.id,
                item,
                trimmed(moved.stays * share * factor, 1),
            )
            for item, share in content.items()
        ]
    dry = [way for way in ways if not is_water(way[2], lesson.book) and way[3]]
    whole = total(way[3] for way in dry)
    label = {way[2]: lesson.book.stores[way[2].id].label for way in dry}
    sums: dict[str, Decimal] = {}
    for _, _, item, mass in dry:
        sums[label[item]] = sums.get(label[item], ZERO) + mass
    # far enough from 2 % that no rounding decides it, and no two alike
    kept = {name: mass for name, mass in sums.items() if mass >= whole * SMALL * Decimal("1.25")}
    rows = [way for way in dry if label[way[2]] in kept]
    if len(rows) > ROWS or len(kept) < LEAST or len(set(kept.values())) < len(kept):
        return None
    order = sorted(kept, key=lambda name: -kept[name])
    allergens = {name for (_, _, item, _) in rows for name in (label[item],) if _allergens(lesson, item)}
    first = say("Write the ingredients by weight, most first, as they are called on the label.")
    second = say("Which of them must be emphasised, because they are or hold an allergen?")
    task: tuple[Part, ...] = (
        say("This goes into %(factor)s × a batch of %(recipe)s.", factor=factor, recipe=lesson.title),
        Grid(
            ("Ingredient", "In", "On the label", "g", "Allergens"),
            tuple(
                (
                    name,
                    of,
                    label[item],
                    mass,
                    ", ".join(_allergens(lesson, item)) or "–",
                )
                for of, name, item, mass in lesson.dice.shuffled(rows)
            ),
            say("Water and the smallest amounts are left out: what comes to less than 2 %% may follow in any order"),
        ),
        say("What is called the same on the label counts together, whatever it comes in with."),
        Room(first, lines=3),
        Room(second, lines=2),
    )
    working = tuple(
        say(
            "%(name)s: %(sum)s = %(mass)s g",
            name=name,
            mass=kept[name],
            sum=" + ".join(f"{mass:f}" for _, _, item, mass in rows if label[item] == name),
        )
        for name in order
    )
    return Exercise(
        NAME,
        task,
        (
            Result(first, ", ".join(order)),
            Result(second, ", ".join(name for name in order if name in allergens) or say("None of these.")),
        ),
        working,
        say(
            "An exercise, not a label: the law asks more (water, additives), and a compound ingredient that is named "
            "may stand by itself there, with its own list. Check against your local law."
        ),
    )


def _allergens(lesson: Lesson, item: StoresRef) -> tuple[str, ...]:
    """What an item is declared to contain, in the order of the region's law."""
    found = item_allergens(lesson.book.stores[item.id], lesson.book)
    return in_order(found.contains, lesson.book.house.region)

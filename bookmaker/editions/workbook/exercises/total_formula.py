"""The total formula: flour and water inside the preferments counted with those of the dough itself."""

from decimal import Decimal

from bookmaker.editions.team.rounding import trimmed
from bookmaker.editions.workbook.exercises.lesson import Lesson, percent
from bookmaker.editions.workbook.views_parts import Exercise, Grid, Result, Room, Say, say
from bookmaker.kitchen.formula import is_flour
from bookmaker.kitchen.total_formula import is_water
from bookmaker.measures.exact import HUNDRED, ZERO, total
from bookmaker.model.recipe import Kind
from bookmaker.model.refs import RecipeRef, StoresRef

NAME = "total formula"
THOUSAND = Decimal(1000)
_BATCHES = tuple(Decimal(text) for text in ("0.5", "1", "1.5", "2", "3"))


def make(lesson: Lesson) -> Exercise | None:
    """For doughs with preferments or soakers that are recipes of their own."""
    if lesson.own.total_formula is None or not lesson.all_weighed:
        return None
    book, names = lesson.book, lesson.names
    factor = lesson.dice.one_of(_BATCHES)
    dough = {line.id: trimmed((moved.bowl or ZERO) * factor, 1) for line, moved in lesson.weighed()}
    inner: dict[RecipeRef, dict[StoresRef, Decimal]] = {}
    for line, moved in lesson.weighed():
        if not isinstance(line.target, RecipeRef):
            continue
        part = book.sized(line.target)
        if book.recipes[part].kind not in {Kind.PREFERMENT, Kind.SOAKER} or moved.seed:
            return None
        content = lesson.figures.recipes[part].flow.content
        inner[part] = {item: trimmed(share * THOUSAND, 1) for item, share in content.items()}
    if not inner or not all(any(is_flour(item, book) for item in held) for held in inner.values()):
        return None
    flour, water, fermented = [], [], []
    working: list[Say] = []
    for line, _ in lesson.weighed():
        mass = dough[line.id]
        if isinstance(line.target, RecipeRef):
            part = book.sized(line.target)
            within = trimmed(total(g for item, g in inner[part].items() if is_flour(item, book)), 1)
            wet = trimmed(total(g for item, g in inner[part].items() if is_water(item, book)), 1)
            flour.append(mass * within / THOUSAND)
            water.append(mass * wet / THOUSAND)
            kind = book.recipes[part].kind
            if kind is Kind.PREFERMENT:
                fermented.append(mass * within / THOUSAND)
            working += [
                say(
                    "Flour in %(mass)s g of %(part)s: %(mass)s × %(held)s ÷ 1000 = %(flour)s g",
                    mass=mass,
                    part=names[line.id],
                    held=within,
                    flour=trimmed(flour[-1], 1),
                ),
                say(
                    "Water in %(mass)s g of %(part)s: %(mass)s × %(held)s ÷ 1000 = %(water)s g",
                    mass=mass,
                    part=names[line.id],
                    held=wet,
                    water=trimmed(water[-1], 1),
                ),
            ]
        elif is_flour(line.target, book):
            flour.append(mass)
        elif is_water(line.target, book):
            water.append(mass)
    all_flour, all_water, all_fermented = total(flour), total(water), total(fermented)
    hydration, share = all_water * HUNDRED / all_flour, all_fermented * HUNDRED / all_flour
    working += [
        say("All flour: %(sum)s = %(all)s g", sum=_sum(flour), all=trimmed(all_flour, 1)),
        say("All water: %(sum)s = %(all)s g", sum=_sum(water), all=trimmed(all_water, 1)),
        say(
            "Hydration: %(water)s ÷ %(flour)s × 100 = %(result)s %%",
            water=trimmed(all_water, 1),
            flour=trimmed(all_flour, 1),
            result=trimmed(hydration, 1),
        ),
    ]
    asked = [
        (say("All the flour there is, to the gram"), say("%(g)s g", g=trimmed(all_flour, 0)), "g"),
        (say("All the water as such, to the gram"), say("%(g)s g", g=trimmed(all_water, 0)), "g"),
        (say("Hydration: water ÷ flour × 100, to one decimal"), say("%(p)s %%", p=percent(hydration).value), "%"),
    ]
    if fermented:
        question = say("Prefermented flour in percent of all flour, to one decimal")
        asked.append((question, say("%(p)s %%", p=percent(share).value), "%"))
        working.append(
            say(
                "Prefermented: %(inside)s ÷ %(flour)s × 100 = %(result)s %%",
                inside=trimmed(all_fermented, 1),
                flour=trimmed(all_flour, 1),
                result=trimmed(share, 1),
            )
        )
    return Exercise(
        NAME,
        (
            say("A dough is mixed from these lines. What the preferments and soakers hold stands below."),
            Grid(
                ("Ingredient", "g"),
                tuple((names[line.id], dough[line.id]) for line, _ in lesson.weighed()),
                say("%(recipe)s, the dough itself", recipe=lesson.title),
            ),
            *(
                Grid(
                    ("Ingredient", "g in 1000 g"),
                    tuple((item.id, held) for item, held in items.items()),
                    say("1000 g of %(part)s hold", part=book.name(part)),
                )
                for part, items in inner.items()
            ),
            say(
                "Carry all figures and round only the answers. Flour is what bakers count as 100 %%: "
                "all flours together."
            ),
            *(Room(question, unit) for question, _, unit in asked),
        ),
        tuple(Result(question, answer) for question, answer, _ in asked),
        tuple(working),
        say("A preferment that is fed from itself is shown unfolded: its seed is flour and water too."),
    )


def _sum(values: list[Decimal]) -> str:
    return " + ".join(f"{trimmed(value, 1):f}" for value in values)

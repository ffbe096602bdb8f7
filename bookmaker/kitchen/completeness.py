"""What public food-service guidance asks of a standardised recipe, and what a recipe still lacks of it.

The elements are those of the US child nutrition programmes: title, category and number, specific ingredients by
weight, directions with times and temperatures, yield, portion size, equipment, critical control points with their
limits. Seen in "A standardized recipe includes" (Minnesota Department of Education, Food and Nutrition Service) and
in the standardised recipe form of the Washington State OSPI (Child Nutrition, December 2012), both after USDA
guidance.

Nothing here is ever an error: a trial recipe may lack all of it.
"""

from collections.abc import Iterable

from bookmaker.kitchen.elements import Element
from bookmaker.kitchen.figures import MassFlow
from bookmaker.model.line import Unmeasured
from bookmaker.model.method import Step
from bookmaker.model.recipe import Kind, Recipe, Status


def completeness_of(recipe: Recipe, flow: MassFlow) -> tuple[Element, ...]:
    """The elements that apply to this kind of recipe, in the order of the guidance, each with what would supply it."""
    return tuple(_elements(recipe, flow))


def expected(status: Status, element: Element) -> bool:
    """Whether a recipe of that status should have the element by now: a draft needs none, a trial what the bench
    needs.
    """
    match status:
        case Status.DRAFT | Status.RETIRED:
            return False
        case Status.TRIAL:
            return element.name in {"title", "ingredients", "weights", "directions", "yield"}
        case Status.APPROVED:
            return True


def _elements(recipe: Recipe, flow: MassFlow) -> Iterable[Element]:
    steps = recipe.method.steps
    yield _element("title", bool(recipe.title), "give it a title")
    yield _element("category", bool(recipe.section), "put the file into a folder: the folder is the section")
    yield _element("number", bool(recipe.code), "give it the house's code, as in code: QB-03")
    yield _element("ingredients", bool(recipe.lines), "list what goes in under formula")
    yield _element("weights", bool(recipe.lines) and not _unweighed(recipe, flow), _weigh(recipe, flow))
    yield _element("directions", bool(steps), "write the method as numbered steps")
    yield _element("times", bool(steps) and not _untimed(steps), _time(steps))
    yield _element(
        "temperatures",
        any(_has_temperature(step) for step in steps),
        'say at or to what temperature, as in at="160 °C"',
    )
    yield _element("yield", flow.usable > 0, "say what the batch comes to under yields")
    if recipe.kind is Kind.PRODUCT:
        portion = recipe.portion is not None or flow.yields.piece is not None
        yield _element("portion size", portion, "say what one guest gets under portion, or state the yield in pieces")
    yield _element("equipment", any(step.on for step in steps), 'name the equipment, as in on="convection oven"')
    if recipe.kind is not Kind.MOULDING:
        yield _element(
            "critical limits",
            any(step.limit for step in steps),
            'state the limit that keeps it safe and what to do when it is missed, as in limit="core 75 °C" '
            'if-missed="discard"; add its ccp number if your plan has one',
        )


def _element(name: str, present: bool, advice: str) -> Element:
    return Element(name, present, "" if present else advice)


def _unweighed(recipe: Recipe, flow: MassFlow) -> tuple[str, ...]:
    """Names of the lines without a weight."""
    without = {line.line for line in flow.lines if line.bowl is None}
    return tuple(line.name for line in recipe.lines if line.id in without or isinstance(line.quantity, Unmeasured))


def _weigh(recipe: Recipe, flow: MassFlow) -> str:
    return f"weigh these too: {', '.join(dict.fromkeys(_unweighed(recipe, flow)))}"


def _untimed(steps: Iterable[Step]) -> tuple[int, ...]:
    return tuple(step.number for step in steps if not (step.work or step.each or step.takes or step.wait))


def _time(steps: Iterable[Step]) -> str:
    missing = ", ".join(str(number) for number in _untimed(steps))
    return f'say how long, as in work="10 min": step {missing}' if missing else "write the method as numbered steps"


def _has_temperature(step: Step) -> bool:
    readings = (step.at, step.to)
    return any(reading is not None and reading.temperatures for reading in readings)

"""Times: of the recipe alone, of everything from scratch, and hands-on."""

from functools import partial

from bookmaker.kitchen.explained.asked import Asked, Workings
from bookmaker.kitchen.figures import Lack
from bookmaker.kitchen.working import StepSource, Term, Working

_OWN = "person-minutes ÷ people, then what it takes at the long end, then the wait at the short end"


def workings(asked: Asked) -> Workings:
    """`time`, `hands-on`, and `chain`."""
    return {"time": partial(_own, asked), "hands-on": partial(_hands_on, asked), "chain": partial(_chain, asked)}


def _own_lacks(asked: Asked) -> tuple[Lack, ...]:
    return tuple(lack for lack in asked.own.time.lacks if not lack.via)


def _own(asked: Asked) -> Working:
    time = asked.own.time
    terms = [
        Term(
            f"step {step.step}",
            step.elapsed,
            "min",
            StepSource(asked.ref, step.step),
            "not on the longest way" if step.slack else "",
        )
        for step in time.steps
    ]
    return asked.working(
        "time", f"the longest way through the steps; each: {_OWN}", terms, time.total, "min", lacks=_own_lacks(asked)
    )


def _hands_on(asked: Asked) -> Working:
    time = asked.own.time
    terms = [
        Term(f"step {step.step}", step.hands_on, "min", StepSource(asked.ref, step.step))
        for step in time.steps
        if step.hands_on
    ]
    rule = "person-minutes: work once per making, each × count, as often as the step is repeated"
    return asked.working("hands-on", rule, terms, time.hands_on, "min", lacks=_own_lacks(asked))


def _chain(asked: Asked) -> Working:
    time = asked.own.time
    terms = [
        Term(
            f"{asked.book.name(link.recipe)}, step {link.step}",
            link.end - link.start,
            "min",
            StepSource(link.recipe, link.step),
        )
        for link in time.chain
    ]
    rule = "the longest way with every component made from scratch: what is on it holds up the end"
    return asked.working("chain", rule, terms, time.whole_total, "min", lacks=time.lacks)

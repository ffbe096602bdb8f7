"""One cause, one report: what the kitchen finds only because a file could not be read is not said again."""

from collections.abc import Iterable, Mapping

from bookmaker.problems.problem import Problem

# What the kitchen finds, and the document whose errors bring it about
_CAUSES: Mapping[str, str] = {
    "no-price": "stores/prices.csv",
    "label-allergens": "issued.csv",
    "label-changed": "issued.csv",
}


def without_echoes(problems: Iterable[Problem], findings: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems of reading, and those findings of the kitchen that have a cause of their own."""
    read = tuple(problems)
    faulty = {problem.anchor.document for problem in read if problem.is_error}
    return (*read, *(finding for finding in findings if _CAUSES.get(finding.code) not in faulty))

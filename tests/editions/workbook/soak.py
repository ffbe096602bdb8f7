"""Every exercise of every recipe for many classes, solved anew: `python -m tests.editions.workbook.soak [CLASSES]`.

No part of the default run, which takes one recipe for each class.
"""

import sys
from collections import Counter

from bookmaker.editions.workbook.exercises.every import MAKERS
from tests.editions.workbook.solving import answers, solve
from tests.editions.workbook.test_exercises import demo, make, refs


def main(classes: int) -> int:
    """How many answers came out otherwise than an apprentice reckons them."""
    book, _ = demo()
    made, wrong = Counter[str](), 0
    for number in range(classes):
        for ref in refs():
            for name in MAKERS:
                exercise = make(name, ref, f"class {number}")
                if exercise is None:
                    continue
                made[name] += 1
                if solve(exercise, book.recipes[ref], book) != answers(exercise):
                    wrong += 1
                    print(f"{name} of {ref.id} for class {number}")  # noqa: T201
    print(f"{made.total()} exercises of {len(made)} kinds for {classes} classes: {wrong} wrong")  # noqa: T201
    return wrong


if __name__ == "__main__":
    sys.exit(min(1, main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)))

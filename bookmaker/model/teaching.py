"""What the workbook can teach: its kinds of exercise by name, and the topics that an apprentice is examined on.

The topics of examination follow England's occupational standards ST0191 Baker (version 1.1: K4 recipe formulation, K10
yield and waste, K11 food safety, allergens, HACCP, labelling, acrylamide, flour dust), ST1349 Lead baker (version 1.0:
product costing) and ST0929 Pastry chef (version 1.0), published under the Open Government Licence. Seen on hosted
copies of the standards' pages; versions change, so check against the one you train by.
"""

from collections.abc import Mapping
from dataclasses import dataclass

STEPS = (1, 2, 3)
"""How hard an exercise or a recipe may be, from what everybody starts with."""


@dataclass(frozen=True, slots=True)
class ExerciseKind:
    """A kind of exercise: how hard it is, which topics of examination it serves, and what it asks, in words.

    `money` marks kinds that show what something costs.
    """

    name: str
    step: int
    topics: tuple[str, ...]
    asks: str
    money: bool = False


YIELD, FORMULATION, HACCP, ALLERGENS, LABELLING, COSTING, DUST, ACRYLAMIDE = (
    "yield and waste", "formulation", "HACCP", "allergen control", "labelling", "costing", "flour dust", "acrylamide",
)  # fmt: skip

TOPICS = (YIELD, FORMULATION, HACCP, ALLERGENS, LABELLING, COSTING, DUST, ACRYLAMIDE)
"""Topics of examination. A recipe may name any of them, or any word of the house's glossary."""

_KINDS = (
    ExerciseKind("words", 1, (), "match words of the trade with what they mean"),
    ExerciseKind("step order", 1, (), "put the steps of the method in order"),
    ExerciseKind("percents", 1, (FORMULATION,), "find the missing percents of a formula"),
    ExerciseKind("yield", 1, (YIELD,), "find what is left after the losses"),
    ExerciseKind("weighing", 1, (YIELD, FORMULATION), "weigh out on a given scale, and find the rounding error"),
    ExerciseKind("allergens", 1, (ALLERGENS,), "trace allergens to the ingredient that brings them"),
    ExerciseKind("limits", 1, (HACCP,), "judge readings against the limits of the method"),
    ExerciseKind("weights", 2, (FORMULATION,), "find the weights from percents and the mass to be mixed"),
    ExerciseKind("water temperature", 2, (FORMULATION,), "find the temperature of a dough's water, and the ice"),
    ExerciseKind("scaling", 2, (FORMULATION,), "scale a recipe and its components to an order"),
    ExerciseKind("use up", 2, (YIELD,), "find how much can be made of what is left"),
    ExerciseKind("making enough", 2, (YIELD,), "find how much must be mixed for an order"),
    ExerciseKind("loads", 2, (), "find how often the oven or the machine is loaded, and how long that takes"),
    ExerciseKind("latest start", 2, (), "count back from a deadline to the latest start"),
    ExerciseKind("ingredient list", 2, (LABELLING, ALLERGENS), "put the ingredients in the order of the label"),
    ExerciseKind("cost", 2, (COSTING,), "find what a piece costs in ingredients", money=True),
    ExerciseKind("total formula", 3, (FORMULATION,), "count flour and water inside the preferments"),
    ExerciseKind("quantity declared", 3, (LABELLING,), "find the quantity of a named ingredient for the label"),
    ExerciseKind("selling price", 3, (COSTING,), "find the lowest price that meets the food-cost target", money=True),
)

EXERCISES: Mapping[str, ExerciseKind] = {kind.name: kind for kind in _KINDS}
"""Every kind by its name, which recipes write under `teach: exercises`; easy ones first."""

"""Weighing scales: how much each takes and the step it shows."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.measures.rounding import to_step


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale that weighs up to `most` grams in steps of `step` grams."""

    most: Decimal
    step: Decimal


@dataclass(frozen=True, slots=True)
class Weighed:
    """A weight as a scale can show it. `scale` is None when no scale of the house takes it in one go."""

    exact: Decimal
    shown: Decimal
    scale: Scale | None

    @property
    def error(self) -> Decimal:
        """Rounding error as a fraction of the exact weight, never negative."""
        return abs(self.shown - self.exact) / self.exact if self.exact else Decimal(0)


def weigh(grams: Decimal, scales: Sequence[Scale]) -> Weighed:
    """`grams` on the finest scale that takes it; above all scales, on the coarsest step there is (in several goes)."""
    ordered = sorted(scales, key=lambda scale: (scale.step, scale.most))
    for scale in ordered:
        if grams <= scale.most:
            return Weighed(grams, to_step(grams, scale.step), scale)
    step = max((scale.step for scale in ordered), default=Decimal(1))
    return Weighed(grams, to_step(grams, step), None)

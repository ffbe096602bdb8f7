"""Rounding to a step, halves up: what a scale shows, what a price list prints."""

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

from bookmaker.measures.exact import CONTEXT


def to_step(value: Decimal, step: Decimal) -> Decimal:
    """`value` rounded to the nearest multiple of `step` (> 0), halves away from zero."""
    return _multiple(value, step, ROUND_HALF_UP)


def up_to_step(value: Decimal, step: Decimal) -> Decimal:
    """The smallest multiple of `step` not below `value`."""
    return _multiple(value, step, ROUND_CEILING)


def down_to_step(value: Decimal, step: Decimal) -> Decimal:
    """The largest multiple of `step` not above `value`."""
    return _multiple(value, step, ROUND_FLOOR)


def _multiple(value: Decimal, step: Decimal, rounding: str) -> Decimal:
    if step <= 0:
        raise ValueError(f"a rounding step must be positive, not {step}")
    return CONTEXT.multiply(CONTEXT.divide(value, step).to_integral_value(rounding=rounding), step)

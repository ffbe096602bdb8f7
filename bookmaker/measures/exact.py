"""Exact arithmetic: one decimal context for everything that is computed.

Figures are kept at 34 significant digits so that laws such as conservation of mass hold far beyond anything a scale or
a till can show; they are cut to 12 significant digits only when they leave the kitchen.
"""

from collections.abc import Iterable
from contextlib import AbstractContextManager
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Context, Decimal, localcontext

CONTEXT = Context(prec=34, rounding=ROUND_HALF_EVEN)
ZERO = Decimal(0)
ONE = Decimal(1)
HUNDRED = Decimal(100)

_PUBLISHED = Context(prec=12, rounding=ROUND_HALF_UP)


def exactly() -> AbstractContextManager[object]:
    """Run a block in the kitchen's decimal context, whatever the caller's own context is."""
    return localcontext(CONTEXT)


def published(value: Decimal) -> Decimal:
    """`value` at 12 significant digits, halves up, without trailing zeros: how figures enter views and book.json."""
    cut = _PUBLISHED.plus(value).normalize(_PUBLISHED)
    # normalize() turns 1200 into 1.2E+3; people and JSON readers expect plain digits
    return cut.quantize(ONE, context=CONTEXT) if cut == cut.to_integral_value() else cut


def total(values: Iterable[Decimal]) -> Decimal:
    """Sum in the exact context; an empty sum is zero."""
    with localcontext(CONTEXT):
        return sum(values, ZERO)

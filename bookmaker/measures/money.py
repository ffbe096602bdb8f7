"""Money: an exact amount in one currency. Two currencies never add up."""

import re
from dataclasses import dataclass
from decimal import Decimal, localcontext

from bookmaker.measures.exact import CONTEXT
from bookmaker.measures.numbers import Unreadable, take_number

_CODE = re.compile(r"\s*([A-Z]{3})\b")


@dataclass(frozen=True, slots=True)
class Money:
    """`amount` in the currency of that ISO 4217 code, not rounded."""

    amount: Decimal
    currency: str

    def __add__(self, other: "Money") -> "Money":
        if other.currency != self.currency:
            raise ValueError(f"cannot add {other.currency} to {self.currency}")
        with localcontext(CONTEXT):
            return Money(self.amount + other.amount, self.currency)

    def __mul__(self, by: Decimal) -> "Money":
        with localcontext(CONTEXT):
            return Money(self.amount * by, self.currency)


@dataclass(frozen=True, slots=True)
class TakenMoney:
    """Money read from the front of a text and the offset just behind it."""

    money: Money
    end: int


def take_money(text: str) -> TakenMoney:
    """Read `4.20 EUR` at the front of a text. Raises `Unreadable`."""
    start = len(text) - len(text.lstrip())
    taken = take_number(text, start)
    code = _CODE.match(text, taken.end) if taken else None
    if taken is None or code is None:
        raise Unreadable(
            f"'{text.strip()}' is no price", end=len(text), hint="write an amount and a currency: 4.20 EUR"
        )
    return TakenMoney(Money(taken.value, code[1]), code.end())

"""How exact figures are rounded to be shown: once, here, halves up."""

from collections.abc import Callable, Iterable, Sequence
from decimal import ROUND_HALF_UP, Decimal

from bookmaker.editions.team.places import Places
from bookmaker.editions.team.views import Amount, Bound, Known, Lacking, Link
from bookmaker.editions.team.views_recipe import Weight
from bookmaker.kitchen.figures import Figure, Lack, LackKind
from bookmaker.measures.exact import CONTEXT, HUNDRED
from bookmaker.measures.rounding import to_step
from bookmaker.measures.scales import Scale, weigh
from bookmaker.model.refs import RecipeRef, StoresRef

_KILO = Decimal(1000)
_STEPS = tuple(Decimal(1).scaleb(-places) for places in range(7))  # 1, 0.1, 0.01 …
# Rounding to the scale's step may err by so much of a line; less for leaven, salt, gelling agents, preservatives
_MAY_ERR, _MAY_ERR_CAREFUL = Decimal("0.01"), Decimal("0.005")


def places_after_point(value: Decimal, places: int) -> Decimal:
    """`value` with exactly so many decimals, halves up."""
    # plus: no minus before a zero
    return CONTEXT.plus(value.quantize(_STEPS[places], ROUND_HALF_UP, CONTEXT))


def trimmed(value: Decimal, places: int) -> Decimal:
    """`value` with at most so many decimals, without trailing zeros."""
    rounded = places_after_point(value, places)
    whole = rounded.to_integral_value()
    return whole if whole == rounded else rounded.normalize()


def scale_weight(grams: Decimal, scales: Sequence[Scale], *, careful: bool = False) -> Weight:
    """`grams` as the house's scales show it, and whether that errs too much."""
    weighed = weigh(grams, scales)
    may_err = _MAY_ERR_CAREFUL if careful else _MAY_ERR
    return Weight(trimmed(weighed.shown, 3), coarse=weighed.error > may_err)


def sum_weight(grams: Decimal) -> Weight:
    """A sum of weights: to the gram, below 100 g to the tenth."""
    return Weight(trimmed(grams, 1) if grams < HUNDRED else to_step(grams, Decimal(1)))


def mass(grams: Decimal) -> Amount:
    """A mass to read rather than to weigh: tenths below 20 g, grams, kilograms from 10 kg on."""
    if grams >= 10 * _KILO:
        return Amount(places_after_point(grams / _KILO, 2), "kg")
    return Amount(trimmed(grams, 1 if grams < 20 else 0), "g")


def money(value: Decimal, currency: str) -> Amount:
    """Two decimals; what would round to nothing is `under` the last one."""
    if 0 < value < Decimal("0.005"):
        return Amount(Decimal("0.01"), currency, Bound.UNDER)
    return Amount(places_after_point(value, 2), currency)


def fine_money(value: Decimal, currency: str) -> Amount:
    """Money for one small piece: three decimals below 10 cents."""
    return Amount(places_after_point(value, 3), currency) if 0 < value < Decimal("0.1") else money(value, currency)


def per_kilo(per_gram: Decimal, currency: str) -> Amount:
    """Money per kilogram; four decimals for what costs less than a cent, such as water."""
    value = per_gram * _KILO
    return Amount(places_after_point(value, 4 if 0 < value < Decimal("0.01") else 2), f"{currency}/kg")


def percent(fraction: Decimal, places: int = 1) -> Amount:
    """A fraction in percent, at most so many decimals."""
    return Amount(trimmed(fraction * HUNDRED, places), "%")


def percent_places(percents: Iterable[Decimal | None]) -> int:
    """Decimals for a column of percents: two where one of them is below 1 %."""
    return 2 if any(value is not None and 0 < value < 1 for value in percents) else 1


def minutes(value: Decimal) -> Amount:
    """A duration: whole minutes, half ones below ten, seconds below one minute."""
    if value < 1:
        return Amount(to_step(value * 60, Decimal(1)) / 60, "min")
    return Amount(to_step(value, Decimal("0.5") if value < 10 else Decimal(1)), "min")


def known(figure: Figure, shown: Callable[[Decimal], Amount], places: Places) -> Known:
    """A figure with what it lacks. Only what makes the figure too small makes it `at least`; an old price does not."""
    lacks = lacking(figure.lacks, places)
    if figure.value is None:
        return Known(None, lacks)
    amount = shown(figure.value)
    if any(lack.kind is not LackKind.STALE_PRICE for lack in figure.lacks):
        amount = Amount(amount.value, amount.unit, Bound.AT_LEAST)
    return Known(amount, lacks)


def at_most(figure: Known) -> Known:
    """What is left of a price after a cost that is "at least" so much: "at most" so much."""
    if figure.amount is None or figure.amount.bound is not Bound.AT_LEAST:
        return figure
    return Known(Amount(figure.amount.value, figure.amount.unit, Bound.AT_MOST), figure.lacks)


def lacking(lacks: Iterable[Lack], places: Places) -> tuple[Lacking, ...]:
    """What is missing, with links to where it belongs."""
    return tuple(
        Lacking(lack.kind.value, _of(lack.of, places), tuple(places.link(ref) for ref in lack.via)) for lack in lacks
    )


def _of(name: str, places: Places) -> Link:
    for target in (StoresRef(name), RecipeRef(name)):
        if target in places.routes:
            return places.link(target)
    return Link(name)

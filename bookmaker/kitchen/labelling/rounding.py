"""How nutrition is rounded for print: EU and UK by the Commission's guidance of 2012, US by 21 CFR 101.9(c).

Halves go up: neither text says which way.
"""

from decimal import Decimal

from bookmaker.kitchen.labelling.mix import settled
from bookmaker.measures.exact import HUNDRED, ONE, ZERO
from bookmaker.measures.rounding import down_to_step, to_step

TENTH, HUNDREDTH = Decimal("0.1"), Decimal("0.01")
THOUSAND = Decimal(1000)

_SATURATES = ("saturates",)
_SALT = ("salt",)


def eu_grams(key: str, grams: Decimal) -> str:
    """Grams per 100 g or per piece, as printed: `13 g`, `0.73 g`, `<0.5 g`.

    European Commission, guidance document on tolerances for nutrient values declared on a label (December 2012),
    rounding table.
    """
    exact = settled(grams)
    if key in _SALT:
        coarse, nothing, shown = ONE, Decimal("0.0125"), HUNDREDTH
        steps = (TENTH, HUNDREDTH)
    else:
        coarse = Decimal(10)
        nothing = TENTH if key in _SATURATES else Decimal("0.5")
        shown = nothing
        steps = (ONE, TENTH)
    if exact <= nothing:
        return "0 g" if exact <= ZERO else f"<{shown} g"
    return f"{to_step(exact, steps[0] if exact >= coarse else steps[1])} g"


def eu_energy(kilojoules: Decimal, kilocalories: Decimal) -> str:
    """`2044 kJ / 488 kcal`: each to the nearest one, by its own factors."""
    return f"{to_step(settled(kilojoules), ONE)} kJ / {to_step(settled(kilocalories), ONE)} kcal"


def net_quantity(grams: Decimal) -> Decimal:
    """Grams as a net quantity: tenths below 20 g, whole grams, tens from 1 kg on, never more than is in.

    Contents may on average not be less than what is declared: Directive 76/211/EEC, Annex I, no. 1(a), and the UK
    Weights and Measures (Packaged Goods) Regulations 2006 (both from memory).
    """
    exact = settled(grams)
    return down_to_step(exact, TENTH if exact < 20 else ONE if exact < THOUSAND else Decimal(10))


def percent(share: Decimal) -> str:
    """A share of a reference intake or daily value in whole percents."""
    return f"{to_step(settled(share) * HUNDRED, ONE)} %"


def us_calories(kilocalories: Decimal) -> str:
    """21 CFR 101.9(c)(1)."""
    exact = settled(kilocalories)
    if exact < 5:
        return "0"
    return _plain(to_step(exact, Decimal(5) if exact <= 50 else Decimal(10)))


def us_amount(key: str, grams: Decimal) -> str:
    """An amount per serving with its unit, by the rounding of its kind (21 CFR 101.9(c)(2) to (8))."""
    exact = settled(grams)
    match key:
        case "fat" | "saturates" | "trans fat":
            step = ZERO if exact < Decimal("0.5") else Decimal("0.5") if exact < 5 else ONE
            return f"{_plain(to_step(exact, step)) if step else '0'} g"
        case "cholesterol":
            mg = exact * THOUSAND
            if mg < 2:
                return "0 mg"
            return "less than 5 mg" if mg <= 5 else f"{_plain(to_step(mg, Decimal(5)))} mg"
        case "sodium":
            mg = exact * THOUSAND
            if mg < 5:
                return "0 mg"
            return f"{_plain(to_step(mg, Decimal(5) if mg <= 140 else Decimal(10)))} mg"
        # (c)(8)(iv): by the level of significance of the daily value, tenths where it is below 25 mg or mcg (the
        # authority's final rule of 2016, seen as quoted); 10 mg where it is in hundreds (from memory)
        case "vitamin d":
            return f"{_plain(to_step(exact * THOUSAND * THOUSAND, TENTH))} mcg"
        case "calcium" | "potassium":
            return f"{_plain(to_step(exact * THOUSAND, Decimal(10)))} mg"
        case "iron":
            return f"{_plain(to_step(exact * THOUSAND, TENTH))} mg"
        case _:
            if exact < Decimal("0.5"):
                return "0 g"
            return "less than 1 g" if exact < 1 else f"{_plain(to_step(exact, ONE))} g"


def us_daily_value(key: str, share: Decimal) -> str:
    """The percent daily value of an amount before rounding, 21 CFR 101.9(d)(7)(ii).

    Vitamins and minerals go in steps of 2, 5 and 10 percent, (c)(8)(iii).
    """
    percents = settled(share) * HUNDRED
    step = ONE
    if key in ("vitamin d", "calcium", "iron", "potassium"):
        if percents < 2:
            return "0%"
        step = Decimal(2) if percents <= 10 else Decimal(5) if percents <= 50 else Decimal(10)
    return f"{_plain(to_step(percents, step))}%"


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"

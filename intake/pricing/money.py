"""Rounding and splitting of money. All of it is exact: fractions inside, and one rounding."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import ceil, floor

from intake.money import decimals, shown

__all__ = ["rounded", "shown", "split", "step_of", "unit_of"]

Amount = Decimal | Fraction | int


def unit_of(currency: str) -> Decimal:
    """The smallest amount of a currency (ISO 4217): 0.01 for the dollar, 1 for the yen."""
    return Decimal(1).scaleb(-decimals(currency))


def step_of(round_to: Decimal, currency: str) -> Decimal:
    """The step that a sum is rounded to: `round_to`, made up to a whole number of minor units of `currency`.

    0.01 is a cent in dollars and one yen in yen, because the yen has nothing smaller.
    """
    unit = unit_of(currency)
    return unit * max(1, ceil(Fraction(round_to) / Fraction(unit)))


def rounded(amount: Amount, step: Decimal, rule: str = "half up") -> Decimal:
    """`amount` to a multiple of `step`.

    `half up` takes the nearest and of two the larger, `half even` of two the one that is an even number of steps, `up`
    the next that is not smaller. Below zero, larger is nearer to zero.
    """
    steps = Fraction(amount) / Fraction(step)
    if rule == "up":
        return step * ceil(steps)
    return step * (round(steps) if rule == "half even" else floor(steps + Fraction(1, 2)))


def split(total: Decimal, percent: Decimal, step: Decimal, rule: str = "half up") -> tuple[Decimal, Decimal]:
    """Deposit and balance: `percent` of `total` rounded to `step` but never above it, and exactly what is left."""
    deposit = min(total, rounded(Fraction(total) * Fraction(percent) / 100, step, rule))
    return deposit, total - deposit

"""Rounding and splitting of money. All of it is exact: fractions inside, one rounding, half up."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import ceil, floor

from intake.money import decimals, shown

__all__ = ["rounded", "shown", "split", "step_of"]

Amount = Decimal | Fraction | int


def step_of(round_to: Decimal, currency: str) -> Decimal:
    """The step that amounts are rounded to: `round_to`, made up to a whole number of minor units of `currency`.

    0.01 is a cent in dollars and one yen in yen, because the yen has nothing smaller (ISO 4217).
    """
    unit = Decimal(1).scaleb(-decimals(currency))
    return unit * max(1, ceil(Fraction(round_to) / Fraction(unit)))


def rounded(amount: Amount, step: Decimal) -> Decimal:
    """`amount`, at least zero, to the nearest multiple of `step`; a half goes up."""
    return step * floor(Fraction(amount) / Fraction(step) + Fraction(1, 2))


def split(total: Decimal, percent: Decimal, step: Decimal) -> tuple[Decimal, Decimal]:
    """Deposit and balance: `percent` of `total` rounded half up to `step`, and exactly what is left."""
    deposit = min(total, rounded(Fraction(total) * Fraction(percent) / 100, step))
    return deposit, total - deposit

"""The sums of small business: break-even, margin and markup, a year's share of what lasts. Nothing is rounded.

Margin is a share of the price, markup a share of the cost: 40 % markup on a cost of 1.00 is 1.40, 40 % margin 1.67.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import ceil

Amount = Decimal | Fraction | int


def break_even(fixed: Amount, price: Amount, variable: Amount) -> int | None:
    """How many must be sold at `price` to cover `fixed`, each costing `variable` to make; None where none is enough."""
    left = Fraction(price) - Fraction(variable)
    return ceil(Fraction(fixed) / left) if left > 0 else None


def margin(price: Amount, cost: Amount) -> Fraction | None:
    """The share of the price that is left, from below zero to 1; None where there is no price."""
    return 1 - Fraction(cost) / Fraction(price) if price else None


def markup(price: Amount, cost: Amount) -> Fraction | None:
    """What is left as a share of the cost; None where nothing was spent."""
    return Fraction(price) / Fraction(cost) - 1 if cost else None


def price_at_margin(cost: Amount, share: Amount) -> Fraction:
    """The price of which `share` (under 1) is left. Raises ValueError for a share that no price can leave."""
    if not share < 1:
        raise ValueError("a margin is less than the whole price")
    return Fraction(cost) / (1 - Fraction(share))


def price_at_markup(cost: Amount, share: Amount) -> Fraction:
    return Fraction(cost) * (1 + Fraction(share))


def yearly(price: Amount, years: Amount) -> Fraction:
    """A year's share of what is bought once. Raises ZeroDivisionError for no years."""
    return Fraction(price) / Fraction(years)

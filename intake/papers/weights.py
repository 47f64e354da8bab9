"""Grams as a baker reads them off her scale."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from intake.measures import OUNCE


def grams(weight: float) -> str:
    """`906 g`; below ten grams `4.2 g`."""
    return f"{weight:,.0f} g" if weight >= 9.95 else f"{weight:.1f} g"


def both(weight: float) -> str:
    """`906 g (2 lb)`, `510 g (1 lb 2 oz)`: to the ounce."""
    return f"{grams(weight)} ({us(weight, 0)})"


def us(weight: float, places: int) -> str:
    """Pounds and ounces, the ounces to so many places: `1 lb 2.2 oz`, `12 oz`."""
    step = Decimal(1).scaleb(-places)
    ounces = (Decimal(repr(weight)) / (Decimal(OUNCE.numerator) / Decimal(OUNCE.denominator))).quantize(
        step, ROUND_HALF_UP
    )
    pounds, rest = divmod(ounces, 16)
    shown = f"{rest:f}".rstrip("0").rstrip(".") if places else f"{rest}"
    parts = [f"{pounds:f} lb"] if pounds else []
    return " ".join([*parts, f"{shown} oz"] if rest or not parts else parts)

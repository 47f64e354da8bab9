"""A shopping list in a baker's words."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from math import ceil

from intake.kitchen.shopping import Need, Shopping
from intake.money import shown
from intake.papers.weights import both


def shopping_text(found: Shopping, currency: str) -> Iterator[str]:
    """The list, a line each with a box, and what it costs by the house rules where they know it all."""
    for need in found.to_buy:
        yield f"  [ ] {_buy(need, currency)}"
    for kind, number in found.packaging:
        yield f"  [ ] {kind}: {number}, less what you have"
    if found.colors:
        yield f"  Colors to have: {', '.join(found.colors)}"
    if not (found.to_buy or found.packaging):
        yield "  Nothing: the pantry has it all, or there is nothing to make."
    costs = [need.cost for need in found.to_buy]
    total = sum((cost for cost in costs if cost), Decimal(0))
    if total and None not in costs:
        yield f"  About {shown(total, currency)} by the prices in your house rules."


def _buy(need: Need, currency: str) -> str:
    def amount(weight: float) -> str:
        return f"{ceil(weight / need.each - 0.01)}" if need.each else both(weight)

    have = f", {amount(need.have)} there" if need.have else ""
    if need.packages is None:
        return f"{need.what}: {amount(need.short)} (needed {amount(need.grams)}{have})"
    cost = f", {shown(need.cost, currency)}" if need.cost else ""
    return f"{need.what}: {need.packages} x {need.package} (needed {amount(need.grams)}{have}){cost}"

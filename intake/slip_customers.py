"""Customers as lines of text."""

from __future__ import annotations

from collections.abc import Sequence

from intake.desk_customers import Alike, Customer

_SHOWN = 4


def customer_line(customer: Customer) -> str:
    """`c3    Dana Reyes    2 orders  last wrote 11 Mar 2026  t3 (chat), t9 (mail)`."""
    talks = [f"{thread} ({channel})" for thread, channel in zip(customer.threads, customer.channels, strict=True)]
    more = [f"and {len(talks) - _SHOWN} more"] if len(talks) > _SHOWN else []
    orders = f"{customer.orders} order{'' if customer.orders == 1 else 's'}"
    last = f"{customer.last.day} {customer.last:%b %Y}" if customer.last else "never"
    where = ", ".join((*talks[:_SHOWN], *more))
    return f"{customer.id:<6} {customer.name:<24.24} {orders:<10} last wrote {last:<13} {where}"


def alike_lines(found: Sequence[Alike]) -> list[str]:
    """The proposals, each with what to type for a yes and a no."""
    if not found:
        return []
    lines = ["", "Perhaps one and the same:"]
    for each in found:
        pair = f"{each.one.id} {each.other.id}"
        who = f"{each.one.name} ({each.one.id}) and {each.other.name} ({each.other.id}): {each.why}"
        lines += [f"  {who}", f"    yes: ordertin customers --join {pair}    no: ordertin customers --apart {pair}"]
    return lines

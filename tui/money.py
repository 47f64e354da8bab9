"""What the screens ask of the desk about money, in one call each."""

from __future__ import annotations

from typing import Any

from intake.model import Order, OrdertinError


def take_payment(desk: Any, order_id: int, text: str) -> Order:
    """Books what was typed ("36 cash", "back 10 card"). Raises OrdertinError where it is no payment, or can't be."""
    from intake.pricing.said import payment

    try:
        amount, how, back = payment(text)
    except ValueError as error:
        raise OrdertinError(f"Expected {error}", todo="Type it again") from None
    order: Order = (desk.till.refund if back else desk.till.pay)(order_id, amount, how)
    return order


def earned(desk: Any, order_id: int) -> str:
    """`it earns $20.34 an hour`, and a warning where that is below the floor; empty where it can't be told."""
    try:
        sheet = desk.till.sheet(order_id)
    except OrdertinError:
        return ""
    if sheet.an_hour is None:
        return ""
    said = f"it earns {sheet.shown(sheet.an_hour)} an hour"
    return f"{said}, and your least is {sheet.shown(sheet.floor_hour)}" if sheet.below_floor else said


def printed(desk: Any, order_id: int) -> str:
    """The quote and the cost sheet of an order as text."""
    from intake.pricing.printed import cost_lines, quote_lines

    order, quote = desk.order(order_id), desk.till.price(order_id)
    version = len(desk.till.versions(order_id)) or 1
    return "\n".join([*quote_lines(order, quote, version), "", *cost_lines(desk.till.sheet(order_id))])

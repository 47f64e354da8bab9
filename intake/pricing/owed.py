"""What is still to be paid for an order, or to be given back, and by when."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal

from intake.model import Order, Quote, State

DEPOSIT, BALANCE, BACK, KEPT, LAPSES = "deposit", "balance", "to give back", "paid, then dropped", "price ends"
# A reminder is proposed from so many days before.
AHEAD = 2


@dataclass(frozen=True, slots=True)
class Owed:
    """`amount` is what is due next, as `what` says, `by` a day; `left` is all that the order still lacks, below zero
    where too much was paid. `late` counts the days since `by`."""

    order: Order
    what: str
    amount: Decimal
    by: date | None
    left: Decimal
    late: int
    currency: str
    locale: str


def left_of(order: Order) -> Decimal:
    """What an order's price leaves to be paid; nothing where it has none."""
    return order.quote.total - order.paid if order.quote else Decimal(0)


def owed_of(order: Order, today: date) -> Owed | None:
    """What a booked order, or one handed over, still lacks, or what is kept of one that was dropped; None where there
    is nothing to settle."""
    quote = order.quote
    if quote and order.state is State.DROPPED and order.paid:
        return replace(_owed(order, quote, KEPT, order.paid, None, today), left=Decimal(0))
    if quote is None or order.state not in (State.BOOKED, State.HANDED_OVER):
        return None
    left = left_of(order)
    if not left:
        return None
    if left < 0:
        return _owed(order, quote, BACK, -left, None, today)
    if order.paid < quote.deposit and order.state is State.BOOKED:
        return _owed(order, quote, DEPOSIT, quote.deposit - order.paid, quote.deposit_by, today)
    return _owed(order, quote, BALANCE, left, quote.balance_by or quote.deposit_by, today)


def _owed(order: Order, quote: Quote, what: str, amount: Decimal, by: date | None, today: date) -> Owed:
    late = max(0, (today - by).days) if by else 0
    return Owed(order, what, amount, by, left_of(order), late, quote.currency, quote.locale)


def owed(orders: Iterable[Order], today: date) -> tuple[Owed, ...]:
    """What is owed, the longest overdue first, then by the day it is due."""
    found = [each for order in orders if (each := owed_of(order, today))]
    return tuple(sorted(found, key=lambda each: (each.by or date.max, each.order.id)))


def reminders(orders: Iterable[Order], today: date) -> tuple[Owed, ...]:
    """What is worth a word to the customer today: money due soon or overdue, and a price that is about to end."""
    held = tuple(orders)
    soon = today + timedelta(days=AHEAD)
    due = [each for each in owed(held, today) if each.by and each.by <= soon]
    for order in held:
        quote = order.quote
        if order.state is State.QUOTED and quote and today <= quote.valid_until < soon and order.paid < quote.total:
            due.append(_owed(order, quote, LAPSES, quote.total - order.paid, quote.valid_until, today))
    return tuple(due)


def what_for(quote: Quote, paid: Decimal, amount: Decimal) -> str:
    """What a payment of `amount` is, after `paid`: `deposit`, `balance`, `in full`, or `part` of one of them."""
    after = paid + amount
    if after >= quote.total:
        return "balance" if paid > 0 else "in full"
    return DEPOSIT if paid < quote.deposit <= after else "part"

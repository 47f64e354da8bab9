"""A quote and a cost sheet as lines of text, for the terminal and for a printed page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction

from intake.model import Order, Payment, Quote
from intake.money import shown
from intake.pricing.cost import CostSheet
from intake.pricing.money import rounded

CAUTION = "What your hour counts as, and all but the recipes' weights, are your own figures in the house rules."


def quote_lines(order: Order, quote: Quote, version: int, *, why: bool = True) -> list[str]:
    """The quote: each line with its amount and the reason, the total, what is due when, and what to look at."""
    who = order.draft.customer.value or "a customer"
    head = f"Quote {order.id}.{version} for {who}, {quote.made_on}; holds until {quote.valid_until}"
    rows = [(line.label, line.amount, line.why if why else "") for line in quote.lines]
    rows.append(("In all", quote.total, ""))
    found = [head, *_table(rows, quote)]
    for what, amount, by in (
        ("deposit", quote.deposit, quote.deposit_by),
        ("balance", quote.balance, quote.balance_by),
    ):
        if amount:
            found.append(f"  {what} {shown(amount, quote.currency, quote.locale)}{_by(by)}")
    if order.paid:
        paid, owed = (shown(each, quote.currency, quote.locale) for each in (order.paid, quote.total - order.paid))
        found.append(f"  paid {paid}, still to pay {owed}")
    return found + [f"  note: {note}" for note in quote.notes]


def _by(day: date | None) -> str:
    return f" by {day}" if day else ""


def _table(rows: Sequence[tuple[str, Decimal, str]], quote: Quote) -> Iterator[str]:
    amounts = [shown(amount, quote.currency, quote.locale) for _, amount, _ in rows]
    wide, label_wide = max(map(len, amounts)), max(len(label) for label, _, _ in rows)
    for (label, _, why), amount in zip(rows, amounts, strict=True):
        yield f"  {amount:>{wide}}  {label:<{label_wide}}  {why}".rstrip()


def payment_line(payment: Payment) -> str:
    """`payment 3: deposit $36.00, cash, 2026-03-11`."""
    amount = shown(payment.amount, payment.currency)
    parts = [f"{payment.what} {amount}", payment.how, payment.day.isoformat(), payment.note]
    return f"  payment {payment.id}: {', '.join(part for part in parts if part)}"


def cost_lines(sheet: CostSheet) -> list[str]:
    """The cost sheet: what is spent, the minutes, what is left, and a warning where that is too little an hour."""
    wide = max(len(sheet.shown(amount)) for amount in (*(line.amount for line in sheet.lines), sheet.price, sheet.cost))
    label_wide = max(len(line.label) for line in sheet.lines)
    found = ["Cost"]
    for line in sheet.lines:
        found.append(f"  {sheet.shown(line.amount):>{wide}}  {line.label:<{label_wide}}  {line.why}".rstrip())
    hours = ", ".join(f"{label} {minutes}" for label, minutes in sheet.minutes)
    found += [
        f"  {sheet.shown(sheet.spent):>{wide}}  spent",
        f"  {sheet.shown(sheet.time):>{wide}}  your {_hours(sheet.worked)}: {hours} min",
        f"  {sheet.shown(sheet.cost):>{wide}}  cost, with your time",
        f"  {sheet.shown(sheet.price):>{wide}}  price without sales tax",
    ]
    if sheet.margin is not None and sheet.markup is not None:
        found.append(
            f"  margin {_percent(sheet.margin)} of the price (the same as {_percent(sheet.markup)} on the cost)"
        )
    if sheet.an_hour is not None:
        found.append(f"  it leaves {sheet.shown(sheet.left)}, {sheet.shown(sheet.an_hour)} an hour")
    if sheet.below_floor:
        found.append(f"  ! That is less than the {sheet.shown(sheet.floor_hour)} an hour you have set as your least.")
    if sheet.covers is not None:
        found.append(f"  {sheet.covers} orders like this cover a year's tools and fixed costs")
    return found + [f"  note: {note}" for note in (*sheet.notes, CAUTION)]


def _hours(minutes: int) -> str:
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest:02}" if hours else f"{rest} min"


def _percent(share: Fraction) -> str:
    return f"{rounded(share * 100, Decimal('0.1'))}%"

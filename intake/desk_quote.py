"""An order's price, and what becomes of it when the order changes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

from intake.desk_change import as_asked, called_off, shift_line, still_asked
from intake.desk_reread import noted
from intake.house import House
from intake.model import Draft, Order, Problem, Quote, State


def priced(draft: Draft, house: House, today: date) -> Quote | Problem:
    from intake.pricing.quote import quote

    return quote(draft, house, today=today)


def altered(order: Order, draft: Draft, house: House) -> Order:
    """`order` with another draft.

    A quote that no longer holds for it goes, and the order is a draft again; a booked one keeps what was agreed.
    Either way the note says so.
    """
    after = replace(order, draft=draft, change=still_asked(order, draft))
    if order.quote is None or _same_price(order.draft, draft, house, order.quote.made_on):
        return after
    from intake.money import shown

    total = shown(order.quote.total, order.quote.currency)
    if order.state is State.BOOKED:
        return replace(after, note=noted(order.note, [f"Changed after booking: {total} was for the order before."]))
    state = State.DRAFT if order.state is State.QUOTED else order.state
    note = noted(order.note, [f"The quote of {total} was for the order before it changed."])
    return replace(after, quote=None, state=state, note=note)


def taken(order: Order, house: House, now: datetime) -> Order | Problem:
    """A booked order with its change taken, or why it can't be priced so.

    A price that the change touches is made anew at today's rates. It is booked anew, so that the customer's answer is
    due; one that is called off is dropped.
    """
    draft, told = as_asked(order), ", ".join(shift_line(shift) for shift in order.change)
    note = noted(order.note, [f"Change taken on {now:%Y-%m-%d}: {told}."])
    if called_off(order):
        off = replace(order.draft, cancelled=draft.cancelled)
        return replace(order, draft=off, change=(), state=State.DROPPED, note=note)
    after = replace(order, draft=draft, change=(), booked_at=now, note=note)
    if order.quote and priced(order.draft, house, order.quote.made_on) == priced(draft, house, order.quote.made_on):
        return after
    quote = priced(draft, house, now.date())
    if isinstance(quote, Problem):
        return quote
    return replace(after, quote=quote, note=noted(note, [price_line(order.quote, quote)]))


def not_taken(order: Order, now: datetime) -> Order:
    """An order without the change asked of it, which its note keeps."""
    if not order.change:
        return order
    told = ", ".join(shift_line(shift) for shift in order.change)
    return replace(order, change=(), note=noted(order.note, [f"Change not taken on {now:%Y-%m-%d}: {told}."]))


def price_line(was: Quote | None, now: Quote) -> str:
    """`The price was $72.00; it is $108.00 now.`"""
    from intake.money import shown

    total = shown(now.total, now.currency)
    if was is None:
        return f"The price is {total}."
    before = shown(was.total, was.currency)
    return f"The price stays {total}." if before == total else f"The price was {before}; it is {total} now."


def _same_price(one: Draft, other: Draft, house: House, day: date) -> bool:
    if one == other:
        return True
    old, new = (priced(draft, house, day) for draft in (one, other))
    return isinstance(old, Quote) and isinstance(new, Quote) and (old.lines, old.total) == (new.lines, new.total)

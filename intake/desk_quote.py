"""An order's price, and what becomes of it when the order changes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

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
    after = replace(order, draft=draft)
    if order.quote is None or _same_price(order.draft, draft, house, order.quote.made_on):
        return after
    from intake.money import shown

    total = shown(order.quote.total, order.quote.currency, order.quote.locale)
    if order.state is State.BOOKED:
        return replace(after, note=noted(order.note, [f"Changed after booking: {total} was for the order before."]))
    state = State.DRAFT if order.state is State.QUOTED else order.state
    note = noted(order.note, [f"The quote of {total} was for the order before it changed."])
    return replace(after, quote=None, state=state, note=note)


def _same_price(one: Draft, other: Draft, house: House, day: date) -> bool:
    if one == other:
        return True
    old, new = (priced(draft, house, day) for draft in (one, other))
    return isinstance(old, Quote) and isinstance(new, Quote) and (old.lines, old.total) == (new.lines, new.total)

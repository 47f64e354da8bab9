"""An order's price, and what becomes of it when the order changes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import TYPE_CHECKING, TypedDict

from intake.desk_change import as_asked, called_off, shift_line, still_asked
from intake.desk_reread import noted
from intake.house import House
from intake.model import Draft, Order, Problem, Quote, State, Terms

if TYPE_CHECKING:
    from intake.house_rates import RatesPart

_NO_TERMS = Terms()


class _Agreed(TypedDict):
    rates: RatesPart | None
    asked_on: date | None


def priced(
    draft: Draft,
    house: House,
    today: date,
    *,
    terms: Terms = _NO_TERMS,
    rates: RatesPart | None = None,
    asked_on: date | None = None,
) -> Quote | Problem:
    """The price of a draft as of a day, with a note on the nearest set that fits where it is over a budget."""
    from intake.pricing.budget import fitting
    from intake.pricing.quote import quote

    made = quote(draft, house, today=today, terms=terms, rates=rates, asked_on=asked_on)
    budget = draft.budget.value
    if isinstance(made, Problem) or budget is None or made.total <= budget:
        return made
    from intake.money import shown

    offers = fitting(draft, house, budget, today=today, terms=terms, rates=rates, asked_on=asked_on)
    if not offers:
        return replace(made, notes=(*made.notes, "Nothing that you take on fits that budget."))
    told = "; or ".join(
        f"{offer.words}: {shown(offer.quote.total, made.currency, made.locale)}" for offer in offers[:2]
    )
    return replace(made, notes=(*made.notes, f"Nearest that fits: {told}."))


def order_price(order: Order, house: House, today: date) -> Quote | Problem:
    """The price of an order as of a day, by the baker's terms.

    What was agreed on stays agreed on: a booked order goes by the rate card kept with its quote, and its notice is
    counted from the day on which it was asked for.
    """
    return priced(order.draft, house, today, terms=order.terms, **_agreed(order))


def _agreed(order: Order) -> _Agreed:
    from intake.house_rates import rates_of_text

    if order.state is not State.BOOKED or order.quote is None:
        return {"rates": None, "asked_on": None}
    asked_on = order.quote.asked_on or order.quote.made_on
    return {"rates": rates_of_text(order.quote.rates), "asked_on": asked_on}


def altered(order: Order, draft: Draft, house: House) -> Order:
    """`order` with another draft.

    A quote that no longer holds for it goes, and the order is a draft again; a booked one keeps what was agreed.
    Either way the note says so.
    """
    after = replace(order, draft=draft, change=still_asked(order, draft))
    if order.quote is None or _same(order, draft, house):
        return after
    from intake.money import shown

    total = shown(order.quote.total, order.quote.currency, order.quote.locale)
    if order.state is State.BOOKED:
        return replace(after, note=noted(order.note, [f"Changed after booking: {total} was for the order before."]))
    state = State.DRAFT if order.state is State.QUOTED else order.state
    note = noted(order.note, [f"The quote of {total} was for the order before it changed."])
    return replace(after, quote=None, state=state, note=note)


def taken(order: Order, house: House, now: datetime) -> Order | Problem:
    """A booked order with its change taken, or why it can't be priced so.

    A price that the change touches is made anew by the rate card that was agreed on. It is booked anew, so that the
    customer's answer is due; one that is called off is dropped.
    """
    draft, told = as_asked(order), ", ".join(shift_line(shift) for shift in order.change)
    note = noted(order.note, [f"Change taken on {now:%Y-%m-%d}: {told}."])
    if called_off(order):
        off = replace(order.draft, cancelled=draft.cancelled)
        return replace(order, draft=off, change=(), state=State.DROPPED, note=note)
    after = replace(order, draft=draft, change=(), booked_at=now, note=note)
    if order.quote and _same(order, draft, house, what_else=True):
        return after
    quote = order_price(after, house, now.date())
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

    total = shown(now.total, now.currency, now.locale)
    if was is None:
        return f"The price is {total}."
    before = shown(was.total, was.currency, was.locale)
    return f"The price stays {total}." if before == total else f"The price was {before}; it is {total} now."


def _same(order: Order, draft: Draft, house: House, *, what_else: bool = False) -> bool:
    """Whether an order's price would be the same for another draft; `what_else` looks at its days and notes, too."""
    if order.draft == draft or order.quote is None:
        return order.draft == draft
    from intake.house_rates import rates_of_text
    from intake.pricing.quote import quote

    day, rates = order.quote.made_on, rates_of_text(order.quote.rates)
    old, new = (quote(each, house, today=day, terms=order.terms, rates=rates) for each in (order.draft, draft))
    if what_else:
        return old == new
    return isinstance(old, Quote) and isinstance(new, Quote) and (old.lines, old.total) == (new.lines, new.total)

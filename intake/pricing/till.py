"""The figures of the till: what a month and a year have brought, by state, and how far a sales cap is used up.

Money counts on the day it is taken or given back (the cash method, IRS Pub. 538); an order counts in the month in
which it is handed over. What is in another currency than the house's is left out and named.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from intake.house import House
from intake.model import Order, Payment, Problem, State
from intake.pricing.cost import CostSheet, cost_sheet
from intake.pricing.owed import Owed, left_of, owed

CAP_CAUTION = (
    "The cap is the figure you entered. What counts towards it, from when, and whether you need a licence is for your "
    "local office to say."
)
_STATES = (State.QUOTED, State.BOOKED, State.HANDED_OVER)


@dataclass(frozen=True, slots=True)
class Month:
    """`taken` is what came in less what was given back, `to_come` what the orders handed over in it still lack."""

    first: date
    taken: Decimal
    to_come: Decimal


@dataclass(frozen=True, slots=True)
class Stand:
    """So many orders of a state, to be handed over in a month, and what they come to; and the same of its year."""

    state: State
    orders: int
    total: Decimal
    year_orders: int
    year_total: Decimal


@dataclass(frozen=True, slots=True)
class Cap:
    """What of `cap` has been `taken` since `since`."""

    cap: Decimal
    taken: Decimal
    since: date

    @property
    def share(self) -> Fraction:
        return Fraction(self.taken) / Fraction(self.cap)


@dataclass(frozen=True, slots=True)
class Till:
    """One month, in its year. `an_hour` is what its orders earn her an hour, None where there is none to tell by."""

    month: date
    currency: str
    locale: str
    stands: tuple[Stand, ...]
    taken: Decimal
    given_back: Decimal
    year_given_back: Decimal
    months: tuple[Month, ...]
    owed: tuple[Owed, ...]
    cap: Cap | None
    an_hour: Fraction | None
    notes: tuple[str, ...]

    @property
    def year_taken(self) -> Decimal:
        """What came in over the year, less what was given back."""
        return sum((month.taken for month in self.months), Decimal(0))


def first_of(day: date) -> date:
    return day.replace(day=1)


def after(first: date, months: int = 1) -> date:
    """The first of the month so many after."""
    place = first.year * 12 + first.month - 1 + months
    return date(place // 12, place % 12 + 1, 1)


def till(orders: Sequence[Order], payments: Sequence[Payment], house: House, month: date, today: date) -> Till:
    """The till of `month` (its first day) and of the calendar year that it is in."""
    currency = house.house.currency
    ours = [order for order in orders if order.quote and order.quote.currency == currency]
    held = [p for p in payments if not p.struck and p.currency == currency]
    handed = [order for order in ours if (day := _leaves(order)) and first_of(day) == month]
    in_year = [order for order in ours if (day := _leaves(order)) and day.year == month.year]
    in_month = [p for p in held if first_of(p.day) == month]
    return Till(
        month=month,
        currency=currency,
        locale=house.house.locale,
        stands=tuple(_stand(state, handed, in_year) for state in _STATES),
        taken=_sum(p.amount for p in in_month if p.signed > 0),
        given_back=_sum(p.amount for p in in_month if p.signed < 0),
        year_given_back=_sum(p.amount for p in held if p.signed < 0 and p.day.year == month.year),
        months=tuple(_month(date(month.year, n, 1), ours, held) for n in range(1, 13)),
        owed=owed(ours, today),
        cap=_cap(house, held, month),
        an_hour=_an_hour(handed, house),
        notes=tuple(_others(orders, payments, currency)),
    )


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, Decimal(0))


def _leaves(order: Order) -> date | None:
    return order.draft.due.value.last if order.draft.due.value else None


def _stand(state: State, month: Iterable[Order], year: Iterable[Order]) -> Stand:
    here, there = (
        [order.quote.total for order in orders if order.state is state and order.quote] for orders in (month, year)
    )
    return Stand(state, len(here), _sum(here), len(there), _sum(there))


def _month(first: date, orders: Iterable[Order], payments: Iterable[Payment]) -> Month:
    agreed = (State.BOOKED, State.HANDED_OVER)
    due = [o for o in orders if o.state in agreed and (day := _leaves(o)) and first_of(day) == first]
    taken = _sum(p.signed for p in payments if first_of(p.day) == first)
    return Month(first, taken, _sum(max(Decimal(0), left_of(order)) for order in due))


def _cap(house: House, payments: Iterable[Payment], month: date) -> Cap | None:
    if not house.till.sales_cap:
        return None
    starts = house.till.year_starts
    since = date(month.year - (month.month < starts), starts, 1)
    taken = _sum(p.signed for p in payments if since <= p.day < after(since, 12))
    return Cap(house.till.sales_cap, taken, since)


def _an_hour(orders: Iterable[Order], house: House) -> Fraction | None:
    """What the booked orders and those handed over leave for an hour, all of them together."""
    left, minutes = Fraction(0), 0
    for order in orders:
        if order.state is State.QUOTED or order.quote is None:
            continue
        sheet: CostSheet | Problem = cost_sheet(order, order.quote, house)
        if isinstance(sheet, CostSheet):
            left, minutes = left + sheet.left, minutes + sheet.worked
    return left * 60 / minutes if minutes else None


def _others(orders: Iterable[Order], payments: Iterable[Payment], currency: str) -> list[str]:
    codes = {o.quote.currency for o in orders if o.quote} | {p.currency for p in payments if not p.struck}
    return [f"What is in {code} is not counted here." for code in sorted(codes - {currency})]

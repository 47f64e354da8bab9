"""What an order costs the customer, from its draft and the house rules.

Every line is rounded half up to the step of `rates.round_to`; the total is the sum of the rounded lines, so that what
the customer adds up is what she pays. Sales tax is not part of it: what is taxed differs from place to place.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from math import ceil

from intake.house import WEEKDAYS, House, RatesPart, ShippingPart
from intake.model import Draft, Due, Problem, Quote, QuoteLine
from intake.pricing.level import lettered, level_of, many
from intake.pricing.money import rounded, shown, split, step_of

_DOZEN = 12
_PARCEL = 24
_PRICED = ("count", "designs", "colors", "lettering", "packaging", "due", "handover")
_Line = tuple[str, Fraction, str]


def quote(draft: Draft, house: House, *, today: date) -> Quote | Problem:
    """The price of `draft` as of `today`, or a Problem where the count or the day is missing or can't be met."""
    count, due = draft.count.value, draft.due.value
    if draft.cancelled.value:
        return Problem("quote", "the customer has cancelled this order", "Drop it, or set cancelled to no")
    if not count or count < 0 or due is None:
        lacks = [word for word, there in (("the count", count and count > 0), ("the day", due)) if not there]
        verb = "are" if len(lacks) > 1 else "is"
        return Problem("quote", f"{' and '.join(lacks)} {verb} missing", "Ask the customer, or type it in")
    if due.last < today:
        return Problem("quote", f"the day, {due.last}, has passed", "Set the day that the cookies are needed")

    currency, rates = house.house.currency, house.rates
    level, why = level_of(draft)
    step = step_of(rates.round_to, currency)
    lines = tuple(
        QuoteLine(label, rounded(amount, step), reason)
        for label, amount, reason in _lines(draft, count, rates, currency, level, why)
    )
    lines += _rush(lines, _notice(due.last, today), rates, step)
    total = sum((line.amount for line in lines), Decimal(0))
    deposit, balance = split(total, rates.deposit_percent, step)

    first = max(due.first, today)
    leaves = _leaves(first, house.shipping) if draft.handover.value == "ship" else first
    balance_by = max(today, leaves - timedelta(days=rates.balance_days))
    valid_until = min(first, today + timedelta(days=rates.valid_days))
    return Quote(
        lines=lines,
        total=total,
        deposit=deposit,
        balance=balance,
        currency=currency,
        level=level,
        made_on=today,
        valid_until=valid_until,
        deposit_by=min(valid_until, balance_by) if deposit else None,
        balance_by=balance_by if balance else None,
        notes=tuple(_notes(draft, count, due, total, house, today)),
    )


def _lines(draft: Draft, count: int, rates: RatesPart, currency: str, level: str, why: str) -> Iterator[_Line]:
    """The lines before rounding and before a rush; what the house charges nothing for has no line."""
    per_dozen = rates.per_dozen.of(level)
    charged = max(count, rates.minimum_count)
    reason = f"{charged} at {shown(per_dozen, currency)} a dozen; {level}: {why}"
    if charged > count:
        reason = f"fewer than the {rates.minimum_count} you take on, so {rates.minimum_count} are charged; {reason}"
    yield f"{many(count, 'cookie')}, {level}", Fraction(per_dozen) * charged / _DOZEN, reason

    def each(label: str, number: int, rate: Decimal, reason: str) -> Iterator[_Line]:
        if number > 0 and rate > 0:
            yield label, Fraction(rate) * number, f"{reason}, {shown(rate, currency)} each"

    designs, colors = len(draft.designs.value or ()), len(draft.colors.value or ())
    more, free = designs - rates.free_designs, rates.free_designs
    yield from each(many(more, "extra design"), more, rates.extra_design, f"{designs} asked for, {free} in the price")
    more, free = colors - rates.free_colors, rates.free_colors
    yield from each(many(more, "extra color"), more, rates.extra_color, f"{colors} asked for, {free} in the price")
    texts = lettered(draft)
    yield from each(f"Lettering on {many(texts, 'cookie')}", texts, rates.lettering_each, "one cookie for each text")
    prices = _packaging(rates)
    for kind in _kinds(draft):
        if kind == "gift box":
            boxes = ceil(count / _DOZEN)
            yield from each(many(boxes, "gift box"), boxes, rates.gift_box_dozen, "one box for each dozen begun")
        elif kind in prices:
            yield from each(kind.capitalize(), count, prices[kind], many(count, "cookie"))
    if draft.handover.value == "ship":
        parcels = ceil(count / _PARCEL)
        yield from each(
            f"Shipping, {many(parcels, 'parcel')}", parcels, rates.shipping, f"a parcel holds up to {_PARCEL} cookies"
        )
    if draft.handover.value == "deliver" and rates.delivery:
        yield "Delivery", Fraction(rates.delivery), "brought to the address"


def _rush(lines: tuple[QuoteLine, ...], notice: int, rates: RatesPart, step: Decimal) -> tuple[QuoteLine, ...]:
    if notice >= rates.rush_days or not rates.rush_percent:
        return ()
    amount = rounded(Fraction(sum(line.amount for line in lines)) * Fraction(rates.rush_percent) / 100, step)
    percent = f"{rates.rush_percent.normalize():f}%"
    why = f"{many(notice, 'day')} of notice, fewer than {rates.rush_days}: {percent} of the lines above"
    return (QuoteLine("Rush", amount, why),)


def _notice(day: date, today: date) -> int:
    return max(0, (day - today).days)


def _kinds(draft: Draft) -> tuple[str, ...]:
    """The kinds of packaging asked for, each once, in the order said."""
    return tuple(dict.fromkeys(" ".join(kind.casefold().split()) for kind in draft.packaging.value or ()))


def _packaging(rates: RatesPart) -> dict[str, Decimal]:
    """What each kind costs for one cookie; a gift box is by the dozen and is not among them."""
    return {
        "individually bagged": rates.individually_bagged_each,
        "heat sealed": rates.heat_sealed_each,
        "ribbon": rates.ribbon_each,
        "tags": rates.tags_each,
    }


def _leaves(arrives: date, shipping: ShippingPart) -> date:
    """The last posting day that leaves `transit_days` business days (Monday to Friday) before `arrives`."""
    day, left = arrives, shipping.transit_days
    while left or WEEKDAYS[day.weekday()] not in shipping.send_on:
        day -= timedelta(days=1)
        left -= bool(left and day.weekday() < 5)
    return day


def _notes(draft: Draft, count: int, due: Due, total: Decimal, house: House, today: date) -> Iterator[str]:
    """What the baker should look at before she sends the price."""
    rates, currency = house.rates, house.house.currency
    unsure = [name for name in _PRICED if not draft.cell(name).missing and not draft.cell(name).sure]
    if unsure:
        yield f"Still to check, and the price rests on it: {', '.join(unsure)}."
    if draft.handover.missing:
        yield "Pick-up is assumed: no shipping or delivery is in the price."
    if lettered(draft):
        cookies = many(lettered(draft), "cookie")
        yield f"Lettering is priced for {cookies}, one for each text: check how many cookies carry it."
    shares = [design.count for design in draft.designs.value or ()]
    known = [share for share in shares if share is not None]
    if known and len(known) == len(shares) and sum(known) != count:
        yield f"The designs add up to {sum(known)} cookies and the order is for {count}."
    for kind in _kinds(draft):
        if kind not in _packaging(rates) and kind != "gift box":
            yield f'Nothing is charged for "{kind}": the house rules have no price for it.'
    rush = rates.rush_days
    if rates.rush_percent and _notice(due.first, today) < rush <= _notice(due.last, today):
        yield f"No rush is charged: handed over before {today + timedelta(days=rush)}, it would be one."
    budget = draft.budget.value
    if budget is not None and budget < total:
        over, had = shown(total - budget, currency), shown(budget, currency)
        yield f"This is {over} over the customer's budget of {had}."

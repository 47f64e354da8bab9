"""What an order costs the customer, from its draft, the baker's terms and the rate card of the day.

The total is the sum of the lines. The rate card is kept with the quote, so that an order that was agreed on is priced
by it ever after, whatever the house rules have become.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from intake.counted import many
from intake.house import House
from intake.house_rates import RatesPart, rates_text
from intake.kitchen.level import lettered, level_of
from intake.model import Draft, Due, OrdertinError, Problem, Quote, QuoteLine, Terms
from intake.pricing.lines import Ask, day_sent, kinds, lines_of, packaging, rush_of
from intake.pricing.money import split, step_of
from intake.pricing.sizes import USUAL, sizes_of

_PRICED = ("count", "designs", "colors", "lettering", "packaging", "due", "handover")
_NO_TERMS = Terms()


def quote(
    draft: Draft,
    house: House,
    *,
    today: date,
    terms: Terms = _NO_TERMS,
    rates: RatesPart | None = None,
    asked_on: date | None = None,
) -> Quote | Problem:
    """The price of `draft` as of `today`, or a Problem where it can't be worked out.

    `rates` is the rate card to go by, that of the day where it is not given. Notice is counted from `asked_on`, today
    where it is not given.
    """
    ask = asked(draft, house, today=today, terms=terms, rates=rates, asked_on=asked_on)
    if isinstance(ask, Problem):
        return ask
    try:
        lines = lines_of(ask)
    except OrdertinError as error:
        return replace(error.problem, where="quote")
    total = sum((line.amount for line in lines), Decimal(0))
    if total < 0:
        what = f"the lines come to {ask.shown(total)}, less than nothing"
        return Problem("quote", what, "Take one of your own lines out, or make it smaller")
    return replace(_dated(ask, lines, total, today), asked_on=None if asked_on == today else asked_on)


def asked(
    draft: Draft,
    house: House,
    *,
    today: date,
    terms: Terms = _NO_TERMS,
    rates: RatesPart | None = None,
    asked_on: date | None = None,
) -> Ask | Problem:
    """What the price of `draft` is worked out from, or a Problem where the count or the day is missing or past."""
    count, due = draft.count.value, draft.due.value
    if draft.cancelled.value:
        return Problem("quote", "the customer has cancelled this order", "Drop it, or set cancelled to no")
    if not count or count < 0 or due is None:
        lacks = [word for word, there in (("the count", count and count > 0), ("the day", due)) if not there]
        verb = "are" if len(lacks) > 1 else "is"
        return Problem("quote", f"{' and '.join(lacks)} {verb} missing", "Ask the customer, or type it in")
    if due.last < today:
        return Problem("quote", f"the day, {due.last}, has passed", "Set the day that the cookies are needed")
    level, why = level_of(draft, terms)
    return Ask(
        draft=draft,
        count=count,
        terms=terms,
        rates=rates or house.rates_on(today),
        house=house,
        level=level,
        why=why,
        notice=_notice(due.last, asked_on or today),
        sent=day_sent(due, draft.handover.value, house, today),
    )


def _dated(ask: Ask, lines: tuple[QuoteLine, ...], total: Decimal, today: date) -> Quote:
    rates, currency, due = ask.rates, ask.house.house.currency, ask.draft.due.value
    assert due
    deposit, balance = split(total, rates.deposit_percent, step_of(rates.round_to, currency), rates.rounding)
    balance_by = max(today, ask.sent - timedelta(days=rates.balance_days))
    valid_until = min(max(due.first, today), today + timedelta(days=rates.valid_days))
    return Quote(
        lines=lines,
        total=total,
        deposit=deposit,
        balance=balance,
        currency=currency,
        level=ask.level,
        made_on=today,
        valid_until=valid_until,
        deposit_by=min(valid_until, balance_by) if deposit else None,
        balance_by=balance_by if balance else None,
        notes=tuple(_notes(ask, due, total, today)),
        locale=ask.house.house.locale,
        rates=rates_text(rates),
    )


def _notice(day: date, today: date) -> int:
    return max(0, (day - today).days)


def _notes(ask: Ask, due: Due, total: Decimal, today: date) -> Iterator[str]:
    """What the baker should look at before she sends the price."""
    rates, draft = ask.rates, ask.draft
    unsure = [name for name in _PRICED if not draft.cell(name).missing and not draft.cell(name).sure]
    if unsure:
        yield f"Still to check, and the price rests on it: {', '.join(unsure)}."
    if draft.handover.missing:
        yield "Pick-up is assumed: no shipping or delivery is in the price."
    if draft.handover.value == "deliver" and ask.terms.distance is None and len(rates.delivery) > 1:
        yield f"How far is it? Delivery is priced for up to {rates.delivery[0].up_to.normalize():f} miles."
    if lettered(draft, ask.terms) and ask.terms.lettered is None:
        cookies = many(lettered(draft), "cookie")
        yield f"Lettering is priced for {cookies}, one for each text: check how many cookies carry it."
    named = [size.name for size, _ in sizes_of(draft, ask.terms, rates, ask.house) if size is not USUAL]
    if named and not ask.terms.size:
        yield f"Priced as {' and '.join(named)}, by the customer's words: check the size."
    shares = [design.count for design in draft.designs.value or ()]
    known = [share for share in shares if share is not None]
    if known and len(known) == len(shares) and sum(known) != ask.count:
        yield f"The designs add up to {sum(known)} cookies and the order is for {ask.count}."
    for kind in kinds(draft):
        if kind not in packaging(rates) and kind != "gift box":
            yield f'Nothing is charged for "{kind}": the house rules have no price for it.'
    if (rush := rush_of(rates, _notice(due.first, today))) and not rush_of(rates, _notice(due.last, today)):
        yield f"No rush is charged: handed over before {today + timedelta(days=rush[2])}, it would be one."
    if rates.tax_percent:
        yield "What is taxed, and at what rate, is for your tax office to say: this goes by your house rules alone."
    budget = draft.budget.value
    if budget is not None and budget < total:
        yield f"This is {ask.shown(total - budget)} over the customer's budget of {ask.shown(budget)}."

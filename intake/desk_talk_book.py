"""What the baker asks of the whole book, answered in a few plain lines. Nothing is changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from intake.desk_talk_lines import (
    MOST,
    counted,
    day_words,
    due_words,
    listed,
    order_line,
    span_words,
    title,
    verdict_words,
    within,
)  # fmt: skip
from intake.model import Cell, Draft, Due, Order, State
from intake.money import shown
from intake.talk_days import month_of, week_of
from intake.talk_doubts import spoken
from intake.talk_shapes import Ask, Days

if TYPE_CHECKING:
    from intake.desk import Desk

_WEEK = timedelta(days=6)
_LONGEST_SPAN = 7
HELP = """You can type it as you would say it:
  to change the slip: make it 3 dozen, due the 14th, no names, ship it, add blue
  to ask: what's due this week? when could I do 4 dozen? who hasn't paid? why Saturday?
  to have it done: price it, book it, ask her the flavour, she paid 36 cash, block next weekend, undo
What changes more than the open slip is shown to you first."""


def of_the_book(desk: Desk, ask: Ask) -> str:
    """The answer to an ask that is about no order. Raises OrdertinError."""
    return _ASKS[ask.what](desk, ask)


def _today(desk: Desk) -> date:
    return desk.now().date()


def _due(desk: Desk, ask: Ask) -> str:
    today = _today(desk)
    days = ask.days or (today, date.max)
    held = [order for order in desk.rack() if within(order, days)]
    asked = [
        f"{due_words(row.due)}  {row.customer}, {row.headline} ({row.stands}, not booked)"
        for row in desk.waiting()
        if row.due and row.due.first <= days[1] and row.due.last >= days[0] and row.state in _OPEN_STATES
    ]
    when = spoken(days) if ask.days else "Booked"
    if not held and not asked:
        return f"{when}: nothing is due." if ask.days else "Nothing is booked."
    return listed(f"{when}: {counted(held) if held else 'nothing booked'}.", [*map(order_line, held), *asked])


_OPEN_STATES = (State.DRAFT.value, State.ASKED.value, State.QUOTED.value)


def _unpaid(desk: Desk, ask: Ask) -> str:
    from intake.papers.till_text import owed_line

    held = desk.till.owed()
    told = {each.order.id for each in desk.till.told()}
    lines = [f"{owed_line(each)}{'; she says it is paid' if each.order.id in told else ''}" for each in held]
    return listed(f"{len(held)} to settle:", lines) if held else "Nothing is owed."


def _todo(desk: Desk, ask: Ask) -> str:
    from intake.kitchen.agenda import DONE, agenda, day_line, missing

    sheet, today = desk.kitchen.bench(), _today(desk)
    days = ask.days or (today, today)
    names = {order.id: title(order) for order in desk.rack()}
    parts = []
    for day in (days[0] + timedelta(days=n) for n in range(min((days[1] - days[0]).days + 1, _LONGEST_SPAN))):
        load = next((load for load in sheet.loads if load.day == day), None)
        lines = [line for line in agenda(sheet, day, desk.kitchen.ticked_on(day)) if line.state != DONE]
        head = f"{spoken((day, day))}: {day_line(load) if load else 'not planned that far'}"
        told = [f"{line.clock}  {line.what}  {names.get(line.order_id, '')}" for line in lines]
        parts.append(listed(f"{head}.", told or ["nothing to do"]))
    return "\n".join((*parts, *(f"! {line}" for line in missing(sheet, names))))


def _waiting(desk: Desk, ask: Ask) -> str:
    rows = desk.waiting()
    hers = [row for row in rows if not row.theirs]
    theirs = len(rows) - len(hers)
    others = f" {theirs} wait{'s' if theirs == 1 else ''} for the customer." if theirs else ""
    if not hers:
        return f"Nobody waits for you.{others}"
    lines = [
        f"{row.customer or 'a customer'}, {row.headline}{f', {due_words(row.due)}' if row.due else ''}: {row.why}"
        for row in hers
    ]
    return listed(f"{len(hers)} wait{'s' if len(hers) == 1 else ''} for you.{others}", lines)


def _next(desk: Desk, ask: Ask) -> str:
    first = next((row for row in desk.waiting() if not row.theirs), None)
    if first is None:
        return "Nobody waits for you."
    return f"{first.customer or 'A customer'}, {first.headline}: {first.why}. “next one” goes there."


def _takings(desk: Desk, ask: Ask) -> str:
    days = ask.days or month_of(_today(desk))
    sums: dict[str, Decimal] = {}
    for payment in desk.till.payments():
        if not payment.struck and payment.what != "none" and days[0] <= payment.day <= days[1]:
            sums[payment.currency] = sums.get(payment.currency, Decimal(0)) + payment.signed
    booked = [order for order in desk.rack() if within(order, days)]
    amounts = " and ".join(shown(each, currency, desk.house.house.locale) for currency, each in sums.items())
    more = f" {counted(booked)} booked for these days." if booked else ""
    return f"{span_words(days)}: {amounts or 'nothing'} taken, less what was given back.{more} The Till has it all."


def _load(desk: Desk, ask: Ask) -> str:
    from intake.kitchen.agenda import day_line, percent

    days = ask.days or week_of(_today(desk))
    loads = [load for load in desk.kitchen.bench().loads if days[0] <= load.day <= days[1]]
    if not loads:
        return f"{spoken(days)}: that is not planned yet; the Bench looks six weeks ahead."
    if len(loads) > MOST:
        room, hands = sum(load.room for load in loads), sum(load.hands for load in loads)
        full = f"{round(100 * hands / room)} of a hundred" if room else "all days off"
        fullest = max(loads, key=percent)
        most = f"fullest {spoken((fullest.day, fullest.day))}, {percent(fullest)}%"
        return f"{spoken(days)}: {full} of your hours taken; {most}."
    lines = (f"{spoken((load.day, load.day))}  {percent(load)}%  {day_line(load)}" for load in loads)
    return listed(f"{spoken(days)}:", lines)


def _buy(desk: Desk, ask: Ask) -> str:
    from intake.papers.shopping_lines import shopping_text

    days = ask.days or (_today(desk), _today(desk) + _WEEK)
    found, note = desk.papers.shopping(*days)
    lines = [line.strip().removeprefix("[ ] ") for line in shopping_text(found, desk.house.house.currency)]
    return listed(f"To buy for {spoken(days)}:", [*([note] if note else []), *lines])


def _days_off(desk: Desk, ask: Ask) -> str:
    today = _today(desk)
    own = [day_words(day, today) for day in desk.house.hours.blocked if day >= today]
    rules = desk.kitchen.days()
    own += [f"{day_words(each.day, today)}{f': {each.hours} more' if each.kind == 'extra' else ''}" for each in rules]
    found = list(dict.fromkeys(own))
    return listed("Not as usual:", found) if found else "No days off are set. “block next weekend” takes them."


def _help(desk: Desk, ask: Ask) -> str:
    return HELP


def _last(desk: Desk, ask: Ask) -> str:
    last = desk.last_change()
    return f"The last change: {last}. “undo” takes it back." if last else "There is nothing to take back."


# Room


def room(desk: Desk, ask: Ask, order: Order | None) -> str:
    today = _today(desk)
    count = ask.count or (order.draft.count.value if order else None)
    if ask.count is None and order and ask.days is None and ask.what == "room":
        return verdict_words(desk.room(order.id), order.id, _names(desk), today)
    if count is None:
        return _load(desk, Ask("load", days=ask.days)) if ask.days else "How many? Such as “when could I do 4 dozen?”."
    if ask.days and ask.what == "room":
        return _on_days(desk, ask, count, ask.days, order)
    draft = order.draft if order and ask.count is None else Draft()
    level = ask.level or _level(order if ask.count is None else None)
    way = ask.way or draft.handover.value or "pickup"
    day, hands = desk.kitchen.when(count, level, colors=len(draft.colors.value or ()), handover=way)
    from intake.kitchen.words import hours

    what = f"{count} {level} cookies take {hours(hands)} of your hands"
    if day is None:
        return f"{what}. No day of the next sixty has been found for them."
    verb = "arrive" if way == "ship" else "be handed over"
    caution = f" {desk.kitchen.shipping_caution()}" if way == "ship" else ""
    return f"{what}. They could {verb} on {day_words(day, today)} at the soonest.{caution}"


def _level(order: Order | None) -> str:
    from intake.kitchen.level import level_of

    return level_of(order.draft, order.terms)[0] if order else "detailed"


def _names(desk: Desk) -> dict[int, str]:
    return {order.id: title(order) for order in desk.rack()}


def _on_days(desk: Desk, ask: Ask, count: int, days: Days, order: Order | None) -> str:
    """Whether so many can be handed over on one of `days`."""
    base = order if order and ask.count is None else Order(0, "", 0, State.DRAFT, Draft(theme=Cell("cookies", True)))
    first = max(days[0], _today(desk))
    said = ""
    for day in (first + timedelta(days=n) for n in range(min((days[1] - first).days + 1, _LONGEST_SPAN))):
        draft = replace(
            base.draft, count=Cell(count, True), due=Cell(Due.on(day), True), due_is=Cell("handover", True),
            handover=Cell(ask.way or base.draft.handover.value or "pickup", True),
        )  # fmt: skip
        terms = replace(base.terms, level=ask.level or base.terms.level)
        verdict = desk.kitchen.room(replace(base, draft=draft, terms=terms), desk.rack())
        said = verdict_words(verdict, base.id, _names(desk), _today(desk))
        if said.startswith("It fits"):
            return f"{count} cookies for {spoken((day, day))}: {said[:1].lower()}{said[1:]}"
    return f"{count} cookies for {spoken(days)}: {said[:1].lower()}{said[1:]}" if said else f"{spoken(days)} is past."


_ASKS: dict[str, Callable[[Desk, Ask], str]] = {
    "due": _due, "unpaid": _unpaid, "todo": _todo, "waiting": _waiting, "next": _next, "takings": _takings,
    "load": _load, "buy": _buy, "daysoff": _days_off, "help": _help, "last": _last,
}  # fmt: skip

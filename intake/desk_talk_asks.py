"""What the baker asks of one order, answered from the book in a few plain lines. Nothing is changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from intake.desk_change import label
from intake.desk_checks import named
from intake.desk_reread import BAKER
from intake.desk_talk_book import of_the_book, room
from intake.desk_talk_lines import (
    day_words,
    due_words,
    left_words,
    listed,
    order_line,
    priced,
    span_words,
    title,
    total,
    upper,
    within,
)  # fmt: skip
from intake.desk_waiting import stands
from intake.model import CORE_FIELDS, DRAFT_FIELDS, Cell, Draft, Due, Order, Problem, State
from intake.money import shown
from intake.record import in_words
from intake.talk_doubts import spoken
from intake.talk_shapes import Ask

if TYPE_CHECKING:
    from intake.desk import Desk

# A price asked for without a day is for one that is in no rush.
_NOTICE = timedelta(weeks=4)
#: Asks about one order.
OF_AN_ORDER = ("why", "paid", "earn", "price", "before", "state", "open", "field")


def answer(desk: Desk, ask: Ask, order: Order | None) -> str:
    """The answer to an ask. `order` is the one it is about; asks of OF_AN_ORDER need it. Raises OrdertinError."""
    if ask.what in OF_AN_ORDER and order is not None:
        return _OF_ONE[ask.what](desk, ask, order)
    return room(desk, ask, order) if ask.what in ("when", "room") else of_the_book(desk, ask)


def _today(desk: Desk) -> date:
    return desk.now().date()


# About one order


def _why(desk: Desk, ask: Ask, order: Order) -> str:
    if ask.field == "price":
        quote = desk.till.price(order.id)
        return listed(f"{total(quote)}:", priced(quote))
    if not ask.field:
        return f"Why what? Name it, such as “why Saturday?”. {upper(named(order))}: {order_line(order)}."
    cell = order.draft.cell(ask.field)
    head = label(ask.field)
    head = f"{upper(head)}: {in_words(cell.value)}."
    if isinstance(cell.value, Due) and ask.days and _another_day(ask.days[0], cell.value.last):
        head = f"It is not {spoken((ask.days[0], ask.days[0]))}. {head}"
    if cell.rule == BAKER:
        return f"{head} You set it yourself."
    said = _said_by(desk, order, cell)
    if cell.missing and not cell.why:
        return f"{head} Nothing was said of it."
    doubt = f" To check: {cell.why}." if cell.why else ""
    others = f" It could also be {' or '.join(in_words(other) for other in cell.others)}." if cell.others else ""
    return f"{head} {said or 'It follows from the rest of what was said.'}{doubt}{others}"


def _another_day(asked: date, due: date) -> bool:
    """Whether neither the weekday nor the day of the month that she asks about is the order's."""
    return asked.weekday() != due.weekday() and asked.day != due.day


def _said_by(desk: Desk, order: Order, cell: Cell[object]) -> str:
    """`Dana wrote “pickup friday” (Tue 24 Nov).`"""
    messages = {message.id: message for message in desk.case(order.thread_id).thread.messages}
    parts = []
    for where in cell.evidence[:3]:
        message = messages.get(where.message)
        if message and (text := " ".join(message.text[where.start : where.end].split())):
            who = "You wrote" if message.mine else f"{message.sender or 'The customer'} wrote"
            parts.append(f"{who} “{text:.80}” ({day_words(message.at.date(), _today(desk))}).")
    return " ".join(dict.fromkeys(parts))


def _paid(desk: Desk, ask: Ask, order: Order) -> str:
    if order.quote is None:
        return f"{title(order)}: there is no price yet, so nothing is owed."
    held = [p for p in desk.till.payments(order.id) if not p.struck and p.what != "none"]
    lines = [
        f"{day_words(p.day, _today(desk))}  {p.what} {shown(p.amount, p.currency, order.quote.locale)}"
        f"{f', {p.how}' if p.how else ''}"
        for p in held
    ]
    told = [
        f"{day_words(each.at.date(), _today(desk))}  she wrote “{each.words:.60}”: look at your account"
        for each in desk.till.told() if each.order.id == order.id
    ]  # fmt: skip
    head = f"{title(order)}: {total(order.quote)}; {left_words(order)}."
    return listed(head, [*(lines or ["nothing has been put down yet"]), *told])


def _earn(desk: Desk, ask: Ask, order: Order) -> str:
    sheet = desk.till.sheet(order.id)
    head = f"{title(order)}: {sheet.shown(sheet.left)} is left of {sheet.shown(sheet.price)} for your time"
    if sheet.an_hour is None:
        return f"{head}."
    floor = f"; your least is {sheet.shown(sheet.floor_hour)}" if sheet.below_floor else ""
    return f"{head}, {sheet.shown(sheet.an_hour)} an hour{floor}. It rests on your own figures in the house rules."


def _price(desk: Desk, ask: Ask, order: Order) -> str:
    if ask.count is None:
        quote = desk.till.price(order.id)
        kept = "" if order.quote else " That is what it would be today; “price it” keeps it."
        return listed(f"{title(order)}: {total(quote)}.{kept}", priced(quote))
    as_asked = replace(order, draft=replace(order.draft, count=Cell(ask.count, True), designs=Cell()))
    return _would_be(desk, as_asked, f"{ask.count} instead of {order.draft.count.value or 'no count'}", ask.level)


def _would_be(desk: Desk, order: Order, what: str, level: str) -> str:
    from intake.desk_quote import order_price

    order = replace(order, terms=replace(order.terms, level=level or order.terms.level))
    quote = order_price(order, desk.house, _today(desk))
    if isinstance(quote, Problem):
        return f"{quote.what[:1].upper()}{quote.what[1:]}. {quote.todo}".strip()
    return listed(f"{what}: {total(quote)}. Nothing is changed.", priced(quote))


def _before(desk: Desk, ask: Ask, order: Order) -> str:
    customer = desk.customer(order.thread_id)
    first = order.draft.due.value
    held = [
        each for each in customer.history
        if each.id != order.id and (ask.days is None or within(each, ask.days))
        and not (first and each.draft.due.value and each.draft.due.value.last > first.last and ask.days is None)
    ]  # fmt: skip
    when = f" in {span_words(ask.days)}" if ask.days else " before"
    if not held:
        return f"Nothing of {customer.name} is in the book{when}."
    lines = []
    for each in held:
        due, quote = each.draft.due.value, each.quote
        day = day_words(due.last, _today(desk)) if due else "no day"
        price = f", {shown(quote.total, quote.currency, quote.locale)}" if quote else ""
        likes = ", ".join((*(each.draft.flavors.value or ()), *(each.draft.dietary.value or ())))
        lines.append(f"{day}  {title(each)}{price}, {each.state}{f'; {likes}' if likes else ''}")
    return listed(f"{customer.name}{when}:", lines)


def _state(desk: Desk, ask: Ask, order: Order) -> str:
    messages = desk.case(order.thread_id).thread.messages
    step = f", at {order.step}" if order.step and order.state is State.BOOKED else ""
    last = messages[-1] if messages else None
    wrote = ""
    if last:
        who = "you" if last.mine else "she"
        hers = "yours" if last.mine else "hers"
        wrote = f" The last word is {hers}: {who} wrote on {day_words(last.at.date(), _today(desk))}."
    return f"{order_line(order)}: {stands(order, messages)}{step}; {left_words(order)}.{wrote}"


def _open(desk: Desk, ask: Ask, order: Order) -> str:
    draft = order.draft
    missing = [label(n) for n in CORE_FIELDS if draft.cell(n).missing and n not in ("lettering", *_drawn(draft))]
    checks = [
        f"{label(n)}: {in_words(draft.cell(n).value)}{f' ({why})' if (why := draft.cell(n).why) else ''}"
        for n in DRAFT_FIELDS if not draft.cell(n).sure and (not draft.cell(n).missing or draft.cell(n).why)
    ]  # fmt: skip
    if not missing and not checks:
        return f"{title(order)}: nothing is missing, and all is sure."
    head = f"Not said: {', '.join(missing)}." if missing else "All has been said."
    return listed(f"{title(order)}. {head}{' To check:' if checks else ''}", checks)


def _drawn(draft: Draft) -> tuple[str, ...]:
    return () if draft.designs.missing and draft.lettering.missing else ("theme",)


def _field(desk: Desk, ask: Ask, order: Order) -> str:
    cell = order.draft.cell(ask.field)
    name = label(ask.field)
    value = due_words(cell.value) if isinstance(cell.value, Due) else in_words(cell.value)
    if cell.missing:
        doubt = f" To check: {cell.why}." if cell.why else " Nothing was said of it."
        ask_her = "" if ask.field in ("lettering", "budget") else " “ask her” writes the question."
        return f"{order.who}, {name}: none.{doubt}{ask_her if order.state is not State.HANDED_OVER else ''}"
    return f"{order.who}, {name}: {value}.{'' if cell.sure else f' To check: {cell.why}.'}"


_OF_ONE: dict[str, Callable[[Desk, Ask, Order], str]] = {
    "why": _why, "paid": _paid, "earn": _earn, "price": _price, "before": _before, "state": _state, "open": _open,
    "field": _field,
}  # fmt: skip


def hypothetical(desk: Desk, ask: Ask) -> str:
    """A price asked for a count, with no order in hand."""
    day = Due.on(_today(desk) + _NOTICE)
    draft = Draft(
        count=Cell(ask.count, True), theme=Cell("cookies", True), due=Cell(day, True), due_is=Cell("handover", True),
        handover=Cell("pickup", True),
    )  # fmt: skip
    said = f"{ask.count} cookies, picked up in four weeks"
    return _would_be(desk, Order(0, "", 0, State.DRAFT, draft), said, ask.level)



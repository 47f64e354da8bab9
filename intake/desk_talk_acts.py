"""What the baker would have done by a word, shown to her with all that it changes. Nothing is changed here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from intake.desk_change import called_off, label, shift_line
from intake.desk_checks import check_bookable, confirmed, named, refused, wrong_state
from intake.desk_core import CLOSED
from intake.desk_quote import order_price, price_line
from intake.desk_reread import OPEN
from intake.desk_talk_lines import left_words, listed, order_line, priced, title, total, upper, verdict_words
from intake.desk_talk_shapes import Plan
from intake.model import DRAFT_FIELDS, STEPS, Fits, Order, OrdertinError, Problem, Quote, State
from intake.money import shown
from intake.record import in_words
from intake.talk_doubts import spoken
from intake.talk_shapes import Act

if TYPE_CHECKING:
    from intake.desk import Desk

#: Acts that need no order.
OF_THE_BOOK = ("off", "on", "hours", "undo", "calendar")


def plan(desk: Desk, act: Act, order: Order | None) -> Plan | str:
    """What `act` would change, to be said yes to; or a plain answer where there is nothing to do.

    Raises OrdertinError that says why it can't be done.
    """
    found = _PLANS[act.what](desk, act, order) if order else _BOOK_PLANS[act.what](desk, act)
    if isinstance(found, str):
        return found
    if act.guessed:
        found = replace(found, asks=f"I read that as “{act.says}”.\n{found.asks}", careful=act.what in ("book", "drop"))
    return found


def _of(order: Order, act: Act, asks: str, yes: str, *, careful: bool = False) -> Plan:
    return Plan(act, order.id, order.thread_id, asks, yes, careful)


# The road of an order


def _price(desk: Desk, act: Act, order: Order) -> Plan | str:
    if order.state in CLOSED:
        raise wrong_state(order)
    quote = order_price(order, desk.house, desk.now().date())
    if isinstance(quote, Problem):
        raise refused(order, quote.what, quote.todo)
    held = order.quote
    same = held and (held.lines, held.total) == (quote.lines, quote.total) and order.state is not State.DRAFT
    if held and same and held.valid_until >= desk.now().date():
        return f"{title(order)} is priced already: {total(held)}."
    was = f"\n{price_line(order.quote, quote)}" if order.quote else ""
    return _of(order, act, listed(f"Price {named(order)}: {total(quote)}{was}", priced(quote)), "keep this price")


def _confirm(desk: Desk, act: Act, order: Order) -> Plan | str:
    if order.state in CLOSED:
        raise wrong_state(order)
    confirmed(order)
    draft = order.draft
    open_ = [name for name in DRAFT_FIELDS if not draft.cell(name).sure and not draft.cell(name).missing]
    if not open_:
        return f"Every value of {named(order)} is confirmed already."
    lines = [
        f"{label(name)}: {in_words(draft.cell(name).value)}{f' ({why})' if (why := draft.cell(name).why) else ''}"
        for name in open_
    ]
    return _of(order, act, listed(f"You have looked, and these of {named(order)} are right?", lines), "they are right")


def _book(desk: Desk, act: Act, order: Order) -> Plan | str:
    if order.state is State.BOOKED:
        return f"{title(order)} is booked already."
    if order.state in CLOSED:
        raise wrong_state(order)
    check_bookable(order, desk.now().date())
    verdict = desk.room(order.id)
    names = {each.id: title(each) for each in desk.rack()}
    room = verdict_words(verdict, order.id, names, desk.now().date())
    assert order.quote
    asks = f"Book {named(order)}?\n{order_line(order)}\n{total(order.quote)}\n{room}"
    fits = isinstance(verdict, Fits)
    return _of(order, act, asks, "book it" if fits else "book it all the same", careful=not fits)


def _drop(desk: Desk, act: Act, order: Order) -> Plan | str:
    if order.state in CLOSED:
        raise wrong_state(order)
    paid = f"\n{_amount(order, order.paid)} was paid for it." if order.paid else ""
    return _of(order, act, f"Drop {named(order)}, and not make it?\n{order_line(order)}{paid}", "drop it")


def _reopen(desk: Desk, act: Act, order: Order) -> Plan | str:
    if order.state is not State.DROPPED:
        return f"{title(order)} is not dropped: it is {order.state}."
    return _of(order, act, f"Make {named(order)} a draft again?\n{order_line(order)}", "bring it back")


def _ready(desk: Desk, act: Act, order: Order) -> Plan | str:
    _must_be_booked(order)
    if order.step == STEPS[-1]:
        return f"{title(order)} stands at {STEPS[-1]} already. “write the answer” tells her."
    asks = f"Put {named(order)} at its last step, {STEPS[-1]}: {_was(order)}."
    return _of(order, act, asks, "it is ready")


def _was(order: Order) -> str:
    return f"it was at {order.step}" if order.step else "it was not begun"


def _step_on(desk: Desk, act: Act, order: Order) -> Plan | str:
    _must_be_booked(order)
    at = STEPS.index(order.step) + 1 if order.step in STEPS else 0
    if at == len(STEPS):
        return f"{title(order)} is at its last step. “she picked it up” hands it over."
    asks = f"Put {named(order)} at {STEPS[at]}: {_was(order)}."
    return _of(order, replace(act, words=STEPS[at]), asks, "next step")


def _handed(desk: Desk, act: Act, order: Order) -> Plan | str:
    _must_be_booked(order)
    owes = f"\n{upper(left_words(order))}." if order.quote else ""
    return _of(order, act, f"{upper(named(order))} is handed over?\n{order_line(order)}{owes}", "she has it")


def _must_be_booked(order: Order) -> None:
    if order.state is not State.BOOKED:
        raise wrong_state(order)


def _accept(desk: Desk, act: Act, order: Order) -> Plan | str:
    if not order.change:
        return f"No change is asked of {named(order)}."
    quote = None if called_off(order) else desk.price_asked(order.id)
    price = f"\n{price_line(order.quote, quote)}" if quote else ""
    off = "\nShe calls it off: it is dropped." if called_off(order) else ""
    asks = f"{listed(f'Change {named(order)} as she asks?', map(shift_line, order.change))}{price}{off}"
    return _of(order, act, asks, "take the change", careful=called_off(order))


def _refuse(desk: Desk, act: Act, order: Order) -> Plan | str:
    if not order.change:
        return f"No change is asked of {named(order)}."
    asks = listed(f"Keep {named(order)} as it was booked, and let this go?", map(shift_line, order.change))
    return _of(order, act, asks, "keep it as booked")


def _aside(desk: Desk, act: Act, order: Order) -> Plan | str:
    if order.state in OPEN:
        raise refused(order, "it is still open", "Answer it, or drop it")
    return _of(order, act, f"Set {order.who}'s conversation aside, until she writes again?", "set it aside")


def _settle(desk: Desk, act: Act, order: Order) -> Plan | str:
    from intake.pricing.said import settled

    if order.state in CLOSED:
        raise wrong_state(order)
    currency = order.quote.currency if order.quote else desk.house.house.currency
    try:
        terms = settled(
            order.terms, act.words, count=order.draft.count.value or 0, sizes=tuple(desk.house.cookies.sizes),
            currency=currency,
        )  # fmt: skip
    except ValueError as error:
        raise refused(order, f"expected {error}", "Type it again") from None
    if terms == order.terms:
        return f"{upper(named(order))}: {act.words} already."
    quote = order_price(replace(order, terms=terms), desk.house, desk.now().date())
    price = price_line(order.quote, quote) if isinstance(quote, Quote) else quote.what
    return _of(order, act, f"Set for {named(order)}: {act.words}.\n{price}", "settle it so")


def _correct(desk: Desk, act: Act, order: Order) -> Plan | str:
    """A correction of a booked order, whose changes are in `how`."""
    return _of(order, act, f"{upper(named(order))} is booked. Change it?\n{act.how}", "change it")


# Money


def _amount(order: Order, amount: Decimal) -> str:
    quote = order.quote
    return shown(amount, quote.currency, quote.locale) if quote else f"{amount}"


def _paid(desk: Desk, act: Act, order: Order) -> Plan | str:
    quote = order.quote
    if quote is None:
        raise refused(order, "it has no price yet", "Price it first")
    left = quote.total - order.paid
    amount = act.amount if act.amount is not None else _part(act.kind, quote, order, left)
    if act.kind == "deposit" and quote.deposit <= order.paid:
        return f"{title(order)}: the deposit is paid already; {left_words(order)}."
    if left <= 0:
        return f"{title(order)}: {left_words(order)}. Nothing was put down."
    if not 0 < amount <= left:
        what = f"{_amount(order, amount)} is not what can be paid: {_amount(order, left)} is left"
        raise refused(order, what, "Say how much, such as “she paid 36 cash”")
    after = replace(order, paid=order.paid + amount)
    how = f", {act.how}" if act.how else ""
    asks = f"Put down for {named(order)}: {_amount(order, amount)}{how}, today.\nThen: {left_words(after)}."
    return _of(order, replace(act, amount=amount), asks, "put it down")


def _part(kind: str, quote: Quote, order: Order, left: Decimal) -> Decimal:
    deposit = quote.deposit - order.paid
    return {"deposit": deposit, "half": left / 2}.get(kind, left)


def _refund(desk: Desk, act: Act, order: Order) -> Plan | str:
    amount = act.amount if act.amount is not None else order.paid
    if not 0 < amount <= order.paid:
        paid = _amount(order, order.paid) if order.paid else "nothing"
        raise refused(order, f"{paid} was paid for it", "Say how much goes back, such as “give her back 10”")
    how = f", {act.how}" if act.how else ""
    asks = f"Put down for {named(order)}: {_amount(order, amount)} given back{how}, today."
    return _of(order, replace(act, amount=amount), asks, "put it down")


# The book


def _off(desk: Desk, act: Act) -> Plan | str:
    assert act.days
    held = [order_line(o) for o in desk.rack() if (due := o.draft.due.value) and act.days[0] <= due.last <= act.days[1]]
    out = f"\n{listed('Still handed over on these days:', held)}" if held else ""
    return Plan(act, 0, "", f"Take {spoken(act.days)} off? The work is planned around it.{out}", "take it off")


def _on(desk: Desk, act: Act) -> Plan | str:
    assert act.days
    if not any(act.days[0] <= rule.day <= act.days[1] for rule in desk.kitchen.days()):
        return f"{spoken(act.days)}: nothing was set by you, so it is as usual."
    return Plan(act, 0, "", f"Work on {spoken(act.days)} as usual? The work is planned anew.", "as usual")


def _hours(desk: Desk, act: Act) -> Plan | str:
    if not act.days or not act.hours:
        raise OrdertinError("a day and its hours are needed", todo="Such as “add hours saturday 8am to 12pm”")
    if act.days[0] != act.days[1]:
        raise OrdertinError("hours are added to one day at a time", todo="Name one day")
    return Plan(act, 0, "", f"Add {act.hours} on {spoken(act.days)}? The work is planned anew.", "add them")


def _undo(desk: Desk, act: Act) -> Plan | str:
    last = desk.last_change()
    return Plan(act, 0, "", f"Take back: {last}?", "take it back") if last else "There is nothing to take back."


def _calendar(desk: Desk, act: Act) -> Plan | str:
    return Plan(act, 0, "", f"Write the calendar to {desk.home.papers / 'orders.ics'}?", "write it")


_PLANS: dict[str, Callable[[Desk, Act, Order], Plan | str]] = {
    "price": _price, "confirm": _confirm, "book": _book, "drop": _drop, "reopen": _reopen, "ready": _ready,
    "stepon": _step_on, "handed": _handed, "accept": _accept, "refuse": _refuse, "aside": _aside, "settle": _settle,
    "paid": _paid, "refund": _refund, "correct": _correct,
}  # fmt: skip
_BOOK_PLANS: dict[str, Callable[[Desk, Act], Plan | str]] = {
    "off": _off, "on": _on, "hours": _hours, "undo": _undo, "calendar": _calendar,
}  # fmt: skip

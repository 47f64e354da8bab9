"""How values, days and verdicts read on a screen: pure functions from the model to short plain words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

from intake.model import DRAFT_FIELDS, Cell, Clash, Design, Draft, Due, Fits, Order, Shift, State, Verdict
from intake.record import on_the_party

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

LABELS: Mapping[str, str] = {
    "customer": "customer",
    "count": "count",
    "designs": "designs",
    "theme": "theme",
    "occasion": "occasion",
    "honoree": "for whom",
    "age": "age",
    "lettering": "lettering",
    "colors": "colors",
    "flavors": "flavours",
    "dietary": "diet",
    "due": "day",
    "due_is": "that is",
    "handover": "hand-over",
    "address": "address",
    "packaging": "packing",
    "budget": "budget",
    "phone": "phone",
    "email": "e-mail",
    "cancelled": "cancelled",
}
# The order of a paper slip: whether it stands at all, who and when, then what, then the wrapping.
ON_SLIP: tuple[str, ...] = (
    "cancelled",
    "customer",
    "due",
    "due_is",
    "handover",
    "address",
    "count",
    "theme",
    "designs",
    "lettering",
    "colors",
    "flavors",
    "dietary",
    "packaging",
    "occasion",
    "honoree",
    "age",
    "budget",
    "phone",
    "email",
)
if set(ON_SLIP) != set(DRAFT_FIELDS) or set(LABELS) != set(DRAFT_FIELDS):
    raise AssertionError("a field of the draft has no place or no name on the slip")

SIGNS: Mapping[str, str] = {"ok": "●", "check": "◐", "ask": "○", "asks": "▲", "": " "}
STATE_SIGNS: Mapping[str, str] = {
    "unread": "!",
    State.DRAFT: "○",
    State.ASKED: "?",
    State.QUOTED: "$",
    State.BOOKED: "●",
    State.HANDED_OVER: "✓",
    State.DROPPED: "x",
    "change": "▲",
}
ANSWERS: Mapping[str, str] = {
    "ask": "the question",
    "quote": "the price",
    "confirm": "the confirmation",
    "no room": "no room that day",
    "remind": "a reminder",
    "change": "the change, taken",
    "deposit": "your payment has come",
    "ready": "the cookies are ready",
    "sent": "the parcel is on its way",
    "thanks": "thank you",
    "cancelled": "cancelled, as asked",
}
DUE_IS: Mapping[str, str] = {
    "handover": "hand-over",
    "arrival": "parcel arrives",
    "event": "the party",
}


def needed(draft: Draft, name: str) -> bool:
    """Whether a slip without this field is not fit for the kitchen."""
    if name in {"customer", "count", "due", "handover"}:
        return True
    if name == "address":
        return draft.handover.value in {"ship", "deliver"}
    return name == "theme" and draft.designs.missing and draft.lettering.missing


def standing(draft: Draft, name: str) -> str:
    """`ok`, `check` or `ask`; empty for a field that nobody mentioned and nothing needs."""
    cell = draft.cell(name)
    if cell.missing:
        return "ask" if needed(draft, name) or cell.why else ""
    if name == "due_is" and on_the_party(draft):
        return "ask"
    agreed = not (isinstance(cell.value, Due) and cell.value.is_window)
    return "ok" if cell.sure and agreed else "check"


def left_to_do(draft: Draft) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The fields to check and the fields to ask for, in slip order. What the day is goes with a doubt about the day."""
    standings = {name: standing(draft, name) for name in ON_SLIP}
    if standings["due"] == "check" and draft.due_is.why == draft.due.why:
        standings["due_is"] = ""
    return (
        tuple(name for name in ON_SLIP if standings[name] == "check"),
        tuple(name for name in ON_SLIP if standings[name] == "ask"),
    )


def day(value: date, today: date | None = None) -> str:
    """`Sat 14 Mar`, with the year where it is not this one."""
    words = f"{DAYS[value.weekday()]} {value.day} {MONTHS[value.month - 1]}"
    return words if today is None or value.year == today.year else f"{words} {value.year}"


def clock(value: time) -> str:
    """`2pm`, `2:30pm`, `noon`."""
    if (value.hour, value.minute) == (12, 0):
        return "noon"
    hour = value.hour % 12 or 12
    minutes = f":{value.minute:02}" if value.minute else ""
    return f"{hour}{minutes}{'am' if value.hour < 12 else 'pm'}"


def moment(value: datetime, today: date | None = None) -> str:
    return f"{day(value.date(), today)} {clock(value.time())}"


def due(value: Due, today: date | None = None) -> str:
    days = day(value.first, today) if not value.is_window else f"{day(value.first, today)} to {day(value.last, today)}"
    return f"{days} {clock(value.time)}" if value.time else days


def minutes(count: int) -> str:
    """`3 h 20`, `45 min`, `2 days`."""
    if count >= 48 * 60:
        return f"{count // (24 * 60)} days"
    hours, rest = divmod(count, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02}" if rest else f"{hours} h"


def cookies(count: int) -> str:
    """`30 (2 dozen and 6)`: the trade counts in dozens."""
    dozens, rest = divmod(count, 12)
    if not dozens:
        return str(count)
    return f"{count} ({dozens} dozen and {rest})" if rest else f"{count} ({dozens} dozen)"


def counted(count: int) -> str:
    """`1 cookie`, `24 cookies`."""
    return "1 cookie" if count == 1 else f"{count} cookies"


def value_words(name: str, value: Any, today: date | None = None) -> str:
    """A cell's value in words, one line; empty for no value."""
    if value is None or value in ((), ""):
        return ""
    match value:
        case Due():
            return due(value, today)
        case bool():
            return "yes" if value else "no"
        case int() if name == "count":
            return cookies(value)
        case Decimal():
            return f"{value:.2f}"
        case tuple() if name == "designs":
            return ", ".join(_design(design) for design in value)
        case tuple() if name == "lettering":
            return ", ".join(f"\u201c{text}\u201d" for text in value)
        case tuple():
            return ", ".join(map(str, value))
        case str() if name == "due_is":
            return DUE_IS.get(value, value)
        case _:
            return str(value)


def _design(design: Design) -> str:
    return design.what if design.count is None else f"{design.count} {design.what}"


def cell_words(name: str, cell: Cell[Any], today: date | None = None) -> str:
    return value_words(name, cell.value, today)


def asks_words(shift: Shift, today: date | None = None) -> str:
    """What is asked of a field otherwise: `36 (3 dozen)`; `none` where it is to be left out."""
    if shift.reads.missing:
        return shift.reads.why or "none"
    return cell_words(shift.field, shift.reads, today)


def shift_words(shift: Shift, today: date | None = None) -> str:
    """`count 24 (2 dozen) → 36 (3 dozen)`; that it is called off says itself."""
    if shift.field == "cancelled":
        return "called off" if shift.reads.value else "wanted after all"
    was = value_words(shift.field, shift.was, today) or "none"
    return f"{LABELS[shift.field]} {was} → {asks_words(shift, today)}"


def shifts_words(shifts: Sequence[Shift], today: date | None = None) -> str:
    """All of a change on one line, in slip order."""
    return "; ".join(shift_words(shift, today) for shift in in_slip_order(shifts))


def in_slip_order(shifts: Sequence[Shift]) -> list[Shift]:
    return sorted(shifts, key=lambda shift: ON_SLIP.index(shift.field))


def order_name(order: Order) -> str:
    """Whose order it is and how many, for a line that names several."""
    draft = order.draft
    who = draft.customer.value or f"order {order.id}"
    return f"{who}, {counted(draft.count.value)}" if draft.count.value else who


def room_words(verdict: Verdict, order_id: int, names: Mapping[int, str], today: date) -> tuple[str, str]:
    """A verdict on the order at hand: `Fits`, `Tight`, `Clash` or `Not decided`, and what more there is to say."""
    match verdict:
        case Fits(plan, tight):
            slack = plan.slack.get(order_id, 0)
            spare = f"{minutes(slack)} to spare" if slack else "nothing to spare"
            others = [names.get(other, f"order {other}") for other in tight if other != order_id]
            also = f"; tight for {_listed(others)}" if others else ""
            return ("Tight" if order_id in tight else "Fits"), f"{spare}{also}."
        case Clash(orders, newest, short, earliest):
            others = [names.get(other, f"order {other}") for other in orders if other != newest]
            beside = f" beside {_listed(others)}" if others else ""
            said = short.strip().rstrip(".")
            lacks = f" {said[:1].upper()}{said[1:]}." if said else ""
            when = f" First day that would work: {day(earliest, today)}." if earliest else " No day ahead would work."
            fewer = "" if verdict.fewest else " Fewer of these may be what clashes: there was no time to tell."
            return "Clash", f"it can't be made in time{beside}.{lacks}{fewer}{when}"
        case _:
            return "Not decided", f"{verdict.why.strip().rstrip('.')}. Treat the day as full until it is."


def left_to_pay(order: Order) -> str:
    """`$36.00 left to pay`, `all is paid`, `$5.00 to give back`."""
    from intake.money import shown

    if order.quote is None:
        return "no price yet"
    left = order.quote.total - order.paid
    amount = shown(abs(left), order.quote.currency, order.quote.locale)
    return f"{amount} left to pay" if left > 0 else f"{amount} to give back" if left < 0 else "all is paid"


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"

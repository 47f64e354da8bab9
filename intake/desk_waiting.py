"""What wants the baker: which conversations, why, and in which order."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from zlib import crc32

from intake.desk_change import label, shift_line
from intake.desk_reread import OPEN
from intake.model import CORE_FIELDS, DRAFT_FIELDS, Draft, Due, Message, Order, State
from intake.record import to_plain
from intake.replies.told import Told

UNREAD, UNANSWERED, TO_ACCEPT = "unread", "booked, answer not sent", "change to accept"
# How an order stands while it waits for its customer.
ON_THE_CUSTOMER = ("asked", "quoted", "no room")
# A conversation without a day that nobody has added to for so long is listed after the others.
_STALE = timedelta(days=60)
_HEADLINE = 60
# What a customer who is told of her order would want to know of it, besides the money.
_TOLD_FIELDS = tuple(name for name in DRAFT_FIELDS if name not in ("customer", "phone", "email", "budget", "cancelled"))
_INTENTS = {
    "order": "wants cookies",
    "change": "changes the order",
    "cancel": "cancels",
    "confirm": "says yes",
    "paid": "says it is paid",
    "ask": "asks a question",
    "chat": "writes, no order in it",
    "spam": "looks like spam",
}


@dataclass(frozen=True, slots=True)
class Waiting:
    """A conversation that wants the baker, or waits for its customer (`theirs`).

    `state` is that of its first open order, else of one that is not, or `unread` where it holds none; `stands` says it
    in words. `due` is the soonest hand-over of its orders, `at` the time of its last message.
    """

    thread_id: str
    customer: str
    headline: str
    state: str
    due: Due | None
    at: datetime
    why: str
    stands: str = UNREAD
    theirs: bool = False


@dataclass(frozen=True, slots=True)
class Caller:
    """A conversation as the book knows it: its messages (at least the last), the intent read, and its open orders, or
    where none is open all it has had."""

    thread_id: str
    customer: str
    intent: str
    messages: tuple[Message, ...]
    aside: bool
    orders: tuple[Order, ...]

    @property
    def last(self) -> Message:
        return self.messages[-1]

    @property
    def first(self) -> Order | None:
        """The order that the conversation is about: one with a change to accept, else an open one, else a booked one,
        else the newest."""
        asked = [order for order in self.orders if order.change]
        standing = [order for order in self.orders if order.state in (*OPEN, State.BOOKED)]
        return next(iter(asked + standing), self.orders[-1] if self.orders else None)


def waiting(callers: Iterable[Caller], now: datetime) -> tuple[Waiting, ...]:
    """Changes to accept first, then unanswered customers, then by the soonest hand-over, then who has waited longest;
    the past comes last."""
    rows = [(caller, _waiting(caller)) for caller in callers if _wants(caller)]
    rows.sort(
        key=lambda row: (
            _past(row[1], now),
            row[1].stands != TO_ACCEPT,
            row[1].theirs,
            row[0].last.mine,
            _day(row[1].due),
            row[1].at,
        )
    )
    return tuple(row for _, row in rows)


def _wants(caller: Caller) -> bool:
    return any(o.change or o.state in OPEN for o in caller.orders) or not (caller.last.mine or caller.aside)


def _waiting(caller: Caller) -> Waiting:
    first, told_by = caller.first, caller.messages
    orders = [o for o in caller.orders if first and (o.change or o.state in OPEN)] or ([first] if first else [])
    due = min((o.draft.due.value for o in orders if o.draft.due.value), key=_day, default=None)
    named = next((o.draft.customer.value for o in orders if o.draft.customer.value), caller.customer)
    return Waiting(
        caller.thread_id,
        named,
        " + ".join(headline(o.draft) for o in orders) or _first_line(caller.last.text),
        first.state.value if first else UNREAD,
        due,
        caller.last.at,
        _why(caller),
        stands(first, told_by) if first else UNREAD,
        caller.last.mine and all(stands(o, told_by) in ON_THE_CUSTOMER for o in orders),
    )


def told(order: Order, kind: str) -> str:
    """What the book notes of an answer: its order, its kind, and the price, the order and the payments that it told
    of: `7:confirm:154.00 of 2026-06-01|1f3a09bc|77.00`."""
    return f"{order.id}:{kind}:{_price(order)}|{_content(order.draft)}|{order.paid}"


def answers_told(order: Order, messages: Sequence[Message]) -> tuple[Told, ...]:
    """The answers to an order that have gone out, the oldest first."""
    found = []
    for message in messages:
        note = message.id.split(":", 4)
        if message.mine and len(note) == 5 and note[0] == "reply" and note[2] == str(order.id):
            price, *more = note[4].split("|")
            # An older note holds the price alone.
            as_is = len(more) != 2 or more[0] == _content(order.draft)
            found.append(Told(note[3], price == _price(order), as_is, Decimal(more[1]) if len(more) == 2 else None))
    return tuple(found)


def _content(draft: Draft) -> str:
    """A short mark of what an answer tells of an order, another where any of it is."""
    values = [to_plain(draft.cell(name).value or None) for name in _TOLD_FIELDS]
    return f"{crc32(json.dumps(values).encode()):08x}"


def _price(order: Order) -> str:
    return f"{order.quote.total} of {order.quote.made_on}" if order.quote else ""


def stands(order: Order, messages: Sequence[Message]) -> str:
    """How an order stands, in words: its state, and whether the customer has been told.

    A price is `quoted` once an answer has told it, before that it is `priced`. `messages` are its conversation's.
    """
    last = messages[-1] if messages else None
    if order.change:
        return TO_ACCEPT
    if order.state in OPEN and last and last.mine and f":{order.id}:no room:" in last.id:
        return "no room"
    if order.state is State.QUOTED:
        quoted = any(each.kind == "quote" and each.at_price for each in answers_told(order, messages))
        return "quoted" if quoted else "priced"
    if last is None or last.mine or order.state in OPEN:
        return order.state.value
    if order.state is State.BOOKED and order.booked_at and last.at <= order.booked_at:
        return UNANSWERED
    return f"{order.state}, wrote again"


def _why(caller: Caller) -> str:
    reasons = [] if caller.last.mine else [_INTENTS.get(caller.intent, "writes")]
    for order in caller.orders:
        match stands(order, caller.messages):
            case "asked":
                reasons.append("waits for an answer")
            case "draft":
                reasons.extend(_open_questions(order.draft))
            case word if order.change:
                reasons.append(f"{word}: {', '.join(shift_line(shift) for shift in order.change)}")
            case word if order.state in OPEN or order is caller.first:
                reasons.append(word)
    return "; ".join(dict.fromkeys(reasons)) or "to quote"


def _open_questions(draft: Draft) -> list[str]:
    checks = [name for name in DRAFT_FIELDS if not draft.cell(name).missing and not draft.cell(name).sure]
    missing = [name for name in CORE_FIELDS if draft.cell(name).missing and name not in ("theme", "lettering")]
    told = (("to check", checks), ("missing", missing))
    return [f"{word}: {', '.join(label(name) for name in names)}" for word, names in told if names]


def headline(draft: Draft) -> str:
    """An order in a few words: "24 unicorns", "36 cookies"."""
    designs = ", ".join(design.what for design in draft.designs.value or ())
    what = draft.theme.value or designs or "cookies"
    count = f"{draft.count.value} " if draft.count.value else ""
    return _first_line(f"{count}{what}")


def _first_line(text: str) -> str:
    line = text.strip().partition("\n")[0]
    return line if len(line) <= _HEADLINE else f"{line[: _HEADLINE - 1].rstrip()}…"


def _day(due: Due | None) -> date:
    return due.last if due else date.max


def _past(row: Waiting, now: datetime) -> bool:
    return row.due.last < now.date() if row.due else row.at < now - _STALE

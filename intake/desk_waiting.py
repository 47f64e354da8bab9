"""What wants the baker: which conversations, why, and in which order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from intake.model import CORE_FIELDS, DRAFT_FIELDS, Draft, Due, Message, Order, State

UNREAD = "unread"
# A conversation without a day that nobody has added to for so long is listed after the others.
_STALE = timedelta(days=60)
_HEADLINE = 60
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
    """A conversation that wants the baker. `state` is that of its first open order, or `unread` where none is open.

    `due` is the soonest hand-over of its open orders, `at` the time of its last message.
    """

    thread_id: str
    customer: str
    headline: str
    state: str
    due: Due | None
    at: datetime
    why: str


@dataclass(frozen=True, slots=True)
class Caller:
    """A conversation as the book knows it: its last message, the intent read, its orders that are still open."""

    thread_id: str
    customer: str
    intent: str
    last: Message
    aside: bool
    orders: tuple[Order, ...]


def waiting(callers: Iterable[Caller], now: datetime) -> tuple[Waiting, ...]:
    """Unanswered customers first, then by the soonest hand-over, then who has waited longest; the past comes last."""
    rows = [(caller, _waiting(caller)) for caller in callers if _wants(caller)]
    rows.sort(key=lambda row: (_past(row[1], now), row[0].last.mine, _day(row[1].due), row[1].at))
    return tuple(row for _, row in rows)


def _wants(caller: Caller) -> bool:
    return bool(caller.orders) or not (caller.last.mine or caller.aside)


def _waiting(caller: Caller) -> Waiting:
    due = min((o.draft.due.value for o in caller.orders if o.draft.due.value), key=_day, default=None)
    first = caller.orders[0] if caller.orders else None
    named = next((o.draft.customer.value for o in caller.orders if o.draft.customer.value), caller.customer)
    return Waiting(
        caller.thread_id,
        named,
        " + ".join(headline(o.draft) for o in caller.orders) or _first_line(caller.last.text),
        first.state.value if first else UNREAD,
        due,
        caller.last.at,
        _why(caller),
    )


def _why(caller: Caller) -> str:
    reasons = [] if caller.last.mine else [_INTENTS.get(caller.intent, "writes")]
    for order in caller.orders:
        match order.state:
            case State.ASKED:
                reasons.append("waits for an answer")
            case State.QUOTED:
                reasons.append("quoted")
            case _:
                reasons.extend(_open_questions(order.draft))
    return "; ".join(dict.fromkeys(reasons)) or "to quote"


def _open_questions(draft: Draft) -> list[str]:
    checks = [name for name in DRAFT_FIELDS if not draft.cell(name).missing and not draft.cell(name).sure]
    missing = [name for name in CORE_FIELDS if draft.cell(name).missing and name not in ("theme", "lettering")]
    told = (("to check", checks), ("missing", missing))
    return [f"{word}: {', '.join(label(name) for name in names)}" for word, names in told if names]


def label(field: str) -> str:
    """A draft field as the baker calls it."""
    return {"handover": "hand-over", "due": "day", "due_is": "what the day is"}.get(field, field)


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
